"""Points on the scale card's printed edges, each with the direction to its light side."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from planebench.photo.card_layout import (
    MARKER_CELLS,
    MARKER_MM,
    MARKERS_AT,
    QR_AT,
    QR_MM,
    marker_cells,
)

QR_GROUP = 4
# ISO/IEC 18004: a finder pattern is seven modules wide.
_FINDER_MODULES = 7
# Closer points share pixels on a usual photograph (8 to 20 px/mm) and add time, not information.
_SPACING_MM = 0.5
# Ink and lens round the corners: points keep this far from the ends of an edge.
_CLEAR_OF_CORNER_MM = 0.6
# Distance from an edge within which nothing else is printed: about half a QR
# module (0.73 to 1.14 mm), half a marker's cell (2.5 mm).
_QR_ROOM_MM, _MARKER_ROOM_MM = 0.5, 1.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Edges:
    """N points on printed edges: `at` N x 2 in mm, `toward_light` N x 2 unit vectors.

    `group` is marker 0 to 3, or 4 for the QR code. `side` numbers the straight edges. `room` is the
    distance in mm, on both sides, within which nothing else is printed.
    """

    at: NDArray[np.float64]
    toward_light: NDArray[np.float64]
    group: NDArray[np.intp]
    side: NDArray[np.intp]
    room: NDArray[np.float64]

    def of_groups(self, groups: frozenset[int]) -> Edges:
        """Return only the points of these markers (0 to 3) and of the QR code (4)."""
        kept = np.isin(self.group, sorted(groups))
        return Edges(
            at=self.at[kept],
            toward_light=self.toward_light[kept],
            group=self.group[kept],
            side=self.side[kept],
            room=self.room[kept],
        )


@dataclass(frozen=True, slots=True)
class _Edge:
    start: tuple[float, float]
    end: tuple[float, float]
    light: tuple[float, float]


@cache
def card_edges(qr_modules: int) -> Edges:
    """Return points on all edges of the four markers and of the QR code's three finder patterns.

    `qr_modules` is the QR code's width in modules (21, 25, ...; ISO/IEC 18004), 0 to leave it out.
    """
    edges = [*_marker_edges(), *_finder_edges(qr_modules)]
    points = [_points_on(edge) for _, edge in edges]
    counts = [len(each) for each in points]
    group = np.repeat([number for number, _ in edges], counts)
    return Edges(
        at=np.concatenate(points),
        toward_light=np.repeat([edge.light for _, edge in edges], counts, axis=0),
        group=group,
        side=np.repeat(np.arange(len(edges)), counts),
        room=np.where(group == QR_GROUP, _QR_ROOM_MM, _MARKER_ROOM_MM),
    )


def _marker_edges() -> Iterator[tuple[int, _Edge]]:
    for number, (x, y) in enumerate(MARKERS_AT):
        for edge in _edges_of(marker_cells(number), x, y, MARKER_MM / MARKER_CELLS):
            yield number, edge


def _finder_edges(modules: int) -> Iterator[tuple[int, _Edge]]:
    """Return the outlines of the three finder patterns; none if the code's width is unknown."""
    if not modules:
        return
    side = _FINDER_MODULES * QR_MM / modules
    far = QR_MM - side
    dark = np.zeros((1, 1), dtype=np.bool_)
    for right, down in ((0.0, 0.0), (far, 0.0), (0.0, far)):
        for edge in _edges_of(dark, QR_AT[0] + right, QR_AT[1] + down, side):
            yield QR_GROUP, edge


def _points_on(edge: _Edge) -> NDArray[np.float64]:
    start, end = np.array(edge.start), np.array(edge.end)
    length = float(np.linalg.norm(end - start))
    count = max(2, round((length - 2 * _CLEAR_OF_CORNER_MM) / _SPACING_MM))
    along = np.linspace(_CLEAR_OF_CORNER_MM, length - _CLEAR_OF_CORNER_MM, count)[:, None]
    return np.asarray(start + along / length * (end - start), dtype=np.float64)


def _edges_of(cells: NDArray[np.bool_], x: float, y: float, cell: float) -> Iterator[_Edge]:
    """Return the borders between cells (true is white) on white paper, from x, y in mm."""
    paper = np.pad(cells, 1, constant_values=True).astype(int)
    for column, first, last, step in _upright_steps(paper):
        yield _Edge(
            (x + column * cell, y + first * cell), (x + column * cell, y + last * cell), (step, 0)
        )
    for row, first, last, step in _upright_steps(paper.T):
        yield _Edge(
            (x + first * cell, y + row * cell), (x + last * cell, y + row * cell), (0, step)
        )


def _upright_steps(paper: NDArray[np.intp]) -> Iterator[tuple[int, int, int, int]]:
    """Return each vertical run of steps: column, first and last row, +1 if light is right."""
    for column, steps in enumerate(np.diff(paper, axis=1).T):
        row = 0
        for step, run in groupby(steps.tolist()):
            length = len(list(run))
            if step:
                yield column, row - 1, row - 1 + length, step
            row += length

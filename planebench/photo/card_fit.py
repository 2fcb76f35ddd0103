"""Lays the scale card's printed edges onto a picture, finer than a pixel."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.card_edges import Edges
from planebench.photo.homography import Matrix, Points, jacobians, normalized, transform

# Brightness is read at so many places across an edge, ever closer to it.
_PLACES = 33
_REACHES_MM = (1.2, 0.8, 0.5, 0.5)
_ROUGHLY = 2
_LEAST_REACH_PX = 3.5
_LEAST_CONTRAST = 12
_FEWEST_POINTS = 24
# Tukey's biweight has 95 % efficiency at this many standard deviations, and a median absolute
# deviation is 0.6745 of one (Huber, Robust Statistics, 1981).
_TUKEY, _MAD = 4.685, 0.6745
_LEAST_SPREAD_PX = 0.02
_ROUNDS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class CardFit:
    """Where the card lies: `matrix` takes its mm to pixels (centers at whole numbers).

    For each of N edge points: `off_px` is its distance from its edge, `seen` whether there was an
    edge at all, `width_px` over what distance the edge goes from dark to light. `covariance` is
    that of the matrix's first eight figures, as if all points told independently.
    """

    matrix: Matrix
    edges: Edges
    off_px: NDArray[np.float64]
    seen: NDArray[np.bool_]
    width_px: NDArray[np.float64]
    covariance: NDArray[np.float64]


def fit_card(
    gray: NDArray[np.uint8], matrix: Matrix, edges: Edges, *, roughly: bool = False
) -> CardFit | None:
    """Move a nearly right homography (mm to px) until the edges lie on those in the picture.

    `gray` is H x W. Gauss-Newton on the distances along each edge's own direction to the light,
    with one figure more for ink and light that make all dark areas a little smaller or larger.
    Roughly takes half the time. None if too few edges are seen.
    """
    covariance = off = np.zeros(0)
    seen = np.zeros(0, dtype=np.bool_)
    for number, reach_mm in enumerate(_REACHES_MM[: _ROUGHLY if roughly else None]):
        across = _Across(gray, matrix, edges, reach_mm)
        off, seen = across.offsets(by_steepest=number == 0)
        if np.count_nonzero(seen) < _FEWEST_POINTS:
            return None
        growth = _growth(matrix, edges.at, across.light)
        change, covariance = _solved(growth, off, seen)
        matrix = normalized(matrix + np.append(change[:8], 0).reshape(3, 3))
        off = off - growth @ change
    return CardFit(
        matrix=matrix,
        edges=edges,
        off_px=off,
        seen=seen,
        width_px=_Across(gray, matrix, edges, _REACHES_MM[0]).widths(),
        covariance=covariance,
    )


class _Across:
    """The picture's brightness across each edge point, from the dark to the light.

    `light` holds each edge's direction to the light in the picture (N x 2), `value` N x _PLACES.
    """

    def __init__(
        self, gray: NDArray[np.uint8], matrix: Matrix, edges: Edges, reach_mm: float
    ) -> None:
        slope = jacobians(matrix, edges.at)
        along = np.einsum("nij,nj->ni", slope, edges.toward_light[:, ::-1] * (-1, 1))
        upright = np.column_stack((-along[:, 1], along[:, 0]))
        upright /= np.linalg.norm(upright, axis=1)[:, None]
        px_per_mm = np.einsum("ni,nij,nj->n", upright, slope, edges.toward_light)
        self.light = upright * np.sign(px_per_mm)[:, None]
        room = np.abs(px_per_mm) * edges.room
        least = np.minimum(_LEAST_REACH_PX, room)
        self._reach = np.clip(np.abs(px_per_mm) * reach_mm, least, room)
        self._where = np.linspace(-1, 1, _PLACES) * self._reach[:, None]
        at = transform(matrix, edges.at)[:, None] + self._where[:, :, None] * self.light[:, None]
        inside = (at >= 0) & (at <= np.array(gray.shape[::-1]) - 1)
        self._inside = inside.all(axis=(1, 2))
        columns, rows = np.moveaxis(at.astype(np.float32), 2, 0)
        self.value = cv2.remap(gray, columns, rows, cv2.INTER_LINEAR).astype(np.float64)
        ends = _PLACES // 5
        self._dark = self.value[:, :ends].mean(axis=1)
        self._contrast = self.value[:, -ends:].mean(axis=1) - self._dark

    def offsets(self, *, by_steepest: bool) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
        """Return how far, in px toward the light, each edge is from where it was thought."""
        if by_steepest:
            peak = np.argmax(np.diff(cv2.blur(self.value, (5, 1)), axis=1), axis=1)
            off = self._reach * ((2 * peak + 1) / (_PLACES - 1) - 1)
        else:
            # The area under the step says where it stands, whatever its blur.
            share = (self.value - self._dark[:, None]) / np.maximum(self._contrast, 1)[:, None]
            off = self._reach * (1 - (share[:, 1:] + share[:, :-1]).mean(axis=1))
        seen = self._inside & (self._contrast > _LEAST_CONTRAST) & (np.abs(off) < self._reach)
        return off, np.asarray(seen)

    def widths(self) -> NDArray[np.float64]:
        """Return over how many px each edge goes from dark to light at its steepest."""
        steepest = np.diff(cv2.blur(self.value, (3, 1)), axis=1).max(axis=1)
        step = self._reach * 2 / (_PLACES - 1)
        return np.asarray(step * self._contrast / np.maximum(steepest, 1e-6))


def _growth(matrix: Matrix, at: Points, light: Points) -> NDArray[np.float64]:
    """Return N x 9: how each distance changes by the matrix's eight figures and by the ink."""
    x, y = at.T
    ends = np.column_stack((at, np.ones(len(at)))) @ matrix.T
    u, v, w = ends[:, 0] / ends[:, 2], ends[:, 1] / ends[:, 2], ends[:, 2]
    one, none = np.ones(len(at)), np.zeros(len(at))
    by_u = np.column_stack((x, y, one, none, none, none, -u * x, -u * y)) / w[:, None]
    by_v = np.column_stack((none, none, none, x, y, one, -v * x, -v * y)) / w[:, None]
    return np.column_stack((by_u * light[:, :1] + by_v * light[:, 1:], one))


def _solved(
    growth: NDArray[np.float64], off: NDArray[np.float64], seen: NDArray[np.bool_]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Find the nine changes that explain the offsets best, points that disagree left out.

    Also give the covariance of the first eight. Sums are made by einsum: what several photographs
    read at once would wait for each other in the linear algebra library's own threads.
    """
    size = np.abs(growth).max(axis=0)
    scaled = growth / size
    weight = seen.astype(np.float64)
    change, spread = np.zeros(9), 1.0
    for _ in range(_ROUNDS):
        weighed = scaled * weight[:, None]
        normal = np.einsum("ni,nj->ij", weighed, scaled)
        change = np.linalg.pinv(normal) @ np.einsum("ni,n->i", weighed, off)
        left = off - np.einsum("ni,i->n", scaled, change)
        spread = max(float(np.median(np.abs(left[seen]))) / _MAD, _LEAST_SPREAD_PX)
        weight = seen * np.clip(1 - (left / (_TUKEY * spread)) ** 2, 0, None) ** 2
    explained = np.linalg.pinv(np.einsum("ni,nj->ij", scaled * weight[:, None], scaled))
    covariance = explained * spread**2 / np.outer(size, size)
    return change / size, covariance[:8, :8]

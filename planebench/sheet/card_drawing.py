"""Scale cards as SVG in millimeters: markers, QR code and neutral patches."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
import segno
from numpy.typing import NDArray

from planebench.errors import InputError
from planebench.photo.card_layout import (
    CARD_MM,
    MARKER_CELLS,
    MARKER_MM,
    MARKERS_AT,
    PATCHES,
    QR_AT,
    QR_MM,
    QR_PREFIX,
    marker_cells,
)

# Cells overlap the one below by this share, because viewers show hairlines between them.
_OVERLAP = 0.04
_MOST_MODULES = 33
_OUTLINE_MM = 0.1


def card_svg(stock: str) -> str:
    """Return a tool's scale card, 90 x 60 mm, without text. Raise InputError as qr_svg does."""
    parts = [
        part
        for number, (x, y) in enumerate(MARKERS_AT)
        for part in _marker(number, x, y, MARKER_MM / MARKER_CELLS)
    ]
    parts += _cells(qr_modules(stock), *QR_AT, QR_MM)
    for patch in PATCHES:
        gray = _srgb(patch.reflectance)
        (x, y), (width, height) = patch.at, patch.size
        parts.append(
            f'<rect x="{x}" y="{y}" width="{width}" height="{height}" fill="rgb({gray},{gray},'
            f'{gray})" stroke="#000" stroke-width="{_OUTLINE_MM}"/>'
        )
    return _svg(CARD_MM, parts)


def qr_svg(stock: str) -> str:
    """Return a tool's QR code alone, 24 x 24 mm, without its quiet zone.

    Raise InputError for a number too long to be read from a photograph.
    """
    return _svg((QR_MM, QR_MM), list(_cells(qr_modules(stock), 0, 0, QR_MM)))


def qr_modules(stock: str) -> NDArray[np.bool_]:
    """Return the modules of a tool's QR code (ISO/IEC 18004, level Q); true is dark."""
    code = segno.make(QR_PREFIX + stock, error="q", micro=False, boost_error=False)
    modules = np.array([list(row) for row in code.matrix]) > 0
    if len(modules) > _MOST_MODULES:
        raise InputError(
            f"The stock number {stock[:40]} is too long for a card’s QR code.",
            remedy="Use at most 40 letters and digits.",
            subject=stock,
        )
    return modules


def _marker(number: int, x: float, y: float, cell: float) -> Iterator[str]:
    """Yield a marker as one dark square with its white cells on top."""
    yield f'<rect x="{x}" y="{y}" width="{MARKER_MM}" height="{MARKER_MM}" fill="#000"/>'
    white = marker_cells(number)
    yield from _cells(white, x, y, cell * len(white), color="#fff")


def _cells(
    filled: NDArray[np.bool_], x: float, y: float, side: float, *, color: str = "#000"
) -> Iterator[str]:
    """Yield the filled cells of a square grid, one rectangle per run in a row."""
    cell = side / len(filled)
    for row, cells in enumerate(filled):
        edges = np.flatnonzero(np.diff(np.pad(cells.astype(np.int8), 1)))
        for first, last in edges.reshape(-1, 2).tolist():
            below = row + 1 < len(filled) and bool(filled[row + 1, first:last].all())
            height = cell * (1 + (_OVERLAP if below else 0))
            yield (
                f'<rect x="{x + first * cell:.5f}" y="{y + row * cell:.5f}"'
                f' width="{(last - first) * cell:.5f}" height="{height:.5f}" fill="{color}"/>'
            )


def _srgb(reflectance: float) -> int:
    """Return the sRGB value, 0 to 255, of a reflectance from 0 to 1 (IEC 61966-2-1)."""
    return round(255 * (1.055 * math.pow(reflectance, 1 / 2.4) - 0.055))


def _svg(size: tuple[float, float], parts: list[str]) -> str:
    width, height = size
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
        f' viewBox="0 0 {width} {height}" shape-rendering="crispEdges">{"".join(parts)}</svg>'
    )

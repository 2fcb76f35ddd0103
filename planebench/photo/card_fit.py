"""Fits the scale card's printed edges to a picture with subpixel accuracy."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.card_edges import Edges
from planebench.photo.homography import Matrix, Points, jacobians, normalized, transform

# Samples across each edge: 4 px apart at the widest reach on a close photograph (50 px/mm), under a
# pixel apart on a usual one.
_SAMPLES = 33
# Half the width of the sampled profile in mm for each iteration: wide enough at first for a card
# that is a millimeter off, narrow at last so that nothing else printed is near.
_REACHES_MM = (1.2, 0.8, 0.5, 0.5)
_APPROXIMATE_ITERATIONS = 2
# A lens spreads an edge over two or three pixels; the profile must hold it whole.
_MIN_REACH_PX = 3.5
# Gray levels of 255 between dark and light: below it JPEG noise looks like an edge.
_MIN_CONTRAST = 12
# Three times the eight elements that are fitted.
_MIN_POINTS = 24
# The first and last fifth of a profile give its dark and light levels.
_END_SHARE = 5
# Tukey's biweight has 95% efficiency at this many standard deviations, and a median absolute
# deviation is 0.6745 of one (Huber, Robust Statistics, 1981).
_TUKEY, _MAD = 4.685, 0.6745
# Keeps the weights finite on a rendered card without any noise.
_MIN_SPREAD_PX = 0.02
# Rounds of reweighting: few, because each iteration of the fit starts them anew.
_REWEIGHTINGS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class CardFit:
    """Where the card lies: `matrix` maps its mm to pixels (centers at whole numbers).

    For each of N edge points, `off_px` is its distance from the edge in the picture, `seen` whether
    there was one, `width_px` the distance over which the edge goes from dark to light.
    `covariance` (8 x 8) is that of the matrix's first eight elements, for independent points.
    """

    matrix: Matrix
    edges: Edges
    off_px: NDArray[np.float64]
    seen: NDArray[np.bool_]
    width_px: NDArray[np.float64]
    covariance: NDArray[np.float64]


def fit_card(
    gray: NDArray[np.uint8], matrix: Matrix, edges: Edges, *, approximate: bool = False
) -> CardFit | None:
    """Return the fit that moves a nearly right homography (mm to px) onto the edges in the picture.

    `gray` is H x W. Gauss-Newton on the distances along each edge's normal, with one more parameter
    for ink and exposure, which make all dark areas slightly smaller or larger. An approximate fit
    takes half the time. None if too few edges are seen.
    """
    covariance = off = np.zeros(0)
    seen = np.zeros(0, dtype=np.bool_)
    for number, reach_mm in enumerate(
        _REACHES_MM[: _APPROXIMATE_ITERATIONS if approximate else None]
    ):
        profiles = _EdgeProfiles(gray, matrix, edges, reach_mm)
        off, seen = profiles.offsets(by_steepest=number == 0)
        if np.count_nonzero(seen) < _MIN_POINTS:
            return None
        jacobian = _jacobian(matrix, edges.at, profiles.light)
        change, covariance = _solve(jacobian, off, seen)
        matrix = normalized(matrix + np.append(change[:8], 0).reshape(3, 3))
        off = off - jacobian @ change
    return CardFit(
        matrix=matrix,
        edges=edges,
        off_px=off,
        seen=seen,
        width_px=_EdgeProfiles(gray, matrix, edges, _REACHES_MM[0]).widths(),
        covariance=covariance,
    )


class _EdgeProfiles:
    """The picture's brightness across each edge point, from dark to light.

    `light` is each edge's unit normal toward the light side, N x 2; `value` is N x _SAMPLES.
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
        least = np.minimum(_MIN_REACH_PX, room)
        self._reach = np.clip(np.abs(px_per_mm) * reach_mm, least, room)
        self._where = np.linspace(-1, 1, _SAMPLES) * self._reach[:, None]
        at = transform(matrix, edges.at)[:, None] + self._where[:, :, None] * self.light[:, None]
        inside = (at >= 0) & (at <= np.array(gray.shape[::-1]) - 1)
        self._inside = inside.all(axis=(1, 2))
        columns, rows = np.moveaxis(at.astype(np.float32), 2, 0)
        self.value = cv2.remap(gray, columns, rows, cv2.INTER_LINEAR).astype(np.float64)
        ends = _SAMPLES // _END_SHARE
        self._dark = self.value[:, :ends].mean(axis=1)
        self._contrast = self.value[:, -ends:].mean(axis=1) - self._dark

    def offsets(self, *, by_steepest: bool) -> tuple[NDArray[np.float64], NDArray[np.bool_]]:
        """Return each edge's offset in px toward the light, and whether it was seen."""
        if by_steepest:
            peak = np.argmax(np.diff(cv2.blur(self.value, (5, 1)), axis=1), axis=1)
            off = self._reach * ((2 * peak + 1) / (_SAMPLES - 1) - 1)
        else:
            # The area under a step gives its position whatever its blur.
            share = (self.value - self._dark[:, None]) / np.maximum(self._contrast, 1)[:, None]
            off = self._reach * (1 - (share[:, 1:] + share[:, :-1]).mean(axis=1))
        seen = self._inside & (self._contrast > _MIN_CONTRAST) & (np.abs(off) < self._reach)
        return off, np.asarray(seen)

    def widths(self) -> NDArray[np.float64]:
        """Return the width in px of each edge, at its steepest slope."""
        steepest = np.diff(cv2.blur(self.value, (3, 1)), axis=1).max(axis=1)
        step = self._reach * 2 / (_SAMPLES - 1)
        return np.asarray(step * self._contrast / np.maximum(steepest, 1e-6))


def _jacobian(matrix: Matrix, at: Points, light: Points) -> NDArray[np.float64]:
    """Return N x 9: the derivative of each distance by the eight elements and by the ink."""
    x, y = at.T
    ends = np.column_stack((at, np.ones(len(at)))) @ matrix.T
    u, v, w = ends[:, 0] / ends[:, 2], ends[:, 1] / ends[:, 2], ends[:, 2]
    one, zero = np.ones(len(at)), np.zeros(len(at))
    by_u = np.column_stack((x, y, one, zero, zero, zero, -u * x, -u * y)) / w[:, None]
    by_v = np.column_stack((zero, zero, zero, x, y, one, -v * x, -v * y)) / w[:, None]
    return np.column_stack((by_u * light[:, :1] + by_v * light[:, 1:], one))


def _solve(
    jacobian: NDArray[np.float64], off: NDArray[np.float64], seen: NDArray[np.bool_]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the nine changes that explain the offsets best, and the covariance of the first eight.

    Robust: points that disagree get no weight. Sums use einsum because photographs read in
    parallel would wait for each other in the linear algebra library's own threads.
    """
    size = np.abs(jacobian).max(axis=0)
    scaled = jacobian / size
    weight = seen.astype(np.float64)
    change, spread = np.zeros(9), 1.0
    for _ in range(_REWEIGHTINGS):
        weighed = scaled * weight[:, None]
        normal = np.einsum("ni,nj->ij", weighed, scaled)
        change = np.linalg.pinv(normal) @ np.einsum("ni,n->i", weighed, off)
        left = off - np.einsum("ni,i->n", scaled, change)
        spread = max(float(np.median(np.abs(left[seen]))) / _MAD, _MIN_SPREAD_PX)
        weight = seen * np.clip(1 - (left / (_TUKEY * spread)) ** 2, 0, None) ** 2
    explained = np.linalg.pinv(np.einsum("ni,nj->ij", scaled * weight[:, None], scaled))
    covariance = explained * spread**2 / np.outer(size, size)
    return change / size, covariance[:8, :8]

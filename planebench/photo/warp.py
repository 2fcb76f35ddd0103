"""A warp from one photograph to another: a homography plus a grid of shifts."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray
from scipy.ndimage import map_coordinates

from planebench.photo.homography import Matrix, Points, inverse, normalized, transform

Grid = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameSize:
    """A rectangle of whole pixels: its first column and row, its width and height."""

    left: int
    top: int
    width: int
    height: int

    @property
    def slices(self) -> tuple[slice, slice]:
        """Rows and columns of the rectangle, to cut it out of a picture."""
        rows = slice(self.top, self.top + self.height)
        return rows, slice(self.left, self.left + self.width)


@dataclass(frozen=True, slots=True, kw_only=True)
class Warp:
    """Maps points before to points after: the homography `matrix`, then an interpolated shift.

    `shifts` is rows x columns x 2 (x, y), its nodes `step` pixels apart in the before picture, the
    first at `origin` (x, y); outside the grid the nearest shift applies.
    """

    matrix: Matrix
    shifts: Grid
    step: float
    origin: tuple[float, float] = (0.0, 0.0)

    def carry(self, points: Points) -> Points:
        """Map N x 2 points in pixels before to pixels after."""
        at = (points - self.origin)[:, ::-1].T / self.step
        return np.asarray(
            transform(self.matrix, points) + np.column_stack(_interpolate(self.shifts, at))
        )

    def maps(self, frame: FrameSize) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
        """Return, for each pixel of a frame before, its x and y after (height x width each)."""
        x = np.arange(frame.left, frame.left + frame.width, dtype=np.float64)[None]
        y = np.arange(frame.top, frame.top + frame.height, dtype=np.float64)[:, None]
        (a, b, c), (d, e, f), (g, h, i) = self.matrix
        divisor = g * x + h * y + i
        at_x = np.broadcast_to((x - self.origin[0]) / self.step, divisor.shape).astype(np.float32)
        at_y = np.broadcast_to((y - self.origin[1]) / self.step, divisor.shape).astype(np.float32)
        shift = cv2.remap(
            self.shifts.astype(np.float32),
            at_x,
            at_y,
            cv2.INTER_LINEAR,
            borderMode=cv2.BORDER_REPLICATE,
        )
        to_x = (a * x + b * y + c) / divisor + shift[..., 0]
        to_y = (d * x + e * y + f) / divisor + shift[..., 1]
        return to_x.astype(np.float32), to_y.astype(np.float32)

    def nodes(self) -> Points:
        """Return the grid's nodes, row by row, in pixels before."""
        rows, columns = np.mgrid[0 : self.shifts.shape[0], 0 : self.shifts.shape[1]]
        return np.column_stack((columns.ravel(), rows.ravel())) * self.step + self.origin

    def regrid(self, frame: FrameSize, step: int) -> Warp:
        """Return the same warp on a grid of another step over a frame of the before picture."""
        rows, columns = (frame.height - 1) // step + 1, (frame.width - 1) // step + 1
        across, down = np.arange(columns) * step + frame.left, np.arange(rows) * step + frame.top
        at_x, at_y = (across - self.origin[0]) / self.step, (down - self.origin[1]) / self.step
        at = np.stack(np.meshgrid(at_y, at_x, indexing="ij"))
        shifts = np.dstack(_interpolate(self.shifts, at))
        origin = (float(frame.left), float(frame.top))
        return Warp(matrix=self.matrix, shifts=shifts, step=step, origin=origin)

    def resized(self, before: float, after: float) -> Warp:
        """Return the same warp between copies scaled by these factors."""
        matrix = scaling(after) @ self.matrix @ inverse(scaling(before))
        x, y = transform(scaling(before), np.array([self.origin]))[0].tolist()
        return Warp(
            matrix=normalized(matrix),
            shifts=self.shifts * after,
            step=self.step * before,
            origin=(x, y),
        )


def scaling(factor: float) -> Matrix:
    """Return the map of pixel centers from a picture to a copy scaled by `factor`."""
    # Pixel centers lie at whole numbers, so the top left corner is at -0.5.
    shift = (factor - 1) / 2
    return np.array([[factor, 0, shift], [0, factor, shift], [0, 0, 1.0]])


def from_homography(matrix: Matrix) -> Warp:
    """Return a warp that is a homography without shifts."""
    return Warp(matrix=matrix, shifts=np.zeros((1, 1, 2)), step=1.0)


def _interpolate(shifts: Grid, at: NDArray[np.float64]) -> list[NDArray[np.float64]]:
    """Return the x and y shifts between nodes, bilinear; `at` is row and column in grid steps."""
    layers = np.moveaxis(shifts, 2, 0)
    return [map_coordinates(layer, at, order=1, mode="nearest") for layer in layers]

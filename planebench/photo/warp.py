"""A warp from one photograph to another: a homography, and how far each place departs from it."""

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
    """Takes points before to points after: `matrix`, then a shift read off a grid.

    `shifts` is rows x columns x 2 (x, y), its nodes `step` pixels apart in the before picture, the
    first at `origin` (x, y); outside the grid the nearest shift holds.
    """

    matrix: Matrix
    shifts: Grid
    step: float
    origin: tuple[float, float] = (0.0, 0.0)

    def carry(self, points: Points) -> Points:
        """Take N x 2 points in pixels before to pixels after."""
        at = (points - self.origin)[:, ::-1].T / self.step
        return np.asarray(transform(self.matrix, points) + np.column_stack(_read(self.shifts, at)))

    def maps(self, frame: FrameSize) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
        """Return x and y after for each pixel of a frame in the before picture."""
        x = np.arange(frame.left, frame.left + frame.width, dtype=np.float64)[None]
        y = np.arange(frame.top, frame.top + frame.height, dtype=np.float64)[:, None]
        (a, b, c), (d, e, f), (g, h, i) = self.matrix
        below = g * x + h * y + i
        at_x = np.broadcast_to((x - self.origin[0]) / self.step, below.shape).astype(np.float32)
        at_y = np.broadcast_to((y - self.origin[1]) / self.step, below.shape).astype(np.float32)
        shift = cv2.remap(
            self.shifts.astype(np.float32),
            at_x,
            at_y,
            cv2.INTER_LINEAR,
            borderMode=cv2.BORDER_REPLICATE,
        )
        to_x = (a * x + b * y + c) / below + shift[..., 0]
        to_y = (d * x + e * y + f) / below + shift[..., 1]
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
        shifts = np.dstack(_read(self.shifts, at))
        origin = (float(frame.left), float(frame.top))
        return Warp(matrix=self.matrix, shifts=shifts, step=step, origin=origin)

    def resized(self, before: float, after: float) -> Warp:
        """Return the same warp between copies enlarged so many times."""
        matrix = scaling(after) @ self.matrix @ inverse(scaling(before))
        x, y = transform(scaling(before), np.array([self.origin]))[0].tolist()
        return Warp(
            matrix=normalized(matrix),
            shifts=self.shifts * after,
            step=self.step * before,
            origin=(x, y),
        )


def scaling(times: float) -> Matrix:
    """Return the map of pixel centers from a picture to the same one enlarged so many times."""
    shift = (times - 1) / 2
    return np.array([[times, 0, shift], [0, times, shift], [0, 0, 1.0]])


def from_homography(matrix: Matrix) -> Warp:
    """Return the warp that is a homography and nothing else."""
    return Warp(matrix=matrix, shifts=np.zeros((1, 1, 2)), step=1.0)


def _read(shifts: Grid, at: NDArray[np.float64]) -> list[NDArray[np.float64]]:
    """Read x and y shifts off the grid between its nodes; `at` is row and column."""
    layers = np.moveaxis(shifts, 2, 0)
    return [map_coordinates(layer, at, order=1, mode="nearest") for layer in layers]

"""Lays one photograph roughly on another: tries turns and sizes, slides each to its best place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray
from scipy import fft

from planebench.photo.homography import Matrix
from planebench.photo.orientation_channels import Channels, rotate_channels
from planebench.photo.tool_segmentation import Mask

ROTATIONS_DEG = tuple(range(-15, 16, 5))
SCALES = (0.7, 0.77, 0.84, 0.92, 1.0, 1.09, 1.19, 1.3, 1.42)

_GROW_PX = 7
_THINNEST = 0.05
# Slides that leave the picture by more than half of this come in again on the other side.
_ROOM = 1.6


@dataclass(frozen=True, slots=True, kw_only=True)
class CoarseFit:
    """A similarity before to after in pixels of the small copies, and how well it fits, 0 to 1.

    `turn` is by how many degrees it turns counter-clockwise.
    """

    matrix: Matrix
    turn: float
    likeness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RegistrationCopy:
    """A small copy: its slants, and where the tool lies in it."""

    slants: Channels
    tool: Mask


def register_coarsely(
    before: RegistrationCopy, after: RegistrationCopy, *, quarter_turns: Sequence[int] = (0,)
) -> CoarseFit | None:
    """Find the turn, size and place at which the tool's edges agree best; None without a tool.

    Each turn and size is slid over the whole after picture at once, as a product of spectra.
    """
    if not before.tool.any() or not after.tool.any():
        return None
    finder = _Finder(before, after)
    turns = [90 * quarter + turn for quarter in quarter_turns for turn in ROTATIONS_DEG]
    tries = [finder.slide(turn, size) for turn in turns for size in SCALES]
    return max(tries, key=lambda rough: rough.likeness)


class _Finder:
    """Holds the spectra of the after picture, so that each try costs only its own."""

    def __init__(self, before: RegistrationCopy, after: RegistrationCopy) -> None:
        self._grown = _grown(before.tool)
        self._before = before.slants
        rows, columns = np.nonzero(before.tool)
        self._middle = (float(columns.mean()), float(rows.mean()))
        self._canvas = max(*before.tool.shape, *after.tool.shape)
        self._side = fft.next_fast_len(int(_ROOM * self._canvas), real=True)
        self._spectra = self._spectrum(_layers(after.slants) * _grown(after.tool))
        self._energy = self._spectrum((after.slants**2).sum(axis=2))

    def slide(self, turn: float, size: float) -> CoarseFit:
        """Turn and size the before picture about the tool's middle, and find its best place."""
        matrix = cv2.getRotationMatrix2D(self._middle, turn, size)
        # The middle of the tool goes to the middle of the canvas, lest its ends be cut off.
        matrix[:, 2] += self._canvas / 2 - np.array(self._middle)
        canvas = (self._canvas, self._canvas)
        area = np.asarray(cv2.warpAffine(self._grown, matrix, canvas), dtype=np.float32)
        named = _layers(rotate_channels(self._before, turn))
        moved = np.stack([cv2.warpAffine(each, matrix, canvas) for each in named]) * area
        product = (self._spectra * np.conj(self._spectrum(moved))).sum(axis=0)
        beneath = self._energy * np.conj(self._spectrum(area))
        agree, energy = (self._back(each) for each in (product, beneath))
        norm = np.sqrt(float((moved**2).sum()) * np.maximum(energy, _THINNEST * energy.max()))
        likeness = agree / np.maximum(norm, 1e-6)
        row, column = np.unravel_index(int(likeness.argmax()), likeness.shape)
        matrix[:, 2] += [self._signed(int(column)), self._signed(int(row))]
        return CoarseFit(
            turn=turn, matrix=np.vstack((matrix, [0, 0, 1])), likeness=float(likeness[row, column])
        )

    def _signed(self, shift: int) -> int:
        return shift if shift < self._side // 2 else shift - self._side

    def _spectrum(self, layers: NDArray[np.float32]) -> NDArray[np.complex64]:
        size = (self._side, self._side)
        return np.asarray(fft.rfft2(layers.astype(np.float32), s=size))

    def _back(self, spectrum: NDArray[np.complex64]) -> NDArray[np.float32]:
        return np.asarray(fft.irfft2(spectrum, s=(self._side, self._side)))


def _layers(by_direction: Channels) -> NDArray[np.float32]:
    """Put the directions first, for each is worked on by itself."""
    return np.ascontiguousarray(np.moveaxis(by_direction, 2, 0))


def _grown(tool: Mask) -> NDArray[np.float32]:
    """Let the mask reach over the tool's own edge."""
    square = np.ones((_GROW_PX, _GROW_PX), np.uint8)
    return np.asarray(cv2.dilate(tool.astype(np.float32), square), dtype=np.float32)

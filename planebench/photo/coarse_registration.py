"""Coarse registration: tries rotations and scales, and finds the best shift of each by FFT.

The score is the normalized cross-correlation of orientation channels inside the tool.
"""

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

# A plane laid down again by hand lies within some 15 degrees of before, and the camera comes back
# to between 0.7 and 1.4 times the distance. Steps of 5 degrees and of a twelfth leave at most half
# a step, which the fine registration corrects on the next larger copy.
ROTATIONS_DEG = tuple(range(-15, 16, 5))
SCALES = (0.7, 0.77, 0.84, 0.92, 1.0, 1.09, 1.19, 1.3, 1.42)

# The mask is grown so that the tool's own contour, its strongest edge, counts.
_MASK_GROWTH_PX = 7
# Where less than this share of the greatest edge energy lies beneath, the score would divide by
# next to nothing and an empty corner of the bench could win.
_MIN_ENERGY_SHARE = 0.05
# The FFT wraps around: with this much room, in picture sides, a shift by up to 0.3 of a side does
# not come back in on the other side.
_PADDING = 1.6


@dataclass(frozen=True, slots=True, kw_only=True)
class CoarseFit:
    """A similarity from before to after, in pixels of the small copies, and its score, 0 to 1.

    `rotation_deg` is counter-clockwise.
    """

    matrix: Matrix
    rotation_deg: float
    score: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RegistrationCopy:
    """A reduced copy of a photograph: its orientation channels, and the mask of the tool."""

    channels: Channels
    tool: Mask


def register_coarsely(
    before: RegistrationCopy, after: RegistrationCopy, *, quarter_turns: Sequence[int] = (0,)
) -> CoarseFit | None:
    """Return the rotation, scale and shift at which the tool's edges agree best.

    `quarter_turns` are counter-clockwise and tried besides the small rotations. None if a tool
    mask is empty.
    """
    if not before.tool.any() or not after.tool.any():
        return None
    correlator = _Correlator(before, after)
    rotations = [90 * quarter + degrees for quarter in quarter_turns for degrees in ROTATIONS_DEG]
    fits = [correlator.best_shift(degrees, scale) for degrees in rotations for scale in SCALES]
    return max(fits, key=lambda fit: fit.score)


class _Correlator:
    """Holds the spectra of the after picture, so that each trial transforms only its own."""

    def __init__(self, before: RegistrationCopy, after: RegistrationCopy) -> None:
        self._mask = _grow(before.tool)
        self._before = before.channels
        rows, columns = np.nonzero(before.tool)
        self._center = (float(columns.mean()), float(rows.mean()))
        self._canvas = max(*before.tool.shape, *after.tool.shape)
        self._side = fft.next_fast_len(int(_PADDING * self._canvas), real=True)
        self._spectra = self._spectrum(_channels_first(after.channels) * _grow(after.tool))
        self._energy = self._spectrum((after.channels**2).sum(axis=2))

    def best_shift(self, degrees: float, scale: float) -> CoarseFit:
        """Rotate and scale the before picture about the tool's center and find its best shift."""
        matrix = cv2.getRotationMatrix2D(self._center, degrees, scale)
        # The tool's center moves to the canvas's, so that its ends are not cut off.
        matrix[:, 2] += self._canvas / 2 - np.array(self._center)
        canvas = (self._canvas, self._canvas)
        mask = np.asarray(cv2.warpAffine(self._mask, matrix, canvas), dtype=np.float32)
        rotated = _channels_first(rotate_channels(self._before, degrees))
        moved = np.stack([cv2.warpAffine(channel, matrix, canvas) for channel in rotated]) * mask
        product = (self._spectra * np.conj(self._spectrum(moved))).sum(axis=0)
        beneath = self._energy * np.conj(self._spectrum(mask))
        correlation, energy = (self._inverse(each) for each in (product, beneath))
        least = _MIN_ENERGY_SHARE * energy.max()
        norm = np.sqrt(float((moved**2).sum()) * np.maximum(energy, least))
        score = correlation / np.maximum(norm, 1e-6)
        row, column = np.unravel_index(int(score.argmax()), score.shape)
        matrix[:, 2] += [self._signed(int(column)), self._signed(int(row))]
        return CoarseFit(
            rotation_deg=degrees,
            matrix=np.vstack((matrix, [0, 0, 1])),
            score=float(score[row, column]),
        )

    def _signed(self, shift: int) -> int:
        return shift if shift < self._side // 2 else shift - self._side

    def _spectrum(self, channels: NDArray[np.float32]) -> NDArray[np.complex64]:
        size = (self._side, self._side)
        return np.asarray(fft.rfft2(channels.astype(np.float32), s=size))

    def _inverse(self, spectrum: NDArray[np.complex64]) -> NDArray[np.float32]:
        return np.asarray(fft.irfft2(spectrum, s=(self._side, self._side)))


def _channels_first(channels: Channels) -> NDArray[np.float32]:
    return np.ascontiguousarray(np.moveaxis(channels, 2, 0))


def _grow(tool: Mask) -> NDArray[np.float32]:
    square = np.ones((_MASK_GROWTH_PX, _MASK_GROWTH_PX), np.uint8)
    return np.asarray(cv2.dilate(tool.astype(np.float32), square), dtype=np.float32)

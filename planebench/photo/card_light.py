"""White balance and exposure from the scale card's neutral patches."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planebench.photo.card_layout import PATCHES, NeutralPatch
from planebench.photo.homography import Matrix, transform

# 9 x 9 samples over the middle 60% of a patch: the median is steady, and a fit half a millimeter
# off still stays inside the patch.
_SAMPLES_PER_SIDE = 9
_INNER_SHARE = 0.6
# Linear light below and above which a channel is lost in the dark, or clipped (3 and 251 of 255).
_DARKEST, _BRIGHTEST = 0.001, 0.965
_MID_GRAY = 0.18
# Least ratio of one patch's light to the next one's. The card's are 5 and 3.6; glare and a strong
# tone curve flatten them.
_MIN_RATIO = 1.5
_SRGB_LINEAR_BELOW = 0.0031308


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLight:
    """Factors for linear red, green and blue that make the patches neutral (green is 1).

    `stops` is how much too bright the 18% patch came out, in doublings of light.
    """

    white_balance: tuple[float, float, float]
    stops: float


def read_light(rgb: NDArray[np.uint8], matrix: Matrix) -> CardLight | None:
    """Return the light on a card at `matrix` (mm to px); None if its patches cannot be seen.

    They count as the card's only if they are in the order white, gray, black.
    """
    lights = _lights(rgb, matrix)
    usable = [light for light in lights if _in_range(light)]
    if not usable or not _stepped([float(light[1]) for light in lights]):
        return None
    # The darkest patch is left out if there is another: stray light colors it most.
    red, _, blue = np.mean([light / light[1] for light in usable[:2]], axis=0)
    stops = math.log2(float(lights[1][1]) / _MID_GRAY)
    return CardLight(white_balance=(1 / float(red), 1.0, 1 / float(blue)), stops=stops)


def _lights(rgb: NDArray[np.uint8], matrix: Matrix) -> list[NDArray[np.float64]]:
    """Return the linear light of the three patches; none if one is out of the picture."""
    seen = [color for patch in PATCHES if (color := _color(rgb, matrix, patch)) is not None]
    return [_linear(color) for color in seen] if len(seen) == len(PATCHES) else []


def _in_range(light: NDArray[np.float64]) -> bool:
    return bool(light.min() > _DARKEST and light.max() < _BRIGHTEST)


def _stepped(lights: list[float]) -> bool:
    """Return whether each patch is clearly darker than the previous one and none is black."""
    return lights[-1] > 0 and all(a > _MIN_RATIO * b for a, b in pairwise(lights))


def _color(
    rgb: NDArray[np.uint8], matrix: Matrix, patch: NeutralPatch
) -> NDArray[np.float64] | None:
    """Return the median color of a patch's middle (0 to 255), None if it is out of the picture."""
    inner = np.linspace((1 - _INNER_SHARE) / 2, (1 + _INNER_SHARE) / 2, _SAMPLES_PER_SIDE)
    x, y = np.meshgrid(patch.at[0] + inner * patch.size[0], patch.at[1] + inner * patch.size[1])
    at = transform(matrix, np.column_stack((x.ravel(), y.ravel())))
    if (at < 0).any() or (at > np.array(rgb.shape[1::-1]) - 1).any():
        return None
    columns, rows = np.rint(at).astype(int).T
    return np.asarray(np.median(rgb[rows, columns], axis=0), dtype=np.float64)


def _linear(color: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return linear light, 0 to 1, from sRGB values, 0 to 255 (IEC 61966-2-1)."""
    share = color / 255
    dark = share / 12.92
    return np.asarray(
        np.where(dark < _SRGB_LINEAR_BELOW, dark, ((share + 0.055) / 1.055) ** 2.4),
        dtype=np.float64,
    )

"""Vivid rust by its color, which in plain light says more than the networks do."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

# Set on cuts of two real metals, one with its own mask (20 points off became 7); none of 18
# rendered surfaces tried is vivid enough, so that nothing changed there.
_VIVID, _TELLS, _STEP = 22.0, 21.0, 6.0  # chroma, CIE 1976 C*ab
_ENOUGH = 0.1  # of the surface
_PLAIN_LIGHT = 10.0  # chroma of what surrounds it: in warm light everything is orange
_RED_FROM, _ORANGE_TO = 340.0, 40.0  # hue, degrees
_WEIGHT = 6.0
_BLUR = 5
_INSIDE = 0.5
_AROUND_LEAST = 50


def vivid_rust(
    image: NDArray[np.float32], weight: NDArray[np.float32]
) -> NDArray[np.float32] | None:
    """Return what to add to the logits of rust (H x W), or None where color cannot tell.

    `image` is H x W x 3 RGB, 0 to 1; `weight` the share of each pixel inside the outline.
    """
    smooth = cv2.medianBlur((image * 255).astype(np.uint8), _BLUR).astype(np.float32) / 255
    lab = np.asarray(cv2.cvtColor(smooth, cv2.COLOR_RGB2LAB))
    hue = np.asarray(cv2.cvtColor(smooth, cv2.COLOR_RGB2HSV))[..., 0]
    chroma = np.hypot(lab[..., 1], lab[..., 2])
    orange = (hue <= _ORANGE_TO) | (hue >= _RED_FROM)
    outside = weight < _INSIDE
    if np.count_nonzero(outside) < _AROUND_LEAST:
        return None
    light = np.median(lab[..., 1:][outside], axis=0)
    share = float((((chroma > _VIVID) & orange) * weight).sum() / weight.sum())
    if share < _ENOUGH or float(np.hypot(*light)) > _PLAIN_LIGHT:
        return None
    says = _WEIGHT * np.clip((chroma - _TELLS) / _STEP, -1, 1)
    return np.where(orange | (chroma < _TELLS), says, 0).astype(np.float32)

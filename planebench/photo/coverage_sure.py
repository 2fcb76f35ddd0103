"""Dots that the judge sets by itself, where the first look is surest: on rust they carry far."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.judge import Dot, FirstLook

_OF_EACH_KIND = 3
_PATCH = 5
_SURE = 1.0  # mean logit over a patch
_APART = 20
_ALIKE, _SPENT = 0.6, 1.0


def sure_dots(
    look: FirstLook, weight: NDArray[np.float32], *, kept: bool, lost: bool
) -> tuple[Dot, ...]:
    """Choose up to three places that surely are lost, and as many kept, unlike one another.

    `weight` is height x width, the share of each pixel inside the outline. None are chosen unless
    something is surely lost: else all would be pulled to what is surely kept.
    """
    height, width = weight.shape
    inside = cv2.erode((weight > 0).astype(np.uint8), np.ones((_PATCH, _PATCH), np.uint8)) > 0
    mean = cv2.blur(look.plane[:height, :width], (_PATCH, _PATCH))
    losses = _surest(look, np.where(inside, mean, -np.inf))
    if not losses:
        return ()
    keeps = _surest(look, np.where(inside, -mean, -np.inf))
    return (
        *(Dot(row=r, column=c, kept=False) for r, c in losses if lost),
        *(Dot(row=r, column=c, kept=True) for r, c in keeps if kept),
    )


def _surest(look: FirstLook, sure: NDArray[np.float32]) -> list[tuple[int, int]]:
    """Take the surest place, put down what looks like it or lies near, and so on."""
    left = sure[::2, ::2].copy()
    looks = look.embedding[0][:, : left.shape[0], : left.shape[1]]
    rows, columns = np.ogrid[: left.shape[0], : left.shape[1]]
    found: list[tuple[int, int]] = []
    while len(found) < _OF_EACH_KIND:
        row, column = (int(i) for i in np.unravel_index(int(left.argmax()), left.shape))
        if left[row, column] < _SURE:
            break
        found.append((row, column))
        apart = ((looks - looks[:, row, column, None, None]) ** 2).sum(axis=0)
        left[np.exp(-apart) > _ALIKE] -= _SPENT
        left[(rows - row) ** 2 + (columns - column) ** 2 < _APART**2] = -np.inf
    return found

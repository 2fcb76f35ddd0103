"""Where in a photograph the tool lies, roughly: not the scale card, not the bench under it."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.card_layout import CARD_MM
from planebench.photo.card_search import search_cards
from planebench.photo.homography import transform
from planebench.photo.orientation_channels import Rgb, resize_to

Mask = NDArray[np.bool_]

_LONG_SIDE = 300
_CARD_LOOK_PX = 1200
_CARD_EDGE_MM = 3.0
_FAINTEST_EDGE = 2.0
_EDGE_SHARE = 85.0
_DENSE = 0.22
_ROUNDS = 3


def segment_tool(rgb: Rgb) -> Mask:
    """Find the tool in an H x W x 3 picture; the mask's long side is 300 pixels.

    It is the largest patch full of edges that is not the scale card, cleared of what is colored
    like the rim of the picture. Without any edge the mask is empty.
    """
    small = resize_to(rgb, _LONG_SIDE)
    card = card_mask(rgb, small.shape[:2])
    edges = _edges(small, card)
    busy = _busiest(edges)
    if not busy.any():
        return busy
    colored = _unlike_the_ground(small, busy, card)
    together = _filled(_largest(colored | (busy & _near(colored))))
    return np.asarray(together & ~card)


def card_mask(rgb: Rgb, shape: tuple[int, ...]) -> Mask:
    """Return the scale cards in a picture as a mask of another size of the same picture."""
    look = resize_to(rgb, min(_CARD_LOOK_PX, max(rgb.shape[:2])))
    width, height = CARD_MM
    rim = _CARD_EDGE_MM
    corners = [(-rim, -rim), (width + rim, -rim), (width + rim, height + rim), (-rim, height + rim)]
    mask = np.zeros(shape[:2], np.uint8)
    for candidate in search_cards(look).candidates:
        if candidate.matrix is not None:
            at = transform(candidate.matrix, np.array(corners)) * (shape[1] / look.shape[1])
            if np.isfinite(at).all() and np.abs(at).max() < 10 * max(shape):
                cv2.fillPoly(mask, [np.rint(at).astype(np.int32)], 1)
    return mask > 0


def _edges(small: Rgb, card: Mask) -> NDArray[np.float32]:
    """Mark the strongest edges of color and light, 0 or 1."""
    lab = cv2.cvtColor(small.astype(np.float32) / 255, cv2.COLOR_RGB2LAB)
    lab = cv2.GaussianBlur(lab, (0, 0), 1.0)
    across, down = (cv2.Sobel(lab, cv2.CV_32F, *way) / 8 for way in ((1, 0), (0, 1)))
    strength = np.sqrt((across**2 + down**2).sum(axis=2))
    strength[card] = 0
    free = strength[~card]
    limit = max(_FAINTEST_EDGE, float(np.percentile(free, _EDGE_SHARE))) if free.size else np.inf
    return np.asarray(strength > limit, dtype=np.float32)


def _busiest(edges: NDArray[np.float32]) -> Mask:
    """Return the connected patch that holds the most edges."""
    dense = cv2.GaussianBlur(edges, (0, 0), _LONG_SIDE / 60) > _DENSE
    closed = cv2.morphologyEx(dense.astype(np.uint8), cv2.MORPH_CLOSE, _disc(25))
    count, labels = cv2.connectedComponents(closed)
    if count == 1:
        return np.zeros(edges.shape, np.bool_)
    held = np.bincount(labels.ravel(), weights=edges.ravel())
    held[0] = 0
    return np.asarray(labels == int(held.argmax()))


def _unlike_the_ground(small: Rgb, busy: Mask, card: Mask) -> Mask:
    """Cut the tool out by color (Rother, Kolmogorov and Blake 2004), started from its hull."""
    hull = np.zeros(busy.shape, np.uint8)
    points = np.argwhere(busy)[:, ::-1].astype(np.int32)
    cv2.fillConvexPoly(hull, cv2.convexHull(points), 1)
    states = np.full(busy.shape, cv2.GC_BGD, np.uint8)
    states[cv2.dilate(hull, np.ones((11, 11), np.uint8)) > 0] = cv2.GC_PR_BGD
    states[hull > 0] = cv2.GC_PR_FGD
    states[card] = cv2.GC_BGD
    if not (states == cv2.GC_PR_FGD).any() or not (states == cv2.GC_BGD).any():
        return busy
    ground, tool = np.zeros((1, 65)), np.zeros((1, 65))
    whole = (0, 0, busy.shape[1], busy.shape[0])
    cv2.grabCut(small, states, whole, ground, tool, _ROUNDS, cv2.GC_INIT_WITH_MASK)
    found = np.isin(states, (cv2.GC_FGD, cv2.GC_PR_FGD)).astype(np.uint8)
    closed = cv2.morphologyEx(found, cv2.MORPH_CLOSE, _disc(9))
    return cv2.morphologyEx(closed, cv2.MORPH_OPEN, _disc(5)) > 0


def _near(mask: Mask) -> Mask:
    return cv2.dilate(mask.astype(np.uint8), _disc(9)) > 0


def _largest(mask: Mask) -> Mask:
    count, labels, facts, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8))
    if count == 1:
        return mask
    return np.asarray(labels == 1 + int(facts[1:, cv2.CC_STAT_AREA].argmax()))


def _filled(mask: Mask) -> Mask:
    out = mask.astype(np.uint8)
    rings, _ = cv2.findContours(out, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    cv2.drawContours(out, rings, -1, 1, cv2.FILLED)
    return out > 0


def _disc(size: int) -> NDArray[np.uint8]:
    return np.asarray(cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (size, size)), dtype=np.uint8)

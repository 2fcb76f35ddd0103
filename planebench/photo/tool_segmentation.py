"""Rough segmentation: where the tool is in a photograph, without the scale card or the bench."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.card_layout import CARD_MM
from planebench.photo.card_search import search_cards
from planebench.photo.homography import transform
from planebench.photo.orientation_channels import Rgb, resize_to

Mask = NDArray[np.bool_]

# Only the tool's rough shape is needed, and GrabCut's time grows with the pixels.
_LONG_SIDE_PX = 300
# The scale card's markers are still about 30 pixels wide on a photograph of a whole bench plane.
_CARD_SEARCH_PX = 1200
# The card's own edge and shadow are part of what is left out.
_CARD_MARGIN_MM = 3.0
# An edge is among the strongest 15% of the picture, and at least this steep (CIELAB per pixel), so
# that an empty bench has none.
_EDGE_PERCENTILE, _MIN_EDGE = 85.0, 2.0
# Share of edge pixels around a place on a tool: above the 15% that an even picture would have.
_MIN_EDGE_DENSITY = 0.22
# Radius over which edges are counted, as a share of the long side: about a knob.
_DENSITY_SHARE = 1 / 60
_GRABCUT_ITERATIONS = 3
# Diameters in pixels of the 300 px copy: joins the parts of a plane across an open throat; lets
# GrabCut search a little outside the hull; closes cracks; removes stray threads.
_JOIN_PX, _HULL_MARGIN_PX, _CLOSE_PX, _OPEN_PX = 25, 11, 9, 5
# GrabCut's models hold five Gaussians of 13 numbers each.
_GRABCUT_MODEL = (1, 65)


def segment_tool(rgb: Rgb) -> Mask:
    """Find the tool in an H x W x 3 picture; the mask's long side is 300 pixels.

    It is the patch with the most edges besides the scale card, less what is colored like the rim
    of the picture. Without any edge the mask is empty.
    """
    small = resize_to(rgb, _LONG_SIDE_PX)
    card = card_mask(rgb, small.shape[:2])
    edges = _edges(small, card)
    patch = _densest_patch(edges)
    if not patch.any():
        return patch
    cut = _grabcut(small, patch, card)
    whole = _filled(_largest(cut | (patch & _near(cut))))
    return np.asarray(whole & ~card)


def card_mask(rgb: Rgb, shape: tuple[int, ...]) -> Mask:
    """Return a mask of the scale cards, for a copy of the picture with this shape."""
    reduced = resize_to(rgb, min(_CARD_SEARCH_PX, max(rgb.shape[:2])))
    width, height = CARD_MM
    rim = _CARD_MARGIN_MM
    corners = [(-rim, -rim), (width + rim, -rim), (width + rim, height + rim), (-rim, height + rim)]
    mask = np.zeros(shape[:2], np.uint8)
    for candidate in search_cards(reduced).candidates:
        if candidate.matrix is not None:
            at = transform(candidate.matrix, np.array(corners)) * (shape[1] / reduced.shape[1])
            if np.isfinite(at).all() and np.abs(at).max() < 10 * max(shape):
                cv2.fillPoly(mask, [np.rint(at).astype(np.int32)], 1)
    return mask > 0


def _edges(small: Rgb, card: Mask) -> NDArray[np.float32]:
    """Return 1 at the strongest edges of color and lightness, else 0."""
    lab = cv2.cvtColor(small.astype(np.float32) / 255, cv2.COLOR_RGB2LAB)
    lab = cv2.GaussianBlur(lab, (0, 0), 1.0)
    across, down = (cv2.Sobel(lab, cv2.CV_32F, *way) / 8 for way in ((1, 0), (0, 1)))
    strength = np.sqrt((across**2 + down**2).sum(axis=2))
    strength[card] = 0
    free = strength[~card]
    limit = max(_MIN_EDGE, float(np.percentile(free, _EDGE_PERCENTILE))) if free.size else np.inf
    return np.asarray(strength > limit, dtype=np.float32)


def _densest_patch(edges: NDArray[np.float32]) -> Mask:
    """Return the connected patch that holds the most edges."""
    dense = cv2.GaussianBlur(edges, (0, 0), _LONG_SIDE_PX * _DENSITY_SHARE) > _MIN_EDGE_DENSITY
    closed = cv2.morphologyEx(dense.astype(np.uint8), cv2.MORPH_CLOSE, _disc(_JOIN_PX))
    count, labels = cv2.connectedComponents(closed)
    if count == 1:
        return np.zeros(edges.shape, np.bool_)
    held = np.bincount(labels.ravel(), weights=edges.ravel())
    held[0] = 0
    return np.asarray(labels == int(held.argmax()))


def _grabcut(small: Rgb, patch: Mask, card: Mask) -> Mask:
    """Segment the tool by color, started from its hull (GrabCut: Rother and others 2004)."""
    hull = np.zeros(patch.shape, np.uint8)
    points = np.argwhere(patch)[:, ::-1].astype(np.int32)
    cv2.fillConvexPoly(hull, cv2.convexHull(points), 1)
    states = np.full(patch.shape, cv2.GC_BGD, np.uint8)
    states[cv2.dilate(hull, np.ones((_HULL_MARGIN_PX, _HULL_MARGIN_PX), np.uint8)) > 0] = (
        cv2.GC_PR_BGD
    )
    states[hull > 0] = cv2.GC_PR_FGD
    states[card] = cv2.GC_BGD
    if not (states == cv2.GC_PR_FGD).any() or not (states == cv2.GC_BGD).any():
        return patch
    ground, tool = np.zeros(_GRABCUT_MODEL), np.zeros(_GRABCUT_MODEL)
    whole = (0, 0, patch.shape[1], patch.shape[0])
    cv2.grabCut(small, states, whole, ground, tool, _GRABCUT_ITERATIONS, cv2.GC_INIT_WITH_MASK)
    found = np.isin(states, (cv2.GC_FGD, cv2.GC_PR_FGD)).astype(np.uint8)
    closed = cv2.morphologyEx(found, cv2.MORPH_CLOSE, _disc(_CLOSE_PX))
    return cv2.morphologyEx(closed, cv2.MORPH_OPEN, _disc(_OPEN_PX)) > 0


def _near(mask: Mask) -> Mask:
    return cv2.dilate(mask.astype(np.uint8), _disc(_CLOSE_PX)) > 0


def _largest(mask: Mask) -> Mask:
    count, labels, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8))
    if count == 1:
        return mask
    return np.asarray(labels == 1 + int(stats[1:, cv2.CC_STAT_AREA].argmax()))


def _filled(mask: Mask) -> Mask:
    out = mask.astype(np.uint8)
    rings, _ = cv2.findContours(out, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    cv2.drawContours(out, rings, -1, 1, cv2.FILLED)
    return out > 0


def _disc(size: int) -> NDArray[np.uint8]:
    return np.asarray(cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (size, size)), dtype=np.uint8)

"""How far a card that was laid onto a picture can be trusted."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planebench.photo.card_bend import bow_of
from planebench.photo.card_edges import QR_GROUP
from planebench.photo.card_fit import CardFit
from planebench.photo.card_layout import MARKERS_AT, px_per_mm
from planebench.photo.projective import Matrix, growth_at

_APART_MM = MARKERS_AT[1][0] - MARKERS_AT[0][0]
# Neighbouring points share pixels and tell less than each its own worth, and an edge is placed no
# finer than this share of its own width. Both measured on photographs of known scale.
SHARED, _OF_WIDTH = 2.0, 0.03
_SEEN_SHARE = 0.4
_TINY = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class CardFitQuality:
    """`markers` seen, `residual_mm` of their straight edges from a flat card's (root mean square).

    `bow_mm` is how far the card looks bowed, 0.0 if a marker is hidden. `scale_error` is one
    standard deviation of the scale at the card's middle, as a share; `edge_mm` over what distance
    a printed edge goes from dark to light.
    """

    markers: frozenset[int]
    residual_mm: float
    bow_mm: float
    scale_error: float
    edge_mm: float


def trust_in(fit: CardFit) -> CardFitQuality:
    """Judge a fit by what it could not explain."""
    of_markers = fit.seen & (fit.edges.group != QR_GROUP)
    scale = growth_at(fit.matrix, fit.edges.at)
    edge_mm = float(np.median((fit.width_px / scale)[of_markers])) if of_markers.any() else 0.0
    markers = _markers_seen(fit)
    return CardFitQuality(
        markers=markers,
        residual_mm=_residual(fit, fit.off_px / scale),
        bow_mm=bow_of(fit, markers),
        scale_error=math.hypot(_scale_spread(fit), _OF_WIDTH * edge_mm / _APART_MM),
        edge_mm=edge_mm,
    )


def _markers_seen(fit: CardFit) -> frozenset[int]:
    groups = fit.edges.group
    return frozenset(
        number
        for number in range(len(MARKERS_AT))
        if np.any(groups == number) and np.mean(fit.seen[groups == number]) > _SEEN_SHARE
    )


def _residual(fit: CardFit, off_mm: NDArray[np.float64]) -> float:
    counted = fit.seen & (fit.edges.group != QR_GROUP)
    sides = [
        float(np.median(off_mm[counted & (fit.edges.side == side)]))
        for side in np.unique(fit.edges.side[counted])
    ]
    return float(np.sqrt(np.mean(np.square(sides)))) if sides else 0.0


def _scale_spread(fit: CardFit) -> float:
    return SHARED * spread_of(fit, lambda matrix: math.log(px_per_mm(matrix)))


def spread_of(fit: CardFit, measure: Callable[[Matrix], float]) -> float:
    """Carry the covariance of a fit's matrix over to a figure measured by it: one deviation.

    As if all edge points told independently.
    """
    figures, middle = fit.matrix.ravel(), measure(fit.matrix)
    growth = np.empty(8)
    for number in range(8):
        moved = figures.copy()
        step = max(abs(float(figures[number])), _TINY) * _TINY
        moved[number] += step
        growth[number] = (measure(moved.reshape(3, 3)) - middle) / step
    return math.sqrt(max(0.0, float(growth @ fit.covariance @ growth)))

"""How far a card that was laid onto a picture can be trusted."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planebench.photo.card_edges import QR_GROUP
from planebench.photo.card_fit import CardFit
from planebench.photo.card_layout import CARD_MM, MARKERS_AT, px_per_mm
from planebench.photo.homography import Matrix, scale_at

_APART_MM = MARKERS_AT[1][0] - MARKERS_AT[0][0]
# Neighbouring points share pixels and tell less than each its own worth, and an edge is placed no
# finer than this share of its own width. Both measured on photographs of known scale.
CORRELATION_FACTOR, _OF_WIDTH = 2.0, 0.03
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


def fit_quality(fit: CardFit) -> CardFitQuality:
    """Judge a fit by what it could not explain."""
    of_markers = fit.seen & (fit.edges.group != QR_GROUP)
    scale = scale_at(fit.matrix, fit.edges.at)
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
    return CORRELATION_FACTOR * standard_error_of(fit, lambda matrix: math.log(px_per_mm(matrix)))


def standard_error_of(fit: CardFit, measure: Callable[[Matrix], float]) -> float:
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


# Tukey's biweight has 95 % efficiency at this many standard deviations, and a median absolute
# deviation is 0.6745 of one (Huber, Robust Statistics, 1981).
_TUKEY, _MAD = 4.685, 0.6745
_LEAST_SPREAD_MM = 0.004
_ROUNDS = 4
_GRID = 9


def bow_of(fit: CardFit, markers: frozenset[int]) -> float:
    """Return the bow in mm on the card's plane, as the camera sees it; 0.0 if a marker is hidden.

    A card bent about any line moves its middle by the square of the distance from that line. Such
    squares are fitted beside what tilt, turn and ink do, which explain two of the six. The bow is
    how far apart, at most, what is left moves two places of the card.
    """
    if len(markers) < len(MARKERS_AT):
        return 0.0
    seen = fit.seen
    off = (fit.off_px / scale_at(fit.matrix, fit.edges.at))[seen]
    at = _about_middle(fit.edges.at[seen])
    toward = fit.edges.toward_light[seen]
    columns = np.einsum("nki,ni->nk", _moves(at), toward)
    figures = _fitted(np.column_stack((columns, np.ones(len(at)))), off)[:-1]
    return _largest(figures)


def _about_middle(at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Take mm on the card to -1 to 1 along its length."""
    return np.asarray((at - np.array(CARD_MM) / 2) / (CARD_MM[0] / 2), dtype=np.float64)


def _moves(at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return N x 12 x 2: how places move by each figure, six of first order and six squares."""
    x, y = at.T
    shapes = (np.ones_like(x), x, y, x * x, x * y, y * y)
    none = np.zeros_like(x)
    along = [np.column_stack((shape, none)) for shape in shapes]
    across = [np.column_stack((none, shape)) for shape in shapes]
    return np.stack(along + across, axis=1)


def _flat(at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return N x 8 x 2: how places of a flat card move as it is seen from elsewhere."""
    moves = _moves(at)
    x_pull = moves[:, 3] + moves[:, 10]
    y_pull = moves[:, 4] + moves[:, 11]
    return np.concatenate((moves[:, [0, 1, 2, 6, 7, 8]], x_pull[:, None], y_pull[:, None]), axis=1)


def _fitted(columns: NDArray[np.float64], off: NDArray[np.float64]) -> NDArray[np.float64]:
    weight = np.ones(len(off))
    figures = np.zeros(columns.shape[1])
    for _ in range(_ROUNDS):
        weighed = columns * weight[:, None]
        normal = np.einsum("ni,nj->ij", weighed, columns)
        figures = np.linalg.pinv(normal) @ np.einsum("ni,n->i", weighed, off)
        left = off - np.einsum("ni,i->n", columns, figures)
        spread = max(float(np.median(np.abs(left))) / _MAD, _LEAST_SPREAD_MM)
        weight = np.clip(1 - (left / (_TUKEY * spread)) ** 2, 0, None) ** 2
    return np.asarray(figures)


def _largest(figures: NDArray[np.float64]) -> float:
    """Take out what a flat card could show, over the whole card, and give the bow that is left."""
    length, width = CARD_MM
    x, y = np.meshgrid(np.linspace(0, length, _GRID), np.linspace(0, width, _GRID))
    at = _about_middle(np.column_stack((x.ravel(), y.ravel())))
    moved = np.einsum("nki,k->ni", _moves(at), figures)
    flat = _flat(at).transpose(0, 2, 1).reshape(-1, 8)
    explained = flat @ np.linalg.lstsq(flat, moved.ravel(), rcond=None)[0]
    left = (moved.ravel() - explained).reshape(-1, 2)
    apart = np.linalg.norm(left[:, None] - left[None], axis=2)
    return float(apart.max())

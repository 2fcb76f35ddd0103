"""How good a card's fit is: residual, bow, sharpness, and the error of its scale."""

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

_MARKER_DISTANCE_MM = MARKERS_AT[1][0] - MARKERS_AT[0][0]
# Neighboring points share pixels, so the standard error is that of fewer points; and an edge is
# placed no finer than this share of its own width. Both measured on photographs of known scale.
CORRELATION_FACTOR, _WIDTH_SHARE = 2.0, 0.03
# A marker counts as seen if this share of its edge points is: a thumb may cover half of it.
_SEEN_SHARE = 0.4
# Relative step of the numerical derivative, about the cube root of the precision of a float.
_STEP = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class CardFitQuality:
    """`markers` are those seen; `residual_mm` is their edges' distance from a flat card's (RMS).

    `bow_mm` is how far the card is bowed, 0.0 if a marker is hidden. `scale_error` is one standard
    error of the scale at the card's center, as a share; `edge_mm` is the distance over which a
    printed edge goes from dark to light.
    """

    markers: frozenset[int]
    residual_mm: float
    bow_mm: float
    scale_error: float
    edge_mm: float


def fit_quality(fit: CardFit) -> CardFitQuality:
    """Return the quality of a fit, by what it could not explain."""
    on_markers = fit.seen & (fit.edges.group != QR_GROUP)
    scale = scale_at(fit.matrix, fit.edges.at)
    edge_mm = float(np.median((fit.width_px / scale)[on_markers])) if on_markers.any() else 0.0
    markers = _markers_seen(fit)
    return CardFitQuality(
        markers=markers,
        residual_mm=_residual(fit, fit.off_px / scale),
        bow_mm=bow_of(fit, markers),
        scale_error=math.hypot(
            _scale_standard_error(fit), _WIDTH_SHARE * edge_mm / _MARKER_DISTANCE_MM
        ),
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


def _scale_standard_error(fit: CardFit) -> float:
    return CORRELATION_FACTOR * standard_error_of(fit, lambda matrix: math.log(px_per_mm(matrix)))


def standard_error_of(fit: CardFit, measure: Callable[[Matrix], float]) -> float:
    """Return one standard error of a quantity computed from a fit's matrix (linear propagation).

    Edge points count as independent: multiply by CORRELATION_FACTOR.
    """
    elements, value = fit.matrix.ravel(), measure(fit.matrix)
    gradient = np.empty(8)
    for number in range(8):
        moved = elements.copy()
        step = max(abs(float(elements[number])), _STEP) * _STEP
        moved[number] += step
        gradient[number] = (measure(moved.reshape(3, 3)) - value) / step
    return math.sqrt(max(0.0, float(gradient @ fit.covariance @ gradient)))


# Tukey's biweight has 95% efficiency at this many standard deviations, and a median absolute
# deviation is 0.6745 of one (Huber, Robust Statistics, 1981).
_TUKEY, _MAD = 4.685, 0.6745
# Keeps the weights finite on a rendered card without any noise.
_MIN_SPREAD_MM = 0.004
# Few rounds are enough here: the edge fit has already removed most outliers.
_REWEIGHTINGS = 4
# Grid over the card on which the bow is looked up; a square bends too slowly to need a finer one.
_GRID = 9


def bow_of(fit: CardFit, markers: frozenset[int]) -> float:
    """Return the bow in mm on the card's plane, as the camera sees it; 0.0 if a marker is hidden.

    Bending a card about a line moves each point by the square of its distance from that line. All
    six quadratic terms are fitted along with the linear ones and the ink; two combinations of them
    are what tilt alone does. The bow is the greatest distance by which the rest moves two points of
    the card against each other.
    """
    if len(markers) < len(MARKERS_AT):
        return 0.0
    seen = fit.seen
    off = (fit.off_px / scale_at(fit.matrix, fit.edges.at))[seen]
    at = _centered(fit.edges.at[seen])
    toward = fit.edges.toward_light[seen]
    columns = np.einsum("nki,ni->nk", _quadratic_terms(at), toward)
    coefficients = _robust_fit(np.column_stack((columns, np.ones(len(at)))), off)[:-1]
    return _greatest_bow(coefficients)


def _centered(at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Map mm on the card to -1 to 1 along its length."""
    return np.asarray((at - np.array(CARD_MM) / 2) / (CARD_MM[0] / 2), dtype=np.float64)


def _quadratic_terms(at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return N x 12 x 2: how points move by each coefficient, six in x and six in y."""
    x, y = at.T
    shapes = (np.ones_like(x), x, y, x * x, x * y, y * y)
    none = np.zeros_like(x)
    along = [np.column_stack((shape, none)) for shape in shapes]
    across = [np.column_stack((none, shape)) for shape in shapes]
    return np.stack(along + across, axis=1)


def _projective_terms(at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return N x 8 x 2: how points of a flat card move when it is seen from elsewhere."""
    terms = _quadratic_terms(at)
    x_term = terms[:, 3] + terms[:, 10]
    y_term = terms[:, 4] + terms[:, 11]
    return np.concatenate((terms[:, [0, 1, 2, 6, 7, 8]], x_term[:, None], y_term[:, None]), axis=1)


def _robust_fit(columns: NDArray[np.float64], off: NDArray[np.float64]) -> NDArray[np.float64]:
    weight = np.ones(len(off))
    coefficients = np.zeros(columns.shape[1])
    for _ in range(_REWEIGHTINGS):
        weighed = columns * weight[:, None]
        normal = np.einsum("ni,nj->ij", weighed, columns)
        coefficients = np.linalg.pinv(normal) @ np.einsum("ni,n->i", weighed, off)
        left = off - np.einsum("ni,i->n", columns, coefficients)
        spread = max(float(np.median(np.abs(left))) / _MAD, _MIN_SPREAD_MM)
        weight = np.clip(1 - (left / (_TUKEY * spread)) ** 2, 0, None) ** 2
    return np.asarray(coefficients)


def _greatest_bow(coefficients: NDArray[np.float64]) -> float:
    """Return the bow that is left once what a flat card could show is removed."""
    length, width = CARD_MM
    x, y = np.meshgrid(np.linspace(0, length, _GRID), np.linspace(0, width, _GRID))
    at = _centered(np.column_stack((x.ravel(), y.ravel())))
    moved = np.einsum("nki,k->ni", _quadratic_terms(at), coefficients)
    flat = _projective_terms(at).transpose(0, 2, 1).reshape(-1, 8)
    explained = flat @ np.linalg.lstsq(flat, moved.ravel(), rcond=None)[0]
    left = (moved.ravel() - explained).reshape(-1, 2)
    apart = np.linalg.norm(left[:, None] - left[None], axis=2)
    return float(apart.max())

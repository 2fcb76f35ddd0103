"""Reads the scale card in a photograph: stock number, scale, tilt and light."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
from numpy.typing import NDArray

from planebench.photo.card_edges import QR_GROUP, card_edges
from planebench.photo.card_fit import CardFit, fit_card
from planebench.photo.card_fit_quality import (
    CORRELATION_FACTOR,
    CardFitQuality,
    fit_quality,
    standard_error_of,
)
from planebench.photo.card_layout import MARKERS_AT, card_corners, marker_corners, px_per_mm
from planebench.photo.card_light import CardLight, read_light
from planebench.photo.card_qr import CardCode, read_code
from planebench.photo.card_screen import is_shown_on_screen
from planebench.photo.card_search import CardCandidate, match_missed_markers, search_cards
from planebench.photo.card_warnings import CardFindings, filing_warnings, scale_warnings
from planebench.photo.homography import (
    Matrix,
    Points,
    focal_by_card,
    inverse,
    normalized,
    tilt_degrees,
    transform,
)

Rgb = NDArray[np.uint8]
# Around the card in its close-up: room for the fit to move and for markers a little out of place.
_MARGIN_MM = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CardReading:
    """What a scale card in a photograph says.

    `stock` is None if the QR code could not be read or is not a scale card's, or if several cards
    disagree. `markers` is how many of the four markers were seen. `matrix_px_to_mm` maps pixels
    (centers at whole numbers) to mm from the card's top left corner, y down. `mm_per_px` is the
    scale at the card's center, `scale_error` one standard error of it as a share.
    `residual_mm` is how far the markers' straight edges lie from a flat card's (root mean square).
    `tilt_deg` is the angle of the camera's axis to the card's normal, `tilt_error_deg` one standard
    error of it. `white_balance` holds factors for linear red, green and blue, `exposure_stops` the
    doublings of light above a correct exposure; both None if the patches are hidden.
    `sure` is false if the scale is less certain than that of a whole flat card; `warnings` say why.
    """

    stock: str | None
    markers: int
    matrix_px_to_mm: tuple[tuple[float, ...], ...]
    mm_per_px: float
    scale_error: float
    residual_mm: float
    tilt_deg: float
    tilt_error_deg: float
    white_balance: tuple[float, float, float] | None
    exposure_stops: float | None
    sure: bool
    warnings: tuple[str, ...]

    def to_mm(self, points: Points) -> Points:
        """Map N x 2 points in pixels to mm on the card's plane."""
        return transform(np.array(self.matrix_px_to_mm), points)

    def corners_px(self) -> Points:
        """Return the card's four corners in pixels, clockwise from its top left."""
        return transform(inverse(np.array(self.matrix_px_to_mm)), card_corners())


@dataclass(frozen=True, slots=True, kw_only=True)
class _FittedCard:
    """A card fitted in a close-up; `shift` maps the whole picture to that close-up."""

    fit: CardFit
    shift: Matrix
    quality: CardFitQuality
    code: CardCode | None

    @property
    def matrix(self) -> Matrix:
        """The homography from the card's mm to the whole picture's pixels."""
        return normalized(inverse(self.shift) @ self.fit.matrix)

    @property
    def stock(self) -> str | None:
        return self.code.stock if self.code else None


def find_card(
    rgb: Rgb, *, expected_stock: str | None = None, focal_px: float | None = None
) -> CardReading | None:
    """Return the reading of the scale card in an upright H x W x 3 picture (sRGB), or None.

    `expected_stock` is the tool the photograph should show; `focal_px` is the focal length in
    pixels if the camera recorded it, otherwise it is estimated and the tilt is less certain.
    """
    found = search_cards(rgb)
    if found.mirrored and found.candidates:
        rgb = np.ascontiguousarray(rgb[:, ::-1])
    cards = [card for each in found.candidates if (card := _fit_candidate(rgb, each)) is not None]
    if not cards:
        return None
    # The expected tool's card goes before one that merely shows more of itself.
    cards.sort(key=lambda card: card.stock is None or card.stock != expected_stock)
    findings = _findings(cards, (rgb.shape[1], rgb.shape[0]), focal_px)
    findings = replace(
        findings,
        mirrored=found.mirrored,
        expected_stock=expected_stock,
        on_screen=is_shown_on_screen(rgb, cards[0].matrix),
    )
    return _reading(cards[0], findings, read_light(rgb, cards[0].matrix), rgb.shape[1])


def _findings(
    cards: Sequence[_FittedCard], size: tuple[int, int], focal_px: float | None
) -> CardFindings:
    card = cards[0]
    focal, reliable = (focal_px, True) if focal_px else focal_by_card(card.matrix, size)
    back = inverse(card.shift)
    return CardFindings(
        quality=card.quality,
        whole=_within(transform(card.matrix, card_corners()), size),
        px_per_mm=px_per_mm(card.matrix),
        tilt_deg=tilt_degrees(card.matrix, size, focal),
        tilt_error=CORRELATION_FACTOR
        * standard_error_of(card.fit, lambda m: tilt_degrees(back @ m, size, focal)),
        tilt_known=reliable,
        stocks=tuple(each.stock for each in cards),
        code_text=card.code.text if card.code else None,
    )


def _reading(
    card: _FittedCard, findings: CardFindings, light: CardLight | None, width: int
) -> CardReading:
    to_mm = inverse(card.matrix)
    if findings.mirrored:
        to_mm = to_mm @ np.array([[-1, 0, width - 1], [0, 1, 0], [0, 0, 1.0]])
    about_scale = scale_warnings(findings)
    return CardReading(
        stock=findings.stock(card.stock),
        markers=len(card.quality.markers),
        matrix_px_to_mm=tuple(tuple(row) for row in normalized(to_mm).tolist()),
        mm_per_px=1 / findings.px_per_mm,
        scale_error=card.quality.scale_error,
        residual_mm=card.quality.residual_mm,
        tilt_deg=findings.tilt_deg,
        tilt_error_deg=findings.tilt_error,
        white_balance=light.white_balance if light else None,
        exposure_stops=light.stops if light else None,
        sure=not about_scale,
        warnings=about_scale + filing_warnings(findings),
    )


def _fit_candidate(rgb: Rgb, candidate: CardCandidate) -> _FittedCard | None:
    """Fit a card to the detected markers first, then to everything printed on it."""
    rough = candidate.matrix
    if rough is None:
        return None
    gray, shift = _close_up(rgb, rough)
    markers = frozenset(candidate.corners) - {QR_GROUP}
    matrix = shift @ rough
    approximate = fit_card(gray, matrix, card_edges(0).of_groups(markers), approximate=True)
    # A single marker fixes the rest of the card too loosely.
    matrix = approximate.matrix if approximate and len(markers) > 1 else matrix
    code = read_code(gray, matrix, thorough=False)
    missed = match_missed_markers(gray, matrix, markers)
    matrix = _refit(matrix, markers, missed, code)
    code = code or read_code(gray, matrix)
    groups = markers | frozenset(missed) | ({QR_GROUP} if code else frozenset())
    fit = fit_card(gray, matrix, card_edges(code.modules if code else 0).of_groups(groups))
    if fit is None:
        return None
    return _FittedCard(fit=fit, shift=shift, quality=fit_quality(fit), code=code)


def _refit(
    matrix: Matrix, fitted: frozenset[int], missed: Mapping[int, Points], code: CardCode | None
) -> Matrix:
    """Return the homography with the markers and code found since, if there are any."""
    corners = {number: transform(matrix, marker_corners(number)) for number in fitted} | dict(
        missed
    )
    if code is not None and code.corners is not None and len(corners) < len(MARKERS_AT):
        corners[QR_GROUP] = code.corners
    joined = CardCandidate(corners=corners).matrix
    return matrix if joined is None or len(corners) == len(fitted) else joined


def _close_up(rgb: Rgb, matrix: Matrix) -> tuple[NDArray[np.uint8], Matrix]:
    """Return the card in gray with a margin, and the shift from the whole picture to it."""
    corners = transform(matrix, card_corners())
    margin = _MARGIN_MM * px_per_mm(matrix)
    size = np.array([rgb.shape[1], rgb.shape[0]])
    left, top = np.clip(corners.min(axis=0) - margin, 0, size).astype(int)
    right, bottom = np.clip(corners.max(axis=0) + margin, 0, size).astype(int)
    gray = cv2.cvtColor(rgb[top:bottom, left:right], cv2.COLOR_RGB2GRAY)
    shift = np.array([[1, 0, -left], [0, 1, -top], [0, 0, 1]], dtype=np.float64)
    return np.asarray(gray, dtype=np.uint8), shift


def _within(points: Points, size: tuple[int, int]) -> bool:
    return bool((points >= 0).all() and (points <= np.array(size) - 1).all())

"""The scale card in a photograph: whose tool, how large, how tilted, in what light."""

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
_MARGIN_MM = 8.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CardReading:
    """What a scale card in a photograph says.

    `stock` is None if its QR code could not be read, or is of something else, or if several cards
    disagree. `markers` is how many of its four markers were seen. `matrix_px_to_mm` takes pixels
    (centers at whole numbers) to mm from the card's top left corner, y down. `mm_per_px` holds at
    the card's middle, `scale_error` is one standard deviation of it as a share.
    `residual_mm` is how far the markers' straight edges lie from a flat card's, root mean square.
    `tilt_deg` is the camera's angle to the upright, `tilt_error_deg` one standard deviation of it.
    `white_balance` holds factors for linear red, green, blue, `exposure_stops` doublings of light
    above right; None if the patches are hidden.
    `sure` is false where the scale is less sure than a whole card's; `warnings` say why.
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
        """Take N x 2 points in pixels to mm on the card's plane."""
        return transform(np.array(self.matrix_px_to_mm), points)

    def corners_px(self) -> Points:
        """Return the card's four corners in pixels, clockwise from its top left."""
        return transform(inverse(np.array(self.matrix_px_to_mm)), card_corners())


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laid:
    """One card laid onto the picture: `fit` in the close-up that `shift` leads to."""

    fit: CardFit
    shift: Matrix
    trust: CardFitQuality
    code: CardCode | None

    @property
    def matrix(self) -> Matrix:
        """What takes the card's mm to the whole picture's px."""
        return normalized(inverse(self.shift) @ self.fit.matrix)

    @property
    def stock(self) -> str | None:
        return self.code.stock if self.code else None


def find_card(
    rgb: Rgb, *, expected_stock: str | None = None, focal_px: float | None = None
) -> CardReading | None:
    """Find the scale card in an upright H x W x 3 picture (sRGB); None if there is none.

    `expected_stock` is the tool the photograph is thought to show, `focal_px` the focal length in
    pixels, if the camera noted it (else it is estimated, and the tilt is less sure).
    """
    found = search_cards(rgb)
    if found.mirrored and found.candidates:
        rgb = np.ascontiguousarray(rgb[:, ::-1])
    cards = [card for each in found.candidates if (card := _laid(rgb, each)) is not None]
    if not cards:
        return None
    # The card of the tool that is expected comes before one that merely shows more of itself.
    cards.sort(key=lambda card: card.stock is None or card.stock != expected_stock)
    seen = _circumstances(cards, (rgb.shape[1], rgb.shape[0]), focal_px)
    seen = replace(
        seen,
        mirrored=found.mirrored,
        expected_stock=expected_stock,
        on_screen=is_shown_on_screen(rgb, cards[0].matrix),
    )
    return _reading(cards[0], seen, read_light(rgb, cards[0].matrix), rgb.shape[1])


def _circumstances(
    cards: Sequence[_Laid], size: tuple[int, int], focal_px: float | None
) -> CardFindings:
    card = cards[0]
    focal, telling = (focal_px, True) if focal_px else focal_by_card(card.matrix, size)
    back = inverse(card.shift)
    return CardFindings(
        trust=card.trust,
        whole=_within(transform(card.matrix, card_corners()), size),
        px_per_mm=px_per_mm(card.matrix),
        tilt_deg=tilt_degrees(card.matrix, size, focal),
        tilt_error=CORRELATION_FACTOR
        * standard_error_of(card.fit, lambda m: tilt_degrees(back @ m, size, focal)),
        tilt_known=telling,
        stocks=tuple(each.stock for each in cards),
        code_text=card.code.text if card.code else None,
    )


def _reading(card: _Laid, seen: CardFindings, light: CardLight | None, width: int) -> CardReading:
    to_mm = inverse(card.matrix)
    if seen.mirrored:
        to_mm = to_mm @ np.array([[-1, 0, width - 1], [0, 1, 0], [0, 0, 1.0]])
    of_scale = scale_warnings(seen)
    return CardReading(
        stock=seen.stock(card.stock),
        markers=len(card.trust.markers),
        matrix_px_to_mm=tuple(tuple(row) for row in normalized(to_mm).tolist()),
        mm_per_px=1 / seen.px_per_mm,
        scale_error=card.trust.scale_error,
        residual_mm=card.trust.residual_mm,
        tilt_deg=seen.tilt_deg,
        tilt_error_deg=seen.tilt_error,
        white_balance=light.white_balance if light else None,
        exposure_stops=light.stops if light else None,
        sure=not of_scale,
        warnings=of_scale + filing_warnings(seen),
    )


def _laid(rgb: Rgb, candidate: CardCandidate) -> _Laid | None:
    """Lay a card on: by the markers that were detected, then by all that is printed on it."""
    rough = candidate.matrix
    if rough is None:
        return None
    gray, shift = _close_up(rgb, rough)
    markers = frozenset(candidate.corners) - {QR_GROUP}
    matrix = shift @ rough
    near = fit_card(gray, matrix, card_edges(0).of_groups(markers), roughly=True)
    # One marker alone says too little of the rest of the card.
    matrix = near.matrix if near and len(markers) > 1 else matrix
    code = read_code(gray, matrix, thorough=False)
    missed = match_missed_markers(gray, matrix, markers)
    matrix = _drawn_together(matrix, markers, missed, code)
    code = code or read_code(gray, matrix)
    groups = markers | frozenset(missed) | ({QR_GROUP} if code else frozenset())
    fit = fit_card(gray, matrix, card_edges(code.modules if code else 0).of_groups(groups))
    if fit is None:
        return None
    return _Laid(fit=fit, shift=shift, trust=fit_quality(fit), code=code)


def _drawn_together(
    matrix: Matrix, laid: frozenset[int], missed: Mapping[int, Points], code: CardCode | None
) -> Matrix:
    """Pull the card onto what was found beyond the markers it was laid by."""
    corners = {number: transform(matrix, marker_corners(number)) for number in laid} | dict(missed)
    if code is not None and code.corners is not None and len(corners) < len(MARKERS_AT):
        corners[QR_GROUP] = code.corners
    joined = CardCandidate(corners=corners).matrix
    return matrix if joined is None or len(corners) == len(laid) else joined


def _close_up(rgb: Rgb, matrix: Matrix) -> tuple[NDArray[np.uint8], Matrix]:
    """Cut the card out in gray, with a margin, and give the shift from the whole picture to it."""
    ends = transform(matrix, card_corners())
    margin = _MARGIN_MM * px_per_mm(matrix)
    size = np.array([rgb.shape[1], rgb.shape[0]])
    left, top = np.clip(ends.min(axis=0) - margin, 0, size).astype(int)
    right, bottom = np.clip(ends.max(axis=0) + margin, 0, size).astype(int)
    gray = cv2.cvtColor(rgb[top:bottom, left:right], cv2.COLOR_RGB2GRAY)
    shift = np.array([[1, 0, -left], [0, 1, -top], [0, 0, 1]], dtype=np.float64)
    return np.asarray(gray, dtype=np.uint8), shift


def _within(points: Points, size: tuple[int, int]) -> bool:
    return bool((points >= 0).all() and (points <= np.array(size) - 1).all())

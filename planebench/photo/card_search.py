"""Searches a picture for scale cards: quickly first, thoroughly only if nothing was found."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

import cv2
import numpy as np
import zxingcpp
from numpy.typing import NDArray

from planebench.photo.card_layout import (
    CARD_MM,
    DICTIONARY,
    MARKER_MM,
    MARKERS_AT,
    QR_PREFIX,
    card_corners,
    marker_cells,
    marker_corners,
    px_per_mm,
    qr_corners,
)
from planebench.photo.card_qr import qr_corners_px
from planebench.photo.homography import (
    Matrix,
    Points,
    fit_homography,
    inverse,
    is_front_facing,
    signed_area,
    transform,
)

Gray = NDArray[np.uint8]
# Long sides searched, in pixels: at 1,600 the markers of a card beside a jointer are still
# about 40 pixels wide; twice that finds half as large ones at four times the cost.
_FIRST_SEARCH_PX, _SECOND_SEARCH_PX = 1600, 3200
# A marker is then 90 pixels wide.
_CLOSE_PX_PER_MM = 6.0
# Corners found on a reduced picture are within this distance of a flat card's, even on a bent one.
_MAX_CORNER_ERROR_MM = 1.5
_QR = 4
_QR_FORMAT = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
# Square-root tone curve: lifts deep shadow above the detector's fixed least contrast.
_SHADOW_CURVE = np.rint(255 * np.sqrt(np.arange(256) / 255)).astype(np.uint8)
# Window of the detector's adaptive threshold: one width, well chosen, finds what the usual three
# find in half the time (measured on photographs with and without a card).
_THRESHOLD_WINDOW_PX = 33


@dataclass(frozen=True, slots=True, kw_only=True)
class CardCandidate:
    """A possible card: the 4 x 2 corners in px of its markers (0 to 3) and QR code (4)."""

    corners: Mapping[int, Points]

    @property
    def matrix(self) -> Matrix | None:
        """The homography from the card's mm to pixels by all corners, None if there is none."""
        return _matrix(self.corners)


@dataclass(frozen=True, slots=True, kw_only=True)
class CardSearchResult:
    """Candidates, the best first; with `mirrored` they are in the picture flipped left to right."""

    candidates: tuple[CardCandidate, ...] = ()
    mirrored: bool = False


def search_cards(rgb: NDArray[np.uint8]) -> CardSearchResult:
    """Return the cards found in an H x W x 3 picture, in its own pixels.

    Each has at least two markers that fit one plane, or one marker and the card's own QR code.
    """
    longest = max(rgb.shape[:2])
    small, scale = _reduce(rgb, longest, _FIRST_SEARCH_PX)
    for search_copy in _search_copies(rgb, small, scale):
        markers = search_copy.markers()
        found = _cards(markers) or _by_code(rgb, markers)
        if found:
            return CardSearchResult(candidates=tuple(_search_closer(rgb, card) for card in found))
    turned = _SearchCopy(np.ascontiguousarray(small[:, ::-1]), scale).markers()
    reach = rgb.shape[1] - small.shape[1] * scale
    shifted = [(number, corners + np.array([reach, 0.0])) for number, corners in turned]
    return CardSearchResult(candidates=_cards(shifted), mirrored=True)


@dataclass(frozen=True, slots=True)
class _SearchCopy:
    """A gray copy of the picture; one of its pixels covers `scale` of the picture's."""

    gray: Gray
    scale: float

    def markers(self) -> list[tuple[int, Points]]:
        """Return the number and the 4 x 2 corners, in the picture's pixels, of markers 0 to 3."""
        corners, numbers, _ = _detector().detectMarkers(self.gray)
        # OpenCV returns None, against its own type hints, when it finds nothing.
        found = [int(number) for number in np.ravel(numbers)] if len(corners) else []
        return [
            (number, (np.asarray(four, dtype=np.float64).reshape(4, 2) + 0.5) * self.scale - 0.5)
            for number, four in zip(found, corners, strict=True)
            if number < _QR
        ]


@cache
def _detector() -> cv2.aruco.ArucoDetector:
    parameters = cv2.aruco.DetectorParameters()
    parameters.adaptiveThreshWinSizeMin = _THRESHOLD_WINDOW_PX
    parameters.adaptiveThreshWinSizeMax = _THRESHOLD_WINDOW_PX
    return cv2.aruco.ArucoDetector(DICTIONARY, parameters)


def _search_copies(rgb: NDArray[np.uint8], small: Gray, scale: float) -> Iterator[_SearchCopy]:
    """Yield copies of the picture that cost ever more to search."""
    yield _SearchCopy(small, scale)
    yield _SearchCopy(np.asarray(cv2.LUT(small, _SHADOW_CURVE), dtype=np.uint8), scale)
    if scale > 1:
        yield _SearchCopy(*_reduce(rgb, max(rgb.shape[:2]), _SECOND_SEARCH_PX))


def _reduce(rgb: NDArray[np.uint8], longest: int, wanted: int) -> tuple[Gray, float]:
    step = max(1, -(-longest // wanted))
    # On even steps linear interpolation averages the middle four pixels, and is faster.
    method = cv2.INTER_AREA if step % 2 else cv2.INTER_LINEAR
    height, width = (side // step * step for side in rgb.shape[:2])
    part = rgb[:height, :width]
    if step > 1:
        size = (width // step, height // step)
        part = np.asarray(cv2.resize(part, size, interpolation=method), dtype=np.uint8)
    return np.asarray(cv2.cvtColor(part, cv2.COLOR_RGB2GRAY), dtype=np.uint8), float(step)


def _cards(markers: list[tuple[int, Points]]) -> tuple[CardCandidate, ...]:
    """Group markers that fit one flat card; a marker that fits no other is dropped."""
    waiting = sorted(markers, key=lambda marker: -signed_area(marker[1]))
    cards = []
    while waiting:
        number, corners = waiting.pop(0)
        card = {number: corners}
        for other in tuple(waiting):
            if other[0] not in card and _fit_flat_card({**card, other[0]: other[1]}):
                card[other[0]] = other[1]
                waiting = [marker for marker in waiting if marker is not other]
        if len(card) > 1:
            cards.append(CardCandidate(corners=card))
    return tuple(sorted(cards, key=lambda card: -len(card.corners)))


def _by_code(
    rgb: NDArray[np.uint8], markers: list[tuple[int, Points]]
) -> tuple[CardCandidate, ...]:
    """Return cards with one marker whose own QR code is where it should be."""
    cards = []
    for number, corners in markers:
        part, at = _surroundings(rgb, corners)
        if not part.size:
            continue
        code = zxingcpp.read_barcode(part, formats=_QR_FORMAT)
        if code is not None and code.text.startswith(QR_PREFIX):
            both = {number: corners, _QR: qr_corners_px(code) + at}
            if _fit_flat_card(both):
                cards.append(CardCandidate(corners=both))
    return tuple(cards)


def _search_closer(rgb: NDArray[np.uint8], card: CardCandidate) -> CardCandidate:
    """Search the area of a card again for missing markers, at the size that suits the detector."""
    matrix = card.matrix
    if len(card.corners) == len(MARKERS_AT) or matrix is None:
        return card
    part, at = _surroundings(rgb, next(iter(card.corners.values())))
    scale = px_per_mm(matrix) / _CLOSE_PX_PER_MM
    if max(part.shape) > _SECOND_SEARCH_PX * scale:
        return card
    corners = dict(card.corners)
    for number, seen in _enlarged(part, scale).markers():
        joined = corners | {number: seen + at}
        if _fit_flat_card(joined):
            corners = joined
    return CardCandidate(corners=corners)


def _enlarged(part: NDArray[np.uint8], scale: float) -> _SearchCopy:
    """Return a part of the picture, resized so that one pixel covers `scale` of the picture's."""
    gray = cv2.LUT(cv2.cvtColor(part, cv2.COLOR_RGB2GRAY), _SHADOW_CURVE)
    size = [max(1, round(side / scale)) for side in gray.shape[1::-1]]
    method = cv2.INTER_AREA if scale > 1 else cv2.INTER_CUBIC
    return _SearchCopy(
        np.asarray(cv2.resize(gray, size, interpolation=method), dtype=np.uint8), scale
    )


def _surroundings(rgb: NDArray[np.uint8], marker: Points) -> tuple[NDArray[np.uint8], Points]:
    """Return what lies within a card's length of a marker, and its top left corner."""
    reach = np.abs(marker - marker.mean(axis=0)).max() * 2 * CARD_MM[0] / MARKER_MM
    size = np.array(rgb.shape[1::-1])
    low = np.clip(marker.mean(axis=0) - reach, 0, size).astype(int)
    high = np.clip(marker.mean(axis=0) + reach, 0, size).astype(int)
    part = np.ascontiguousarray(rgb[low[1] : high[1], low[0] : high[0]])
    return part, low.astype(np.float64)


def _matrix(corners: Mapping[int, Points]) -> Matrix | None:
    expected = np.concatenate([_card_position(number) for number in corners])
    return fit_homography(expected, np.concatenate(list(corners.values())))


def _card_position(number: int) -> Points:
    return qr_corners() if number == _QR else marker_corners(number)


def _fit_flat_card(corners: Mapping[int, Points]) -> bool:
    """Return whether these corners fit one flat card seen from its printed face."""
    matrix = _matrix(corners)
    if matrix is None or not is_front_facing(matrix, card_corners()):
        return False
    expected = np.concatenate([_card_position(number) for number in corners])
    off = transform(inverse(matrix), np.concatenate(list(corners.values()))) - expected
    return bool(np.abs(off).max() < _MAX_CORNER_ERROR_MM)


# A marker's cell is then 15 pixels wide, plenty for a correlation.
_TEMPLATE_PX_PER_MM = 6
# How far from its expected place a missed marker is searched for.
_SEARCH_MARGIN_MM = 4.0
# A print in shadow correlates at 0.7 and more with its drawing; wood and cloth stay below 0.4.
_MIN_CORRELATION = 0.6
# Light that changes over more than about a cell is evened out before the correlation.
_LIGHT_MM = 3.0


def match_missed_markers(
    gray: NDArray[np.uint8], matrix: Matrix, seen: frozenset[int]
) -> dict[int, Points]:
    """Return the 4 x 2 corners in px of markers not in `seen` that a template match finds."""
    found = {}
    for number in sorted(set(range(4)) - seen):
        corners = _match_marker(gray, matrix, number)
        if corners is not None:
            found[number] = corners
    return found


def _match_marker(gray: NDArray[np.uint8], matrix: Matrix, number: int) -> Points | None:
    x, y = MARKERS_AT[number]
    corner = np.array([x - _SEARCH_MARGIN_MM, y - _SEARCH_MARGIN_MM])
    flat = _rectify_marker(gray, matrix, corner)
    if flat is None:
        return None
    scores = cv2.matchTemplate(flat, _template(number), cv2.TM_CCOEFF_NORMED)
    _, score, _, (column, row) = cv2.minMaxLoc(scores)
    if score < _MIN_CORRELATION:
        return None
    moved = np.array([column, row]) / _TEMPLATE_PX_PER_MM - _SEARCH_MARGIN_MM
    return transform(matrix, marker_corners(number) + moved)


def _rectify_marker(
    gray: NDArray[np.uint8], matrix: Matrix, corner: Points
) -> NDArray[np.float32] | None:
    """Return the surroundings of a marker rectified and with even light; None if out of view."""
    side = round((MARKER_MM + 2 * _SEARCH_MARGIN_MM) * _TEMPLATE_PX_PER_MM)
    to_mm = np.array(
        [
            [1 / _TEMPLATE_PX_PER_MM, 0, corner[0]],
            [0, 1 / _TEMPLATE_PX_PER_MM, corner[1]],
            [0, 0, 1],
        ]
    )
    ends = transform(matrix @ to_mm, np.array([[0.0, 0], [side, 0], [side, side], [0, side]]))
    if (ends.max(axis=0) < 0).any() or (ends.min(axis=0) > gray.shape[1::-1]).any():
        return None
    flat = cv2.warpPerspective(
        gray,
        matrix @ to_mm,
        (side, side),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return _even_light(flat)


@cache
def _template(number: int) -> NDArray[np.float32]:
    side = round(MARKER_MM * _TEMPLATE_PX_PER_MM)
    margin = round(_LIGHT_MM * _TEMPLATE_PX_PER_MM)
    cells = marker_cells(number).astype(np.uint8) * 200 + 30
    drawn = cv2.resize(cells, (side, side), interpolation=cv2.INTER_NEAREST)
    paper = np.pad(drawn, margin, constant_values=230)
    return _even_light(paper)[margin:-margin, margin:-margin].copy()


def _even_light(gray: cv2.typing.MatLike) -> NDArray[np.float32]:
    """Return the log brightness less its surroundings: slow changes of light are removed."""
    light = np.log(np.asarray(gray, dtype=np.float32) + 4)
    around = cv2.GaussianBlur(light, (0, 0), _LIGHT_MM * _TEMPLATE_PX_PER_MM / 2)
    return np.asarray(light - around, dtype=np.float32)

"""Looks for scale cards in a picture: quickly first, harder only where nothing was found."""

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
_FIRST_LOOK_PX, _CLOSE_LOOK_PX = 1600, 3200
# A marker is then 90 pixels wide.
_CLOSE_PX_PER_MM = 6.0
# Corners found on a reduced picture lie within this far of a flat card's plan, even on a bent one.
_FAR_OFF_MM = 1.5
_QR = 4
_QR_FORMAT = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
# Lifts what lies in deep shadow above the detector's fixed least contrast.
_LIFTED = np.rint(255 * np.sqrt(np.arange(256) / 255)).astype(np.uint8)
# Light and dark are parted by surroundings of this many pixels: one width, well chosen, finds what
# the usual three find, in half the time (measured on photographs with and without a card).
_SURROUNDINGS_PX = 33


@dataclass(frozen=True, slots=True, kw_only=True)
class CardCandidate:
    """A card that may lie in the picture: corners of its markers 0 to 3 and QR code (4), in px."""

    corners: Mapping[int, Points]

    @property
    def matrix(self) -> Matrix | None:
        """The homography from the card's mm to pixels by all corners."""
        return _matrix(self.corners)


@dataclass(frozen=True, slots=True, kw_only=True)
class CardSearchResult:
    """Candidates, the best first; if `mirrored` they lie in the picture turned left to right."""

    candidates: tuple[CardCandidate, ...] = ()
    mirrored: bool = False


def search_cards(rgb: NDArray[np.uint8]) -> CardSearchResult:
    """Find cards in an H x W x 3 picture, in its own pixels.

    Each has at least two markers that fit one plane, or one marker and the card's own QR code.
    """
    longest = max(rgb.shape[:2])
    small, scale = _reduced(rgb, longest, _FIRST_LOOK_PX)
    for look in _looks(rgb, small, scale):
        markers = look.markers()
        found = _cards(markers) or _by_code(rgb, markers)
        if found:
            return CardSearchResult(candidates=tuple(_seen_closer(rgb, card) for card in found))
    turned = _Look(np.ascontiguousarray(small[:, ::-1]), scale).markers()
    reach = rgb.shape[1] - small.shape[1] * scale
    shifted = [(number, corners + np.array([reach, 0.0])) for number, corners in turned]
    return CardSearchResult(candidates=_cards(shifted), mirrored=True)


@dataclass(frozen=True, slots=True)
class _Look:
    """A gray view of the picture, `scale` of whose pixels make one of its own."""

    gray: Gray
    scale: float

    def markers(self) -> list[tuple[int, Points]]:
        """Detect markers 0 to 3: number and 4 x 2 corners in the picture's pixels."""
        corners, numbers, _ = _detector().detectMarkers(self.gray)
        # OpenCV gives None, against its own types, when it finds nothing.
        found = [int(number) for number in np.ravel(numbers)] if len(corners) else []
        return [
            (number, (np.asarray(four, dtype=np.float64).reshape(4, 2) + 0.5) * self.scale - 0.5)
            for number, four in zip(found, corners, strict=True)
            if number < _QR
        ]


@cache
def _detector() -> cv2.aruco.ArucoDetector:
    parameters = cv2.aruco.DetectorParameters()
    parameters.adaptiveThreshWinSizeMin = _SURROUNDINGS_PX
    parameters.adaptiveThreshWinSizeMax = _SURROUNDINGS_PX
    return cv2.aruco.ArucoDetector(DICTIONARY, parameters)


def _looks(rgb: NDArray[np.uint8], small: Gray, scale: float) -> Iterator[_Look]:
    """Return ever costlier views of the picture."""
    yield _Look(small, scale)
    yield _Look(np.asarray(cv2.LUT(small, _LIFTED), dtype=np.uint8), scale)
    if scale > 1:
        yield _Look(*_reduced(rgb, max(rgb.shape[:2]), _CLOSE_LOOK_PX))


def _reduced(rgb: NDArray[np.uint8], longest: int, wanted: int) -> tuple[Gray, float]:
    step = max(1, -(-longest // wanted))
    # Both ways average on even steps, the linear one the middle four pixels, and sooner.
    way = cv2.INTER_AREA if step % 2 else cv2.INTER_LINEAR
    height, width = (side // step * step for side in rgb.shape[:2])
    part = rgb[:height, :width]
    if step > 1:
        size = (width // step, height // step)
        part = np.asarray(cv2.resize(part, size, interpolation=way), dtype=np.uint8)
    return np.asarray(cv2.cvtColor(part, cv2.COLOR_RGB2GRAY), dtype=np.uint8), float(step)


def _cards(markers: list[tuple[int, Points]]) -> tuple[CardCandidate, ...]:
    """Gather markers that lie on one flat card; a marker that fits no other is left."""
    waiting = sorted(markers, key=lambda marker: -signed_area(marker[1]))
    cards = []
    while waiting:
        number, corners = waiting.pop(0)
        card = {number: corners}
        for other in tuple(waiting):
            if other[0] not in card and _lie_flat({**card, other[0]: other[1]}):
                card[other[0]] = other[1]
                waiting = [marker for marker in waiting if marker is not other]
        if len(card) > 1:
            cards.append(CardCandidate(corners=card))
    return tuple(sorted(cards, key=lambda card: -len(card.corners)))


def _by_code(
    rgb: NDArray[np.uint8], markers: list[tuple[int, Points]]
) -> tuple[CardCandidate, ...]:
    """Accept a lone marker if the card's own QR code stands where it should."""
    cards = []
    for number, corners in markers:
        part, at = _surroundings(rgb, corners)
        if not part.size:
            continue
        code = zxingcpp.read_barcode(part, formats=_QR_FORMAT)
        if code is not None and code.text.startswith(QR_PREFIX):
            both = {number: corners, _QR: qr_corners_px(code) + at}
            if _lie_flat(both):
                cards.append(CardCandidate(corners=both))
    return tuple(cards)


def _seen_closer(rgb: NDArray[np.uint8], card: CardCandidate) -> CardCandidate:
    """Look again where a card with hidden or small markers lies, as large as suits the detector."""
    matrix = card.matrix
    if len(card.corners) == len(MARKERS_AT) or matrix is None:
        return card
    part, at = _surroundings(rgb, next(iter(card.corners.values())))
    scale = px_per_mm(matrix) / _CLOSE_PX_PER_MM
    if max(part.shape) > _CLOSE_LOOK_PX * scale:
        return card
    corners = dict(card.corners)
    for number, seen in _enlarged(part, scale).markers():
        joined = corners | {number: seen + at}
        if _lie_flat(joined):
            corners = joined
    return CardCandidate(corners=corners)


def _enlarged(part: NDArray[np.uint8], scale: float) -> _Look:
    """Return a part of the picture so that `scale` of its pixels make one of the look's."""
    gray = cv2.LUT(cv2.cvtColor(part, cv2.COLOR_RGB2GRAY), _LIFTED)
    size = [max(1, round(side / scale)) for side in gray.shape[1::-1]]
    way = cv2.INTER_AREA if scale > 1 else cv2.INTER_CUBIC
    return _Look(np.asarray(cv2.resize(gray, size, interpolation=way), dtype=np.uint8), scale)


def _surroundings(rgb: NDArray[np.uint8], marker: Points) -> tuple[NDArray[np.uint8], Points]:
    """Cut out what lies within a card's length of a marker, and where it was cut."""
    reach = np.abs(marker - marker.mean(axis=0)).max() * 2 * CARD_MM[0] / MARKER_MM
    size = np.array(rgb.shape[1::-1])
    low = np.clip(marker.mean(axis=0) - reach, 0, size).astype(int)
    high = np.clip(marker.mean(axis=0) + reach, 0, size).astype(int)
    part = np.ascontiguousarray(rgb[low[1] : high[1], low[0] : high[0]])
    return part, low.astype(np.float64)


def _matrix(corners: Mapping[int, Points]) -> Matrix | None:
    plan = np.concatenate([_plan(number) for number in corners])
    return fit_homography(plan, np.concatenate(list(corners.values())))


def _plan(number: int) -> Points:
    return qr_corners() if number == _QR else marker_corners(number)


def _lie_flat(corners: Mapping[int, Points]) -> bool:
    """Tell whether these corners lie on one card, seen from its printed face."""
    matrix = _matrix(corners)
    if matrix is None or not is_front_facing(matrix, card_corners()):
        return False
    plan = np.concatenate([_plan(number) for number in corners])
    off = transform(inverse(matrix), np.concatenate(list(corners.values()))) - plan
    return bool(np.abs(off).max() < _FAR_OFF_MM)


_PX_PER_MM = 6
_AROUND_MM = 4.0
# A print in shadow correlates at 0.7 and more with its drawing; wood and cloth stay below 0.4.
_ALIKE = 0.6
_LOCAL_MM = 3.0


def match_missed_markers(
    gray: NDArray[np.uint8], matrix: Matrix, seen: frozenset[int]
) -> dict[int, Points]:
    """Look where the card's plan puts the markers not in `seen`; give their 4 x 2 corners in px."""
    found = {}
    for number in sorted(set(range(4)) - seen):
        corners = _found(gray, matrix, number)
        if corners is not None:
            found[number] = corners
    return found


def _found(gray: NDArray[np.uint8], matrix: Matrix, number: int) -> Points | None:
    x, y = MARKERS_AT[number]
    corner = np.array([x - _AROUND_MM, y - _AROUND_MM])
    flat = _flattened(gray, matrix, corner)
    if flat is None:
        return None
    match = cv2.matchTemplate(flat, _drawing(number), cv2.TM_CCOEFF_NORMED)
    _, alike, _, (column, row) = cv2.minMaxLoc(match)
    if alike < _ALIKE:
        return None
    moved = np.array([column, row]) / _PX_PER_MM - _AROUND_MM
    return transform(matrix, marker_corners(number) + moved)


def _flattened(
    gray: NDArray[np.uint8], matrix: Matrix, corner: Points
) -> NDArray[np.float32] | None:
    """Lay the surroundings of a marker flat, with light and shadow evened out."""
    side = round((MARKER_MM + 2 * _AROUND_MM) * _PX_PER_MM)
    to_mm = np.array([[1 / _PX_PER_MM, 0, corner[0]], [0, 1 / _PX_PER_MM, corner[1]], [0, 0, 1]])
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
    return _evened(flat)


@cache
def _drawing(number: int) -> NDArray[np.float32]:
    side = round(MARKER_MM * _PX_PER_MM)
    margin = round(_LOCAL_MM * _PX_PER_MM)
    cells = marker_cells(number).astype(np.uint8) * 200 + 30
    drawn = cv2.resize(cells, (side, side), interpolation=cv2.INTER_NEAREST)
    paper = np.pad(drawn, margin, constant_values=230)
    return _evened(paper)[margin:-margin, margin:-margin].copy()


def _evened(gray: cv2.typing.MatLike) -> NDArray[np.float32]:
    """Take slow changes of light away: the logarithm less its own surroundings."""
    light = np.log(np.asarray(gray, dtype=np.float32) + 4)
    around = cv2.GaussianBlur(light, (0, 0), _LOCAL_MM * _PX_PER_MM / 2)
    return np.asarray(light - around, dtype=np.float32)

"""Reads the scale card's QR code, its place on the card being known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

import cv2
import numpy as np
import zxingcpp
from numpy.typing import NDArray

from planebench.photo.card_layout import QR_AT, QR_MM, QR_PREFIX
from planebench.photo.homography import Matrix, Points, transform

_PX_PER_MM = 12
_QUIET_MM = 3.0
# Wide enough to hold light and dark modules, narrow enough to follow the edge of a shadow.
_NEAR_PX = (45, 31)
# Versions 1 to 4 of ISO/IEC 18004, modules across.
_SIZES = (21, 25, 29, 33)
_FINDER = 7
_QR_FORMAT = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)


@dataclass(frozen=True, slots=True, kw_only=True)
class CardCode:
    """What the QR code says, and how many modules it is wide.

    `corners` is where it was seen, 4 x 2 in px, None if it had to be drawn anew to be read.
    """

    text: str
    modules: int
    corners: Points | None

    @property
    def stock(self) -> str | None:
        """The stock number, None if the code is not a scale card's."""
        number = self.text.removeprefix(QR_PREFIX).strip()
        return number if number and self.text.startswith(QR_PREFIX) else None


def read_code(gray: NDArray[np.uint8], matrix: Matrix, *, thorough: bool = True) -> CardCode | None:
    """Read the QR code of a card that lies by `matrix` (mm to px) in an H x W picture.

    Without `thorough` only what costs next to nothing is tried.
    """
    to_px = matrix @ _flat_to_mm()
    for view, whole in islice(_views(_flattened(gray, to_px)), None if thorough else 2):
        code = zxingcpp.read_barcode(
            view, formats=_QR_FORMAT, try_rotate=False, try_invert=False, is_pure=whole
        )
        version = 0 if code is None else _version(code)
        if code is not None and version:
            return CardCode(
                text=code.text,
                modules=17 + 4 * version,
                corners=None if whole else transform(to_px, qr_corners_px(code)),
            )
    return None


def qr_corners_px(code: zxingcpp.Barcode) -> Points:
    """Return a QR code's 4 x 2 corners in the picture it was read in, its own top left first."""
    place = code.position
    corners = (place.top_left, place.top_right, place.bottom_right, place.bottom_left)
    return np.array([(corner.x, corner.y) for corner in corners], dtype=np.float64)


def _version(code: zxingcpp.Barcode) -> int:
    """Return the version, 1 to 40, and 0 for the small kinds of code, which noise may look like."""
    told = code.extra
    version = str(told.get("Version", "")) if isinstance(told, dict) else ""
    return int(version) if code.valid and version.isdecimal() else 0


def _flat_to_mm() -> Matrix:
    left, top = QR_AT
    return np.array(
        [[1 / _PX_PER_MM, 0, left - _QUIET_MM], [0, 1 / _PX_PER_MM, top - _QUIET_MM], [0, 0, 1]]
    )


def _flattened(gray: NDArray[np.uint8], to_px: Matrix) -> NDArray[np.uint8]:
    side = round((QR_MM + 2 * _QUIET_MM) * _PX_PER_MM)
    flat = cv2.warpPerspective(
        gray,
        to_px,
        (side, side),
        flags=cv2.INTER_CUBIC | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return np.asarray(flat, dtype=np.uint8)


def _views(flat: NDArray[np.uint8]) -> Iterator[tuple[NDArray[np.uint8], bool]]:
    """Return the code as it is, then ever more worked up, and whether it is drawn anew."""
    yield flat, False
    sharp = cv2.addWeighted(flat, 3.0, cv2.GaussianBlur(flat, (0, 0), 6), -2.0, 0)
    yield np.asarray(sharp, dtype=np.uint8), False
    for near_px in _NEAR_PX:
        even = _evened(flat, near_px)
        yield even, False
        yield from _all_drawn_anew(even, local=False)
    for clear in (flat, sharp, _deblurred(flat, 5.0), _deblurred(flat, 8.0)):
        yield from _all_drawn_anew(np.asarray(clear, dtype=np.uint8), local=True)


def _all_drawn_anew(
    clear: NDArray[np.uint8], *, local: bool
) -> Iterator[tuple[NDArray[np.uint8], bool]]:
    for modules in _SIZES:
        drawn = _drawn_anew(clear, modules, local=local)
        if drawn is not None:
            yield drawn, True


def _evened(flat: NDArray[np.uint8], near_px: int) -> NDArray[np.uint8]:
    """Take the edge of a shadow away: each place between its lightest and darkest surroundings."""
    light = cv2.blur(np.log(flat.astype(np.float32) + 4), (5, 5))
    near = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (near_px, near_px))
    high = cv2.GaussianBlur(cv2.dilate(light, near), (0, 0), near_px / 4)
    low = cv2.GaussianBlur(cv2.erode(light, near), (0, 0), near_px / 4)
    share = (light - low) / np.maximum(high - low, 0.2)
    return np.asarray(np.clip(share * 255, 0, 255), dtype=np.uint8)


def _deblurred(flat: NDArray[np.uint8], spread_px: float) -> NDArray[np.uint8]:
    """Undo a round blur by Richardson and Lucy's iteration (Richardson, JOSA 62, 1972)."""
    seen = flat.astype(np.float32) + 1
    guess = seen.copy()
    for _ in range(25):
        again = cv2.GaussianBlur(guess, (0, 0), spread_px)
        guess *= cv2.GaussianBlur(seen / np.maximum(again, 1e-3), (0, 0), spread_px)
    return np.asarray(np.clip(guess, 0, 255), dtype=np.uint8)


def _drawn_anew(flat: NDArray[np.uint8], modules: int, *, local: bool) -> NDArray[np.uint8] | None:
    """Sample each module at its middle and draw the code clean; None if it is not that wide.

    `local` tells light from dark by the surroundings, for a picture that was not evened out.
    """
    pitch = QR_MM * _PX_PER_MM / modules
    first = _QUIET_MM * _PX_PER_MM + pitch / 2 - 0.5
    centers = (first + pitch * np.arange(modules)).astype(np.float32)
    middle = cv2.blur(flat, (max(3, int(pitch / 3) | 1),) * 2)
    columns, rows = np.meshgrid(centers, centers)
    sampled = cv2.remap(middle, columns, rows, cv2.INTER_LINEAR).astype(np.float32)
    white = sampled > (_local_level(sampled) if local else _parting_level(sampled))
    if not _has_finders(white):
        return None
    clean = np.pad(white, 4, constant_values=True).astype(np.uint8) * 255
    return np.asarray(np.kron(clean, np.ones((4, 4), dtype=np.uint8)), dtype=np.uint8)


def _local_level(sampled: NDArray[np.float32]) -> NDArray[np.float32]:
    near = np.ones((9, 9), dtype=np.uint8)
    level = (cv2.dilate(sampled, near) + cv2.erode(sampled, near)) / 2
    return np.asarray(cv2.blur(level, (5, 5)), dtype=np.float32)


def _parting_level(sampled: NDArray[np.float32]) -> float:
    """Part light from dark where both sides agree best in themselves (Otsu, IEEE SMC 9, 1979)."""
    level, _ = cv2.threshold(np.clip(sampled, 0, 255).astype(np.uint8), 0, 255, cv2.THRESH_OTSU)
    return float(level)


def _has_finders(white: NDArray[np.bool_]) -> bool:
    """Tell whether the three finder squares stand in their corners, a few modules wrong at most."""
    finder = np.zeros((_FINDER, _FINDER), dtype=np.bool_)
    finder[1:-1, 1:-1] = True
    finder[2:-2, 2:-2] = False
    wrong = (
        np.count_nonzero(white[:_FINDER, :_FINDER] != finder)
        + np.count_nonzero(white[:_FINDER, -_FINDER:] != finder)
        + np.count_nonzero(white[-_FINDER:, :_FINDER] != finder)
    )
    return bool(wrong <= _FINDER * 3)

"""Reads the scale card's QR code where the markers say that it is."""

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

# A module of the usual version is then 13 pixels wide: room to sample its middle third.
_PX_PER_MM = 12
# Of the standard's quiet zone of four modules nearly three; what is printed nearest is 3 mm away.
_QUIET_MM = 3.0
# Wide enough to hold light and dark modules, narrow enough to follow the edge of a shadow.
_SHADOW_WINDOWS_PX = (45, 31)
# Modules per side of versions 1 to 4 (ISO/IEC 18004): a prefix and any stock number fit in these.
_SIZES = (21, 25, 29, 33)
_FINDER = 7
# Of the 147 modules of the three finder patterns so many may be wrong; in noise half of them are.
_MAX_WRONG_MODULES = 21
# Blurs in pixels that are undone: 0.4 and 0.7 mm on the card, where a module is about 1 mm.
_BLURS_PX, _DEBLURRING_ITERATIONS = (5.0, 8.0), 25
_QR_FORMAT = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)


@dataclass(frozen=True, slots=True, kw_only=True)
class CardCode:
    """What the QR code says, and how many modules it is wide.

    `corners` is 4 x 2 in px, None if the code had to be redrawn to be read.
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

    Unless `thorough`, only the two quickest attempts are made. None if it cannot be read.
    """
    to_px = matrix @ _rectified_to_mm()
    for view, redrawn in islice(_attempts(_rectify(gray, to_px)), None if thorough else 2):
        code = zxingcpp.read_barcode(
            view, formats=_QR_FORMAT, try_rotate=False, try_invert=False, is_pure=redrawn
        )
        version = 0 if code is None else _version(code)
        if code is not None and version:
            return CardCode(
                text=code.text,
                modules=17 + 4 * version,
                corners=None if redrawn else transform(to_px, qr_corners_px(code)),
            )
    return None


def qr_corners_px(code: zxingcpp.Barcode) -> Points:
    """Return a QR code's 4 x 2 corners in the picture it was read in, its own top left first."""
    at = code.position
    corners = (at.top_left, at.top_right, at.bottom_right, at.bottom_left)
    return np.array([(corner.x, corner.y) for corner in corners], dtype=np.float64)


def _version(code: zxingcpp.Barcode) -> int:
    """Return the version, 1 to 40; 0 for micro codes, which noise can look like."""
    extra = code.extra
    version = str(extra.get("Version", "")) if isinstance(extra, dict) else ""
    return int(version) if code.valid and version.isdecimal() else 0


def _rectified_to_mm() -> Matrix:
    left, top = QR_AT
    return np.array(
        [[1 / _PX_PER_MM, 0, left - _QUIET_MM], [0, 1 / _PX_PER_MM, top - _QUIET_MM], [0, 0, 1]]
    )


def _rectify(gray: NDArray[np.uint8], to_px: Matrix) -> NDArray[np.uint8]:
    side = round((QR_MM + 2 * _QUIET_MM) * _PX_PER_MM)
    flat = cv2.warpPerspective(
        gray,
        to_px,
        (side, side),
        flags=cv2.INTER_CUBIC | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return np.asarray(flat, dtype=np.uint8)


def _attempts(flat: NDArray[np.uint8]) -> Iterator[tuple[NDArray[np.uint8], bool]]:
    """Yield pictures of the code, ever more processed, and whether each is redrawn from samples."""
    yield flat, False
    sharp = cv2.addWeighted(flat, 3.0, cv2.GaussianBlur(flat, (0, 0), 6), -2.0, 0)
    yield np.asarray(sharp, dtype=np.uint8), False
    for near_px in _SHADOW_WINDOWS_PX:
        even = _remove_shadow(flat, near_px)
        yield even, False
        yield from _redraw_all(even, local=False)
    for clear in (flat, sharp, *(_deblur(flat, blur) for blur in _BLURS_PX)):
        yield from _redraw_all(np.asarray(clear, dtype=np.uint8), local=True)


def _redraw_all(
    clear: NDArray[np.uint8], *, local: bool
) -> Iterator[tuple[NDArray[np.uint8], bool]]:
    for modules in _SIZES:
        drawn = _redraw(clear, modules, local=local)
        if drawn is not None:
            yield drawn, True


def _remove_shadow(flat: NDArray[np.uint8], near_px: int) -> NDArray[np.uint8]:
    """Return each pixel as a share between the darkest and lightest of its surroundings."""
    light = cv2.blur(np.log(flat.astype(np.float32) + 4), (5, 5))
    near = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (near_px, near_px))
    high = cv2.GaussianBlur(cv2.dilate(light, near), (0, 0), near_px / 4)
    low = cv2.GaussianBlur(cv2.erode(light, near), (0, 0), near_px / 4)
    share = (light - low) / np.maximum(high - low, 0.2)
    return np.asarray(np.clip(share * 255, 0, 255), dtype=np.uint8)


def _deblur(flat: NDArray[np.uint8], sigma_px: float) -> NDArray[np.uint8]:
    """Undo a Gaussian blur by Richardson-Lucy deconvolution (Richardson, JOSA 62, 1972)."""
    seen = flat.astype(np.float32) + 1
    estimate = seen.copy()
    for _ in range(_DEBLURRING_ITERATIONS):
        blurred = cv2.GaussianBlur(estimate, (0, 0), sigma_px)
        estimate *= cv2.GaussianBlur(seen / np.maximum(blurred, 1e-3), (0, 0), sigma_px)
    return np.asarray(np.clip(estimate, 0, 255), dtype=np.uint8)


def _redraw(flat: NDArray[np.uint8], modules: int, *, local: bool) -> NDArray[np.uint8] | None:
    """Return the code redrawn from a sample of each module; None if it is not that wide.

    With `local` the threshold follows the surroundings, for a picture with shadows.
    """
    pitch = QR_MM * _PX_PER_MM / modules
    first = _QUIET_MM * _PX_PER_MM + pitch / 2 - 0.5
    centers = (first + pitch * np.arange(modules)).astype(np.float32)
    middle = cv2.blur(flat, (max(3, int(pitch / 3) | 1),) * 2)
    columns, rows = np.meshgrid(centers, centers)
    sampled = cv2.remap(middle, columns, rows, cv2.INTER_LINEAR).astype(np.float32)
    white = sampled > (_local_level(sampled) if local else _otsu_level(sampled))
    if not _has_finders(white):
        return None
    clean = np.pad(white, 4, constant_values=True).astype(np.uint8) * 255
    return np.asarray(np.kron(clean, np.ones((4, 4), dtype=np.uint8)), dtype=np.uint8)


def _local_level(sampled: NDArray[np.float32]) -> NDArray[np.float32]:
    near = np.ones((9, 9), dtype=np.uint8)
    level = (cv2.dilate(sampled, near) + cv2.erode(sampled, near)) / 2
    return np.asarray(cv2.blur(level, (5, 5)), dtype=np.float32)


def _otsu_level(sampled: NDArray[np.float32]) -> float:
    """Return the threshold between light and dark (Otsu, IEEE SMC 9, 1979)."""
    level, _ = cv2.threshold(np.clip(sampled, 0, 255).astype(np.uint8), 0, 255, cv2.THRESH_OTSU)
    return float(level)


def _has_finders(white: NDArray[np.bool_]) -> bool:
    """Return whether the three finder patterns are in their corners, nearly without error."""
    finder = np.zeros((_FINDER, _FINDER), dtype=np.bool_)
    finder[1:-1, 1:-1] = True
    finder[2:-2, 2:-2] = False
    wrong = (
        np.count_nonzero(white[:_FINDER, :_FINDER] != finder)
        + np.count_nonzero(white[:_FINDER, -_FINDER:] != finder)
        + np.count_nonzero(white[-_FINDER:, :_FINDER] != finder)
    )
    return bool(wrong <= _MAX_WRONG_MODULES)

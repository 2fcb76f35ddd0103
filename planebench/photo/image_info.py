"""What a picture file says of itself: size, camera, time, from its Exif data."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

_MAKE, _MODEL, _ORIENTATION, _CHANGED_AT = 271, 272, 274, 306
_TAKEN_AT, _SCANNED_AT = 36867, 36868
_OFFSET_CHANGED, _OFFSET_TAKEN, _OFFSET_SCANNED = 36880, 36881, 36882
_FOCAL_LENGTH_35MM = 41989
# (time, its offset from UTC), best first: exposure, digitizing, last change.
_TIMES = (
    (_TAKEN_AT, _OFFSET_TAKEN),
    (_SCANNED_AT, _OFFSET_SCANNED),
    (_CHANGED_AT, _OFFSET_CHANGED),
)
# EXIF orientations 5 to 8 swap width and height.
_FIRST_SIDEWAYS, _LAST_ORIENTATION = 5, 8
# Longer than any lens: a larger number is an error of the camera.
_MAX_FOCAL_MM = 5000
_FULL_FRAME_DIAGONAL_MM = math.hypot(36, 24)


@dataclass(frozen=True, slots=True, kw_only=True)
class ExifInfo:
    """What the camera recorded: orientation 1 to 8, time, camera, focal length (0: not recorded).

    `taken_at` is aware if the camera recorded its offset from UTC, else naive, on its own clock.
    """

    orientation: int = 1
    taken_at: datetime | None = None
    camera: str = ""
    focal_35mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ImageInfo:
    """A picture file without its pixels; `width` and `height` in pixels, of the upright picture.

    `format` is JPEG, PNG, TIFF, WEBP, HEIF, AVIF, BMP or RAW.
    """

    format: str
    width: int
    height: int
    size_bytes: int
    exif: ExifInfo

    @property
    def focal_px(self) -> float | None:
        """Focal length in pixels of the upright picture, None if not recorded.

        Source: CIPA DCG-001: the 35 mm equivalent compares the diagonals of the frames.
        """
        if not self.exif.focal_35mm:
            return None
        diagonal = math.hypot(self.width, self.height)
        return self.exif.focal_35mm * diagonal / _FULL_FRAME_DIAGONAL_MM


def parse_exif(tags: Mapping[int, object]) -> ExifInfo:
    """Return what EXIF tags (number to value) say; values that make no sense are ignored."""
    make, model = _text(tags.get(_MAKE)), _text(tags.get(_MODEL))
    camera = model if model.casefold().startswith(make.casefold()) else f"{make} {model}".strip()
    times = (_time(tags.get(when), tags.get(offset)) for when, offset in _TIMES)
    return ExifInfo(
        orientation=_orientation(tags.get(_ORIENTATION)),
        taken_at=next((time for time in times if time is not None), None),
        camera=camera or make,
        focal_35mm=_focal(tags.get(_FOCAL_LENGTH_35MM)),
    )


def _orientation(value: object) -> int:
    return value if isinstance(value, int) and 1 <= value <= _LAST_ORIENTATION else 1


def upright_size(width: int, height: int, orientation: int) -> tuple[int, int]:
    """Return width and height of the picture turned upright."""
    return (height, width) if orientation >= _FIRST_SIDEWAYS else (width, height)


def _text(value: object) -> str:
    text = value.decode("utf-8", errors="replace") if isinstance(value, bytes) else value
    if not isinstance(text, str):
        return ""
    return "".join(letter for letter in text if letter.isprintable()).strip()


def _time(value: object, offset: object) -> datetime | None:
    """Return the time from `YYYY:MM:DD HH:MM:SS` (EXIF 3.0, 4.6.5) and `+HH:MM` if valid."""
    day, _, clock = _text(value).partition(" ")
    plain = f"{day.replace(':', '-')} {clock}"
    for text in (plain + _text(offset), plain):
        try:
            return datetime.fromisoformat(text)
        except ValueError:
            continue
    return None


def _focal(value: object) -> float:
    """Return the 35 mm equivalent, 0 when there is none or it cannot be right."""
    if isinstance(value, (int, float)) and 0 < value < _MAX_FOCAL_MM:
        return float(value)
    return 0.0

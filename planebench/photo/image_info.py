"""What a picture file says of itself: its size, its camera, when it was taken."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

_MAKE, _MODEL, _ORIENTATION, _CHANGED_AT = 271, 272, 274, 306
_TAKEN_AT, _SCANNED_AT = 36867, 36868
_OFFSET_CHANGED, _OFFSET_TAKEN, _OFFSET_SCANNED = 36880, 36881, 36882
_FOCAL_LENGTH_35MM = 41989
# (time, its offset from UTC), best first: when the shutter went, when it was digitized, saved.
_TIMES = (
    (_TAKEN_AT, _OFFSET_TAKEN),
    (_SCANNED_AT, _OFFSET_SCANNED),
    (_CHANGED_AT, _OFFSET_CHANGED),
)
_TURNED_SIDEWAYS = 5
_LAST_ORIENTATION = 8
_LONGEST_FOCAL_MM = 5000
_FULL_FRAME_DIAGONAL_MM = math.hypot(36, 24)


@dataclass(frozen=True, slots=True, kw_only=True)
class ExifInfo:
    """What the camera noted: EXIF orientation 1 to 8, time, camera, focal length (0: not noted).

    `taken_at` is aware if the camera gave its offset from UTC, else naive (the camera's own clock).
    """

    orientation: int = 1
    taken_at: datetime | None = None
    camera: str = ""
    focal_35mm: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ImageInfo:
    """A picture file without its pixels; `width` and `height` are as seen upright, in pixels.

    `format` is JPEG, PNG, TIFF, WEBP, HEIF, AVIF, BMP or RAW.
    """

    format: str
    width: int
    height: int
    size_bytes: int
    shot: ExifInfo

    @property
    def focal_px(self) -> float | None:
        """Focal length in pixels of the upright picture, None if the camera did not note it.

        Source: CIPA DCG-001: the 35 mm equivalent compares the diagonals of the frames.
        """
        if not self.shot.focal_35mm:
            return None
        diagonal = math.hypot(self.width, self.height)
        return self.shot.focal_35mm * diagonal / _FULL_FRAME_DIAGONAL_MM


def parse_exif(tags: Mapping[int, object]) -> ExifInfo:
    """Read EXIF tags (number to value) of any kind and state; what makes no sense is left out."""
    make, model = _words(tags.get(_MAKE)), _words(tags.get(_MODEL))
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
    """Return width and height once the picture is turned upright."""
    return (height, width) if orientation >= _TURNED_SIDEWAYS else (width, height)


def _words(value: object) -> str:
    text = value.decode("utf-8", errors="replace") if isinstance(value, bytes) else value
    if not isinstance(text, str):
        return ""
    return "".join(letter for letter in text if letter.isprintable()).strip()


def _time(value: object, offset: object) -> datetime | None:
    """Read `YYYY:MM:DD HH:MM:SS` (EXIF 3.0, 4.6.5) with `+HH:MM`, if both make sense."""
    day, _, clock = _words(value).partition(" ")
    plain = f"{day.replace(':', '-')} {clock}"
    for text in (plain + _words(offset), plain):
        try:
            return datetime.fromisoformat(text)
        except ValueError:
            continue
    return None


def _focal(value: object) -> float:
    """Return the 35 mm equivalent, or 0 when there is none or it cannot be meant."""
    if isinstance(value, (int, float)) and 0 < value < _LONGEST_FOCAL_MM:
        return float(value)
    return 0.0

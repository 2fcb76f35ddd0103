"""What a scale card in a photograph gives to its record: whose tool, and the scale."""

from __future__ import annotations

from dataclasses import asdict, dataclass

import numpy as np
from numpy.typing import NDArray

from planebench.catalog.originals import Originals
from planebench.catalog.values import Json, Photograph
from planebench.photo.card import CardReading, find_card
from planebench.photo.decode import decode_bytes, probe_bytes
from planebench.photo.image_info import ImageInfo

CARD_EDGE = 3000
"""A card is searched in a picture with a long side of at most so many pixels."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardSeen:
    """A scale card in a photograph: its stock number, None if it could not be read; the scale."""

    stock: str | None
    scale: Json
    warnings: tuple[str, ...]


def card_in(pixels: NDArray[np.uint8], facts: ImageInfo) -> CardSeen | None:
    """Search an upright picture, which may be smaller than its file's, for a scale card.

    The scale is told in pixels of the whole picture.
    """
    height, width = pixels.shape[:2]
    times = (facts.width / width, facts.height / height)
    focal = None if facts.focal_px is None else facts.focal_px / times[0]
    reading = find_card(pixels, focal_px=focal)
    if reading is None:
        return None
    return CardSeen(
        stock=reading.stock, scale=_scale(reading, times), warnings=tuple(reading.warnings)
    )


def card_on(originals: Originals, photograph: Photograph) -> CardSeen | None:
    """Search a photograph that is in the catalog already; raise FileError if it is damaged."""
    data, name = originals.read(photograph.sha256, photograph.suffix), photograph.original_name
    pixels = decode_bytes(data, name=name, largest=CARD_EDGE)
    return card_in(pixels, probe_bytes(data, name=name))


def doubts_of(scale: Json | None) -> tuple[str, ...]:
    """Say why a card names no one tool, or its scale is less sure than a whole card's."""
    if scale is None or (scale.get("sure", True) and scale.get("stock")):
        return ()
    warnings = scale.get("warnings")
    return tuple(map(str, warnings)) if isinstance(warnings, list | tuple) else ()


def of_another(scale: Json | None, stock: str) -> tuple[str, ...]:
    """Say that a card names another tool than the photograph was taken in for."""
    says = "" if scale is None else str(scale.get("stock") or "")
    if not says or says.casefold() == stock.casefold():
        return ()
    return (f"The card belongs to another tool: {says}, not {stock}.",)


def _scale(reading: CardReading, times: tuple[float, float]) -> Json:
    """Return a reading as JSON can hold it, for a picture so many times as wide and as high.

    Pixels have their centers at whole numbers, so that large = times * small + (times - 1) / 2.
    """
    across, down = times
    to_large = np.array([[across, 0, (across - 1) / 2], [0, down, (down - 1) / 2], [0, 0, 1.0]])
    matrix = np.array(reading.matrix_px_to_mm) @ np.linalg.inv(to_large)
    matrix /= matrix[2, 2]
    plain: Json = {"kind": "card", **asdict(reading)}
    plain["matrix_px_to_mm"] = matrix.tolist()
    plain["mm_per_px"] = reading.mm_per_px / across
    return plain

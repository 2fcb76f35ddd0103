"""Decodes any still picture that a camera or a phone makes, upright and in sRGB."""

from __future__ import annotations

import io
from pathlib import Path
from typing import BinaryIO

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from planebench.photo.decoder_errors import as_file_errors, truncated_file_error
from planebench.photo.file_length import declared_length, estimate_length
from planebench.photo.formats import recognize
from planebench.photo.image_info import ExifInfo, ImageInfo, parse_exif, upright_size
from planebench.photo.pillow_images import (
    apply_orientation,
    as_array,
    open_header,
    reduce_by_blocks,
    shrink_while_decoding,
    to_srgb,
)
from planebench.photo.raw import develop, probe_raw

# Tag of the Exif IFD (EXIF 3.0, 4.6.3).
_EXIF_IFD = 0x8769


def probe(path: Path) -> ImageInfo:
    """Return what a picture file says of itself, without decoding its pixels.

    Raise FileError if it is not a picture.
    """
    with as_file_errors(str(path)), path.open("rb") as stream:
        return _probe(stream, name=str(path))


def read_bytes(path: Path) -> bytes:
    """Return a file's bytes, read once to be hashed, probed and decoded from memory.

    Raise FileError if it cannot be read.
    """
    with as_file_errors(str(path)):
        return path.read_bytes()


def probe_bytes(data: bytes, *, name: str) -> ImageInfo:
    """Probe a picture already in memory; `name` is the file that an error names."""
    with as_file_errors(name):
        return _probe(io.BytesIO(data), name=name)


def open_upright(path: Path, *, largest: int | None = None) -> NDArray[np.uint8]:
    """Return H x W x 3 RGB (sRGB, 0 to 255), upright, the long side at most `largest` pixels.

    Raise FileError, naming the file, for anything that is not a whole picture of a known format,
    and for more than 500 megapixels.
    """
    with as_file_errors(str(path)), path.open("rb") as stream:
        return _decode(stream, largest=largest, name=str(path))


def decode_bytes(data: bytes, *, name: str, largest: int | None = None) -> NDArray[np.uint8]:
    """Decode a picture already in memory, as open_upright does."""
    with as_file_errors(name):
        return _decode(io.BytesIO(data), largest=largest, name=name)


def _probe(stream: BinaryIO, *, name: str) -> ImageInfo:
    form = recognize(stream, name=name)
    size_bytes = _length(stream)
    if form == "RAW":
        _refuse_truncated(stream, form, name)
        return probe_raw(stream, size_bytes=size_bytes, name=name)
    image = _open(stream, form, name)
    exif = _exif(image)
    width, height = upright_size(*image.size, exif.orientation)
    return ImageInfo(format=form, width=width, height=height, size_bytes=size_bytes, exif=exif)


def _decode(stream: BinaryIO, *, largest: int | None, name: str) -> NDArray[np.uint8]:
    form = recognize(stream, name=name)
    if form == "RAW":
        _refuse_truncated(stream, form, name)
        return shrink_to(develop(stream, largest=largest, name=name), largest)
    image = _open(stream, form, name)
    orientation = _exif(image).orientation
    if largest is not None:
        shrink_while_decoding(image, largest)
    _load(image, stream, name)
    # Reduced before it is turned and unpacked, so that no second full-size copy exists.
    pixels = shrink_to(as_array(to_srgb(reduce_by_blocks(image, largest))), largest)
    image.close()
    return apply_orientation(pixels, orientation)


def _open(stream: BinaryIO, form: str, name: str) -> Image.Image:
    _refuse_truncated(stream, form, name)
    return open_header(stream, form, name=name)


def _refuse_truncated(stream: BinaryIO, form: str, name: str) -> None:
    length = _length(stream)
    declared = declared_length(stream, form, length)
    if declared is not None and declared > length:
        # A file of boxes may continue after the box that was cut, a raw file after its pictures.
        how = "at least" if form in {"HEIF", "AVIF", "RAW"} else ""
        raise truncated_file_error(length, declared, how=how, name=name)
    stream.seek(0)


def _load(image: Image.Image, stream: BinaryIO, name: str) -> None:
    try:
        image.load()
    except (OSError, EOFError, SyntaxError) as error:
        if "truncated" not in str(error).casefold():
            raise
        length = _length(stream)
        estimate = estimate_length(image, length)
        raise truncated_file_error(length, estimate, how="about", name=name) from error


def _exif(image: Image.Image) -> ExifInfo:
    try:
        tags = image.getexif()
        return parse_exif({**tags, **tags.get_ifd(_EXIF_IFD)})
    except Exception:  # noqa: BLE001 -- broken Exif is no reason to refuse the picture
        return ExifInfo()


def shrink_to(pixels: NDArray[np.uint8], largest: int | None) -> NDArray[np.uint8]:
    """Return an H x W x 3 picture whose long side is at most `largest` pixels (area averaging)."""
    if largest is None or max(pixels.shape) <= largest:
        return pixels
    while max(pixels.shape) >= 2 * largest:
        # Halving is several times as fast as any other factor and averages the same areas.
        half = (pixels.shape[1] + 1) // 2, (pixels.shape[0] + 1) // 2
        pixels = np.asarray(cv2.resize(pixels, half, interpolation=cv2.INTER_AREA), dtype=np.uint8)
    height, width = pixels.shape[:2]
    if max(height, width) <= largest:
        return pixels
    share = largest / max(height, width)
    size = max(1, round(width * share)), max(1, round(height * share))
    return np.asarray(cv2.resize(pixels, size, interpolation=cv2.INTER_AREA), dtype=np.uint8)


def _length(stream: BinaryIO) -> int:
    at = stream.tell()
    length = stream.seek(0, io.SEEK_END)
    stream.seek(at)
    return length

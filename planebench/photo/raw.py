"""Camera raw files, developed with the camera's white balance: sRGB, 8 bits, upright."""

from __future__ import annotations

import io
from typing import BinaryIO

import numpy as np
import rawpy
from numpy.typing import NDArray
from PIL import Image

from planebench.errors import FileError
from planebench.photo.decoder_errors import refuse_too_large, truncated_file_error
from planebench.photo.image_info import ExifInfo, ImageInfo, parse_exif

_EXIF_IFD = 0x8769
# LibRaw has its own codes: 3 is a half turn, 5 a quarter turn to the left, 6 to the right.
_ORIENTATION_OF_FLIP = {0: 1, 3: 3, 5: 8, 6: 6}
_SIDEWAYS = {5, 6}
# No camera packs nearly this tight. A file stripped of its picture would develop to black.
_MAX_PIXELS_PER_BYTE = 64


def probe_raw(stream: BinaryIO, *, size_bytes: int, name: str) -> ImageInfo:
    """Return the size and the camera's Exif data, without developing."""
    with _opened(stream, name) as raw:
        width, height = _upright_size(raw)
        orientation = _ORIENTATION_OF_FLIP.get(raw.sizes.flip, 1)
        preview = _embedded(raw)
    _refuse_size(stream, width, height, name)
    exif = _exif(stream, preview)
    return ImageInfo(
        format="RAW",
        width=width,
        height=height,
        size_bytes=size_bytes,
        exif=ExifInfo(
            orientation=orientation,
            taken_at=exif.taken_at,
            camera=exif.camera,
            focal_35mm=exif.focal_35mm,
        ),
    )


def develop(stream: BinaryIO, *, largest: int | None, name: str) -> NDArray[np.uint8]:
    """Return H x W x 3 RGB, upright; at half size if that still reaches `largest`."""
    with _opened(stream, name) as raw:
        width, height = _upright_size(raw)
        _refuse_size(stream, width, height, name)
        half = largest is not None and max(width, height) >= 2 * largest
        pixels = raw.postprocess(use_camera_wb=True, output_bps=8, half_size=half)
    return np.ascontiguousarray(pixels, dtype=np.uint8)


def _opened(stream: BinaryIO, name: str) -> rawpy.RawPy:
    try:
        return rawpy.imread(stream)
    except rawpy.LibRawFileUnsupportedError as error:
        raise FileError(
            "The picture is damaged, or its camera’s raw files are not supported.",
            remedy="Copy it from the camera again; if that does not help, save it as JPEG, PNG or"
            " TIFF and add that.",
            subject=name,
        ) from error


def _refuse_size(stream: BinaryIO, width: int, height: int, name: str) -> None:
    refuse_too_large(width, height, name=name)
    length = stream.seek(0, io.SEEK_END)
    least = width * height // _MAX_PIXELS_PER_BYTE
    if length < least:
        raise truncated_file_error(length, least, how="at least", name=name)


def _upright_size(raw: rawpy.RawPy) -> tuple[int, int]:
    sizes = raw.sizes
    if sizes.flip in _SIDEWAYS:
        return int(sizes.height), int(sizes.width)
    return int(sizes.width), int(sizes.height)


def _embedded(raw: rawpy.RawPy) -> bytes:
    try:
        thumbnail = raw.extract_thumb()
    except rawpy.LibRawError:
        return b""
    return bytes(thumbnail.data) if thumbnail.format == rawpy.ThumbFormat.JPEG else b""


def _exif(stream: BinaryIO, preview: bytes) -> ExifInfo:
    """Return the Exif data of a file built as TIFF, otherwise of its embedded preview."""
    stream.seek(0)
    try:
        tags = Image.Exif()
        tags.load_from_fp(stream)
        values = {**tags, **tags.get_ifd(_EXIF_IFD)}
        if not values:
            tags = Image.open(io.BytesIO(preview), formats=("JPEG",)).getexif()
            values = {**tags, **tags.get_ifd(_EXIF_IFD)}
    except Exception:  # noqa: BLE001 -- a raw file without readable Exif is still a picture
        return ExifInfo()
    return parse_exif(values)

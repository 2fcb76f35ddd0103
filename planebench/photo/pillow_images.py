"""Converts Pillow images to plain pixels: 8-bit sRGB, no alpha, upright."""

from __future__ import annotations

import io
from typing import BinaryIO, Final

import cv2
import numpy as np
import pillow_heif
from numpy.typing import NDArray
from PIL import Image, ImageCms

from planebench.photo.decoder_errors import refuse_too_large

pillow_heif.register_heif_opener()
# Pillow's limit is lower than ours, which is checked before any pixel is decoded.
Image.MAX_IMAGE_PIXELS = None

_WHITE = (255, 255, 255)
# Rows converted at a time: 5 MB of a 24-megapixel picture.
_BAND_ROWS = 256
_SRGB = ImageCms.createProfile("sRGB")
_COLOR_SPACES: Final = {"L": "GRAY", "LAB": "Lab ", "CMYK": "CMYK", "RGB": "RGB "}
_FULL_8_BIT, _FULL_16_BIT = 255, 65535


def open_header(stream: BinaryIO, form: str, *, name: str) -> Image.Image:
    """Return a picture of the named format, not yet decoded.

    Raise FileError over 500 megapixels.
    """
    image = Image.open(stream, formats=(form,))
    refuse_too_large(*image.size, name=name)
    return image


def shrink_while_decoding(image: Image.Image, largest: int) -> None:
    """Let a JPEG decode at a half, quarter or eighth, the long side still at least `largest`."""
    longest = max(image.size)
    width, height = (max(1, -(-side * largest // longest)) for side in image.size)
    image.draft(image.mode, (width, height))


def reduce_by_blocks(image: Image.Image, largest: int | None) -> Image.Image:
    """Return the picture averaged over square blocks, the long side still at least `largest`."""
    factor = 1 if largest is None else max(image.size) // largest
    # Other modes hold palette indices or need their full depth.
    return image.reduce(factor) if factor > 1 and image.mode in {"RGB", "L", "CMYK"} else image


def to_srgb(image: Image.Image) -> Image.Image:
    """Return the picture in sRGB, by its embedded profile if it has one, alpha over white."""
    profile = image.info.get("icc_profile")
    opaque = _over_white(_to_8_bit(image))
    if profile and opaque.mode in {"RGB", "CMYK", "L", "LAB"}:
        opaque = _apply_profile(opaque, profile)
    return opaque if opaque.mode == "RGB" else opaque.convert("RGB")


def as_array(image: Image.Image) -> NDArray[np.uint8]:
    """Return an RGB picture as H x W x 3, unpacked in bands so that no second copy is held."""
    pixels = np.empty((image.height, image.width, 3), dtype=np.uint8)
    for top in range(0, image.height, _BAND_ROWS):
        bottom = min(top + _BAND_ROWS, image.height)
        pixels[top:bottom] = np.asarray(image.crop((0, top, image.width, bottom)))
    return pixels


def apply_orientation(pixels: NDArray[np.uint8], orientation: int) -> NDArray[np.uint8]:
    """Return an H x W x 3 array turned upright by its orientation (EXIF 3.0, tag 0x0112)."""
    if orientation == 1:
        return pixels
    if orientation in {5, 7}:
        pixels = np.asarray(cv2.transpose(pixels), dtype=np.uint8)
    turns = {3: cv2.ROTATE_180, 6: cv2.ROTATE_90_CLOCKWISE, 8: cv2.ROTATE_90_COUNTERCLOCKWISE}
    flips = {2: 1, 4: 0, 7: -1}
    turned: cv2.typing.MatLike = pixels
    if orientation in turns:
        turned = cv2.rotate(pixels, turns[orientation])
    elif orientation in flips:
        turned = cv2.flip(pixels, flips[orientation])
    return np.asarray(turned, dtype=np.uint8)


def _to_8_bit(image: Image.Image) -> Image.Image:
    if image.mode == "F" or image.mode.startswith("I"):
        values = np.asarray(image, dtype=np.float32)
        brightest = float(np.nanmax(values, initial=0))
        full = next((f for f in (1, _FULL_8_BIT, _FULL_16_BIT) if brightest <= f), brightest)
        if image.mode.startswith("I;16"):
            full = _FULL_16_BIT
        scaled = np.nan_to_num(values) * (_FULL_8_BIT / full)
        return Image.fromarray(np.clip(np.rint(scaled), 0, _FULL_8_BIT).astype(np.uint8))
    return image


def _over_white(image: Image.Image) -> Image.Image:
    if image.mode in {"1", "P"} or "transparency" in image.info:
        image = image.convert("RGBA" if "transparency" in image.info else "RGB")
    if image.mode in {"RGBA", "LA", "PA", "RGBa", "La"}:
        layer = image.convert("RGBA")
        ground = Image.new("RGB", image.size, _WHITE)
        ground.paste(layer, mask=layer.getchannel("A"))
        return ground
    return image


def _apply_profile(image: Image.Image, profile: bytes) -> Image.Image:
    try:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        if _is_srgb(source) or source.profile.xcolor_space != _COLOR_SPACES[image.mode]:
            return image
        changed = ImageCms.profileToProfile(
            image, source, _SRGB, outputMode="RGB", inPlace=image.mode == "RGB"
        )
    except (ImageCms.PyCMSError, OSError, ValueError):
        # A broken profile is no reason to refuse the picture: its values are taken as sRGB.
        return image
    return changed or image


def _is_srgb(profile: ImageCms.ImageCmsProfile) -> bool:
    return "srgb" in (profile.profile.profile_description or "").casefold()

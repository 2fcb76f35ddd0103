"""Metadata is written into copies of photographs, and the picture itself stays unchanged."""

from __future__ import annotations

import io
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from PIL import Image

from planebench.errors import FileError
from planebench.photo.iptc_metadata import IptcMetadata, with_metadata, xmp_packet

LABEL = IptcMetadata(
    job="LOT7-003",
    title="LOT7-003 top finished",
    description="Chip <at> the mouth & more, 3 × 2 mm",
    alt_text="Smoothing plane, Halbeck & Son pattern K: top, finished.",
    rights="© 2026 Wendholm Workshop",
    creator="Wendholm Workshop",
)
GPS, ORIENTATION, MODEL = 0x8825, 274, 272


def picture(format_: str, **saved: object) -> bytes:
    grain = np.random.default_rng(3).integers(0, 255, (12, 16, 3), dtype=np.uint8)
    stream = io.BytesIO()
    Image.fromarray(grain).resize((96, 64)).save(stream, format_, **saved)
    return stream.getvalue()


def packet_in(data: bytes) -> bytes:
    with Image.open(io.BytesIO(data)) as image:
        image.load()
        return image.info.get("xmp") or image.info["XML:com.adobe.xmp"].encode("utf-8")


def pixels_of(data: bytes) -> bytes:
    with Image.open(io.BytesIO(data)) as image:
        return image.tobytes()


def words_in(data: bytes) -> str:
    return " ".join(" ".join(ET.fromstring(packet_in(data)).itertext()).split())  # noqa: S314 -- our own packet


@pytest.mark.parametrize(("format_", "suffix"), [("JPEG", ".jpg"), ("PNG", ".png")])
def test_the_picture_is_kept_bit_for_bit_and_described(format_: str, suffix: str) -> None:
    data = picture(format_)
    copy = with_metadata(data, LABEL, name="a")

    assert (copy.suffix, copy.reencoded) == (suffix, False)
    assert pixels_of(copy.data) == pixels_of(data)
    for words in (LABEL.job, LABEL.title, LABEL.description, LABEL.alt_text, LABEL.rights):
        assert words in words_in(copy.data)


@pytest.mark.parametrize("format_", ["WEBP", "TIFF", "BMP"])
def test_other_formats_become_jpeg(format_: str) -> None:
    copy = with_metadata(picture(format_), LABEL, name="a")

    assert (copy.suffix, copy.reencoded) == (".jpg", True)
    assert LABEL.alt_text in words_in(copy.data)


def test_only_the_metadata_segment_is_added_to_a_jpeg() -> None:
    data = picture("JPEG")
    copy = with_metadata(data, LABEL, name="a").data
    at = copy.index(b"\xff\xe1")
    length = int.from_bytes(copy[at + 2 : at + 4], "big") + 2

    assert copy[:at] + copy[at + length :] == data


def test_older_metadata_is_replaced() -> None:
    once = with_metadata(picture("JPEG"), LABEL, name="a").data
    again = with_metadata(once, LABEL, name="a").data

    assert again == once


@pytest.mark.parametrize("format_", ["JPEG", "PNG"])
def test_the_position_is_removed_and_the_orientation_kept(format_: str) -> None:
    exif = Image.Exif()
    exif[MODEL] = "Bench camera"
    exif[ORIENTATION] = 6
    exif.get_ifd(GPS)[2] = (51.0, 30.0, 0.0)
    data = picture(format_, exif=exif)
    with Image.open(io.BytesIO(data)) as before:
        assert GPS in before.getexif()

    copy = with_metadata(data, LABEL, name="a").data

    with Image.open(io.BytesIO(copy)) as after:
        assert GPS not in after.getexif()
        assert after.getexif()[ORIENTATION] == 6


def test_a_text_of_any_length_and_with_control_characters_fits() -> None:
    label = IptcMetadata(
        job="A", title="é" * 50_000, description="a\0b\x1b<c>", alt_text="&" * 9000
    )

    copy = with_metadata(picture("JPEG"), label, name="a").data

    assert "ab<c>" in words_in(copy)
    assert len(xmp_packet(label)) < 65_000


def test_what_is_no_picture_is_reported_with_its_name() -> None:
    with pytest.raises(FileError) as told:
        with_metadata(b"shopping list", LABEL, name="list.jpg")

    assert told.value.subject == "list.jpg"

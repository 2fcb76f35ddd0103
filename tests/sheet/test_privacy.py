"""What leaves the shop with a sheet: nothing of a photograph but its pixels."""

from __future__ import annotations

import io
import re
from base64 import b64decode
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from planebench.sheet.content import Crop, SheetContent, SheetPhotographs
from planebench.sheet.pdf import SheetPress
from planebench.sheet.web_page import web_page
from tests.sheet.conftest import AT
from tests.sheet.examples import bare, photograph

# Exif 2.32 (CIPA DC-008): tags of camera, owner, comment and place.
MAKE, MODEL, ARTIST, DESCRIPTION, GPS, SERIAL = 0x10F, 0x110, 0x13B, 0x10E, 0x8825, 0xA431
SECRETS = ("Secretcam", "Owner of the shop", "Elm Street", "SN-4711")


@pytest.fixture
def content(tmp_path: Path) -> SheetContent:
    """Return a sheet with one photograph that carries much about its owner."""
    image = Image.new("RGB", (900, 600), (90, 70, 50))
    exif = image.getexif()
    exif[MAKE], exif[MODEL], exif[ARTIST], exif[DESCRIPTION] = SECRETS[0], "X", *SECRETS[1:3]
    exif.get_ifd(0x8769)[SERIAL] = SECRETS[3]
    exif.get_ifd(GPS)[1] = "N"
    file = tmp_path / "Elm Street 12.jpg"
    image.save(file, exif=exif, comment=b"Elm Street")
    main = photograph(file, "Finished.", Crop())
    return replace(bare(), photographs=SheetPhotographs(main=main))


def test_the_original_carries_what_must_not_leave(content: SheetContent) -> None:
    assert content.photographs.main is not None
    data = content.photographs.main.file.read_bytes()

    assert [secret for secret in SECRETS if secret.encode() in data] == list(SECRETS)


def test_photographs_in_the_pdf_hold_no_camera_owner_place_or_comment(
    content: SheetContent, press: SheetPress
) -> None:
    pdf = press.print([content], at=AT).pdf
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        streams = [
            bytes(one.read_raw_bytes())
            for one in opened.objects
            if isinstance(one, pikepdf.Stream) and one.get("/Subtype") == "/Image"
        ]

    assert streams
    assert not [s for s in SECRETS for data in (pdf, *streams) if s.encode() in data]
    assert all(not Image.open(io.BytesIO(data)).getexif() for data in streams)


def test_photographs_on_the_web_page_hold_none_either(content: SheetContent) -> None:
    page = web_page(content)
    pictures = [b64decode(data) for data in re.findall(r"data:image/jpeg;base64,([^\"]+)", page)]

    assert pictures
    assert not [secret for secret in SECRETS if secret in page]
    assert not [s for s in SECRETS for data in pictures if s.encode() in data]

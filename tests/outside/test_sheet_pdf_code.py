"""The code on a sheet read by a second reader (ZXing), from the printed page."""

from __future__ import annotations

import datetime as dt
import io

import numpy as np
import zxingcpp
from PIL import Image

from planebench.catalog.reference import resources_folder
from planebench.sheet.fingerprint import fingerprint
from planebench.sheet.pdf import SheetPress
from tests.sheet.examples import bare, full

AT = dt.datetime(2026, 5, 12, 10, 0, tzinfo=dt.UTC)


def _codes(pages: tuple[bytes, ...]) -> list[str]:
    pictures = (np.asarray(Image.open(io.BytesIO(page)).convert("L")) for page in pages)
    return [code.text for picture in pictures for code in zxingcpp.read_barcodes(picture)]


def test_the_code_carries_sheet_stock_number_day_and_fingerprint() -> None:
    content = full()
    press = SheetPress(resources_folder())
    # The photographs hold the scale card's code of the same tool; only the second page is read.
    pages = press.print([content], at=AT, dots_per_inch=150).pages[1:]

    digits = fingerprint(content).upper()
    assert _codes(pages) == [f"PBSHEET:0417:LOT7-003:2026-05-12:{digits}"]


def test_a_draft_carries_no_code() -> None:
    pages = SheetPress(resources_folder()).print([bare()], at=AT, dots_per_inch=150).pages

    assert _codes(pages) == []

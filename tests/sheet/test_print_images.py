"""Photographs are made small enough for print, upright, and never enlarged."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from planebench.errors import SheetError
from planebench.sheet.content import Crop
from planebench.sheet.print_images import PrintImageCache, aspect
from tests.sheet.examples import FINISHED, photograph

WHOLE = photograph(FINISHED, "Finished.", Crop())


def _size(jpeg: bytes) -> tuple[int, int]:
    return Image.open(io.BytesIO(jpeg)).size


def test_a_print_holds_at_most_300_dots_an_inch() -> None:
    # 144 points are 2 inches.
    width, _ = _size(PrintImageCache().jpeg(WHOLE, 144.0))

    assert 598 <= width <= 602


def test_a_photograph_smaller_than_its_print_is_not_enlarged() -> None:
    assert _size(PrintImageCache().jpeg(WHOLE, 540.0)) == _size(FINISHED.read_bytes())


def test_only_the_crop_is_printed() -> None:
    crop = Crop(left=0.25, right=0.75, bottom=0.5)
    cropped = replace(WHOLE, crop=crop)
    width, height = _size(PrintImageCache().jpeg(cropped, 540.0))
    whole = _size(FINISHED.read_bytes())

    assert (width, height) == (round(whole[0] / 2), round(whole[1] / 2))
    assert aspect(cropped) == pytest.approx(aspect(WHOLE))


def test_the_same_print_is_prepared_once(tmp_path: Path) -> None:
    file = tmp_path / "photograph.jpg"
    file.write_bytes(FINISHED.read_bytes())
    moved = replace(WHOLE, file=file)
    desk = PrintImageCache()
    first = desk.jpeg(moved, 144.0)
    file.unlink()

    assert desk.jpeg(moved, 144.0) == first


def test_an_unreadable_photograph_is_named_with_what_to_do(tmp_path: Path) -> None:
    file = tmp_path / "letter.jpg"
    file.write_text("Dear buyer")

    with pytest.raises(SheetError) as refused:
        PrintImageCache().jpeg(replace(WHOLE, file=file), 144.0)

    assert refused.value.subject == str(file)
    assert refused.value.remedy

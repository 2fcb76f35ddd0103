"""Printed cards carry what they should, at the size they should, and say how to check it."""

from __future__ import annotations

import io
from datetime import UTC, datetime

import pikepdf
import pytest
from pypdf import PdfReader

from planebench.catalog.reference import resources_folder
from planebench.errors import InputError, SheetError
from planebench.sheet.card_drawing import qr_modules
from planebench.sheet.card_press import CardRun, correction_for, print_cards
from planebench.sheet.content import Paper

AT = datetime(2026, 3, 14, 12, tzinfo=UTC)


def printed(run: CardRun) -> bytes:
    return print_cards(run, resources=resources_folder(), at=AT).pdf


def words(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


def test_six_cards_a_page_each_with_its_number_in_plain_figures() -> None:
    numbers = tuple(f"LOT7-{n:03d}" for n in range(1, 9))
    pages = words(printed(CardRun(stocks=numbers)))

    assert [[number in page for number in numbers].count(True) for page in pages] == [6, 2]
    assert all("100 mm" in page and "full size" in page for page in pages)


def test_tags_follow_when_asked_for() -> None:
    pages = words(printed(CardRun(stocks=("LOT7-001", "LOT7-002"), tags=3)))

    assert len(pages) == 2
    assert pages[1].count("LOT7-001") == 3
    assert pages[1].count("parts of this tool only") == 6


def test_the_file_is_archival_tagged_and_says_what_each_picture_shows() -> None:
    pdf = printed(CardRun(stocks=("LOT7-001",)))
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        about = opened.open_metadata()
        marked = opened.Root.MarkInfo.Marked
        language = str(opened.Root.Lang)

        assert (about["pdfaid:part"], about["pdfaid:conformance"]) == ("2", "A")
        assert about["pdfuaid:part"] == "1"
        assert about["dc:title"] == "Scale card LOT7-001"
    assert marked
    assert language.startswith("en")


def test_one_printing_is_like_the_next() -> None:
    run = CardRun(stocks=("LOT7-001",), paper=Paper.A4, tags=2)

    assert printed(run) == printed(run)


def test_the_correction_is_said_on_the_page() -> None:
    (page,) = words(printed(CardRun(stocks=("LOT7-001",), correction=correction_for(98.8))))

    assert "lengths × 1.0121 for this printer" in page


@pytest.mark.parametrize(
    ("measured", "before", "correction"),
    [(100.0, 1.0, 1.0), (98.0, 1.0, 100 / 98), (101.0, 1.0, 100 / 101), (99.5, 1.02, 102 / 99.5)],
)
def test_the_correction_makes_the_line_come_out_right(
    measured: float, before: float, correction: float
) -> None:
    assert correction == pytest.approx(correction_for(measured, printed_with=before))


@pytest.mark.parametrize("measured", [0.0, -3.0, 94.0, 107.0, float("nan")])
def test_a_line_that_cannot_be_meant_is_refused(measured: float) -> None:
    with pytest.raises(InputError, match="100 mm line") as told:
        correction_for(measured)

    assert "full size" in told.value.remedy


def test_a_number_too_long_to_read_in_a_photograph_is_refused() -> None:
    with pytest.raises(InputError, match="too long"):
        qr_modules("LOT7-" + "9" * 60)


def test_forty_letters_and_figures_still_fit() -> None:
    assert len(qr_modules("WENDHOLM-HOUSE-CLEARANCE-ORRIN-VALE-0417")) <= 33


def test_no_tool_chosen_is_told() -> None:
    with pytest.raises(SheetError, match="No tool"):
        printed(CardRun(stocks=()))

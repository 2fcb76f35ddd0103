"""The printed sheet: whatever the record holds, it is set, and says what it must."""

from __future__ import annotations

import datetime as dt
import io
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from planebench.errors import SheetError
from planebench.sheet.content import (
    Crop,
    ListLine,
    Paper,
    SheetChoices,
    SheetContent,
    SheetPhotographs,
    SheetSection,
)
from planebench.sheet.pdf import SheetPress
from tests.sheet.examples import FINISHED, bare, full, overlong, photograph

AT = dt.datetime(2026, 5, 12, 10, 0, tzinfo=dt.UTC)


def _text(pdf: bytes) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


def _printed(press: SheetPress, *contents: SheetContent) -> str:
    return " ".join(_text(press.print(contents, at=AT).pdf).split())


def test_a_full_record_takes_two_pages_on_either_paper(press: SheetPress) -> None:
    for paper in Paper:
        content = replace(full(), choices=SheetChoices(paper=paper))
        reader = PdfReader(io.BytesIO(press.print([content], at=AT).pdf))

        assert len(reader.pages) == 2


def test_a_bare_record_makes_one_page_that_says_what_is_not_known(press: SheetPress) -> None:
    text = _printed(press, bare())

    assert "draft of May 12, 2026, not issued, no number" in text
    assert "draft, no fingerprint" in text
    assert "Draft. Not issued, and not to be sold on" in text
    assert "page 1 of 1" in text
    assert "No photographs." in text
    assert "Inspection not complete; expect further defects." in text
    assert "None recorded. The inspection is not complete; expect defects." in text


def test_words_too_long_and_scripts_of_all_sorts_are_set_without_breaking_off(
    press: SheetPress,
) -> None:
    text = _printed(press, overlong())

    assert "[carpentry saw]" in text
    assert "[2 Chinese or Japanese letters]" in text
    assert "[woman, wrench]" in text
    assert "Body, place 30" in text


def test_no_ink_runs_past_the_margin_of_an_overlong_sheet(press: SheetPress) -> None:
    pages = press.print([overlong()], at=AT, dots_per_inch=72).pages

    assert len(pages) > 2
    for page in pages:
        gray = Image.open(io.BytesIO(page)).convert("L")
        right_margin = gray.crop((580, 0, gray.width, gray.height))
        assert right_margin.getextrema() == (255, 255)


def test_every_one_of_many_defects_is_printed(press: SheetPress) -> None:
    first = full().defects[0]
    many = tuple(replace(first, number=n, where=f"place {n}") for n in range(1, 81))
    text = _printed(press, replace(full(), defects=many))

    assert [n for n in range(1, 81) if f"place {n} " not in text] == []


def test_lists_too_long_for_the_first_page_go_on_and_lose_nothing(press: SheetPress) -> None:
    lines = tuple(ListLine(lead=f"Problem {n}.") for n in range(1, 20))
    text = _printed(press, replace(full(), problems=lines, not_checked=lines))

    assert "and 12 more, below." in text
    assert "and 14 more, below." in text
    assert [n for n in range(1, 20) if text.count(f"Problem {n}.") != 2] == []


def test_problems_and_what_was_not_checked_cannot_be_switched_off(press: SheetPress) -> None:
    content = replace(full(), choices=SheetChoices(sections=frozenset()))
    text = _printed(press, content)

    assert "New japanning over losses on 21% of the bed and cheeks." in text
    assert "Adjusting wheel: not checked." in text
    for title in ("Pitting", "Finish:", "When it was made", "Parts", "Work done", "$165.00"):
        assert title not in text


@pytest.mark.parametrize(
    ("section", "words"),
    [
        (SheetSection.DEFECTS, "Pitting, slight"),
        (SheetSection.FINISH, "Finish: how much is first"),
        (SheetSection.DATING, "When it was made"),
        (SheetSection.PARTS, "Measurements"),
        (SheetSection.WORK, "asphaltum"),
        (SheetSection.PRICE, "$165.00"),
        (SheetSection.PROMISE, "12 Tannery Row"),
        (SheetSection.BEFORE_AFTER, "the same view"),
        (SheetSection.OTHER_PHOTOGRAPHS, "Left side, as found"),
    ],
)
def test_each_section_can_be_left_off_alone(
    press: SheetPress, section: SheetSection, words: str
) -> None:
    without = SheetChoices(sections=frozenset(SheetSection) - {section})

    assert words in _printed(press, full())
    assert words not in _printed(press, replace(full(), choices=without))


def test_standard_ratings_are_off_until_asked_for(press: SheetPress) -> None:
    rated = replace(full(), choices=SheetChoices(standard_ratings=True))

    assert "ISO 4628-5" not in _printed(press, full())
    assert "ISO 4628-5: class 2" in _printed(press, rated)


def test_a_batch_is_one_file_in_which_each_sheet_counts_its_own_pages(press: SheetPress) -> None:
    text = _printed(press, full(), bare(), full())

    assert text.count("page 1 of 2") == 2
    assert text.count("page 2 of 2") == 2
    assert text.count("page 1 of 1") == 1


def test_the_preview_shows_the_same_pages_as_the_file(press: SheetPress) -> None:
    printed = press.print([full()], at=AT, dots_per_inch=72)
    sizes = [Image.open(io.BytesIO(page)).size for page in printed.pages]

    assert len(printed.pages) == len(PdfReader(io.BytesIO(printed.pdf)).pages)
    assert sizes == [(612, 792), (612, 792)]


def test_the_same_content_at_the_same_time_gives_the_same_bytes(press: SheetPress) -> None:
    assert press.print([full()], at=AT).pdf == press.print([full()], at=AT).pdf


def test_further_photographs_stand_at_the_end(press: SheetPress) -> None:
    more = tuple(photograph(FINISHED, f"Detail {n}.", Crop()) for n in range(1, 8))
    photographs = replace(full().photographs, more=more)
    text = _printed(press, replace(full(), photographs=photographs))

    assert "More photographs" in text
    assert "Detail 7." in text


def test_no_tool_is_no_sheet(press: SheetPress) -> None:
    with pytest.raises(SheetError) as refused:
        press.print([], at=AT)

    assert refused.value.remedy == "Select at least one tool."


def test_a_photograph_gone_from_the_vault_is_named(press: SheetPress, tmp_path: Path) -> None:
    lost = replace(photograph(FINISHED, "Finished.", Crop()), file=tmp_path / "gone.jpg")

    with pytest.raises(SheetError) as refused:
        press.print([replace(full(), photographs=SheetPhotographs(main=lost))], at=AT)

    assert refused.value.subject.endswith("gone.jpg")

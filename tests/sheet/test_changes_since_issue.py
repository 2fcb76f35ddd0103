"""What the record says otherwise since a sheet was issued."""

from __future__ import annotations

import json
from dataclasses import replace

from planebench.catalog.values import Json
from planebench.sheet.changes_since_issue import changed_since, choices_of_issued
from planebench.sheet.content import Paper, SheetChoices, SheetContent, SheetDefect, SheetSection
from planebench.sheet.fingerprint import to_json
from planebench.trade.units import LengthUnit
from tests.sheet.examples import full


def kept(content: SheetContent) -> Json:
    """Return the content as a catalog keeps it: through JSON."""
    said = json.loads(json.dumps(to_json(content)))
    assert isinstance(said, dict)
    return said


def test_a_record_as_it_was_has_changed_in_nothing() -> None:
    assert changed_since(kept(full()), full()) == ()


def test_another_number_and_day_are_no_change_of_the_record() -> None:
    issued = full()
    heading = replace(issued.heading, number="0999", issued="", seller="Tarrow")

    assert changed_since(kept(issued), replace(issued, heading=heading, replaces="")) == ()


def test_each_change_is_named_once_in_the_order_of_a_sheet() -> None:
    issued = full()
    chip = SheetDefect(number=9, what="Chip", where="Sole", size="not measured", basis="")
    now = replace(issued, title="Another", summary="", price="$1.00", defects=(chip,), promise="")

    assert changed_since(kept(issued), now) == ("what it is", "price", "defects", "promise")


def test_choices_come_back_from_what_was_kept() -> None:
    choices = SheetChoices(
        paper=Paper.A4,
        first_unit=LengthUnit.MILLIMETER,
        sections=frozenset({SheetSection.DEFECTS, SheetSection.PRICE}),
        standard_ratings=True,
    )

    assert choices_of_issued(kept(replace(full(), choices=choices))) == choices


def test_choices_that_an_older_sheet_does_not_hold_are_the_usual_ones() -> None:
    assert choices_of_issued({}) == SheetChoices()

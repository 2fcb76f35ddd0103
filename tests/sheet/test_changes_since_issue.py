"""What the record says otherwise since a sheet was issued."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from planebench.catalog.values import Json
from planebench.sheet.changes_since_issue import changed_since, choices_of_issued
from planebench.sheet.content import (
    Paper,
    SheetChoices,
    SheetContent,
    SheetDefect,
    SheetParts,
    SheetPhotograph,
    SheetPhotographs,
    SheetSection,
)
from planebench.sheet.fingerprint import content_json
from planebench.sheet.former_content import former_facts
from planebench.trade.units import LengthUnit
from tests.sheet.examples import all_evidence, full


def kept(content: SheetContent) -> Json:
    """Return the content as a catalog keeps it: through JSON."""
    kept_as: Json = json.loads(json.dumps(content_json(content)))
    return kept_as


def test_a_record_as_it_was_has_changed_in_nothing() -> None:
    assert changed_since(kept(full()), full()) == ()


def test_another_number_and_day_are_no_change_of_the_record() -> None:
    issued = full()
    heading = replace(issued.heading, number="0999", issued="", seller="Tarrow")

    assert changed_since(kept(issued), replace(issued, heading=heading, replaces="")) == ()


def test_each_change_is_named_once_in_the_order_of_a_sheet() -> None:
    issued = full()
    chip = SheetDefect(number=9, what="Chip", where="Sole", size=("not measured",), basis="")
    now = replace(issued, title="Another", summary="", price="$1.00", defects=(chip,), promise="")

    assert changed_since(kept(issued), now) == ("what it is", "price", "defects", "guarantee")


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


def former() -> Json:
    """Return content as the first form kept it, with evidence under its former key."""
    return {
        "title": "Smoothing plane, Halbeck & Son pattern K",
        "summary": "Made between about 1913 and 1918.",
        "price": "$165.00",
        "photographs": {
            "main": {"sha256": sha(full().photographs.main)},
            "found": {"sha256": sha(full().photographs.found)},
            "other": {"sha256": sha(full().photographs.other)},
            "more": [],
        },
        "finish": [
            {"part": "Bed and cheeks", "words": "97%", "value": 97.0, "found": 81},
            {"part": "Handle and knob", "words": "about 70%", "value": 70.0},
            {"part": "Frog", "words": "not measured", "value": None},
        ],
        "defects": [{"number": d.number, "what": d.what} for d in full().defects],
        "dating": {"signs": [{"number": e.number, "what": e.what} for e in all_evidence()]},
        "parts": {
            "groups": [
                {"label": "Seen", "names": "body, frog"},
                {"label": "Not original to it", "names": "cutter (by another maker)"},
            ]
        },
        "measurements": [
            {"of": "Sole, length", "millimeters": "237.3 ± 0.5", "words": ""},
            {"of": "Sole, width", "millimeters": "61.8 ± 0.3", "words": ""},
            {"of": "Mouth opening", "millimeters": "", "words": ""},
            {"of": "Bevel angle", "millimeters": "", "words": "25° ± 1°"},
        ],
        "work": [{"told": True}, {"told": True}, {"told": False}],
        "promise": full().promise,
        "address": {"name": "Wendholm Workshop"},
    }


def sha(photograph: SheetPhotograph | None) -> str:
    assert photograph is not None
    return photograph.sha256


def test_a_sheet_of_the_first_form_still_compares_and_nothing_has_changed() -> None:
    assert changed_since(former(), full()) == ()


@pytest.mark.parametrize(
    ("now", "changed"),
    [
        (replace(full(), title="Another"), "what it is"),
        (replace(full(), price=""), "price"),
        (replace(full(), finish=full().finish[:1]), "finish"),
        (replace(full(), defects=full().defects[:2]), "defects"),
        (replace(full(), dating=replace(full().dating, evidence=())), "when it was made"),
        (replace(full(), parts=SheetParts()), "parts"),
        (replace(full(), measurements=full().measurements[1:]), "measurements"),
        (replace(full(), work=()), "work done"),
        (replace(full(), promise="None."), "guarantee"),
        (replace(full(), address=replace(full().address, name="Another")), "seller"),
        (replace(full(), photographs=SheetPhotographs()), "photographs"),
    ],
)
def test_each_change_since_a_sheet_of_the_first_form_is_named(
    now: SheetContent, changed: str
) -> None:
    assert changed_since(former(), now) == (changed,)


def test_the_former_key_of_evidence_is_read_as_the_present_one() -> None:
    with_signs, with_evidence = former(), former()
    dating = with_evidence["dating"]
    assert isinstance(dating, dict)
    dating["evidence"] = dating.pop("signs")

    assert former_facts(with_signs) == former_facts(with_evidence)

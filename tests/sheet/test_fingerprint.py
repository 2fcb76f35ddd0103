"""The fingerprint stands for what a sheet says, and for nothing else."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from pathlib import Path

import pytest

from planebench.catalog.values import Json
from planebench.sheet.content import Paper, SheetContent
from planebench.sheet.fingerprint import (
    canonical_json,
    fingerprint,
    fingerprint_groups,
    format_fingerprint,
)
from tests.sheet.examples import full


def test_an_issued_sheet_has_one_paper_and_one_fingerprint() -> None:
    content = full()
    on_a4 = replace(content, choices=replace(content.choices, paper=Paper.A4))

    assert fingerprint(content) != fingerprint(on_a4)


def test_a_photograph_moved_to_another_folder_keeps_the_fingerprint() -> None:
    assert fingerprint(_with_main_at(Path("elsewhere.jpg"))) == fingerprint(full())


def test_any_changed_word_changes_the_fingerprint() -> None:
    content = full()

    assert fingerprint(replace(content, price="$166.00")) != fingerprint(content)
    assert fingerprint(replace(content, problems=())) != fingerprint(content)


def test_the_fingerprint_can_be_worked_out_again_from_the_canonical_text() -> None:
    content = full()
    said = json.loads(canonical_json(content))

    assert said["title"] == content.title
    assert hashlib.sha256(canonical_json(content)).hexdigest() == fingerprint(content)


def test_a_fingerprint_is_shown_in_groups_of_four() -> None:
    digest = "7c1e9a44d2" + "0" * 54

    assert format_fingerprint(digest) == "7c1e 9a44 …"
    assert len(fingerprint_groups(digest)) == 16


def test_content_kept_in_the_first_form_keeps_its_fingerprint() -> None:
    """Worked out as the first form was: sorted keys, no spaces, without the paper."""
    kept: Json = {"title": "Plane", "choices": {"paper": "a4", "first_unit": "in"}}
    text = '{"choices":{"first_unit":"in"},"title":"Plane"}'

    assert fingerprint(kept) == hashlib.sha256(text.encode()).hexdigest()


@pytest.mark.parametrize(
    ("value", "canonical"),
    [
        # RFC 8785, section 3.2.2: the sample of primitive data types.
        (
            {"numbers": [333333333.33333329, 1e30, 4.50, 2e-3, 1e-27]},
            '{"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27]}',
        ),
        # RFC 8785, section 3.2.3: keys sorted by UTF-16 code units.
        ({"\u20ac": 1, "\r": 2, "1": 3, "\U0001f600": 4, "\u00f6": 5}, None),
    ],
)
def test_canonical_json_is_that_of_the_standard(value: Json, canonical: str | None) -> None:
    told = canonical_json(value).decode("utf-8")

    if canonical is not None:
        assert told == canonical
    else:
        assert list(json.loads(told)) == ["\r", "1", "\u00f6", "\u20ac", "\U0001f600"]


def _with_main_at(file: Path) -> SheetContent:
    content = full()
    assert content.photographs.main is not None
    main = replace(content.photographs.main, file=file)
    return replace(content, photographs=replace(content.photographs, main=main))

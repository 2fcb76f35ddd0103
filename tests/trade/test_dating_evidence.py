"""Entries of evidence as written become signs; what cannot be is refused by name."""

from __future__ import annotations

import pytest

from planebench.catalog.dating_tables import dating_tables
from planebench.errors import InputError
from planebench.trade.dating import Evidence
from planebench.trade.evidence_parsing import (
    KINDS,
    KnownFeature,
    read_entry,
    read_evidence,
    read_production,
)

TABLES = dating_tables()
CLUES = list(TABLES.clues.values())


def one(**given: object) -> Evidence:
    return read_entry("body", given, TABLES, "body-1")


@pytest.mark.parametrize("row", CLUES, ids=lambda row: row.id)
def test_each_row_of_the_table_of_clues_makes_a_piece_of_evidence_with_its_source(
    row: KnownFeature,
) -> None:
    evidence = one(kind="clue", id=row.id)

    assert (evidence.not_before, evidence.not_after) == (row.not_before, row.not_after)
    assert evidence.counts
    assert evidence.source
    assert evidence.status in {"found", "memory", "found and memory"}
    assert row.bounds in {"mark", "part", "whole tool"}
    assert row.market


@pytest.mark.parametrize(
    ("row", "first", "last"),
    [
        ("phenolic_resin", 1909, None),
        ("cross_recess_screw", 1936, None),
        ("origin_nippon", 1891, 1921),
        ("origin_occupied_japan", 1947, 1952),
        ("us_postal_zone", 1943, 1963),
        ("us_zip", 1963, None),
        ("origin_west_germany", 1949, 1990),
        ("us_trade_mark_1905", 1905, None),
        ("uk_limited", 1855, None),
        ("stainless_steel", 1913, None),
    ],
)
def test_clues_hold_the_years_of_their_laws_and_patents(
    row: str, first: int, last: int | None
) -> None:
    """Years of the acts and patents named in each row's source."""
    evidence = one(kind="clue", id=row)

    assert (first, last) == (evidence.not_before, evidence.not_after)


EACH_KIND: dict[str, dict[str, object]] = {
    "years": {"value": "1913/1918"},
    "patent_us": {"number": "1234567"},
    "design_us": {"number": "D101090"},
    "reissue_us": {"number": "RE 11,000"},
    "design_uk": {"number": "529123"},
    "patent_date": {"text": "PAT. JAN. 28. 13"},
    "diamond_uk": {"class": "I", "top": "D", "right": "5", "bottom": "3", "left": "C"},
    "clue": {"id": "phenolic_resin"},
}


def test_every_kind_of_entry_is_tried() -> None:
    assert set(KINDS) == EACH_KIND.keys()


@pytest.mark.parametrize("kind", KINDS)
def test_an_entry_may_carry_what_how_sure_and_how_loose(kind: str) -> None:
    given = EACH_KIND[kind] | {"sure": 0.4, "looseness": 7, "what": "seen under the japanning"}

    evidence = one(kind=kind, **given)

    assert (evidence.sure, evidence.looseness, evidence.what) == (
        0.4,
        7.0,
        "seen under the japanning",
    )
    assert evidence.counts
    assert evidence.read_as


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in {"years", "clue"}])
def test_a_mark_is_a_terminus_post_quem_and_no_terminus_ante_quem(kind: str) -> None:
    evidence = one(kind=kind, **EACH_KIND[kind])

    assert evidence.never_before
    assert evidence.not_after is None
    assert evidence.usual_until is not None


def test_a_patent_number_and_its_date_on_one_part_are_one_witness() -> None:
    number = one(kind="patent_us", number="1,051,189", id="a")
    stamped = one(kind="patent_date", text="Pat. Jan 21 13", id="b")

    assert number.witness == stamped.witness


def test_a_design_number_among_patents_is_read_as_a_design() -> None:
    assert "US design patent" in one(kind="patent_us", number="Des. 101,090").read_as
    assert "US reissued patent" in one(kind="patent_us", number="RE 11,000").read_as


def test_sureness_is_told_in_words_too() -> None:
    assert one(kind="years", value="1915", sure="half trusted").sure == 0.5
    assert one(kind="years", value="1915", sure="nearly_sure").sure == 0.95


def test_years_with_a_question_mark_are_half_trusted() -> None:
    assert one(kind="years", value="1915?").sure == 0.5


def test_a_patent_date_on_no_tuesday_is_half_trusted_and_says_why() -> None:
    evidence = one(kind="patent_date", text="Pat. Apr 20 92")

    assert evidence.sure == 0.5
    assert any("Wednesday" in told for told in evidence.alternatives)


def test_evidence_without_years_is_kept_but_does_not_count() -> None:
    assert not one(kind="patent_date", text="PAT. PEND.").counts
    assert not one(kind="years", value="not known").counts


def test_the_same_clue_on_two_parts_is_two_pieces() -> None:
    clue = {"kind": "clue", "id": "phenolic_resin"}

    all_evidence = read_evidence({"knob": [clue], "handle": [clue]}, TABLES)

    assert [all_evidence["knob"][0].id, all_evidence["handle"][0].id] == ["knob-1", "handle-1"]


def test_entries_without_an_id_are_called_after_their_part_and_place() -> None:
    entries = [{"kind": "years", "value": "1915"}, {"kind": "years", "value": "1916", "id": "x"}]

    all_evidence = read_evidence({"body": entries}, TABLES)

    assert [evidence.id for evidence in all_evidence["body"]] == ["body-1", "x"]


@pytest.mark.parametrize(
    ("given", "message"),
    [
        ({"kind": "maker"}, "body-1: “maker” is not a kind of evidence"),
        ({}, "body-1: “” is not a kind of evidence"),
        ({"kind": "years"}, "needs “value”"),
        ({"kind": "years", "value": True}, "needs “value”"),
        ({"kind": "years", "value": "19200"}, "body-1: 19200 is not a year"),
        ({"kind": "years", "value": "1915", "sure": 1.2}, "sure is 1.2"),
        ({"kind": "years", "value": "1915", "sure": "very"}, "sure is 'very'"),
        ({"kind": "years", "value": "1915", "sure": True}, "sure is True"),
        ({"kind": "years", "value": "1915", "looseness": -1}, "looseness is -1"),
        ({"kind": "years", "value": "1915", "looseness": "3"}, "looseness is '3'"),
        ({"kind": "patent_us", "number": "99999999"}, "body-1: there is no US patent"),
        ({"kind": "patent_date", "text": "Feb 30 92"}, "body-1: there is no day 30"),
        (
            {"kind": "diamond_uk", "top": "12", "right": "B", "bottom": "C"},
            "body-1: B was not a year",
        ),
        ({"kind": "clue", "id": "phenolic"}, "The nearest row is phenolic_resin"),
        ({"kind": "years", "value": "1915", "id": "mark 4", "sure": 9}, "mark 4: sure"),
    ],
)
def test_what_cannot_be_is_refused_naming_the_entry(given: dict[str, object], message: str) -> None:
    with pytest.raises(InputError, match=message):
        one(**given)


def test_production_years_are_read_without_widening_about() -> None:
    assert read_production("1905/1941", TABLES) == (1905, 1941)
    assert read_production("1905/..", TABLES) == (1905, None)
    assert read_production("c. 1905-1941", TABLES) == (1905, 1941)

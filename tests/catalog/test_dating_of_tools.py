"""A tool's date as the catalog works it out: by the same rules as the command line."""

import json
from argparse import Namespace
from decimal import Decimal
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.dating_tables import dating_tables
from planebench.catalog.entries import EvidenceFields
from planebench.catalog.evidence_entry import parse_evidence
from planebench.catalog.ids import EvidenceId, ToolId
from planebench.catalog.tool_dating import date_of
from planebench.catalog.values import Tool
from planebench.cli.date import COMMAND
from planebench.trade.date_estimate import format_short_estimate
from planebench.trade.dating import DatingResult
from planebench.trade.dating_span import PRODUCTION
from planebench.trade.evidence_input import EvidenceInput
from planebench.trade.record_dating import (
    LEFT_OPEN,
    RecordDater,
    conflicts,
    disagrees,
    evidence_against,
    odd_parts_unanswered,
    open_conflicts,
)
from planebench.trade.terms import PartStatus

EACH_KIND: dict[str, dict[str, str]] = {
    "years": {"value": "c. 1915"},
    "patent_us": {"number": "No. 1,051,2l3"},
    "design_us": {"number": "DES. 44,O12"},
    "reissue_us": {"number": "Re. 12,345"},
    "patent_date": {"text": "PAT. JAN. 28. 13"},
    "design_uk": {"number": "Rd. 529123"},
    "diamond_uk": {"class": "I", "top": "H", "right": "12", "bottom": "5", "left": "G"},
    "clue": {"row": "us_origin_1891"},
}


def _enter(catalog: Catalog, tool: Tool, code: str, seen: EvidenceInput) -> str:
    part = next((part.id for part in tool.parts if part.code == code), None)
    understood = parse_evidence(seen, catalog.own_tables.evidence_tables())
    return catalog.evidence.add(
        tool.id, **EvidenceFields(**{**understood.fields, "part_id": part})
    ).id


def _by_command_line(folder: Path, evidence: dict[str, object]) -> dict[str, object]:
    file = folder / "evidence.json"
    file.write_text(json.dumps(evidence), "utf-8")
    data = COMMAND.run(Namespace(evidence=str(file), tables=None)).data
    assert isinstance(data, dict)
    return data


def _dated(catalog: Catalog, tool: ToolId) -> DatingResult:
    dating = date_of(catalog.tools.one(tool))
    assert dating is not None
    return dating


@pytest.mark.parametrize("kind", EACH_KIND)
def test_a_stored_evidence_of_each_kind_is_dated_as_the_command_line_dates_it(
    kind: str, catalog_with_batch: Catalog, tool: Tool, tmp_path: Path
) -> None:
    bounds = {"kind": "years", "value": "1830/1950", "what": "lists"}
    entry = {"kind": kind, "what": "the sign", **EACH_KIND[kind]}
    if kind == "clue":
        entry |= {"id": "own"}
    _enter(
        catalog_with_batch,
        tool,
        "body",
        EvidenceInput(kind=kind, mark=EACH_KIND[kind], seen="the sign"),
    )
    _enter(
        catalog_with_batch,
        tool,
        "body",
        EvidenceInput(kind="years", mark={"value": "1830/1950"}, seen="lists"),
    )

    said = _by_command_line(tmp_path, {"parts": {"body": [entry, bounds]}})
    found = _dated(catalog_with_batch, tool.id).whole
    told = said["tool"]

    assert isinstance(told, dict)
    assert told["range90"] == list(found.range90 or ())
    assert (told["earliest"], told["latest"]) == (found.earliest, found.latest)
    assert list(told["weights"].values()) == [round(w, 4) for w in found.weights.values()]


def test_what_a_person_says_of_a_mark_stands_in_place_of_what_is_usual(
    catalog_with_batch: Catalog, tool: Tool
) -> None:
    mark = EvidenceInput(
        kind="patent_date", mark={"text": "PAT. JAN. 28. 13"}, sure=Decimal("0.5"), looseness=1
    )
    _enter(catalog_with_batch, tool, "body", mark)

    evidence = _dated(catalog_with_batch, tool.id).evidence[0]

    assert (evidence.sure, evidence.looseness) == (0.5, 1)
    assert (evidence.not_before, evidence.usual_until, evidence.never_before) == (1913, 1933, True)


def test_years_written_down_without_their_mark_hold_as_they_are(
    catalog_with_batch: Catalog, tool: Tool
) -> None:
    catalog_with_batch.evidence.add(tool.id, seen="ring", not_before=1909, not_after=1918)

    evidence = _dated(catalog_with_batch, tool.id).evidence[0]

    assert (evidence.not_before, evidence.not_after) == (1909, 1918)


def test_years_the_wrong_way_around_stay_written_down_and_do_not_count(
    catalog_with_batch: Catalog, tool: Tool
) -> None:
    catalog_with_batch.evidence.add(tool.id, seen="ring", not_before=1918, not_after=1909)

    assert date_of(catalog_with_batch.tools.one(tool.id)) is None


def test_production_years_bound_the_date_and_are_no_evidence(
    catalog_with_batch: Catalog, tool: Tool, tmp_path: Path
) -> None:
    _enter(
        catalog_with_batch, tool, "body", EvidenceInput(kind="years", mark={"value": "1900/1930"})
    )
    _enter(
        catalog_with_batch, tool, "", EvidenceInput(kind=PRODUCTION, mark={"value": "1913/1918"})
    )

    entry = {"kind": "years", "value": "1900/1930"}
    said = _by_command_line(tmp_path, {"parts": {"body": [entry]}, "production": "1913/1918"})
    record = catalog_with_batch.tools.one(tool.id)
    told = said["tool"]

    assert RecordDater(dating_tables()).production(record) == (1913, 1918)
    assert isinstance(told, dict)
    assert told["range90"] == list(_dated(catalog_with_batch, tool.id).whole.range90 or ())
    assert len(_dated(catalog_with_batch, tool.id).evidence) == 1


def test_production_years_that_a_piece_of_evidence_contradicts_are_named_by_their_entry(
    catalog_with_batch: Catalog, tool: Tool
) -> None:
    evidence = _enter(
        catalog_with_batch, tool, "body", EvidenceInput(kind="years", mark={"value": "1890"})
    )
    made = _enter(
        catalog_with_batch, tool, "", EvidenceInput(kind=PRODUCTION, mark={"value": "1913/1918"})
    )
    record = catalog_with_batch.tools.one(tool.id)

    assert conflicts(record, _dated(catalog_with_batch, tool.id)) == ((evidence, made),)
    assert open_conflicts(record, _dated(catalog_with_batch, tool.id)) == ((evidence, made),)


def test_evidence_on_a_part_said_not_to_be_original_no_longer_weighs_on_the_tool(
    catalog_with_batch: Catalog, tool: Tool
) -> None:
    _enter(
        catalog_with_batch, tool, "body", EvidenceInput(kind="years", mark={"value": "1900/1930"})
    )
    _enter(
        catalog_with_batch, tool, "cutter", EvidenceInput(kind="years", mark={"value": "1925/1930"})
    )
    before = _dated(catalog_with_batch, tool.id)
    cutter = next(part for part in tool.parts if part.code == "cutter")

    catalog_with_batch.parts.change(cutter.id, status=PartStatus.NOT_ORIGINAL)

    after = _dated(catalog_with_batch, tool.id)
    assert before.whole.range90 != after.whole.range90
    assert after.whole.range90 == after.parts["body"].range90
    assert after.parts["cutter"].range90 == before.parts["cutter"].range90


def test_a_piece_of_evidence_can_be_thought_away(sample: Catalog) -> None:
    tool_id = sample.tools.by_stock_number("LOT7-003")
    assert tool_id is not None
    tool = sample.tools.one(tool_id)
    stamped = next(evidence for evidence in tool.evidence if evidence.kind == "patent_date")

    without = date_of(tool, without=stamped.id)

    assert without is not None
    assert without.whole.range90 == (1910, 1918)


def test_what_was_left_open_no_longer_asks_for_an_answer(sample: Catalog) -> None:
    tool_id = sample.tools.by_stock_number("LOT7-003")
    assert tool_id is not None
    tool = sample.tools.one(tool_id)
    late = next(evidence for evidence in tool.evidence if evidence.not_before == 1936)
    dating = date_of(tool)
    assert dating is not None
    assert [part.code for part in odd_parts_unanswered(tool, dating)] == ["cutter"]

    sample.evidence.change(late.id, mark={**late.mark, LEFT_OPEN: True})

    tool = sample.tools.one(tool_id)
    assert odd_parts_unanswered(tool, dating) == ()
    assert not disagrees(tool, dating)
    assert dating.assembled


def test_the_evidence_outside_the_range_is_the_one_that_stands_against_the_rest(
    catalog_with_batch: Catalog, tool: Tool
) -> None:
    catalog = catalog_with_batch
    for years in ("1909/1918", "1911/1920"):
        _enter(
            catalog, tool, "body", EvidenceInput(kind="years", mark={"value": years}, seen=years)
        )
    early = _enter(catalog, tool, "body", EvidenceInput(kind="years", mark={"value": "1880/1890"}))
    record = catalog.tools.one(tool.id)

    assert evidence_against(record, _dated(catalog, tool.id)) == {early}
    assert disagrees(record, _dated(catalog, tool.id))


def test_a_contradiction_is_answered_by_doubting_one_of_its_evidence(
    catalog_with_batch: Catalog, tool: Tool
) -> None:
    catalog = catalog_with_batch
    _enter(
        catalog, tool, "body", EvidenceInput(kind="years", mark={"value": "1909/1918"}, seen="a")
    )
    early = _enter(catalog, tool, "body", EvidenceInput(kind="years", mark={"value": "1880/1890"}))

    catalog.evidence.change_each({EvidenceId(early): EvidenceFields(sure=Decimal("0.2"))})

    record = catalog.tools.one(tool.id)
    assert not disagrees(record, _dated(catalog, tool.id))
    assert conflicts(record, _dated(catalog, tool.id))


def test_two_parts_that_a_person_added_are_dated_each_on_its_own(
    catalog_with_batch: Catalog, tool: Tool
) -> None:
    catalog = catalog_with_batch
    added = [catalog.parts.add(tool.id, name=name).id for name in ("Fence", "Wedge")]
    for part, years in zip(added, ("1900/1905", "1930/1935"), strict=True):
        understood = parse_evidence(
            EvidenceInput(kind="years", mark={"value": years}), catalog.own_tables.evidence_tables()
        )
        catalog.evidence.add(tool.id, **EvidenceFields(**{**understood.fields, "part_id": part}))

    dating = _dated(catalog, tool.id)

    assert set(dating.parts) == set(added)


@pytest.mark.parametrize(
    ("typed", "sure", "told"),
    [
        (["1902 or later"], "0.8", ("1902 or later", "87% sure")),
        (["1902 or later"], "0.95", ("1902 or later", "one side open")),
        (["1894/1902", "1925/1930"], "0.95", ("1893 to 1903 or 1924 to 1931", "90% range")),
        (["1909/1918"], "0.25", ("not dated", "")),
    ],
)
def test_a_row_tells_the_likeliest_years_with_their_doubt(
    catalog_with_batch: Catalog, tool: Tool, typed: list[str], sure: str, told: tuple[str, str]
) -> None:
    for years in typed:
        seen = EvidenceInput(kind="years", mark={"value": years}, seen=years, sure=Decimal(sure))
        _enter(catalog_with_batch, tool, "body", seen)

    short = format_short_estimate(_dated(catalog_with_batch, tool.id).whole)

    assert short == told

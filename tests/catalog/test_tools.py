import sqlite3
from dataclasses import replace

import pytest

from planebench.catalog import entries, readings
from planebench.catalog.reference import built_in_kinds
from planebench.catalog.tools import NewTool, ToolFilter
from planebench.errors import InputError
from planebench.trade.terms import Completeness, PartStatus, ToolStatus


def test_a_new_tool_has_the_parts_and_surfaces_of_its_kind(tool):
    kind = built_in_kinds()["smoothing"]

    assert [part.code for part in tool.parts] == [part.code for part in kind.parts]
    assert [surface.name for surface in tool.surfaces] == [s.name for s in kind.surfaces]
    assert {part.status for part in tool.parts} == {PartStatus.NOT_SEEN}


def test_twelve_lines_become_twelve_tools_with_numbers_in_order_as_one_edit(empty_catalog, batch):
    tools, changes = empty_catalog.tools.add_lines(batch, [NewTool(kind="block")] * 12)

    numbers = [empty_catalog.tools.one(tool).stock_number for tool in tools]
    assert numbers == [f"LOT7-{n:03}" for n in range(1, 13)]
    assert changes.words == "12 tools added"


def test_stock_numbers_follow_the_pattern_that_the_user_sets(empty_catalog, batch):
    chosen = replace(empty_catalog.settings.read(), stock_pattern="P{n}")
    empty_catalog.settings.write(chosen)

    tool = empty_catalog.tools.add(batch, NewTool(kind="jack")).id

    assert empty_catalog.tools.one(tool).stock_number == "P1"


def test_a_stock_number_of_another_tool_is_refused(empty_catalog, tool, batch):
    with pytest.raises(InputError, match="lot7-001 is the stock number of another tool"):
        empty_catalog.tools.add(batch, NewTool(kind="jack", stock_number="lot7-001"))


def test_an_unknown_kind_is_refused_by_name(empty_catalog, batch):
    with pytest.raises(InputError, match="“tank” is not a kind of plane"):
        empty_catalog.tools.add(batch, NewTool(kind="tank"))


def test_words_are_found_in_every_text_whatever_their_case_or_accents(empty_catalog, tool):
    empty_catalog.tools.change(tool.id, note="from Müller’s attic")
    empty_catalog.defects.add(tool.id, kind="braze", place="left cheek below the hump")

    assert empty_catalog.tools.find(ToolFilter(words="muller")) == (tool.id,)
    assert empty_catalog.tools.find(ToolFilter(words="HALBECK hump")) == (tool.id,)
    assert empty_catalog.tools.find(ToolFilter(words="100%")) == ()
    assert empty_catalog.tools.find(ToolFilter(words="anvil")) == ()


def test_tools_are_filtered_by_state_kind_batch_and_what_is_missing(empty_catalog, tool, batch):
    block = empty_catalog.tools.add(batch, NewTool(kind="block")).id
    empty_catalog.tools.set_status([block], ToolStatus.SOLD)
    empty_catalog.evidence.add(block, seen="by its form", not_before=1900, not_after=1930)
    find = empty_catalog.tools.find

    assert find(ToolFilter(statuses=frozenset({ToolStatus.SOLD}))) == (block,)
    assert find(ToolFilter(kinds=frozenset({"smoothing"}))) == (tool.id,)
    assert find(ToolFilter(batch=batch)) == (tool.id, block)
    assert find(ToolFilter(lacks=frozenset({"date"}))) == (tool.id,)
    assert empty_catalog.tools.counts(ToolFilter()).not_dated == 1


def test_another_kind_adds_its_parts_and_keeps_what_was_said(empty_catalog, tool):
    empty_catalog.parts.change(tool.parts[0].id, status=PartStatus.PRESENT)

    empty_catalog.tools.set_kind(tool.id, "jointer")

    again = empty_catalog.tools.one(tool.id)
    assert again.kind == "jointer"
    assert again.parts[0].status == PartStatus.PRESENT
    codes = [part.code for part in again.parts]
    assert len(codes) == len(set(codes))


def test_the_line_of_a_tool_says_what_is_missing_next(empty_catalog, tool):
    assert tool.line.next_act.words == "Photograph it as found"
    assert tool.line.known[0] == Completeness.COMPLETE
    assert tool.line.known[1:] == (Completeness.OPEN,) * 6


def test_parts_of_different_dates_are_named_until_one_is_said_not_to_be_original(
    empty_catalog, tool
):
    body, cutter = tool.parts[0].id, next(p.id for p in tool.parts if p.code == "cutter")
    add = empty_catalog.evidence.add
    add(tool.id, seen="foundry mark", part_id=body, not_before=1909, not_after=1918)
    add(tool.id, seen="casting form", part_id=body, not_before=1911, not_after=1920)
    add(tool.id, seen="stock code", part_id=cutter, not_before=1934, not_after=1941)
    assert empty_catalog.tools.one(tool.id).line.known[4] == Completeness.DISAGREES

    empty_catalog.parts.change(cutter, status=PartStatus.NOT_ORIGINAL)

    assert empty_catalog.tools.one(tool.id).line.known[4] == Completeness.COMPLETE


def test_the_database_reads_back_with_plain_sqlite(empty_catalog, tool):
    """Outside source: Python's own sqlite3, without this program."""
    with sqlite3.connect(empty_catalog.folder / "catalog.db") as connection:
        rows = connection.execute("SELECT stock_number, maker FROM tool").fetchall()
    connection.close()

    assert rows == [("LOT7-001", "Halbeck & Son")]


def test_a_kind_of_the_user_s_own_can_be_added_and_used(empty_catalog, batch):
    empty_catalog.kinds.write(
        {
            "code": "cork",
            "name": "Corkmaker’s plane",
            "source": "R. Fenn",
            "parts": [{"code": "body", "name": "Body", "finish": "oil"}],
            "surfaces": [{"code": "body", "name": "Body", "finish": "oil", "parts": ["body"]}],
        }
    )

    tool = empty_catalog.tools.add(batch, NewTool(kind="corkmaker’s plane")).id

    assert empty_catalog.tools.one(tool).line.title == "Corkmaker’s plane"


def test_a_kind_without_a_source_is_refused(empty_catalog):
    with pytest.raises(InputError, match="source"):
        empty_catalog.kinds.write({"code": "cork", "name": "Corkmaker’s plane"})


def test_a_drawing_of_more_points_than_can_be_judged_is_refused(
    empty_catalog, tool_id, monkeypatch
):
    monkeypatch.setattr(readings, "MOST_POINTS", 1_000)
    outer = [[float(number), 0.0] for number in range(1_001)]

    with pytest.raises(InputError, match=r"has 1,001 points.*may have 1,000"):
        empty_catalog.outlines.add(
            "photograph", "surface", finish="nickel", polygons={"polygons": [{"outer": outer}]}
        )


def test_a_tool_takes_only_as_much_evidence_as_can_be_weighed(empty_catalog, tool_id, monkeypatch):
    monkeypatch.setattr(entries, "MOST_EVIDENCE", 2)
    for seen in ("a mark", "a screw"):
        empty_catalog.evidence.add(tool_id, seen=seen)

    with pytest.raises(InputError, match="has 2 pieces of evidence, the most"):
        empty_catalog.evidence.add(tool_id, seen="a nut")

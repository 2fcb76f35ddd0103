"""Photographs file themselves by the card in them, told why, and are taken back as one step."""

from __future__ import annotations

import datetime as dt
import shutil
from pathlib import Path

import numpy as np
import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import BatchId, ToolId, new_id
from planebench.catalog.import_filing import file_imported
from planebench.catalog.import_types import Destination
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.tools import NewTool
from planebench.photo.card import find_card
from planebench.photo.decode import open_upright
from tests.catalog.shots import shot, shot_of_card
from tests.photo.card_scene import View, mapped

NINE = dt.datetime(2026, 3, 14, 9, 0)  # noqa: DTZ001 -- a camera's clock has no zone


@pytest.fixture(scope="session")
def card_shot(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("card")
    return shot_of_card(folder / "card.jpg", text="PB:LOT7-001", at=NINE, camera="D20")


@pytest.fixture
def evening(card_shot: Path, tmp_path: Path) -> Path:
    """A card of LOT7-001 at nine, two photographs after it, and one before."""
    folder = tmp_path / "evening"
    folder.mkdir()
    shutil.copy2(card_shot, folder / "2.jpg")
    for name, minute in (("1", -3), ("3", 1), ("4", 2)):
        at = NINE + dt.timedelta(minutes=minute)
        shot(folder / f"{name}.jpg", seed=minute + 10, at=at, camera="D20")
    return folder


def following(batch: BatchId, make_tools: str = "") -> Destination:
    return Destination(batch=batch, follow_cards=True, make_tools=make_tools)


def test_photographs_go_to_the_tool_of_the_card_and_say_why(
    empty_catalog: Catalog, tool_id: ToolId, batch: BatchId, evening: Path
) -> None:
    result = import_photographs(empty_catalog, [evening], to=following(batch))

    told = [(Path(o.file).name, o.stock, o.rule, o.why) for o in result.outcomes]
    assert told == [
        ("1.jpg", "", "", "no card in it and none before it"),
        ("2.jpg", "LOT7-001", "card", "its own card says LOT7-001"),
        ("3.jpg", "LOT7-001", "followed", "1 min after the card LOT7-001 in 2.jpg"),
        ("4.jpg", "LOT7-001", "followed", "2 min after the card LOT7-001 in 2.jpg"),
    ]
    filed = empty_catalog.tools.one(tool_id).photographs
    assert [(photo.original_name, photo.filed_by) for photo in filed] == [
        ("2.jpg", "card"),
        ("3.jpg", "followed"),
        ("4.jpg", "followed"),
    ]


def test_a_card_of_another_tool_is_told_where_a_tool_was_named(
    empty_catalog: Catalog, batch: BatchId, card_shot: Path
) -> None:
    other = empty_catalog.tools.add(batch, NewTool(kind="block", stock_number="LOT7-010")).id

    (outcome,) = import_photographs(empty_catalog, [card_shot], to=Destination(tool=other)).outcomes

    assert outcome.stock == "LOT7-010"
    assert outcome.warnings == ("The card belongs to another tool: LOT7-001, not LOT7-010.",)


def test_the_card_of_the_tool_that_was_named_gives_the_scale_and_no_warning(
    empty_catalog: Catalog, tool_id: ToolId, card_shot: Path
) -> None:
    (outcome,) = import_photographs(
        empty_catalog, [card_shot], to=Destination(tool=tool_id)
    ).outcomes

    (photo,) = empty_catalog.tools.one(tool_id).photographs
    assert outcome.warnings == ()
    assert photo.scale is not None
    assert photo.scale["kind"] == "card"


def test_the_intake_and_its_filing_are_one_step_back(
    empty_catalog: Catalog, tool_id: ToolId, batch: BatchId, evening: Path
) -> None:
    import_photographs(empty_catalog, [evening], to=following(batch))
    back = empty_catalog.history.undo()

    assert back.words == "Undone: 4 photographs added, 3 filed by cards"
    assert empty_catalog.tools.one(tool_id).photographs == ()
    assert empty_catalog.photographs.unfiled() == ()


def test_an_unknown_number_is_told_and_its_followers_wait(
    empty_catalog: Catalog, batch: BatchId, evening: Path
) -> None:
    result = import_photographs(empty_catalog, [evening], to=following(batch))

    assert result.unknown_stocks == ("LOT7-001",)
    assert len(empty_catalog.photographs.unfiled(batch)) == 4


def test_an_unknown_number_makes_its_tool_when_asked(
    empty_catalog: Catalog, batch: BatchId, evening: Path
) -> None:
    result = import_photographs(empty_catalog, [evening], to=following(batch, make_tools="block"))
    made = empty_catalog.tools.by_stock_number("LOT7-001")

    assert result.unknown_stocks == ()
    assert made is not None
    assert len(empty_catalog.tools.one(made).photographs) == 3
    empty_catalog.history.undo()
    assert empty_catalog.tools.by_stock_number("LOT7-001") is None


def test_an_intake_that_was_stopped_is_filed_when_it_goes_on(
    empty_catalog: Catalog, tool_id: ToolId, batch: BatchId, evening: Path
) -> None:
    import_photographs(empty_catalog, [evening / "2.jpg"], to=following(batch))
    import_photographs(empty_catalog, [evening / "3.jpg"], to=Destination(batch=batch))
    result = import_photographs(empty_catalog, [evening], to=following(batch))

    filed = {photo.original_name for photo in empty_catalog.tools.one(tool_id).photographs}
    assert filed == {"2.jpg", "3.jpg", "4.jpg"}
    assert len(result.outcomes) == 4


def test_what_waits_is_filed_once_its_tool_is_made(
    empty_catalog: Catalog, batch: BatchId, evening: Path
) -> None:
    outcomes = import_photographs(empty_catalog, [evening], to=following(batch)).outcomes
    made = empty_catalog.tools.add(batch, NewTool(kind="block", stock_number="LOT7-001")).id
    filed = file_imported(empty_catalog, outcomes, run=new_id(), to=following(batch), first=False)

    assert [outcome.stock for outcome in filed.outcomes] == ["", *["LOT7-001"] * 3]
    assert filed.changes.tools == {made}
    assert empty_catalog.history.undo().words == "Undone: 3 filed by cards"
    assert empty_catalog.tools.one(made).photographs == ()


def test_what_is_filed_by_hand_is_no_suggestion_any_more(
    empty_catalog: Catalog, tool_id: ToolId, batch: BatchId, evening: Path
) -> None:
    to = Destination(batch=batch, follow_cards=True, minutes=1)
    import_photographs(empty_catalog, [evening], to=to)
    (late,) = (
        photo for photo in empty_catalog.photographs.unfiled() if photo.suggested_stock_number
    )
    empty_catalog.photographs.file_under([late.id], tool_id, by="hand")

    filed = empty_catalog.photographs.one(late.id)
    assert late.suggested_stock_number == "LOT7-001"
    assert (filed.filed_by, filed.filed_reason, filed.suggested_stock_number) == ("hand", "", "")


def test_the_scale_is_that_of_the_whole_picture(
    empty_catalog: Catalog, batch: BatchId, evening: Path
) -> None:
    import_photographs(empty_catalog, [evening], to=following(batch))
    photo = next(p for p in empty_catalog.photographs.unfiled() if p.original_name == "2.jpg")

    assert photo.scale is not None
    matrix = np.array(photo.scale["matrix_px_to_mm"])
    corners = mapped(View().mm_to_px(), [(0, 0), (90, 60)])
    assert mapped(matrix, corners) == pytest.approx(np.array([(0, 0), (90, 60)]), abs=0.3)
    alone = find_card(open_upright(evening / "2.jpg"))
    assert alone is not None
    assert photo.scale["mm_per_px"] == pytest.approx(alone.mm_per_px, rel=1e-6)


def test_a_card_that_names_no_one_tool_says_why_each_time_it_is_given(
    empty_catalog: Catalog, tmp_path: Path
) -> None:
    batch = empty_catalog.batches.add(code="LOT7").id
    foreign = shot_of_card(tmp_path / "1.jpg", text="https://example.org", at=NINE)
    first, again = (
        import_photographs(empty_catalog, [foreign], to=following(batch)).outcomes[0]
        for _ in range(2)
    )

    assert first.warnings[0] == "The QR code on the card says something else: https://example.org"
    assert again.warnings == first.warnings

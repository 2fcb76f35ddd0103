"""A card that comes in late still files what follows it, told why, within the same step back."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import BatchId, PhotographId, ToolId, new_id
from planebench.catalog.import_filing import file_imported
from planebench.catalog.import_types import Destination, FileFate, FileOutcome
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.tables import OriginalRow, PhotographRow
from planebench.catalog.tools import NewTool
from planebench.catalog.values import Photograph
from tests.catalog.shots import shot, shot_of_card

NINE = dt.datetime(2026, 3, 14, 9, 0)  # noqa: DTZ001 -- a camera's clock has no zone
CARDS = ("LOT7-001", "LOT7-002")


def after(minutes: float) -> dt.datetime:
    return NINE + dt.timedelta(minutes=minutes)


@pytest.fixture(scope="session")
def shots(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The card of one tool, a photograph; the card of another, a photograph after it."""
    folder = tmp_path_factory.mktemp("evening")
    return {
        "card 1": shot_of_card(folder / "1.jpg", text="PB:LOT7-001", at=after(0), camera="D20"),
        "of 1": shot(folder / "2.jpg", seed=2, at=after(1), camera="D20"),
        "card 2": shot_of_card(folder / "3.jpg", text="PB:LOT7-002", at=after(2), camera="D20"),
        "of 2": shot(folder / "4.jpg", seed=4, at=after(3), camera="D20"),
    }


@pytest.fixture
def two_tools(empty_catalog: Catalog, batch: BatchId) -> tuple[ToolId, ...]:
    lines = [NewTool(kind="block", stock_number=stock) for stock in CARDS]
    return empty_catalog.tools.add_lines(batch, lines)[0]


def following(batch: BatchId) -> Destination:
    return Destination(batch=batch, follow_cards=True)


def test_what_followed_the_card_before_goes_to_the_tool_of_the_late_card_and_says_so(
    empty_catalog: Catalog, batch: BatchId, two_tools: tuple[ToolId, ...], shots: dict[str, Path]
) -> None:
    first = import_photographs(
        empty_catalog, [shots["card 1"], shots["of 1"], shots["of 2"]], to=following(batch)
    )
    assert [o.stock for o in first.outcomes] == ["LOT7-001"] * 3

    second = import_photographs(empty_catalog, [shots["card 2"]], to=following(batch))

    (moved,) = second.refiled
    assert (moved.file, moved.stock, moved.rule) == ("4.jpg", "LOT7-002", "followed")
    assert moved.why == "1 min after the card LOT7-002 in 3.jpg; until now with LOT7-001"
    names = [
        [photo.original_name for photo in empty_catalog.tools.one(tool).photographs]
        for tool in two_tools
    ]
    assert names == [["1.jpg", "2.jpg"], ["3.jpg", "4.jpg"]]


def test_the_late_card_and_what_it_moved_are_one_step_back(
    empty_catalog: Catalog, batch: BatchId, two_tools: tuple[ToolId, ...], shots: dict[str, Path]
) -> None:
    import_photographs(empty_catalog, [shots["card 1"], shots["of 2"]], to=following(batch))
    import_photographs(empty_catalog, [shots["card 2"]], to=following(batch))

    empty_catalog.history.undo()

    first, second = (empty_catalog.tools.one(tool).photographs for tool in two_tools)
    assert [photo.original_name for photo in first] == ["1.jpg", "4.jpg"]
    assert second == ()


def test_what_waited_for_want_of_a_card_is_filed_by_the_late_one(
    empty_catalog: Catalog, batch: BatchId, two_tools: tuple[ToolId, ...], shots: dict[str, Path]
) -> None:
    import_photographs(empty_catalog, [shots["of 2"]], to=following(batch))

    late = import_photographs(empty_catalog, [shots["card 2"]], to=following(batch))

    assert [(o.stock, o.why) for o in late.refiled] == [
        ("LOT7-002", "1 min after the card LOT7-002 in 3.jpg; until now not filed")
    ]
    assert empty_catalog.photographs.unfiled() == ()


def test_what_a_person_filed_stays_where_it_is(
    empty_catalog: Catalog, batch: BatchId, two_tools: tuple[ToolId, ...], shots: dict[str, Path]
) -> None:
    import_photographs(empty_catalog, [shots["of 2"]], to=following(batch))
    (photo,) = empty_catalog.photographs.unfiled()
    empty_catalog.photographs.file_under([photo.id], two_tools[0], by="hand")

    late = import_photographs(empty_catalog, [shots["card 2"]], to=following(batch))

    assert late.refiled == ()
    assert empty_catalog.photographs.one(photo.id).tool == two_tools[0]


def test_what_was_taken_in_without_regard_to_cards_stays_in_the_tray(
    empty_catalog: Catalog, batch: BatchId, two_tools: tuple[ToolId, ...], shots: dict[str, Path]
) -> None:
    import_photographs(empty_catalog, [shots["of 2"]], to=Destination(batch=batch))

    late = import_photographs(empty_catalog, [shots["card 2"]], to=following(batch))

    assert late.refiled == ()
    assert len(empty_catalog.photographs.unfiled()) == 1


def test_a_photograph_that_was_worked_on_stays_and_is_to_be_looked_at(
    empty_catalog: Catalog, batch: BatchId, two_tools: tuple[ToolId, ...], shots: dict[str, Path]
) -> None:
    import_photographs(empty_catalog, [shots["card 1"], shots["of 2"]], to=following(batch))
    moved = next(p for p in filed_under(empty_catalog, two_tools[0]) if p.original_name == "4.jpg")
    empty_catalog.photographs.change([moved.id], view="sole")

    late = import_photographs(empty_catalog, [shots["card 2"]], to=following(batch))

    (told,) = late.refiled
    assert told.stock == "LOT7-001"
    assert told.why == (
        "left where it is because it has been worked on; by the cards: "
        "1 min after the card LOT7-002 in 3.jpg"
    )
    assert told.warnings == ("A card added later places it elsewhere: please check.",)
    assert empty_catalog.photographs.one(moved.id).tool == two_tools[0]


def test_the_card_of_an_unknown_tool_takes_what_follows_it_from_the_tool_before(
    empty_catalog: Catalog, batch: BatchId, shots: dict[str, Path]
) -> None:
    empty_catalog.tools.add(batch, NewTool(kind="block", stock_number="LOT7-001"))
    import_photographs(empty_catalog, [shots["card 1"], shots["of 2"]], to=following(batch))

    late = import_photographs(empty_catalog, [shots["card 2"]], to=following(batch))

    assert [(o.stock, o.file) for o in late.refiled] == [("", "4.jpg")]
    assert {p.original_name for p in empty_catalog.photographs.unfiled()} == {"3.jpg", "4.jpg"}


def test_a_camera_that_begins_each_evening_anew_mixes_no_evenings(
    empty_catalog: Catalog, batch: BatchId, two_tools: tuple[ToolId, ...], tmp_path: Path
) -> None:
    new_year = dt.datetime(2015, 1, 1, 0, 1)  # noqa: DTZ001 -- a camera's clock has no zone
    minutes = [new_year + dt.timedelta(minutes=minute) for minute in range(4)]
    monday = [
        shot_of_card(tmp_path / "1.jpg", text="PB:LOT7-001", at=minutes[0]),
        shot(tmp_path / "2.jpg", seed=2, at=minutes[2]),
    ]
    tuesday = [
        shot_of_card(tmp_path / "3.jpg", text="PB:LOT7-002", at=minutes[1]),
        shot(tmp_path / "4.jpg", seed=4, at=minutes[3]),
    ]

    import_photographs(empty_catalog, monday, to=following(batch))
    result = import_photographs(empty_catalog, tuesday, to=following(batch))

    names = [[p.original_name for p in filed_under(empty_catalog, tool)] for tool in two_tools]
    assert names == [["1.jpg", "2.jpg"], ["3.jpg", "4.jpg"]]
    assert result.refiled == ()


def filed_under(catalog: Catalog, tool: ToolId) -> tuple[Photograph, ...]:
    return catalog.tools.one(tool).photographs


@dataclass(frozen=True)
class Seen:
    """A photograph taken so many minutes after nine; `card` is the number on its card, if any."""

    minute: int
    card: str | None


ROUNDS = st.lists(
    st.builds(Seen, minute=st.integers(0, 90), card=st.sampled_from([None, None, "?", *CARDS])),
    min_size=1,
    max_size=12,
    unique_by=lambda seen: seen.minute,
)


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(ROUNDS, st.data())
def test_where_photographs_belong_does_not_depend_on_the_order_in_which_they_come_in(
    empty_catalog: Catalog,
    batch: BatchId,
    two_tools: tuple[ToolId, ...],
    round_: list[Seen],
    data: st.DataObject,
) -> None:
    together = filed_in_lots(empty_catalog, batch, [round_])
    lots = cut(data.draw(st.permutations(round_)), data)

    assert filed_in_lots(empty_catalog, batch, lots) == together


def cut(round_: list[Seen], data: st.DataObject) -> list[list[Seen]]:
    places = sorted(data.draw(st.sets(st.integers(1, len(round_)), max_size=4)))
    return [
        round_[start:end] for start, end in zip([0, *places], [*places, len(round_)], strict=True)
    ]


def filed_in_lots(catalog: Catalog, batch: BatchId, lots: list[list[Seen]]) -> dict[int, str]:
    """File photographs lot by lot, give the stock number by minute, and take all of it back."""
    ids: dict[int, PhotographId] = {}
    for lot in lots:
        run = new_id()
        rows = {seen.minute: PhotographId(new_id()) for seen in lot}
        with catalog.store.edit("photographs", run=run) as edit:
            for seen in lot:
                edit.session.add_all(written(seen, rows[seen.minute], batch))
        outcomes = [
            FileOutcome(file=str(minute), became=FileFate.NEW, photograph=photograph)
            for minute, photograph in sorted(rows.items())
        ]
        file_imported(catalog, outcomes, run=run, to=following(batch))
        ids |= rows
    stocks = {tool: catalog.tools.one(tool).line.stock_number for tool in tools_of(catalog, batch)}
    where = {minute: catalog.photographs.one(photo).tool for minute, photo in ids.items()}
    catalog.photographs.bin(list(ids.values()))
    return {minute: stocks.get(tool, "") if tool else "" for minute, tool in where.items()}


def tools_of(catalog: Catalog, batch: BatchId) -> list[ToolId]:
    found = [catalog.tools.by_stock_number(stock) for stock in CARDS]
    return [tool for tool in found if tool is not None]


def written(
    seen: Seen, photograph: PhotographId, batch: BatchId
) -> tuple[OriginalRow, PhotographRow]:
    sha256 = new_id().replace("-", "").ljust(64, "0")
    at = after(seen.minute).replace(tzinfo=dt.UTC)
    stock = None if seen.card == "?" else seen.card
    scale = None if seen.card is None else {"kind": "card", "stock": stock}
    file = OriginalRow(
        sha256=sha256, suffix=".jpg", size=1, format="JPEG", width=1, height=1, stored_at=at
    )
    row = PhotographRow(
        id=photograph, sha256=sha256, batch_id=batch, taken_at=at, added_at=at, scale=scale
    )
    row.original_name = f"{seen.minute}.jpg"
    return file, row

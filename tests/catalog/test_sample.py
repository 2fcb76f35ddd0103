"""The sample catalog: built once, then looked at as a person would."""

import datetime as dt
import shutil
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.reference import sample_source
from planebench.catalog.sample import make_sample
from planebench.catalog.tools import ToolFilter
from planebench.catalog.values import Tool
from planebench.errors import CatalogError, FileError
from planebench.trade.terms import Stage, ToolStatus

NOW = dt.datetime(2026, 5, 12, 14, 32, tzinfo=dt.UTC)


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Catalog]:
    place = tmp_path_factory.mktemp("sample")
    folder = place / "Wendholm workshop"
    make_sample(folder, source=sample_source(), cache=place / "cache")
    catalog = Catalog.open(folder, who="R. Fenn", clock=lambda: NOW, cache=place / "cache")
    yield catalog
    catalog.close()


@pytest.fixture(scope="module")
def tools(sample: Catalog) -> dict[str, Tool]:
    records = [sample.tools.one(tool) for tool in sample.tools.find(ToolFilter())]
    return {tool.stock_number: tool for tool in records}


def test_it_has_ten_planes_in_every_state(tools: dict[str, Tool]) -> None:
    assert len(tools) == 10
    assert {tool.status for tool in tools.values()} == set(ToolStatus)


def test_it_is_named_after_its_folder_and_nothing_half_made_is_left(sample: Catalog) -> None:
    assert sample.name == "Wendholm workshop"
    assert [path.name for path in sample.folder.parent.iterdir() if path.name != "cache"] == [
        "Wendholm workshop"
    ]


def test_every_photograph_of_the_source_is_in_and_filed(tools: dict[str, Tool]) -> None:
    there = {path.name for path in (sample_source() / "photographs").iterdir()}
    filed = {
        photograph.original_name: tool.stock_number
        for tool in tools.values()
        for photograph in tool.photographs
    }

    assert filed.keys() == there
    assert all(name.startswith(stock) for name, stock in filed.items())


def test_nothing_was_put_in_the_bin_and_parts_of_other_models_are_not_asked_for(
    sample: Catalog, tools: dict[str, Tool]
) -> None:
    unasked = {part.code for part in tools["LOT7-003"].parts if part.unasked}

    assert sample.bin.entries() == ()
    assert {"lateral_lever", "cap_iron", "adjusting_yoke"} <= unasked
    assert "adjusting_wheel" not in unasked


def test_six_planes_are_seen_before_and_after(tools: dict[str, Tool]) -> None:
    assert sum(bool(tool.pairs) for tool in tools.values()) == 6


def test_photographs_stand_at_the_stage_and_view_that_their_names_tell(
    tools: dict[str, Tool],
) -> None:
    stages = {"found": Stage.AS_FOUND, "during": Stage.DURING, "finished": Stage.FINISHED}
    photographs = [photograph for tool in tools.values() for photograph in tool.photographs]

    for photograph in photographs:
        words = photograph.original_name.removesuffix(".jpg").split("_")
        assert photograph.stage == stages[words[-1]]
        assert photograph.view in {words[1], f"{words[1]}_side", "detail"}


def test_the_late_cutter_disagrees_with_its_plane(sample: Catalog, tools: dict[str, Tool]) -> None:
    odd = sample.tools.find(ToolFilter(lacks=frozenset({"agreement"})))

    assert odd == (tools["LOT7-003"].id,)


def test_pins_stand_on_pictures_of_their_own_plane(tools: dict[str, Tool]) -> None:
    for tool in tools.values():
        own = {photograph.id for photograph in tool.photographs}
        assert {pin.photograph for pin in tool.pins} <= own
    assert sum(len(tool.pins) for tool in tools.values()) >= 40


def test_its_history_tells_when_each_thing_was_written_down(tools: dict[str, Tool]) -> None:
    readings = [reading for tool in tools.values() for reading in tool.readings]

    assert {reading.read_by for reading in readings} == {"R. Fenn"}
    assert {reading.read_at.date().month for reading in readings} == {2, 3}


def test_a_folder_with_something_in_it_is_left_alone(tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("Dear sister", encoding="utf-8")

    with pytest.raises(CatalogError, match="not an empty folder"):
        make_sample(tmp_path, source=sample_source())

    assert [letter] == list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("before", "after", "told"),
    [
        ('price = "340.00"', "price = 340.00", "price"),
        ("bought_on = 2026-01-31", 'bought_on = "January"', "bought_on"),
        ('kind = "chip"', 'kind = "chipp"', "chipp"),
        ('status = "finished"', 'status = "done"', "done"),
        ("[[tools]]", "[[tools]", "LOT7.toml"),
    ],
)
def test_a_damaged_source_is_named_and_leaves_nothing(
    tmp_path: Path, before: str, after: str, told: str
) -> None:
    source = tmp_path / "source"
    shutil.copytree(sample_source() / "batches", source / "batches")
    (source / "photographs").symlink_to(sample_source() / "photographs")
    shutil.copy(sample_source() / "workshop.toml", source)
    file = source / "batches" / "LOT7.toml"
    text = file.read_text(encoding="utf-8")
    assert before in text
    file.write_text(text.replace(before, after, 1), encoding="utf-8")

    with pytest.raises(FileError, match=told):
        make_sample(tmp_path / "made", source=source, cache=tmp_path / "cache")

    assert not (tmp_path / "made").exists()


def test_rust_on_a_sole_is_measured_apart_from_its_finish(tools: dict[str, Tool]) -> None:
    tool = tools["LOT7-010"]
    sole = tool.surfaces[-1]
    rust = tool.reading(sole.id, Stage.AS_FOUND, rust=True)

    assert (sole.name, sole.is_bare) == ("Sole", True)
    assert rust is not None
    # The share of rusted pixels of the picture, which was rendered with what is rust marked.
    assert rust.share.low <= Decimal("0.447") <= rust.share.high
    assert tool.reading(sole.id, Stage.AS_FOUND) is None

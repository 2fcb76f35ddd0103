"""Which photographs a sheet shows, in which order, and what it says of those it does not."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PIL import Image

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.photographs import PinPosition
from planebench.sheet.compose import compose
from planebench.sheet.content import SheetChoices, SheetSection
from planebench.trade.terms import Stage
from tests.sheet.conftest import take_in
from tests.sheet.examples import FINISHED, FOUND


def many(catalog: Catalog, tool: ToolId, folder: Path, count: int) -> list[PhotographId]:
    taken = []
    for number in range(count):
        file = folder / f"{number}.jpg"
        Image.new("RGB", (600, 400), (number, 90, 90)).save(file)
        taken.append(take_in(catalog, file, tool, Stage.FINISHED))
    return taken


def test_the_finished_photograph_stands_large_with_its_pin_and_its_pair_beside_it(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    photographs = compose(empty_shop, told_tool).photographs

    assert photographs.main is not None
    assert photographs.found is not None
    assert photographs.main.caption == "Finished, from above. The numbers are the defects below."
    assert photographs.found.caption == "As found, the same view."
    assert [pin.number for pin in photographs.main.pins] == [1]
    assert "1: chip, rear edge of the mouth, 1.7 x 1.6 mm" in photographs.main.alternative
    assert photographs.count == "Both photographs are shown."


def test_two_photographs_named_alike_are_not_said_to_be_the_same_view(
    empty_shop: Catalog, new_tool: Callable[..., ToolId]
) -> None:
    tool = new_tool()
    take_in(empty_shop, FOUND, tool, Stage.AS_FOUND)
    take_in(empty_shop, FINISHED, tool, Stage.FINISHED)
    found = compose(empty_shop, tool).photographs.found

    assert found is not None
    assert found.caption == "As found, from above."


def test_photographs_with_pins_are_never_crowded_out(
    empty_shop: Catalog, new_tool: Callable[..., ToolId], tmp_path: Path
) -> None:
    tool = new_tool()
    many(empty_shop, tool, tmp_path, 8)
    broken = take_in(empty_shop, FOUND, tool, Stage.AS_FOUND)
    defect = empty_shop.defects.add(tool, kind="break", severity="large")
    empty_shop.pins.add_defect(
        broken, defect.id, PinPosition(x=0.5, y=0.5, balloon_x=0.6, balloon_y=0.6)
    )
    photographs = compose(empty_shop, tool).photographs
    shown = [photographs.main, photographs.found, photographs.other, *photographs.more]

    assert [1] in [[pin.number for pin in one.pins] for one in shown if one is not None]
    assert photographs.count == "6 of 9 photographs are shown; ask the seller for the rest."


def test_what_the_seller_leaves_off_is_counted_as_not_shown(
    empty_shop: Catalog, told_tool: ToolId
) -> None:
    sections = frozenset(SheetSection) - {SheetSection.BEFORE_AFTER}
    count = compose(empty_shop, told_tool, SheetChoices(sections=sections)).photographs.count

    assert count == "1 of 2 photographs are shown; ask the seller for the rest."


def test_a_view_not_taken_again_after_the_work_is_said(
    empty_shop: Catalog, told_tool: ToolId, tmp_path: Path
) -> None:
    file = tmp_path / "sole.jpg"
    Image.new("RGB", (640, 400), (9, 9, 9)).save(file)
    sole = take_in(empty_shop, file, told_tool, Stage.AS_FOUND)
    empty_shop.photographs.change([sole], view="sole")
    said = [(line.lead, line.words) for line in compose(empty_shop, told_tool).not_checked]

    assert ("Sole:", "not photographed after the work.") in said


def test_at_most_twelve_numbers_crowd_one_photograph_and_the_others_have_close_ups(
    empty_shop: Catalog, new_tool: Callable[..., ToolId]
) -> None:
    tool = new_tool()
    photograph = take_in(empty_shop, FINISHED, tool, Stage.FINISHED)
    for number in range(15):
        chip = empty_shop.defects.add(tool, kind="chip", place=f"spot {number}")
        spot = PinPosition(x=0.05 + number / 17, y=0.3, balloon_x=0.5, balloon_y=0.1)
        empty_shop.pins.add_defect(photograph, chip.id, spot)
    content = compose(empty_shop, tool)

    assert content.photographs.main is not None
    assert len(content.photographs.main.pins) == 12
    assert all(defect.close_up is not None for defect in content.defects)

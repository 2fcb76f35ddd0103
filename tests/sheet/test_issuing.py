"""Issuing a sheet: what is kept is what was printed."""

from __future__ import annotations

from decimal import Decimal

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.sheet.compose import compose
from planebench.sheet.fingerprint import content_json, fingerprint
from planebench.sheet.issuing import issue
from planebench.sheet.pdf import SheetPress


def test_an_issued_sheet_is_kept_with_its_content_its_file_and_its_fingerprint(
    empty_shop: Catalog, press: SheetPress, told_tool: ToolId
) -> None:
    issued = issue(empty_shop, press, told_tool)
    kept = empty_shop.sheets.of_tool(told_tool)[0]

    assert kept.id == issued.id
    assert kept.content == content_json(issued.content)
    assert kept.fingerprint == fingerprint(issued.content)
    assert empty_shop.sheets.path(kept).read_bytes() == issued.pdf
    assert issued.content.heading.issued == "May 12, 2026"


def test_the_next_sheet_of_a_tool_says_which_one_it_replaces(
    empty_shop: Catalog, press: SheetPress, told_tool: ToolId
) -> None:
    first = issue(empty_shop, press, told_tool).content.heading
    unchanged = compose(empty_shop, told_tool)
    empty_shop.tools.change(told_tool, asking=Decimal("150.00"))
    second = issue(empty_shop, press, told_tool).content

    assert unchanged.replaces == f"Replaces sheet {first.number}."
    assert second.replaces == f"Replaces sheet {first.number}; changed: price."
    assert int(second.heading.number) == int(first.number) + 1


def test_taking_back_goes_past_a_sheet_that_was_issued(
    empty_shop: Catalog, press: SheetPress, told_tool: ToolId
) -> None:
    empty_shop.tools.change(told_tool, asking=Decimal("180.00"))
    issued = issue(empty_shop, press, told_tool)

    taken = empty_shop.history.undo()
    kept = empty_shop.sheets.of_tool(told_tool)

    assert empty_shop.tools.one(told_tool).asking == Decimal("165.00")
    assert taken.words.startswith("Undone: ")
    assert [sheet.id for sheet in kept] == [issued.id]
    assert empty_shop.sheets.next_number() == kept[0].number + 1
    assert empty_shop.sheets.path(kept[0]).read_bytes() == issued.pdf

"""Issuing a sheet: what is kept is what was printed."""

from __future__ import annotations

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.sheet.compose import compose
from planebench.sheet.fingerprint import fingerprint, plain
from planebench.sheet.issuing import issue
from planebench.sheet.pdf import SheetPress


def test_an_issued_sheet_is_kept_with_its_content_its_file_and_its_fingerprint(
    empty_shop: Catalog, press: SheetPress, told_tool: ToolId
) -> None:
    issued = issue(empty_shop, press, told_tool)
    kept = empty_shop.sheets.of_tool(told_tool)[0]

    assert kept.id == issued.id
    assert kept.content == plain(issued.content)
    assert kept.fingerprint == fingerprint(issued.content)
    assert empty_shop.sheets.path(kept).read_bytes() == issued.pdf
    assert issued.content.heading.issued == "12 May 2026"


def test_the_next_sheet_of_a_tool_says_which_one_it_replaces(
    empty_shop: Catalog, press: SheetPress, told_tool: ToolId
) -> None:
    first = issue(empty_shop, press, told_tool).content.heading
    second = compose(empty_shop, told_tool)

    assert second.replaces == f"Replaces sheet {first.number} of 12 May 2026."
    assert int(second.heading.number) == int(first.number) + 1

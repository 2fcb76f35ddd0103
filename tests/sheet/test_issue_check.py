"""What stands against issuing: contradictions block, what is missing may be accepted."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.errors import SheetError
from planebench.sheet.compose import choices_from
from planebench.sheet.issue_check import IssueFinding, findings_of
from planebench.sheet.issuing import issue
from planebench.sheet.pdf import SheetPress
from planebench.sheet.sheet_source import load_source
from planebench.trade.terms import Basis, Stage
from tests.sheet.conftest import take_in
from tests.sheet.examples import FINISHED
from tests.sheet.test_surface_bars import read, share

Made = Callable[..., ToolId]


def findings(catalog: Catalog, tool: ToolId) -> tuple[IssueFinding, ...]:
    return findings_of(load_source(catalog, tool, choices_from(catalog.settings.read())))


def blocking(catalog: Catalog, tool: ToolId) -> str:
    return " ".join(one.words for one in findings(catalog, tool) if one.blocks)


def test_more_new_finish_than_was_bare_is_a_contradiction(
    empty_shop: Catalog, new_tool: Made
) -> None:
    tool = new_tool()
    read(empty_shop, tool, Stage.AS_FOUND, share("0.96", "0.94", "0.98"))
    new = share("0.12", "0.10", "0.14")
    read(empty_shop, tool, Stage.FINISHED, share("0.99", "0.97", "1"), new=new)

    assert "new finish on 12% (10 to 14) covers more than was bare as found, 4% (2 to 6)" in (
        blocking(empty_shop, tool)
    )


def test_first_finish_that_grew_is_a_contradiction(empty_shop: Catalog, new_tool: Made) -> None:
    tool = new_tool()
    read(empty_shop, tool, Stage.AS_FOUND, share("0.60", "0.55", "0.65"))
    read(empty_shop, tool, Stage.FINISHED, share("0.95", "0.92", "0.97"))

    assert "first finish cannot grow from 60% (55 to 65) to 95% (92 to 97)" in (
        blocking(empty_shop, tool)
    )


def test_readings_whose_ranges_meet_contradict_nothing(empty_shop: Catalog, new_tool: Made) -> None:
    tool = new_tool()
    read(empty_shop, tool, Stage.AS_FOUND, share("0.80", "0.72", "0.87", Basis.BY_EYE))
    new = share("0.21", "0.15", "0.27", Basis.BY_EYE)
    read(empty_shop, tool, Stage.FINISHED, share("0.97", "0.94", "0.99", Basis.BY_EYE), new=new)

    assert blocking(empty_shop, tool) == ""


def test_a_finished_photograph_of_unfinished_work_is_caught(
    empty_shop: Catalog, new_tool: Made
) -> None:
    tool = new_tool()
    take_in(empty_shop, FINISHED, tool, Stage.FINISHED)
    before = blocking(empty_shop, tool)
    empty_shop.tools.change(tool, work_finished=True)

    assert "A photograph is marked finished, but the work is not." in before
    assert blocking(empty_shop, tool) == ""


def test_a_contradiction_cannot_be_accepted(
    empty_shop: Catalog, press: SheetPress, new_tool: Made
) -> None:
    tool = new_tool()
    new = share("0.3", "0.25", "0.35")
    read(empty_shop, tool, Stage.FINISHED, share("0.23", "0.2", "0.26"), new=new)
    number = empty_shop.sheets.next_number()
    with pytest.raises(SheetError) as refused:
        issue(empty_shop, press, tool, accept_missing=True)

    assert "cannot be issued yet" in refused.value.happened
    assert empty_shop.sheets.next_number() == number


def test_what_is_missing_is_listed_and_may_be_accepted(
    empty_shop: Catalog, press: SheetPress, new_tool: Made
) -> None:
    tool = new_tool()
    missing = [one.words for one in findings(empty_shop, tool) if not one.blocks]
    with pytest.raises(SheetError):
        issue(empty_shop, press, tool)
    issued = issue(empty_shop, press, tool, accept_missing=True)

    assert missing == [
        "Missing: photographs.",
        "Missing: a completed inspection for defects.",
        "Missing: which parts are there.",
        "Missing: how much finish is left.",
        "Missing: the price.",
    ]
    assert issued.content.to_settle == ()


def test_the_same_content_is_not_issued_twice(
    empty_shop: Catalog, press: SheetPress, told_tool: ToolId
) -> None:
    first = issue(empty_shop, press, told_tool)
    with pytest.raises(SheetError) as refused:
        issue(empty_shop, press, told_tool)
    empty_shop.tools.change(told_tool, maker="Halbeck")
    second = issue(empty_shop, press, told_tool)

    assert "already says exactly this" in refused.value.happened
    assert second.content.replaces == (
        f"Replaces sheet {first.content.heading.number}; changed: what it is."
    )

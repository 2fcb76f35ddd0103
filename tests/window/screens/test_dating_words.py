"""What the dating screen says of a tool's years: doubt, years apart, and what the rest is for."""

from dataclasses import replace
from decimal import Decimal

import pytest

from planebench.catalog.ids import EvidenceId
from planebench.catalog.values import Tool
from planebench.window.context import ScreenContext
from planebench.window.screens.dating.dating_model import DatingModel, build_dating_model


@pytest.fixture
def tool(given_sample: ScreenContext) -> Tool:
    """Return a plane of the sample."""
    found = given_sample.catalog.tools.by_stock_number("LOT7-003")
    assert found is not None
    return given_sample.catalog.tools.one(found)


def _lay_out_with(
    tool: Tool, *all_evidence: tuple[str, int | None, int | None, str]
) -> DatingModel:
    """Lay out a tool with signs in place of its own: part, years, and how sure."""
    parts = {part.code: part.id for part in tool.parts}
    mold = next(evidence for evidence in tool.evidence if evidence.number == 2)
    made = [
        replace(
            mold,
            id=EvidenceId(f"{number:032x}"),
            number=number,
            kind="years",
            seen=f"sign {number}",
            part=parts[part],
            not_before=first,
            not_after=last,
            mark={},
            sure=Decimal(sure),
            looseness=2,
        )
        for number, (part, first, last, sure) in enumerate(all_evidence, start=1)
    ]
    return build_dating_model(replace(tool, evidence=tuple(made)))


def test_one_piece_of_evidence_alone_is_told_with_its_doubt(tool: Tool) -> None:
    shown = _lay_out_with(tool, ("body", 1902, None, "0.8"))

    assert shown.result.made == "1902 or later"
    assert shown.result.of == "body, 87% sure"


def test_evidence_that_contradicts_itself_gives_the_years_of_either(tool: Tool) -> None:
    shown = _lay_out_with(tool, ("body", 1894, 1902, "0.95"), ("body", 1925, 1930, "0.95"))

    assert shown.result.made == "1893 to 1903 or 1924 to 1931"
    assert shown.bands == ((1893, 1903), (1924, 1931))
    assert shown.result.hard == "No year fits all the evidence"


def test_years_beyond_what_the_evidence_allow_are_explained(tool: Tool) -> None:
    shown = _lay_out_with(tool, ("body", 1894, 1902, "0.95"))

    assert shown.result.hard == (
        "The evidence points to 1894 to 1902; "
        "a little more is allowed for old stock and misread evidence"
    )

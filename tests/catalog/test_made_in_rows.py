"""What a tool's row says of when it was made, worked out with each edit."""

from decimal import Decimal

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.entries import EvidenceFields
from planebench.catalog.evidence_entry import parse_evidence
from planebench.catalog.values import Tool
from planebench.trade.evidence_input import EvidenceInput


@pytest.mark.parametrize(
    ("typed", "sure", "told"),
    [
        (["1902 or later"], "0.8", ("1902 or later", "one piece of evidence, 87% sure")),
        (["1902 or later"], "0.95", ("1902 or later", "one piece of evidence")),
        (["1909/1918"], "0.25", ("not dated", "")),
        (
            ["1894/1902", "1925/1930"],
            "0.95",
            ("1893 to 1903 or 1924 to 1931", "evidence disagrees"),
        ),
    ],
)
def test_the_row_of_a_tool_tells_its_years_and_their_doubt(
    catalog_with_batch: Catalog, tool: Tool, typed: list[str], sure: str, told: tuple[str, str]
) -> None:
    catalog = catalog_with_batch
    for years in typed:
        seen = EvidenceInput(kind="years", mark={"value": years}, seen=years, sure=Decimal(sure))
        fields = parse_evidence(seen, catalog.own_tables.evidence_tables()).fields
        catalog.evidence.add(tool.id, **EvidenceFields(**{**fields, "part_id": tool.parts[0].id}))

    line = catalog.tools.one(tool.id).line

    assert (line.made, line.made_basis) == told

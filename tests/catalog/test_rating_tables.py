"""The rating tables are read with their sources, and a damaged one is named."""

from pathlib import Path

import pytest

from planebench.catalog.rating_tables import load_currencies, load_rating_tables
from planebench.errors import FileError

RESOURCES = Path(__file__).parents[2] / "resources"


def test_every_row_names_its_source() -> None:
    tables = load_rating_tables(RESOURCES / "ratings")
    rows = [*tables.flaking.rows, *tables.protection.rows, *tables.rust_degree.rows]
    rows += tables.rust_grade.rows

    assert all(row.source for row in rows)
    assert len(rows) == 34


def test_metals_are_no_currency() -> None:
    currencies = load_currencies(RESOURCES / "money" / "iso4217.csv")

    assert "XAU" not in currencies
    assert currencies["USD"].name == "US Dollar"


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        ("grade,up_to_percent,status,source\nx,1,found,s\n", "is not a grade"),
        ("grade,up_to_percent,status,source\n1,5,heard,s\n", "is not a grade"),
        ("grade,up_to_percent,status,source\n1,5,found,s\n0,5,found,s\n", "limits of a table"),
        ("grade\n1\n", "is not a grade"),
    ],
)
def test_a_damaged_table_is_named_with_what_to_do(
    tmp_path: Path, content: str, reason: str
) -> None:
    (tmp_path / "iso4628_5_flaking.csv").write_text(content, encoding="utf-8")

    with pytest.raises(FileError, match=reason) as refused:
        load_rating_tables(tmp_path)

    assert refused.value.subject.endswith("iso4628_5_flaking.csv")
    assert "came with the program" in refused.value.remedy


def test_a_table_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"iso4217\.csv was not used"):
        load_currencies(tmp_path / "iso4217.csv")

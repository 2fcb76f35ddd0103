"""The tables for dating are read once, by one reader, and a user's own rows join them."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from planebench.catalog.dating_tables import dating_tables
from planebench.catalog.reference import resources_folder
from planebench.errors import FileError
from planebench.trade.dating import DatingSettings
from planebench.trade.evidence_parsing import KINDS
from planebench.trade.marks_patent_date import PatentDateRules

FOLDER = resources_folder() / "dating"
HEADER = (FOLDER / "clues.csv").read_text("utf-8").splitlines()[0]
OWN = "own_screw,Own screw,a star in the head,fastener,part,any,1955,,yes,0.8,0,own note,found,"


def test_the_constants_are_those_that_the_engine_assumes() -> None:
    tables = dating_tables()

    assert tables.settings == DatingSettings()
    assert tables.patent_dates == PatentDateRules()


def test_each_constant_has_its_reason_beside_it() -> None:
    constants = tomllib.loads((FOLDER / "constants.toml").read_text("utf-8"))
    kinds = constants.pop("kinds")
    names = [(table, name) for table, values in constants.items() for name in values]

    assert [
        n for _, n in names if not n.endswith("_reason") and (_, f"{n}_reason") not in names
    ] == []
    assert all(kind["reason"] for kind in kinds.values())
    assert set(KINDS) == kinds.keys()


def test_a_row_of_ones_own_joins_the_table(tmp_path: Path) -> None:
    (tmp_path / "clues.csv").write_text(f"{HEADER}\n{OWN}\n", "utf-8")

    clues = dating_tables(tmp_path).clues

    assert clues["own_screw"].not_before == 1955
    assert clues.keys() > dating_tables().clues.keys()


def test_a_row_with_a_known_id_replaces_it(tmp_path: Path) -> None:
    row = OWN.replace("own_screw", "cross_recess_screw")
    (tmp_path / "clues.csv").write_text(f"{HEADER}\n{row}\n", "utf-8")

    assert dating_tables(tmp_path).clues["cross_recess_screw"].not_before == 1955


@pytest.mark.parametrize(
    "row", [OWN.replace("1955", "long ago"), OWN.replace("yes", "perhaps"), "own_screw,too short"]
)
def test_a_wrong_row_is_named_with_its_file_and_line(tmp_path: Path, row: str) -> None:
    (tmp_path / "clues.csv").write_text(f"{HEADER}\n{row}\n", "utf-8")

    with pytest.raises(FileError, match=r"clues\.csv was not used: line 2"):
        dating_tables(tmp_path)


def test_a_file_that_is_no_text_is_named(tmp_path: Path) -> None:
    (tmp_path / "clues.csv").write_bytes(b"\xff\xfe\x00")

    with pytest.raises(FileError, match="cannot be read"):
        dating_tables(tmp_path)

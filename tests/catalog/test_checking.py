"""`check` finds what was done to a catalog behind its back, and nothing else."""

from __future__ import annotations

import datetime as dt
import random
import sqlite3
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.ids import ToolId
from planebench.catalog.import_types import Destination
from planebench.catalog.issued_sheets import NewSheet
from planebench.catalog.photo_import import import_photographs
from planebench.errors import CatalogError
from tests.catalog.shots import shot


@pytest.fixture
def filled(empty_catalog: Catalog, tool_id: ToolId, tmp_path: Path) -> Catalog:
    for number in range(3):
        shot(tmp_path / "card" / f"PL-{number}.jpg", seed=number)
    import_photographs(empty_catalog, [tmp_path / "card"], to=Destination(tool=tool_id))
    return empty_catalog


def first_original(catalog: Catalog) -> Path:
    return next(iter(catalog.originals.files()))


def told(catalog: Catalog) -> list[str]:
    return [finding.happened for finding in check(catalog)]


def test_a_sound_catalog_has_no_findings(filled: Catalog) -> None:
    assert check(filled) == ()


def test_a_missing_original_is_found_by_the_name_the_camera_gave_it(filled: Catalog) -> None:
    first_original(filled).unlink()

    (finding,) = check(filled)
    assert finding.subject.startswith("PL-")
    assert (
        finding.happened == "The original of this photograph is missing from the catalog’s folder."
    )


def test_a_changed_original_is_found(filled: Catalog) -> None:
    path = first_original(filled)
    path.write_bytes(path.read_bytes()[:-1] + b"x")

    assert told(filled) == ["The original of this photograph was changed after it was added."]


def test_files_that_no_record_knows_are_found(filled: Catalog) -> None:
    (filled.originals.folder / "holiday.jpg").write_bytes(b"sea")
    (filled.originals.folder / "ab").mkdir(exist_ok=True)
    (filled.originals.folder / "ab" / "abc.jpg.1.part").write_bytes(b"half")

    assert told(filled) == [
        "This file was only partly written.",
        "This file is among the originals but has no record.",
    ]


def test_a_missing_issued_sheet_is_found(filled: Catalog, tool_id: ToolId) -> None:
    new = NewSheet(tool=tool_id, number=1, content={}, pdf=b"%PDF", fingerprint="0" * 64)
    filled.sheets.issue(new)
    assert check(filled) == ()

    filled.sheets.path(filled.sheets.of_tool(tool_id)[0]).unlink()
    assert told(filled) == ["The file of this issued sheet is missing from the catalog’s folder."]


def test_a_record_that_points_nowhere_is_found(filled: Catalog) -> None:
    database = sqlite3.connect(filled.folder / "catalog.db")
    with database:
        database.execute(
            "UPDATE photograph SET tool_id = 'nobody' WHERE original_name = 'PL-1.jpg'"
        )
    database.close()

    assert any("points to a missing row" in words for words in told(filled))


def test_looking_can_be_stopped(filled: Catalog) -> None:
    first_original(filled).unlink()

    assert check(filled, stopped=lambda: True) == ()


def test_every_photograph_is_reported(filled: Catalog) -> None:
    reported: list[tuple[int, int]] = []
    check(filled, report=lambda done, total: reported.append((done, total)))

    assert reported == [(1, 3), (2, 3), (3, 3)]


@pytest.mark.parametrize("held", [b"", b"%PDF-1.7 another tool's sheet", b"holiday"])
def test_a_sheet_that_was_truncated_or_swapped_is_found(
    filled: Catalog, tool_id: ToolId, held: bytes
) -> None:
    new = NewSheet(tool=tool_id, number=1, content={}, pdf=b"%PDF-1.7 one", fingerprint="f" * 64)
    filled.sheets.issue(new)
    assert told(filled) == []

    (sheet,) = filled.sheets.of_tool(tool_id)
    filled.sheets.path(sheet).write_bytes(held)

    assert told(filled) == ["The file of this issued sheet was changed after it was issued."]


DAMAGED = [
    "UPDATE tool SET status = 'mislaid'",
    "UPDATE batch SET bought_on = 'yesterday'",
    "UPDATE batch SET price = 'dear'",
    "UPDATE photograph SET scale = '{\"kind\": '",
    "UPDATE photograph SET added_at = 'noon'",
    "UPDATE part SET status = CAST(x'ff' AS TEXT)",
]


@pytest.mark.parametrize("statement", DAMAGED)
def test_a_deep_check_finds_values_that_cannot_be_read(filled: Catalog, statement: str) -> None:
    with closing(sqlite3.connect(filled.folder / "catalog.db")) as connection, connection:
        connection.execute(statement)

    assert any(finding.subject for finding in check(filled, deep=True))


@pytest.mark.parametrize("seed", range(12))
def test_a_database_damaged_anywhere_makes_findings_and_no_error(
    filled: Catalog, clock: Callable[[], dt.datetime], seed: int
) -> None:
    """Bytes of the file are overwritten at random; opening refuses in words, or check answers."""
    folder, who = filled.folder, filled.store.who
    filled.close()
    database = folder / "catalog.db"
    data = bytearray(database.read_bytes())
    chance = random.Random(seed)  # noqa: S311 -- damage, not a secret
    for _ in range(40):
        at = chance.randrange(100, len(data) - 64)
        data[at : at + 64] = chance.randbytes(64)
    database.write_bytes(bytes(data))

    with suppress(CatalogError):
        catalog = Catalog.open(folder, who=who, clock=clock)
        findings = check(catalog, deep=True)
        catalog.close()
        assert all(finding.remedy for finding in findings)

"""`check` finds what was done to a catalog behind its back, and nothing else."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.ids import ToolId
from planebench.catalog.import_types import Destination
from planebench.catalog.issued_sheets import NewSheet
from planebench.catalog.photo_import import import_photographs
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
    assert finding.happened == "The original of this photograph is not in the catalog’s folder."


def test_a_changed_original_is_found(filled: Catalog) -> None:
    path = first_original(filled)
    path.write_bytes(path.read_bytes()[:-1] + b"x")

    assert told(filled) == ["The original of this photograph was changed after it was added."]


def test_files_that_no_record_knows_are_found(filled: Catalog) -> None:
    (filled.originals.folder / "holiday.jpg").write_bytes(b"sea")
    (filled.originals.folder / "ab").mkdir(exist_ok=True)
    (filled.originals.folder / "ab" / "abc.jpg.1.part").write_bytes(b"half")

    assert told(filled) == [
        "This file was written only in part.",
        "This file is among the photographs, and no record knows it.",
    ]


def test_a_missing_issued_sheet_is_found(filled: Catalog, tool_id: ToolId) -> None:
    new = NewSheet(tool=tool_id, number=1, content={}, pdf=b"%PDF", fingerprint="0" * 64)
    filled.sheets.issue(new)
    assert check(filled) == ()

    filled.sheets.path(filled.sheets.of_tool(tool_id)[0]).unlink()
    assert told(filled) == ["The file of this issued sheet is not in the catalog’s folder."]


def test_a_record_that_points_nowhere_is_found(filled: Catalog) -> None:
    database = sqlite3.connect(filled.folder / "catalog.db")
    with database:
        database.execute(
            "UPDATE photograph SET tool_id = 'nobody' WHERE original_name = 'PL-1.jpg'"
        )
    database.close()

    assert any("points to a tool that is not there" in words for words in told(filled))


def test_looking_can_be_stopped(filled: Catalog) -> None:
    first_original(filled).unlink()

    assert check(filled, stopped=lambda: True) == ()


def test_every_photograph_is_reported(filled: Catalog) -> None:
    reported: list[tuple[int, int]] = []
    check(filled, report=lambda done, total: reported.append((done, total)))

    assert reported == [(1, 3), (2, 3), (3, 3)]

"""A catalog or backup made by someone with bad intentions reaches nothing outside its folder."""

from __future__ import annotations

import json
import os
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from planebench.catalog.backups import MANIFEST, backup
from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.ids import ToolId
from planebench.catalog.import_types import Destination
from planebench.catalog.issued_sheets import NewSheet
from planebench.catalog.lock_file import IN_USE
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.restoring import restore
from planebench.errors import CatalogError, FileError
from tests.catalog.shots import shot

pytestmark = pytest.mark.skipif(os.name != "posix", reason="links and pipes of POSIX")


@pytest.fixture
def secret(tmp_path: Path) -> Path:
    path = tmp_path / "secret.txt"
    path.write_text("the key of the safe")
    return path


@pytest.fixture
def filled(empty_catalog: Catalog, tool_id: ToolId, tmp_path: Path) -> Catalog:
    shot(tmp_path / "card" / "PL-1.jpg", seed=1)
    import_photographs(empty_catalog, [tmp_path / "card"], to=Destination(tool=tool_id))
    new = NewSheet(tool=tool_id, number=1, content={}, pdf=b"%PDF-1.7 one", fingerprint="f" * 64)
    empty_catalog.sheets.issue(new)
    return empty_catalog


def change(catalog: Catalog, statement: str) -> None:
    with closing(sqlite3.connect(catalog.folder / "catalog.db")) as connection, connection:
        connection.execute("PRAGMA foreign_keys=OFF")
        connection.execute(statement)


def everything_in(folder: Path) -> str:
    files = (path for path in folder.rglob("*") if path.is_file())
    return "".join(path.read_bytes().decode("latin-1") for path in files)


@pytest.mark.parametrize("name", ["../../secret.txt", "/etc/passwd", "..", "", "a\0b", "C:\\x"])
def test_a_sheet_that_names_a_file_elsewhere_is_neither_copied_nor_opened(
    filled: Catalog, secret: Path, tool_id: ToolId, tmp_path: Path, name: str
) -> None:
    quoted = name.replace("\0", "'||char(0)||'")
    change(filled, f"UPDATE issued_sheet SET file_name = '{quoted}'")  # noqa: S608 -- fixed names

    made = backup(filled, tmp_path / "backups")

    assert secret.read_text() not in everything_in(made.folder)
    assert [f.happened for f in made.findings if "outside" in f.happened]
    assert [f.happened for f in check(filled) if "outside the catalog" in f.happened]
    (sheet,) = filled.sheets.of_tool(tool_id)
    with pytest.raises(CatalogError, match="does not name a file in the catalog"):
        filled.sheets.path(sheet)


def test_a_photograph_that_names_a_file_elsewhere_is_refused(
    filled: Catalog, secret: Path, tmp_path: Path
) -> None:
    change(filled, "UPDATE original SET sha256 = '../../secret', suffix = '.txt'")
    change(filled, "UPDATE photograph SET sha256 = '../../secret'")

    made = backup(filled, tmp_path / "backups")

    assert secret.read_text() not in everything_in(made.folder)
    assert any("does not name a file" in finding.happened for finding in check(filled))
    with pytest.raises(FileError):
        filled.originals.read("../../secret", ".txt")


def test_links_among_the_photographs_are_not_followed(
    filled: Catalog, secret: Path, tmp_path: Path
) -> None:
    original = next(filled.originals.files())
    original.unlink()
    original.symlink_to(secret)

    made = backup(filled, tmp_path / "backups")

    assert secret.read_text() not in everything_in(made.folder)
    with pytest.raises(FileError):
        filled.originals.read(original.stem, original.suffix)
    assert [finding.happened for finding in check(filled)]


def test_a_folder_of_photographs_that_is_a_link_is_not_followed(
    filled: Catalog, tmp_path: Path
) -> None:
    original = next(filled.originals.files())
    elsewhere = tmp_path / "elsewhere"
    original.parent.rename(elsewhere)
    original.parent.symlink_to(elsewhere)

    with pytest.raises(FileError):
        filled.originals.read(original.stem, original.suffix)
    assert backup(filled, tmp_path / "backups").findings


@pytest.mark.parametrize("name", [IN_USE, "catalog.db", "catalog.db-wal", "photos", "backups"])
def test_a_catalog_whose_own_files_are_links_is_refused_and_their_targets_left_alone(
    empty_folder: Path, secret: Path, clock, name: str
) -> None:
    target = secret
    if (empty_folder / name).exists():
        target = empty_folder.parent / "moved"
        (empty_folder / name).rename(target)
    (empty_folder / name).symlink_to(target)

    with pytest.raises(CatalogError, match="is a link to another place"):
        Catalog.open(empty_folder, who="R. Fenn", clock=clock)

    assert secret.read_text() == "the key of the safe"


def test_a_pipe_in_place_of_a_photograph_holds_nobody_up(filled: Catalog, tmp_path: Path) -> None:
    original = next(filled.originals.files())
    original.unlink()
    os.mkfifo(original)

    assert check(filled)
    assert backup(filled, tmp_path / "backups").findings
    with pytest.raises(FileError):
        filled.originals.read(original.stem, original.suffix)


@pytest.mark.parametrize("path", ["../x", "/x", "a\0b", "C:/x", "sheets/../../x", "a\\b"])
def test_a_backup_whose_list_leads_elsewhere_is_refused(
    filled: Catalog, tmp_path: Path, path: str
) -> None:
    made = backup(filled, tmp_path / "backups").folder
    manifest = json.loads((made / MANIFEST).read_text("utf-8"))
    manifest["files"].append({"path": path, "size": 1, "sha256": "0" * 64})
    (made / MANIFEST).write_text(json.dumps(manifest), "utf-8")

    with pytest.raises(CatalogError, match="names files outside the backup"):
        restore(made, tmp_path / "new")


def test_a_list_with_a_byte_order_mark_is_read(filled: Catalog, tmp_path: Path) -> None:
    made = backup(filled, tmp_path / "backups").folder
    text = (made / MANIFEST).read_text("utf-8")
    (made / MANIFEST).write_text(text, "utf-8-sig")

    assert restore(made, tmp_path / "new").findings == ()

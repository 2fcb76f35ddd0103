"""What a program that died left behind neither blocks a name nor stays for long."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planebench.catalog import opening, sqlite
from planebench.catalog.backups import backup
from planebench.catalog.catalog import Catalog
from planebench.catalog.restoring import restore


@pytest.fixture
def dead() -> int:
    """Return the number of a process that has ended."""
    with subprocess.Popen([sys.executable, "-c", ""]) as process:
        process.wait()
    return process.pid


def test_a_new_catalog_killed_on_its_way_does_not_block_its_name(tmp_path, clock, dead) -> None:
    half = tmp_path / f"Wendholm.{dead}-1.part"
    (half / "photos").mkdir(parents=True)

    Catalog.make(tmp_path / "Wendholm", who="R. Fenn", clock=clock).close()

    assert sorted(path.name for path in tmp_path.iterdir()) == ["Wendholm"]


def test_a_catalog_that_cannot_be_made_leaves_nothing(tmp_path, clock, monkeypatch) -> None:
    def fails(*_args: object, **_kept: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(opening, "_make_database", fails)
    with pytest.raises(opening.CatalogError, match="No space left"):
        Catalog.make(tmp_path / "Wendholm", who="R. Fenn", clock=clock)

    assert list(tmp_path.iterdir()) == []


def test_a_restore_killed_on_its_way_does_not_block_its_name(empty_catalog, tmp_path, dead) -> None:
    made = backup(empty_catalog, tmp_path / "backups").folder
    half = tmp_path / f"new.{dead}-1.part"
    half.mkdir()
    (half / "catalog.db").write_bytes(b"half")

    restore(made, tmp_path / "new")

    assert not half.exists()
    assert (tmp_path / "new" / "catalog.db").is_file()


def test_what_a_living_program_is_building_is_left_alone(tmp_path, clock) -> None:
    other = tmp_path / f"Wendholm.{os.getppid()}-1.part"
    other.mkdir()

    Catalog.make(tmp_path / "Wendholm", who="R. Fenn", clock=clock).close()

    assert other.is_dir()


def test_leftovers_within_a_catalog_go_at_the_next_opening(empty_folder, clock, dead) -> None:
    left = [
        empty_folder / ".write-test-123",
        empty_folder / "sheets" / f"0001-x.pdf.{dead}-1.part",
        empty_folder / "backups" / f"2026-03-14-090000.db.{dead}-1.part",
    ]
    for path in left:
        path.write_bytes(b"half")

    Catalog.open(empty_folder, who="R. Fenn", clock=clock).close()

    assert [path for path in left if path.exists()] == []


@pytest.mark.skipif(os.name != "posix", reason="modes of POSIX")
def test_other_accounts_of_the_machine_read_nothing(tmp_path, clock) -> None:
    old = os.umask(0o022)
    try:
        catalog = Catalog.make(tmp_path / "Wendholm", who="R. Fenn", clock=clock)
        catalog.batches.add(code="LOT7")
        made = backup(catalog, tmp_path / "backups").folder
        modes = {
            path: stat.S_IMODE(path.stat().st_mode)
            for top in (catalog.folder, made)
            for path in (top, *top.rglob("*"))
        }
        catalog.close()
    finally:
        os.umask(old)

    assert {path.name: oct(mode) for path, mode in modes.items() if mode & 0o077} == {}


@given(
    name=st.text(
        st.characters(exclude_characters="/\0", exclude_categories=["Cs"]), min_size=1, max_size=40
    )
)
@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_a_folder_s_name_means_that_folder_and_no_other(tmp_path: Path, name: str) -> None:
    """Names such as "My%20Planes" and "a?b" are addresses' special signs, and good names."""
    if name in {".", ".."} or len(name.encode()) > 200:
        return
    folder = tmp_path / "names" / name
    folder.mkdir(parents=True, exist_ok=True)

    engine = sqlite.open_database(folder / "catalog.db")
    with engine.begin() as connection:
        connection.exec_driver_sql("CREATE TABLE IF NOT EXISTS mine (id INTEGER)")
    engine.dispose()

    assert (folder / "catalog.db").is_file()
    assert {path.name for path in (tmp_path / "names").rglob("*.db")} == {"catalog.db"}
    (folder / "catalog.db").unlink()
    assert not list((tmp_path / "names").rglob("*.db"))
    assert not list(tmp_path.glob("*.db"))

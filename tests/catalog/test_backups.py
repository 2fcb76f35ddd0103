"""Backups hold everything, are kept by a stated rule, and are restored without overwriting."""

from __future__ import annotations

import datetime as dt
import hashlib
import json
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from planebench.catalog.backup_names import dated_backups
from planebench.catalog.backups import MANIFEST, backup
from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.dated_backups import back_up_if_due, to_keep
from planebench.catalog.ids import ToolId
from planebench.catalog.import_types import Destination
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.restoring import restore
from planebench.catalog.store import Clock
from planebench.catalog.tools import ToolFilter
from planebench.errors import CatalogError
from tests.catalog.shots import shot

NOON = dt.datetime(2026, 3, 14, 12, 0)  # noqa: DTZ001 -- a wall clock's time


@pytest.fixture
def filled(empty_catalog: Catalog, tool_id: ToolId, tmp_path: Path) -> Catalog:
    for number in range(3):
        shot(tmp_path / "card" / f"PL-{number}.jpg", seed=number)
    import_photographs(empty_catalog, [tmp_path / "card"], to=Destination(tool=tool_id))
    return empty_catalog


@pytest.fixture
def restored(tmp_path: Path, clock: Clock) -> Iterator[list[Catalog]]:
    opened: list[Catalog] = []
    yield opened
    for catalog in opened:
        catalog.close()


def names(catalog: Catalog) -> list[str]:
    tools = catalog.tools.find(ToolFilter())
    return [photo.original_name for tool in tools for photo in catalog.tools.one(tool).photographs]


def days_ago(*days: float) -> list[dt.datetime]:
    return [NOON - dt.timedelta(days=day) for day in days]


KEPT = [
    ([], []),
    ([400], [400]),
    ([0, 0.1, 0.2, 6.9], [0, 0.1, 0.2, 6.9]),
    # 8, 9 and 10 days before Saturday, 14 March 2026 lie in one week.
    ([0, 8, 9, 10], [0, 8]),
    ([0, 20, 27, 34], [0, 20, 27, 34]),
    # Beyond eight weeks the last of each month: 90 and 95 days before lie in December.
    ([0, 90, 95, 110], [0, 90, 110]),
    ([0, 364, 380, 800], [0]),
]


@pytest.mark.parametrize(("had", "kept"), KEPT)
def test_copies_are_kept_by_the_rule(had: list[float], kept: list[float]) -> None:
    assert sorted(to_keep(days_ago(*had), NOON)) == sorted(days_ago(*kept))


def test_a_year_of_daily_copies_leaves_few_and_stays_so() -> None:
    times: set[dt.datetime] = set()
    for day in range(800):
        now = NOON + dt.timedelta(days=day)
        times = set(to_keep({*times, now}, now))

    ages = sorted((NOON + dt.timedelta(days=799) - at).days for at in times)
    assert ages[:7] == [0, 1, 2, 3, 4, 5, 6]
    assert len(times) <= 7 + 8 + 12
    assert 300 < ages[-1] <= 366


def test_a_dated_copy_is_made_once_a_day_and_only_after_a_change(
    filled: Catalog, monkeypatch: pytest.MonkeyPatch
) -> None:
    start = dt.datetime(2026, 3, 20, 12, 0, tzinfo=dt.UTC)
    made = []
    for hours in (0, 1, 25, 49):
        monkeypatch.setattr(filled.store, "clock", lambda h=hours: start + dt.timedelta(hours=h))
        if hours == 49:
            filled.batches.add(code="LOT8")
        made.append(back_up_if_due(filled.store) is not None)

    assert made == [True, False, False, True]
    assert sorted(dated_backups(filled.folder / "backups")) == [
        dt.datetime(2026, 3, 20, 12, 0),  # noqa: DTZ001 -- a wall clock's time
        dt.datetime(2026, 3, 22, 13, 0),  # noqa: DTZ001 -- a wall clock's time
    ]


def test_a_full_backup_is_a_whole_catalog(
    filled: Catalog, tmp_path: Path, clock: Clock, restored: list[Catalog]
) -> None:
    written = backup(filled, tmp_path / "usb")

    assert written.folder.name.startswith("Wendholm workshop-2026-03-14-")
    assert written.findings == ()
    manifest = json.loads((written.folder / MANIFEST).read_text("utf-8"))
    for file in manifest["files"]:
        data = (written.folder / file["path"]).read_bytes()
        assert hashlib.sha256(data).hexdigest() == file["sha256"]
    shutil.copytree(written.folder, tmp_path / "opened")
    restored.append(Catalog.open(tmp_path / "opened", who="R. Fenn", clock=clock))
    assert check(restored[0]) == ()


def test_two_backups_in_one_minute_stand_side_by_side(filled: Catalog, tmp_path: Path) -> None:
    at = dt.datetime(2026, 3, 14, 12, 0, tzinfo=dt.UTC)
    filled.store.clock = lambda: at
    folders = [backup(filled, tmp_path).folder.name for _ in range(2)]

    assert folders == [
        "Wendholm workshop-2026-03-14-1200",
        "Wendholm workshop-2026-03-14-1200-2",
    ]


def test_what_is_missing_is_told_and_the_rest_is_backed_up(filled: Catalog, tmp_path: Path) -> None:
    missing, damaged, _ = filled.originals.files()
    missing.unlink()
    damaged.write_bytes(b"x")
    written = backup(filled, tmp_path)

    assert len(written.findings) == 2
    assert {finding.subject[:3] for finding in written.findings} == {"PL-"}
    assert len(list((written.folder / "photos").rglob("*.jpg"))) == 1


def test_without_room_nothing_is_left(
    filled: Catalog, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    usage = shutil.disk_usage(tmp_path)._replace(free=10)
    monkeypatch.setattr(shutil, "disk_usage", lambda _path: usage)
    with pytest.raises(CatalogError, match=r"This needs . MB and the disk has 0 MB free"):
        backup(filled, tmp_path / "usb")

    assert list((tmp_path / "usb").iterdir()) == []


def test_a_full_backup_is_restored(
    filled: Catalog, tmp_path: Path, clock: Clock, restored: list[Catalog]
) -> None:
    written = backup(filled, tmp_path / "usb")
    result = restore(written.folder, tmp_path / "new")
    restored.append(Catalog.open(tmp_path / "new", who="R. Fenn", clock=clock))

    assert result.findings == ()
    assert check(restored[0]) == ()
    assert names(restored[0]) == ["PL-0.jpg", "PL-1.jpg", "PL-2.jpg"]


def test_a_dated_copy_is_restored_with_the_photographs_of_its_day(
    filled: Catalog, tool_id: ToolId, tmp_path: Path, clock: Clock, restored: list[Catalog]
) -> None:
    copy = back_up_if_due(filled.store)
    assert copy is not None
    later = shot(tmp_path / "later.jpg", seed=9)
    import_photographs(filled, [later], to=Destination(tool=tool_id))
    restore(copy, tmp_path / "new")
    restored.append(Catalog.open(tmp_path / "new", who="R. Fenn", clock=clock))

    assert check(restored[0]) == ()
    assert names(restored[0]) == ["PL-0.jpg", "PL-1.jpg", "PL-2.jpg"]


def test_a_damaged_photograph_in_a_backup_is_named_and_the_rest_restored(
    filled: Catalog, tmp_path: Path
) -> None:
    written = backup(filled, tmp_path / "usb")
    path = next((written.folder / "photos").rglob("*.jpg"))
    path.write_bytes(b"x")
    result = restore(written.folder, tmp_path / "new")

    assert [finding.subject.endswith(path.name) for finding in result.findings] == [True]
    assert len(list((tmp_path / "new" / "photos").rglob("*.jpg"))) == 2


def test_a_damaged_database_is_not_restored(filled: Catalog, tmp_path: Path) -> None:
    written = backup(filled, tmp_path / "usb")
    with (written.folder / "catalog.db").open("r+b") as file:
        file.seek(5000)
        file.write(b"x" * 100)
    with pytest.raises(CatalogError, match="database of this backup is damaged"):
        restore(written.folder, tmp_path / "new")

    assert not (tmp_path / "new").exists()


def test_nothing_is_overwritten(filled: Catalog, tmp_path: Path) -> None:
    written = backup(filled, tmp_path / "usb")
    (tmp_path / "new").mkdir()
    (tmp_path / "new" / "letter.txt").write_text("dear", "utf-8")
    with pytest.raises(CatalogError, match="is not an empty folder"):
        restore(written.folder, tmp_path / "new")

    assert [path.name for path in (tmp_path / "new").iterdir()] == ["letter.txt"]


def no_manifest(folder: Path) -> None:
    (folder / MANIFEST).unlink()


def torn_manifest(folder: Path) -> None:
    (folder / MANIFEST).write_text('{"files": [', "utf-8")


def hostile_manifest(folder: Path) -> None:
    files = [{"path": "../../etc/passwd", "size": 1, "sha256": "0" * 64}]
    (folder / MANIFEST).write_text(json.dumps({"files": files}), "utf-8")


@pytest.mark.parametrize(
    ("spoil", "why"),
    [
        (no_manifest, "has no manifest"),
        (torn_manifest, "is damaged"),
        (hostile_manifest, "names files outside the backup"),
    ],
)
def test_what_is_no_backup_is_refused(
    filled: Catalog, tmp_path: Path, spoil: Callable[[Path], None], why: str
) -> None:
    written = backup(filled, tmp_path / "usb")
    spoil(written.folder)
    with pytest.raises(CatalogError, match=why):
        restore(written.folder, tmp_path / "new")

    assert not (tmp_path / "new").exists()


def test_copies_dated_by_a_clock_that_was_ahead_neither_stop_new_ones_nor_go(
    empty_catalog: Catalog, tool_id: ToolId
) -> None:
    """A clock once set to 2040 dated a copy; now it is right again."""
    folder = empty_catalog.folder / "backups"
    (folder / "2040-01-01-120000.db").write_bytes(b"of another year")

    made = back_up_if_due(empty_catalog.store)

    assert made is not None
    assert (folder / "2040-01-01-120000.db").exists()


def test_a_clock_set_years_ahead_takes_two_old_copies_at_most(
    empty_catalog: Catalog, tool_id: ToolId
) -> None:
    folder = empty_catalog.folder / "backups"
    for days in range(1, 31):
        (folder / f"{NOON - dt.timedelta(days=days):%Y-%m-%d-%H%M%S}.db").write_bytes(b"old")
    store = empty_catalog.store
    store.clock = lambda: dt.datetime(2040, 1, 1, 12, 0, tzinfo=dt.UTC)

    assert back_up_if_due(store) is not None

    assert len(dated_backups(folder)) == 30 + 1 - 2


def test_a_clock_behind_the_history_throws_nothing_away(
    empty_catalog: Catalog, tool_id: ToolId
) -> None:
    folder = empty_catalog.folder / "backups"
    for days in range(1, 31):
        (folder / f"{NOON - dt.timedelta(days=400 + days):%Y-%m-%d-%H%M%S}.db").write_bytes(b"old")
    store = empty_catalog.store
    store.clock = lambda: dt.datetime(2025, 3, 1, 12, 0, tzinfo=dt.UTC)

    assert back_up_if_due(store) is not None

    assert len(dated_backups(folder)) == 31


def damage(database: Path) -> None:
    """Leave a photograph that points to no original, as a failing disk or another program may."""
    with closing(sqlite3.connect(database)) as connection, connection:
        connection.execute("PRAGMA foreign_keys=OFF")
        connection.execute("UPDATE photograph SET sha256 = 'gone'")


def test_a_damaged_database_makes_no_backup_and_the_last_good_one_is_named(
    filled: Catalog, tmp_path: Path
) -> None:
    good = back_up_if_due(filled.store)
    damage(filled.folder / "catalog.db")

    with pytest.raises(CatalogError, match="is damaged, so no backup was made") as refused:
        backup(filled, tmp_path / "usb")

    assert good is not None
    assert good.name in refused.value.remedy
    assert list((tmp_path / "usb").iterdir()) == []


def test_a_damaged_database_is_no_dated_copy_and_takes_no_other_away(filled: Catalog) -> None:
    folder = filled.folder / "backups"
    for days in range(1, 31):
        (folder / f"{NOON - dt.timedelta(days=days):%Y-%m-%d-%H%M%S}.db").write_bytes(b"old")
    store = filled.store
    store.clock = lambda: dt.datetime(2026, 3, 16, 12, 0, tzinfo=dt.UTC)
    damage(filled.folder / "catalog.db")

    with pytest.raises(CatalogError, match="is damaged"):
        back_up_if_due(store)

    assert len(dated_backups(folder)) == 30

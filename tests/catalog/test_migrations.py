"""Catalogs made by earlier versions of the tables keep all they hold, and go back too."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from planebench.catalog import opening, sqlite
from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.history import History
from planebench.catalog.tools import ToolFilter
from planebench.trade.terms import ToolStatus

DATA = Path(__file__).parent / "data"


def catalog_of(version: str, folder: Path) -> Path:
    """Make a catalog as an earlier version wrote it."""
    shutil.copytree(DATA / f"tables_{version}" / "photos", folder / "photos")
    script = (DATA / f"tables_{version}" / "catalog.sql").read_text("utf-8")
    with closing(sqlite3.connect(folder / "catalog.db")) as connection:
        connection.executescript(script)
    return folder


def dump(database: Path) -> list[str]:
    with closing(sqlite3.connect(database)) as connection:
        return sorted(line for line in connection.iterdump() if line.startswith("INSERT"))


@pytest.fixture
def old(tmp_path: Path) -> Path:
    return catalog_of("0001", tmp_path / "Wendholm workshop")


def test_a_catalog_of_the_first_version_opens_with_all_it_held(old, clock):
    catalog = Catalog.open(old, who="R. Fenn", clock=clock)

    first, second = map(catalog.tools.one, catalog.tools.find(ToolFilter()))
    assert [e.seen for e in first.evidence] == ["Foundry mark"]
    assert [d.as_typed for d in first.dimensions] == ["9 1/2 in"]
    assert [w.disclosed for w in first.work] == [True]
    assert [(d.disclosed, d.why_not_disclosed) for d in first.defects] == [(True, "")]
    assert {pin.evidence for pin in first.pins} == {None, first.evidence[0].id}
    assert first.defects_inspected
    assert second.status == ToolStatus.NOT_FOR_SALE
    assert catalog.settings.read().guarantee == "Send it back within 14 days."
    assert list(catalog.own_tables.evidence_tables().clues)[-1] == "mine_1"
    assert check(catalog) == ()
    catalog.close()


def test_a_backup_from_before_the_migration_is_kept(old, clock):
    before = dump(old / "catalog.db")

    Catalog.open(old, who="R. Fenn", clock=clock).close()

    (backup,) = (old / "backups").glob("*-before-*.db")
    assert dump(backup) == before


def test_edits_made_before_the_migration_are_undone_and_redone_after_it(old, clock):
    catalog = Catalog.open(old, who="R. Fenn", clock=clock)
    history = catalog.history
    tool = catalog.tools.find(ToolFilter())[0]
    whole = catalog.tools.one(tool)

    undone = undo_all(history)
    assert catalog.tools.find(ToolFilter()) == ()
    assert catalog.settings.read().guarantee == ""
    for _ in undone:
        history.redo()

    again = catalog.tools.one(tool)
    assert [e.seen for e in again.evidence] == [e.seen for e in whole.evidence]
    assert [d.disclosed for d in again.defects] == [True]
    assert [p.evidence for p in again.pins] == [p.evidence for p in whole.pins]
    assert catalog.settings.read().guarantee == "Send it back within 14 days."
    catalog.close()


def undo_all(history: History) -> list[str]:
    words = []
    while (changes := history.undo()).words:
        words.append(changes.words)
    return words


def test_revision_0002_goes_back_to_what_the_first_version_wrote(old):
    before = dump(old / "catalog.db")
    engine = sqlite.open_database(old / "catalog.db")

    opening.migrate(engine, "0002")
    opening.migrate(engine, "0001")
    engine.dispose()

    assert dump(old / "catalog.db") == before


def test_a_migration_that_fails_midway_changes_nothing(old):
    """The rename of a column that was renamed by someone else fails after half of the others."""
    with closing(sqlite3.connect(old / "catalog.db")) as connection:
        connection.execute("ALTER TABLE work RENAME COLUMN told TO said")
    before = dump(old / "catalog.db")
    engine = sqlite.open_database(old / "catalog.db")

    with pytest.raises(Exception, match="no such column"):
        opening.migrate(engine)
    engine.dispose()

    assert dump(old / "catalog.db") == before
    with closing(sqlite3.connect(old / "catalog.db")) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone() == ("0001",)


def test_what_is_worked_out_of_a_tool_is_filled_anew_after_the_migration(old, clock):
    with closing(sqlite3.connect(old / "catalog.db")) as connection, connection:
        connection.execute("UPDATE tool SET search_text = 'words of an earlier version'")

    catalog = Catalog.open(old, who="R. Fenn", clock=clock)

    assert len(catalog.tools.find(ToolFilter(words="halbeck"))) == 1
    assert catalog.history.lines()[0].words == "Took back: LOT7-001 sign 2 entered"
    catalog.close()


def test_revision_0003_keeps_sheets_issued_before_it(old, clock):
    engine = sqlite.open_database(old / "catalog.db")
    opening.migrate(engine, "0002")
    with engine.begin() as connection:
        connection.exec_driver_sql(
            "INSERT INTO issued_sheet (id, version, tool_id, number, issued_at, issued_by,"
            " file_name, fingerprint, content) SELECT 's', 1, id, 1, created_at, 'R. Fenn',"
            " '0001-x.pdf', 'f', '{}' FROM tool LIMIT 1"
        )
    before = dump(old / "catalog.db")

    opening.migrate(engine, "0003")
    opening.migrate(engine, "0002")
    assert dump(old / "catalog.db") == before
    engine.dispose()

    (old / "sheets").mkdir(exist_ok=True)
    (old / "sheets" / "0001-x.pdf").write_bytes(b"%PDF-1.7")
    catalog = Catalog.open(old, who="R. Fenn", clock=clock)
    assert check(catalog) == ()
    catalog.close()

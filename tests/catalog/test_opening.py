import json
import sqlite3

import pytest
from sqlalchemy import create_engine, inspect

from planebench.catalog import opening
from planebench.catalog.catalog import Catalog
from planebench.catalog.tables import Row
from planebench.errors import CatalogBusyError, CatalogError, CatalogNewerError


def open_(folder, clock):
    return Catalog.open(folder, who="R. Fenn", clock=clock)


def test_a_catalog_is_one_folder(empty_folder):
    names = {path.name for path in empty_folder.iterdir()}

    assert names == {"catalog.db", "photos", "sheets", "backups"}


def test_a_folder_without_a_database_is_refused_and_left_alone(tmp_path, clock):
    with pytest.raises(CatalogError, match="is not a catalog"):
        open_(tmp_path, clock)

    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_no_database_is_refused(empty_folder, clock):
    (empty_folder / "catalog.db").write_text("shopping list")

    with pytest.raises(CatalogError, match=r"its catalog\.db is not a database"):
        open_(empty_folder, clock)


def test_a_database_of_another_program_is_refused(tmp_path, clock):
    with sqlite3.connect(tmp_path / "catalog.db") as connection:
        connection.execute("CREATE TABLE recipe (id INTEGER)")
    connection.close()

    with pytest.raises(CatalogError, match="made by another program"):
        open_(tmp_path, clock)


def test_a_damaged_database_is_refused_in_words(empty_folder, clock):
    database = empty_folder / "catalog.db"
    data = bytearray(database.read_bytes())
    data[100:4000] = b"\xff" * 3900
    database.write_bytes(bytes(data))

    with pytest.raises(CatalogError, match="is damaged"):
        open_(empty_folder, clock)


def test_a_newer_catalog_is_refused_with_both_versions_and_left_as_it_was(empty_folder, clock):
    with sqlite3.connect(empty_folder / "catalog.db") as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
        connection.execute("UPDATE catalog_info SET written_by = '7.1'")
    connection.close()
    before = (empty_folder / "catalog.db").read_bytes()

    with pytest.raises(CatalogNewerError, match=r"7\.1 \(tables 9999\)"):
        open_(empty_folder, clock)

    assert (empty_folder / "catalog.db").read_bytes() == before


def test_a_catalog_open_on_another_machine_is_refused_by_its_name(empty_folder, clock):
    mark = {"machine": "attic-pc", "process": 1, "since": "2026-03-14T09:00"}
    (empty_folder / opening.IN_USE).write_text(json.dumps(mark))

    with pytest.raises(CatalogBusyError, match="has been open on attic-pc"):
        open_(empty_folder, clock)


def test_a_new_catalog_does_not_settle_in_a_folder_that_is_not_empty(tmp_path, clock):
    (tmp_path / "letters.txt").write_text("dear")

    with pytest.raises(CatalogError, match="is not an empty folder"):
        Catalog.make(tmp_path, who="R. Fenn", clock=clock)

    assert [path.name for path in tmp_path.iterdir()] == ["letters.txt"]


def test_every_revision_goes_up_and_comes_back(tmp_path):
    engine = create_engine(f"sqlite:///{tmp_path / 'c.db'}")

    for revision in opening.known_revisions():
        opening.migrate(engine, revision)
    assert set(inspect(engine).get_table_names()) == {*Row.metadata.tables, "alembic_version"}

    opening.migrate(engine, "base")
    assert inspect(engine).get_table_names() == ["alembic_version"]
    engine.dispose()


def test_migrated_tables_have_the_columns_of_the_rows(tmp_path):
    engine = create_engine(f"sqlite:///{tmp_path / 'c.db'}")
    opening.migrate(engine)

    found = inspect(engine)
    for name, table in Row.metadata.tables.items():
        assert {c["name"] for c in found.get_columns(name)} == set(table.columns.keys())
    engine.dispose()


def test_closing_leaves_one_database_file(empty_folder, clock):
    open_(empty_folder, clock).close()

    assert [p.name for p in empty_folder.iterdir() if p.is_file()] == ["catalog.db"]

"""Holds every migration of the catalog to a test that walks it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
VERSIONS = sorted((ROOT / "planebench" / "catalog" / "migrations" / "versions").glob("[0-9]*.py"))
TESTS = "".join(path.read_text("utf-8") for path in (ROOT / "tests" / "catalog").glob("*.py"))


def test_the_first_revision_is_there() -> None:
    assert [path.name[:4] for path in VERSIONS][:1] == ["0001"]


@pytest.mark.parametrize("path", VERSIONS, ids=lambda path: path.stem)
def test_each_migration_goes_both_ways(path: Path) -> None:
    text = path.read_text("utf-8")

    assert "def upgrade()" in text
    assert "def downgrade()" in text


def test_a_test_walks_all_of_them() -> None:
    assert "known_revisions()" in TESTS


def test_each_migration_after_the_first_has_a_test_that_names_it() -> None:
    """The first finds no data; every later one must show that it carries what was there."""
    revisions = [
        re.search(r'^revision(?:: str)? = "(\w+)"', path.read_text("utf-8"), re.MULTILINE)
        for path in VERSIONS[1:]
    ]

    assert [found[1] for found in revisions if found and f'"{found[1]}"' not in TESTS] == []

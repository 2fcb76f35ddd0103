"""Holds every migration of the catalog to a test that walks it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
VERSIONS = sorted((ROOT / "planebench" / "catalog" / "migrations" / "versions").glob("[0-9]*.py"))


def test_the_first_revision_is_there() -> None:
    assert [path.name[:4] for path in VERSIONS][:1] == ["0001"]


@pytest.mark.parametrize("path", VERSIONS, ids=lambda path: path.stem)
def test_each_migration_goes_both_ways_and_is_named_by_a_test(path: Path) -> None:
    text = path.read_text("utf-8")
    revision = re.search(r'^revision(?:: str)? = "(\w+)"', text, re.MULTILINE)
    assert revision is not None
    tests = "".join(test.read_text("utf-8") for test in (ROOT / "tests" / "catalog").glob("*.py"))

    assert "def upgrade()" in text
    assert "def downgrade()" in text
    assert f'"{revision[1]}"' in tests

"""Drafts of entries that were begun but not added."""

from __future__ import annotations

from pathlib import Path

import pytest

from planebench.catalog.drafts import Drafts
from planebench.errors import FileError


def test_a_draft_is_there_after_a_restart_until_it_is_emptied(tmp_path: Path) -> None:
    path = tmp_path / "drafts.json"
    Drafts(path).keep("tool", "defects new", {"place": "left cheek"})

    kept = Drafts(path).of("tool")
    Drafts(path).keep("tool", "defects new", {})

    assert kept == {"defects new": {"place": "left cheek"}}
    assert Drafts(path).of("tool") == {}


def test_a_damaged_file_counts_as_no_drafts_and_is_written_anew(tmp_path: Path) -> None:
    path = tmp_path / "drafts.json"
    path.write_text('["half', "utf-8")
    drafts = Drafts(path)

    found = drafts.of("tool")
    drafts.keep("tool", "work new", {"what": "rust off"})

    assert found == {}
    assert drafts.of("tool") == {"work new": {"what": "rust off"}}


def test_a_draft_that_cannot_be_written_says_what_to_do(tmp_path: Path) -> None:
    drafts = Drafts(tmp_path / "gone" / "drafts.json")

    with pytest.raises(FileError, match="cannot be kept"):
        drafts.keep("tool", "work new", {"what": "rust off"})

"""The fingerprint stands for what a sheet says, and for nothing else."""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from pathlib import Path

from planebench.sheet.content import Paper, SheetContent
from planebench.sheet.fingerprint import canonical_json, fingerprint, format_fingerprint
from tests.sheet.examples import full


def test_the_same_words_on_other_paper_keep_the_fingerprint() -> None:
    content = full()
    on_a4 = replace(content, choices=replace(content.choices, paper=Paper.A4))

    assert fingerprint(content) == fingerprint(on_a4)


def test_a_photograph_moved_to_another_folder_keeps_the_fingerprint() -> None:
    assert fingerprint(_with_main_at(Path("elsewhere.jpg"))) == fingerprint(full())


def test_any_changed_word_changes_the_fingerprint() -> None:
    content = full()

    assert fingerprint(replace(content, price="$166.00")) != fingerprint(content)
    assert fingerprint(replace(content, know_first=())) != fingerprint(content)


def test_the_fingerprint_can_be_worked_out_again_from_the_canonical_text() -> None:
    content = full()
    said = json.loads(canonical_json(content))

    assert said["title"] == content.title
    assert hashlib.sha256(canonical_json(content).encode()).hexdigest() == fingerprint(content)


def test_ten_digits_are_shown_in_groups_of_four() -> None:
    assert format_fingerprint("7c1e9a44d2" + "0" * 54) == "7c1e 9a44 d2"


def _with_main_at(file: Path) -> SheetContent:
    content = full()
    assert content.photographs.main is not None
    main = replace(content.photographs.main, file=file)
    return replace(content, photographs=replace(content.photographs, main=main))

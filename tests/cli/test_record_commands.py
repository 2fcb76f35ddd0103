"""list, history, undo and redo do from the command line what the window does."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.cli.app import run


@pytest.fixture
def shop(empty_catalog: Catalog, tool_id: ToolId) -> Path:
    empty_catalog.tools.change(tool_id, note="from a ship’s chandler")
    empty_catalog.close()
    return empty_catalog.folder


def answer(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, dict[str, object]]:
    code = run([*words, "--json"])
    return code, json.loads(capsys.readouterr().out)


def test_tools_are_listed_and_found_by_words(shop: Path, capsys) -> None:
    _, everything = answer(capsys, "list", str(shop))
    _, found = answer(capsys, "list", str(shop), "chandler")
    _, none = answer(capsys, "list", str(shop), "cooper")
    _, sold = answer(capsys, "list", str(shop), "--status", "sold")

    assert everything == found
    assert [tool["stock"] for tool in everything["tools"]] == ["LOT7-001"]
    assert none == sold == {"tools": []}


def test_the_history_tells_who_changed_what_newest_first(shop: Path, capsys) -> None:
    _, told = answer(capsys, "history", str(shop), "--stock", "LOT7-001")

    assert [(line["who"], line["change"]) for line in told["changes"]] == [
        ("R. Fenn", "LOT7-001 changed: note"),
        ("R. Fenn", "LOT7-001 added"),
    ]


def test_a_change_is_undone_and_redone(shop: Path, capsys) -> None:
    assert answer(capsys, "undo", str(shop)) == (0, {"done": "Undone: LOT7-001 changed: note"})
    assert answer(capsys, "list", str(shop), "chandler")[1] == {"tools": []}
    assert answer(capsys, "redo", str(shop)) == (0, {"done": "Redone: LOT7-001 changed: note"})
    assert answer(capsys, "redo", str(shop)) == (1, {"done": ""})
    assert len(answer(capsys, "list", str(shop), "chandler")[1]["tools"]) == 1

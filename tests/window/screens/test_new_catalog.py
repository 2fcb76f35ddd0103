"""The name of a new catalog."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from planebench.window.screens.new_catalog.new_catalog_screen import NewCatalogScreen


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("Käthe/bench: one", "cannot contain /. Try Käthe bench one."),
        (".bench", "begins with a dot is hidden. Try bench."),
        ("", "A catalog needs a name. Try Wendholm workshop."),
        ("b" * 90, f"up to 80 characters. Try {'b' * 80}."),
    ],
)
def test_a_name_that_will_not_do_is_offered_as_it_would(
    qtbot: QtBot, typed: str, told: str
) -> None:
    page = NewCatalogScreen(Path("bench"))
    qtbot.addWidget(page)
    page.name.line.setText(typed)

    qtbot.keyClick(page.name.line, Qt.Key.Key_Return)

    assert page.name.trouble.endswith(told)

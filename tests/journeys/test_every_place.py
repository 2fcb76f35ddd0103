"""On the sample: each screen is reached by the menus, and Esc comes back from each."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from planebench.window import routes, screen_table
from planebench.window.screens.batch.batch_screen import BatchScreen
from planebench.window.screens.tool.tool_screen import ToolScreen

# What is chosen in which menu, and the screen that it leads to, with a tool in hand.
MENUS = (
    ("Catalog", "Settings", "SettingsScreen"),
    ("Catalog", "Kinds of plane and their parts", "KindsScreen"),
    ("Catalog", "History", "HistoryScreen"),
    ("Catalog", "Bin", "BinScreen"),
    ("Catalog", "Backups and checks", "BackupsScreen"),
    ("Batch", "All batches", "BatchesScreen"),
    ("Batch", "All tools", "BatchScreen"),
    ("Batch", "Photographs still to take", "ViewsMissingScreen"),
    ("Batch", "Print scale cards and tags…", "CardsScreen"),
    ("Tool", "Open", "ToolScreen"),
    ("Tool", "Date it", "DatingScreen"),
    ("Tool", "Before and after", "PairScreen"),
    ("Tool", "Print scale card…", "CardsScreen"),
    ("Tool", "History", "HistoryScreen"),
    ("Photograph", "Add photographs…", "PhotoImportScreen"),
    ("Photograph", "Still to take", "ViewsMissingScreen"),
    ("Sheet", "Condition sheet…", "SheetScreen"),
    ("Sheet", "Seller and guarantee", "SettingsScreen"),
)


@pytest.fixture
def at_a_tool(qtbot, workshop, sample_folder, settled):
    workshop.open_catalog(sample_folder)
    # The sample has one batch, so that its tools are seen at once.
    assert isinstance(settled(workshop), BatchScreen)
    workshop.frame.activateWindow()
    qtbot.waitUntil(workshop.frame.isActiveWindow)
    number = workshop.catalog.tools.by_stock_number("LOT7-003")
    workshop.go(routes.ToolRoute(tool=number))
    assert isinstance(settled(workshop), ToolScreen)
    return workshop


def esc(qtbot, workshop, settled):
    frame = workshop.frame
    qtbot.keyClick(frame.focusWidget() or frame, Qt.Key.Key_Escape)
    return settled(workshop)


def test_every_place_of_the_menus_is_reached_and_esc_comes_back(qtbot, at_a_tool, settled, choose):
    stuck = []
    for menu, words, screen in MENUS:
        start = at_a_tool.current_screen
        place = choose(at_a_tool, menu, words)
        if type(place).__name__ != screen:
            stuck.append(f"{menu}, {words}: {type(place).__name__}")
        elif esc(qtbot, at_a_tool, settled) is not start:
            stuck.append(
                f"{menu}, {words}: Esc left one at {type(at_a_tool.current_screen).__name__}"
            )
        while at_a_tool.current_screen is not start and len(at_a_tool._history) > 1:
            at_a_tool.up()

    assert stuck == []


def test_the_photograph_is_reached_from_its_tool_by_enter_and_esc_comes_back(
    qtbot, at_a_tool, settled
):
    tool = at_a_tool.current_screen
    tool.picture.view.setFocus()
    qtbot.keyClick(tool.picture.view, Qt.Key.Key_Return)
    photograph = settled(at_a_tool)

    assert type(photograph).__name__ == "PhotographScreen"
    assert photograph.selected_tools == tool.selected_tools
    assert esc(qtbot, at_a_tool, settled) is tool


def test_the_menus_lead_to_every_place_but_the_photograph() -> None:
    reached = {screen for _, _, screen in MENUS}

    assert len(reached) == len(screen_table._SCREEN_MAKERS) - 1

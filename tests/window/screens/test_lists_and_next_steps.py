"""Lists by key and mouse: what is selected after a deletion, menus, and what is asked before."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QItemSelectionModel, QPoint, Qt
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot

from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.tools import NewTool, ToolFilter
from planebench.trade.terms import PartStatus, ToolStatus
from planebench.window.context import ScreenContext
from planebench.window.pieces.screen import Screen
from planebench.window.screens.batch.batch_screen import BatchScreen
from planebench.window.screens.batches.batches_screen import BatchesScreen
from planebench.window.screens.history.history_screen import HistoryScreen
from planebench.window.screens.kinds.kinds_screen import KindsScreen
from planebench.window.screens.tool.tool_screen import ToolScreen

Show = Callable[[Screen], Screen]
DELETE, LEFT = Qt.Key.Key_Delete, Qt.MouseButton.LeftButton


def add_tools(given: ScreenContext, batch: BatchId, count: int) -> list[ToolId]:
    return [given.catalog.tools.add(batch, NewTool(kind="block")).id for _ in range(count)]


def entries_of(screen: Screen) -> dict[str, object]:
    (menu,) = [menu for menu in screen.findChildren(QMenu) if menu.isVisible() or menu.actions()][
        :1
    ]
    return {action.text().split("\t")[0]: action for action in menu.actions()}


def test_after_the_last_tool_is_deleted_the_one_above_is_selected(
    qtbot: QtBot, given: ScreenContext, batch: BatchId, show: Show, settled
) -> None:
    tools = add_tools(given, batch, 3)
    screen = show(BatchScreen(given, batch))
    screen.list.select_tool(tools[2])
    screen.list.rows.setFocus()

    qtbot.keyClick(screen.list.rows, DELETE)
    settled()

    qtbot.waitUntil(lambda: len(screen.list.model.tools) == len(tools) - 1)
    assert screen.list.current == tools[1]


def test_several_selected_tools_get_a_status_and_all_parts_present_in_one_step_each(
    qtbot: QtBot, given: ScreenContext, batch: BatchId, show: Show, settled
) -> None:
    tools = add_tools(given, batch, 3)
    screen = show(BatchScreen(given, batch))
    for row in (1, 2):
        screen.list.rows.selectionModel().select(
            screen.list.model.index(row), QItemSelectionModel.SelectionFlag.Select
        )
    screen.list.select_tool(tools[0])
    screen.list.rows.selectAll()
    said = screen.list.selection.text()

    screen._open_menu(QPoint(5, 5))
    entries = entries_of(screen)
    entries["Mark all parts present"].trigger()
    settled()
    status = {action.text(): action for action in entries["Set status"].menu().actions()}
    status["finished"].trigger()
    settled()

    found = [given.catalog.tools.one(tool) for tool in tools]
    assert said.startswith(f"{len(given.catalog.tools.find(ToolFilter(batch=batch)))} selected")
    assert {tool.status for tool in found} == {ToolStatus.FINISHED}
    assert all(
        part.status is PartStatus.PRESENT
        for tool in found
        for part in tool.parts
        if not part.optional
    )


def test_a_batch_with_tools_is_deleted_only_after_it_was_asked(
    qtbot: QtBot, given: ScreenContext, batch: BatchId, show: Show, settled
) -> None:
    add_tools(given, batch, 2)
    screen = show(BatchesScreen(given))
    qtbot.keyClick(screen.rows, DELETE)
    settled()
    still_there = len(given.catalog.batches.lines())
    asked = screen._question.message.accessibleName()
    qtbot.mouseClick(screen._question.cancel, LEFT)
    hidden = not screen._question.isVisibleTo(screen)

    qtbot.keyClick(screen.rows, DELETE)
    qtbot.mouseClick(screen._question.delete, LEFT)
    settled()

    assert (still_there, hidden) == (1, True)
    assert "its" in asked
    assert "restore" in asked
    assert given.catalog.batches.lines() == ()


def test_each_status_offers_the_next_and_selling_asks_for_the_price(
    qtbot: QtBot, given: ScreenContext, tool_id: ToolId, show: Show, settled
) -> None:
    screen = show(ToolScreen(given, tool_id))
    offered = []
    for _ in range(4):
        offered.append(screen.title_controls.next_status.text())
        qtbot.mouseClick(screen.title_controls.next_status, LEFT)
        settled()
        settled()

    price = screen.record.price
    assert offered == ["Start work", "Mark finished", "Mark offered", "Mark sold"]
    assert given.catalog.tools.one(tool_id).status is ToolStatus.SOLD
    assert price.open_key == "sold"
    assert set(price.form.controls) == {"sold_for", "sold_on", "sold_to"}


def test_tab_leaves_the_table_of_parts(given: ScreenContext, show: Show) -> None:
    screen = show(KindsScreen(given))

    assert not screen.parts.tabKeyNavigation()


def test_a_history_without_changes_says_so(given: ScreenContext, show: Show) -> None:
    screen = show(HistoryScreen(given, None))

    assert not screen.rows.isVisibleTo(screen)
    assert screen._help.text().startswith("No changes yet")

"""Entries begun in forms of their own are offered again, also after a restart."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from planebench.catalog.ids import ToolId
from planebench.window.context import ScreenContext
from planebench.window.pieces.screen import Screen
from planebench.window.screens.batches.batches_screen import BatchesScreen
from planebench.window.screens.dating.dating_screen import DatingScreen
from planebench.window.screens.settings.settings_screen import SettingsScreen

Show = Callable[[Screen], Screen]
Settled = Callable[[], None]
ESC, ENTER = Qt.Key.Key_Escape, Qt.Key.Key_Return


def test_evidence_begun_and_left_by_esc_is_offered_again_until_it_is_saved(
    qtbot: QtBot, given: ScreenContext, tool_id: ToolId, show: Show, settled: Settled
) -> None:
    first = show(DatingScreen(given, tool_id))
    first.begin_entering()
    qtbot.waitUntil(first.form.isVisible)
    qtbot.keyClicks(first.form.lines["value"].line, "c. 1915")
    qtbot.keyClick(first.form.lines["value"].line, ESC)
    settled()

    again = show(DatingScreen(given, tool_id))
    again.begin_entering()
    offered = (again.form._title.text(), again.form.lines["value"].text)
    again.form.save()
    settled()
    settled()

    assert offered == ("Add evidence (draft)", "c. 1915")
    assert len(given.catalog.tools.one(tool_id).evidence) == 1
    assert given.catalog.drafts.of(tool_id) == {}


def test_a_purchase_begun_is_offered_again_after_a_restart_and_gone_once_it_is_saved(
    qtbot: QtBot, given: ScreenContext, show: Show, settled: Settled
) -> None:
    first = show(BatchesScreen(given))
    first.begin_adding()
    qtbot.waitUntil(first.form.isVisible)
    qtbot.keyClicks(first.form.fields["title"].line, "Shed clearance")
    first.hide()
    settled()

    again = show(BatchesScreen(given))
    again.begin_adding()
    offered = again.form.fields["title"].text
    qtbot.keyClick(again.form.fields["title"].line, ENTER)
    settled()
    settled()

    assert offered == "Shed clearance"
    assert [line.batch.title for line in given.catalog.batches.lines()] == ["Shed clearance"]
    assert given.catalog.drafts.of("purchases") == {}


def test_a_setting_is_saved_after_a_second_of_rest(
    qtbot: QtBot, given: ScreenContext, show: Show
) -> None:
    screen = show(SettingsScreen(given))

    qtbot.keyClicks(screen.workshop.line, "Wendholm")

    qtbot.waitUntil(lambda: given.catalog.settings.read().workshop == "Wendholm", timeout=5000)

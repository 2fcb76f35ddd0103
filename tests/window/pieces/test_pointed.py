"""What a person can click answers the pointer, and falls back when it has gone."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot
from typing_extensions import override

from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.choice_controls import CheckBox, CountSwitch, DropDown
from planebench.window.pieces.hatching import Hatch
from planebench.window.pieces.photo_label import TagAct
from planebench.window.pieces.photo_slot import PhotoSlot
from planebench.window.pieces.side_panel_row import SidePanelRow, hatch_mark
from planebench.window.pieces.tool_box import ToolBoxEntry
from planebench.window.screens.tool.record_rows import RecordRow, RowCell
from planebench.window.theme import Theme
from planebench.window.tokens import LIGHT

POINTED: dict[str, Callable[[], QWidget]] = {
    "act": lambda: ActionButton("Print"),
    "drop-down": lambda: DropDown("Kind", [("a", "Block plane")], holds="a"),
    "check box": lambda: CheckBox("Defects"),
    "count": lambda: CountSwitch(3, "not measured"),
    "row of a column": lambda: SidePanelRow("Body", "62%", hatch_mark(Hatch.KEPT)),
    "place for a photograph": lambda: PhotoSlot("Left side", "left_side"),
    "act on a photograph": lambda: TagAct("work on it", "outline"),
    "means of a tray": lambda: ToolBoxEntry("Outline", "", "O", holds=True),
    "line of a record": lambda: RecordRow(RowCell(key="a", text="Crack in the tote")),
}


class _Watch(QObject):
    """Knows whether the pointer was on a widget when it was painted last."""

    def __init__(self, widget: QWidget) -> None:
        super().__init__(widget)
        self.painted_pointed = False
        widget.installEventFilter(self)

    def is_pointed(self) -> bool:
        return self.painted_pointed

    def is_at_rest(self) -> bool:
        return not self.painted_pointed

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Paint and isinstance(watched, QWidget):
            self.painted_pointed = watched.underMouse()
        return False


def test_what_can_be_clicked_answers_the_pointer(qtbot: QtBot, theme: Theme) -> None:
    assert theme.tokens == LIGHT
    window = QWidget()
    qtbot.addWidget(window)
    column = QVBoxLayout(window)
    column.setContentsMargins(60, 60, 60, 60)
    pointed_at = {name: make() for name, make in POINTED.items()}
    for widget in pointed_at.values():
        column.addWidget(widget)
    with qtbot.waitExposed(window):
        window.show()
    # A button that is still down would hold the pointer at the widget where it went down.
    QTest.mouseRelease(window, Qt.MouseButton.LeftButton)
    answered, fallen_back = set(), set()
    for name, widget in pointed_at.items():
        at_rest, watch = widget.grab().toImage(), _Watch(widget)
        QTest.mouseMove(widget, widget.rect().center())
        qtbot.waitUntil(watch.is_pointed)
        if widget.grab().toImage() != at_rest:
            answered.add(name)
        QTest.mouseMove(window, QPoint(5, 5))
        qtbot.waitUntil(watch.is_at_rest)
        if widget.grab().toImage() == at_rest:
            fallen_back.add(name)

    assert set(POINTED) == answered
    assert set(POINTED) == fallen_back

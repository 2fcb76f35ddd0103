"""Copies for a buyer, from the menu of the window."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QMainWindow

from planebench.window.buyer_copies import BuyerCopies
from planebench.window.notices import Notices


def test_a_folder_is_asked_for_and_what_was_copied_is_told(qtbot, sample, desk, theme, tmp_path):
    told = []
    notices = Notices()
    notices.show_with(told.append)
    window = QMainWindow()
    qtbot.addWidget(window)
    tool = sample.tools.by_stock_number("LOT7-003")
    copies = BuyerCopies(desk, notices, window)

    copies.ask(sample, (tool,))
    dialog = window.findChild(QFileDialog)
    dialog.setDirectory(str(tmp_path))
    dialog.selectFile(str(tmp_path))
    qtbot.keyClick(dialog, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: bool(told), timeout=20_000)

    count = len(sample.tools.one(tool).photographs)
    assert told[0].happened == f"{count} photographs were copied."
    assert len(list(tmp_path.glob("LOT7-003 *.jpg"))) == count


def test_without_a_tool_in_hand_it_says_how_to_take_one(qtbot, sample, desk, theme):
    told = []
    notices = Notices()
    notices.show_with(told.append)
    window = QMainWindow()
    qtbot.addWidget(window)

    BuyerCopies(desk, notices, window).ask(sample, ())

    assert "Select tools in a list" in told[0].remedy
    assert window.findChild(QFileDialog) is None

"""Work is taken back after a restart, comes back from the bin, and from a backup."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog

from planebench.catalog.catalog import Catalog
from planebench.catalog.checking import check
from planebench.catalog.tools import NewTool, ToolFilter
from planebench.window import routes
from planebench.window.screens.bin.bin_screen import BinScreen
from tests.journeys.conftest import now

CTRL_Z = (Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
AGAIN = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier


def opened(workshop, folder, settled, qtbot):
    workshop.open_catalog(folder)
    place = settled(workshop)
    workshop.frame.activateWindow()
    qtbot.waitUntil(workshop.frame.isActiveWindow)
    return place


def test_an_edit_is_taken_back_and_brought_again_after_a_restart(
    qtbot, start, empty_folder, settled
):
    first = start()
    opened(first, empty_folder, settled, qtbot)
    batch = first.catalog.batches.add(code="LOT7").id
    tool = first.catalog.tools.add(batch, NewTool(kind="block", maker="Tarrow")).id
    first.go(routes.ToolRoute(tool=tool))
    screen = settled(first)
    screen.record.what.open("maker")
    line = screen.record.what.form.controls["maker"].line
    line.selectAll()
    qtbot.keyClicks(line, "Halbeck & Son")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    settled(first)
    assert first.catalog.tools.one(tool).maker == "Halbeck & Son"

    second = start()
    opened(second, empty_folder, settled, qtbot)
    qtbot.keyClick(second.frame, *CTRL_Z)
    settled(second)
    taken_back = second.catalog.tools.one(tool).maker
    third = start()
    opened(third, empty_folder, settled, qtbot)
    qtbot.keyClick(third.frame, Qt.Key.Key_Z, AGAIN)
    settled(third)

    assert taken_back == "Tarrow"
    assert third.catalog.tools.one(tool).maker == "Halbeck & Son"


def test_what_was_deleted_comes_back_from_the_bin(qtbot, workshop, empty_folder, settled, choose):
    opened(workshop, empty_folder, settled, qtbot)
    catalog = workshop.catalog
    batch = catalog.batches.add(code="LOT7").id
    tools, _ = catalog.tools.add_lines(batch, [NewTool(kind="block")] * 3)
    workshop.go(routes.BatchRoute(batch=batch))
    rows = settled(workshop).list.rows
    rows.setFocus()
    qtbot.keyClick(rows, Qt.Key.Key_Delete)
    settled(workshop)
    left = catalog.tools.find(ToolFilter(batch=batch))

    screen = choose(workshop, "Catalog", "Bin")
    assert isinstance(screen, BinScreen)
    screen.rows.setFocus()
    screen.rows.setCurrentIndex(screen.rows.model().index(0, 0))
    qtbot.keyClick(screen.rows, Qt.Key.Key_Return)
    settled(workshop)

    assert left == tools[1:]
    assert catalog.tools.find(ToolFilter(batch=batch)) == tools


def test_a_backup_is_restored_as_a_catalog_of_its_own(
    qtbot, workshop, sample_folder, settled, monkeypatch
):
    opened(workshop, sample_folder, settled, qtbot)
    tools = workshop.catalog.tools.find(ToolFilter())
    disk, restored = sample_folder.parent / "disk", sample_folder.parent / "restored"
    disk.mkdir()
    workshop.go(routes.BackupsRoute())
    screen = settled(workshop)
    # The person who answers the system's dialogs.
    answers = {
        "getExistingDirectory": lambda *_: str(next(disk.iterdir(), disk)),
        "getSaveFileName": lambda *_: (str(restored), ""),
    }
    for name, answer in answers.items():
        monkeypatch.setattr(QFileDialog, name, answer)

    qtbot.mouseClick(screen._back_up, Qt.MouseButton.LeftButton)
    settled(workshop)
    qtbot.mouseClick(screen._restore_other, Qt.MouseButton.LeftButton)
    settled(workshop)
    qtbot.mouseClick(screen._check, Qt.MouseButton.LeftButton)
    settled(workshop)

    catalog = Catalog.open(restored, who="R. Fenn", clock=now, cache=disk)
    assert catalog.tools.find(ToolFilter()) == tools
    assert check(catalog) == ()
    catalog.close()
    assert "No problems found" in screen.note.accessibleName()

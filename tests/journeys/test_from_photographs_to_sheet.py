"""The whole job through the real window, by key and mouse: from a purchase to a printed sheet.

The PDF is read back with pypdf, which has no part in making it.
"""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QApplication, QFileDialog
from pytestqt.qtbot import QtBot

from planebench.catalog.reference import sample_source
from planebench.catalog.tools import ToolFilter
from planebench.window.main_window import MainWindow
from planebench.window.pieces.screen import Screen
from planebench.window.screens.first_start.first_start_screen import FirstStartScreen
from planebench.window.screens.new_catalog.new_catalog_screen import NewCatalogScreen
from planebench.window.screens.pair.pair_screen import PairScreen
from planebench.window.screens.sheet.sheet_screen import SheetScreen
from planebench.window.screens.tool.tool_screen import ToolScreen

ENTER, ESC, INS, SPACE = (Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Insert, Qt.Key.Key_Space)
LEFT = Qt.MouseButton.LeftButton
SOURCE = sample_source() / "photographs"
PLANES = (
    ("block plane", "Tarrow", "pattern H", ""),
    ("jack plane", "Halbeck & Son", "pattern N", ""),
    ("smoothing plane", "Halbeck & Son", "pattern K", "japanning worn"),
    *(("smoothing plane", "Tarrow", f"No. {number}", "") for number in range(9)),
)


class Hands:
    """Does what a person does: types, clicks, chooses in menus, and waits for the window."""

    def __init__(self, bot: QtBot, workshop: MainWindow, choose: Callable[..., Screen]) -> None:
        self.bot = bot
        self.workshop = workshop
        self._choose = choose

    @property
    def current_screen(self) -> Screen:
        self.bot.waitUntil(lambda: not self.workshop.jobs.open_jobs, timeout=60_000)
        place = self.workshop.current_screen
        assert place is not None
        return place

    def settle(self) -> None:
        """Wait until all that was asked for is done and shown."""
        assert self.current_screen is not None

    def menu(self, menu: str, words: str) -> Screen:
        return self._choose(self.workshop, menu, words)

    def key(self, key: Qt.Key, *, on: object = None) -> Screen:
        frame = self.workshop.frame
        if not frame.isActiveWindow():
            frame.activateWindow()
            self.bot.waitUntil(frame.isActiveWindow)
        self.bot.keyClick(on or frame.focusWidget() or frame, key)
        return self.current_screen

    def write(self, form: object, **texts: str) -> None:
        controls = getattr(form, "controls", None) or form.fields
        for key, text in texts.items():
            line = controls[key].line
            line.setFocus()
            line.selectAll()
            self.bot.keyClicks(line, text)
        self.key(ENTER, on=line)

    def pick(self, form: object, key: str, code: str) -> None:
        drop = form.controls[key]
        drop.setCurrentIndex(drop.findData(code))
        drop.activated.emit(drop.currentIndex())

    def drop(self, *paths: Path) -> Screen:
        data = QMimeData()
        data.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
        frame = self.workshop.frame
        event = QDropEvent(
            QPointF(200, 200),
            Qt.DropAction.CopyAction,
            data,
            LEFT,
            Qt.KeyboardModifier.NoModifier,
        )
        frame.dropEvent(event)
        self.bot.waitUntil(lambda: not self.workshop.jobs.open_jobs, timeout=60_000)
        return self.current_screen


@pytest.fixture
def hands(qtbot: QtBot, workshop: MainWindow, choose: Callable[..., Screen]) -> Hands:
    return Hands(qtbot, workshop, choose)


@pytest.fixture
def camera(tmp_path: Path) -> Path:
    folder = tmp_path / "camera"
    folder.mkdir()
    for stage in ("as_found", "finished"):
        shutil.copy(SOURCE / f"LOT7-003_top_{stage}.jpg", folder)
    return folder


def start_a_catalog(hands: Hands) -> Screen:
    first = hands.current_screen
    assert isinstance(first, FirstStartScreen)
    asking = hands.menu("Catalog", "New catalog…")
    assert isinstance(asking, NewCatalogScreen)
    hands.bot.keyClicks(asking.name.line, "Wendholm workshop")
    return hands.key(ENTER, on=asking.name.line)


def buy_twelve_planes(hands: Hands) -> Screen:
    batches = hands.current_screen
    hands.bot.mouseClick(batches.title_buttons[-1], LEFT)
    hands.write(batches.form, code="LOT7", title="House clearance, Orrin Vale", price="340")
    batch = hands.current_screen
    hands.key(INS, on=batch.list.rows if batch.list.rows.isVisible() else batch)
    if not batch.list.adding.isVisible():
        hands.bot.mouseClick(batch.title_buttons[0], LEFT)
    for kind, maker, model, note in PLANES:
        hands.write(batch.list.adding, kind=kind, maker=maker, model=model, note=note)
    return hands.current_screen


def open_tool(hands: Hands, number: int) -> ToolScreen:
    batch = hands.current_screen
    rows = batch.list.rows
    hands.key(ESC, on=batch.list.adding.fields["kind"].line)
    rows.setFocus()
    hands.key(Qt.Key.Key_Home, on=rows)
    for _ in range(number - 1):
        hands.key(Qt.Key.Key_Down, on=rows)
    tool = hands.key(ENTER, on=rows)
    assert isinstance(tool, ToolScreen)
    return tool


def name_the_views(hands: Hands, tool: ToolScreen) -> None:
    tool.name_views()
    grid = tool.naming.grid
    grid.setFocus()
    grid.selectAll()
    hands.key(Qt.Key.Key_T, on=grid)
    grid.clearSelection()
    (finished,) = [
        row
        for row in range(grid.count())
        if "finished" in grid.item(row).data(Qt.ItemDataRole.UserRole + 0).original_name
    ]
    grid.setCurrentRow(finished)
    hands.key(Qt.Key.Key_3, on=grid)
    tool.stop_naming()


def write_the_record(hands: Hands, tool: ToolScreen) -> None:
    record = tool.record
    record.parts._mark_rest_present()
    hands.settle()
    surface = hands.workshop.catalog.tools.one(tool.selected_tools[0]).surfaces[0]
    record.finish.open(surface.id)
    hands.pick(record.finish.form, "stage", "finished")
    hands.write(record.finish.form, share="60 to 80")
    record.finish.close()
    record.defects.open("new")
    hands.pick(record.defects.form, "kind", "pitting")
    hands.write(record.defects.form, place="left cheek", size="9 x 4 mm")
    (defect,) = hands.workshop.catalog.tools.one(tool.selected_tools[0]).defects
    hands.settle()
    record.defects.pin_wanted.emit(defect.id)
    hands.bot.mouseClick(tool.picture.view, LEFT, pos=tool.picture.view.rect().center())
    hands.settle()
    record.dates.open("new")
    hands.write(record.dates.form, seen="patent date on the bed", years="1913 to 1918")


def save_the_sheet(hands: Hands, sheet: SheetScreen, path: Path) -> None:
    hands.bot.mouseClick(sheet.column.draft_file, LEFT)
    dialogs: list[QFileDialog] = []

    def asked() -> bool:
        dialogs[:] = [w for w in QApplication.topLevelWidgets() if isinstance(w, QFileDialog)]
        return bool(dialogs)

    hands.bot.waitUntil(asked, timeout=20_000)
    dialogs[0].setDirectory(str(path.parent))
    dialogs[0].selectFile(path.name)
    dialogs[0].accept()
    hands.bot.waitUntil(path.is_file, timeout=30_000)
    assert hands.current_screen is sheet


def test_from_a_new_catalog_to_a_sheet_that_says_all_of_it(
    hands: Hands, camera: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("planebench.window.main_window.usual_place", lambda: tmp_path / "mine")
    start_a_catalog(hands)
    buy_twelve_planes(hands)
    catalog = hands.workshop.catalog
    assert catalog is not None
    assert len(catalog.tools.find(ToolFilter())) == len(PLANES)

    hands.drop(camera)
    hands.key(ESC)
    tool = open_tool(hands, 3)
    name_the_views(hands, tool)
    hands.settle()
    write_the_record(hands, tool)
    hands.settle()
    tool.pair()
    pair = hands.current_screen
    assert isinstance(pair, PairScreen)
    back = hands.key(ESC)
    assert isinstance(back, ToolScreen), back
    sheet = hands.menu("Sheet", "Condition sheet…")
    assert isinstance(sheet, SheetScreen)
    save_the_sheet(hands, sheet, tmp_path / "LOT7-003.pdf")

    text = " ".join(
        " ".join(page.extract_text() for page in pypdf.PdfReader(tmp_path / "LOT7-003.pdf").pages)
        .replace("\n", " ")
        .split()
    )
    for words in (
        "Smoothing plane",
        "Halbeck & Son",
        "LOT7-003",
        "Pitting",
        "left cheek",
        "70%",
        "by eye",
        "1913",
        "1918",
        "patent date on the bed",
    ):
        assert words in text

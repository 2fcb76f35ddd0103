"""The frame of the window: menu line, title line, the place one is at, bench line."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QHBoxLayout,
    QMainWindow,
    QMenu,
    QMenuBar,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from planebench.window.find_field import FindField
from planebench.window.key_list import KeyList
from planebench.window.notice_bar import NoticeBar
from planebench.window.pieces.background import Background
from planebench.window.pieces.dropped_files import holds_photographs
from planebench.window.pieces.screen import Screen, ScreenTitle
from planebench.window.status_bar import StatusBar
from planebench.window.title_bar import TitleBar

MENUS = ("Catalog", "Batch", "Tool", "Photograph", "Sheet", "Help")
OF_CATALOG = "of_catalog"
"""Property of an act in the Catalog menu that does nothing while no catalog is open."""


class WindowFrame(QMainWindow):
    """The window around the places. It knows places in general, none in particular.

    Attributes: `bench` (BenchLine), `notices` (NoticeStrip), `find_line` (FindLine).
    Signals: `find_wanted(str)` for each word typed into the find field, empty when cleared;
    `take_back_wanted()` and `put_back_wanted()` by Ctrl Z, Ctrl Shift Z or the bench line;
    `brought(QMimeData)` when files or pictures are dropped where no place takes them itself.
    """

    find_wanted = Signal(str)
    take_back_wanted = Signal()
    put_back_wanted = Signal()
    brought = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.setWindowTitle("Planebench")
        self.setMinimumSize(960, 640)
        self.setAcceptDrops(True)
        self._menus: dict[str, QMenu] = {}
        self.find_line = FindField()
        self.find_line.typed.connect(self.find_wanted)
        self.find_line.left.connect(self._leave_find_line)
        self._title = TitleBar()
        self._title.up_wanted.connect(self._go_up)
        self.notices = NoticeBar()
        self._stack = QStackedWidget()
        self.bench = StatusBar()
        self.bench.take_back_wanted.connect(self.take_back_wanted)
        self._keys = KeyList(self)
        self._heard: Screen | None = None
        self._lay_out()
        self._connect_keys()

    @property
    def place(self) -> Screen | None:
        """Where one is."""
        shown = self._stack.currentWidget()
        return shown if isinstance(shown, Screen) else None

    def menu(self, name: str) -> QMenu:
        """Return a menu of MENUS, to add acts to."""
        return self._menus[name]

    def allow_menus(self, *names: str) -> None:
        """Let these menus be opened and no others; without Batch there, no catalog is open."""
        for name, menu in self._menus.items():
            menu.menuAction().setEnabled(name in names)
        for act in self._menus["Catalog"].actions():
            if act.property(OF_CATALOG):
                act.setEnabled("Batch" in names)

    def go_to(self, place: Screen) -> None:
        """Show a place; it is kept until `leave` takes it out."""
        if self._heard is not None and self._heard is not place:
            self.notices.leave_place()
        if self._heard is not None:
            self._heard.titled.disconnect(self._show_title)
            self._heard.acts_changed.disconnect(self._show_acts)
        self._heard = place
        if self._stack.indexOf(place) < 0:
            self._stack.addWidget(place)
        self._stack.setCurrentWidget(place)
        place.titled.connect(self._show_title)
        place.acts_changed.connect(self._show_acts)
        self._show_title(place.title)
        self._show_acts()
        self.find_line.show_words(place.words_sought)
        # Who types in the find field goes on typing in it while the place narrows.
        if not (self.find_line.hasFocus() and place.words_sought):
            self._take_keyboard()

    def leave(self, place: Screen) -> None:
        """Take a place out for good and delete it."""
        if self._heard is place:
            self._heard = None
            self._title.show_acts(())
        for act in place.acts:
            act.deleteLater()
        self._stack.removeWidget(place)
        place.deleteLater()

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if holds_photographs(event.mimeData()):
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        self.brought.emit(event.mimeData())
        event.acceptProposedAction()

    def _lay_out(self) -> None:
        bar = QMenuBar()
        bar.setNativeMenuBar(False)
        for name in MENUS:
            self._menus[name] = bar.addMenu(name)
        menu_line = Background("panel", ruled=Qt.Edge.BottomEdge)
        menu_line.setFixedHeight(32)
        row = QHBoxLayout(menu_line)
        row.setContentsMargins(14, 0, 16, 1)
        row.addWidget(bar, 1)
        row.addWidget(self.find_line)
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for part in (menu_line, self._title, self.notices):
            column.addWidget(part)
        column.addWidget(self._stack, 1)
        column.addWidget(self.bench)
        self.setCentralWidget(whole)

    def _connect_keys(self) -> None:
        self._key(QKeySequence("Ctrl+F"), self.find_line.take_keyboard)
        self._key(QKeySequence("Ctrl+Z"), self.take_back_wanted.emit)
        self._key(QKeySequence("Ctrl+Shift+Z"), self.put_back_wanted.emit)
        self._key(QKeySequence("F1"), self.list_keys)
        self._key(QKeySequence("F6"), lambda: self._next_region(1))
        self._key(QKeySequence("Shift+F6"), lambda: self._next_region(-1))
        self._key(QKeySequence("Esc"), self._escape)

    def _key(self, keys: QKeySequence, act: Callable[[], object]) -> None:
        shortcut = QShortcut(keys, self)
        shortcut.activated.connect(act)

    def _take_keyboard(self) -> None:
        """Take the keyboard to the first region of the place."""
        for region in self.place.regions[:1] if self.place is not None else ():
            region.setFocus(Qt.FocusReason.OtherFocusReason)

    def _leave_find_line(self) -> None:
        """Go back to the place; one where nothing takes the keyboard is left."""
        self._take_keyboard()
        if self.find_line.hasFocus():
            self._go_up()

    def _escape(self) -> None:
        """Leave the innermost thing: the list of keys, what is sought, then the place."""
        if self._keys.isVisible():
            self._keys.hide()
        elif self.place is not None and self.place.words_sought:
            self.find_line.empty()
        else:
            self._go_up()

    def _go_up(self) -> None:
        if self.place is not None:
            self.place.up_wanted.emit()

    def list_keys(self) -> None:
        """List the keys of the place one is at, or put the list away."""
        self._keys.show_keys(self.place.keys if self.place is not None else ())

    def _show_title(self, title: ScreenTitle) -> None:
        self._title.show_title(title)
        self._title.setVisible(bool(title.text))

    def _show_acts(self) -> None:
        self._title.show_acts(self.place.acts if self.place is not None else ())

    def _next_region(self, step: int) -> None:
        regions = self.place.regions if self.place is not None else ()
        stops = [self._title.first_focus(), *regions, self.bench.first_focus()]
        held = self.focusWidget()
        at = next((i for i, stop in enumerate(stops) if _holds(stop, held)), -1)
        stops[(at + step) % len(stops)].setFocus(Qt.FocusReason.TabFocusReason)


def _holds(region: QWidget, held: QWidget | None) -> bool:
    return held is not None and (region is held or region.isAncestorOf(held))

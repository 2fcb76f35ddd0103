"""The frame of the window: menu line, title line, the screen one is at, bench line."""

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
    """The window around the screens. It knows screens in general, none in particular.

    Attributes: `bench` (BenchLine), `notices` (NoticeStrip), `find_field` (FindLine).
    Signals: `find_wanted(str)` for each word typed into the find field, empty when cleared;
    `undo_requested()` and `redo_requested()` by Ctrl Z, Ctrl Shift Z or the bench line;
    `data_dropped(QMimeData)` when files or pictures are dropped where no screen takes them itself.
    """

    find_wanted = Signal(str)
    undo_requested = Signal()
    redo_requested = Signal()
    data_dropped = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.setWindowTitle("Planebench")
        self.setMinimumSize(960, 640)
        self.setAcceptDrops(True)
        self._menus: dict[str, QMenu] = {}
        self.find_field = FindField()
        self.find_field.typed.connect(self.find_wanted)
        self.find_field.left.connect(self._leave_find_line)
        self._title = TitleBar()
        self._title.up_wanted.connect(self._go_up)
        self.notices = NoticeBar()
        self._stack = QStackedWidget()
        self.status_bar = StatusBar()
        self.status_bar.undo_requested.connect(self.undo_requested)
        self._keys = KeyList(self)
        self._heard: Screen | None = None
        self._lay_out()
        self._connect_keys()

    @property
    def current_screen(self) -> Screen | None:
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

    def go_to(self, screen: Screen) -> None:
        """Show a screen; it is kept until `leave` takes it out."""
        if self._heard is not None and self._heard is not screen:
            self.notices.leave_place()
        if self._heard is not None:
            self._heard.titled.disconnect(self._show_title)
            self._heard.title_buttons_changed.disconnect(self._show_acts)
        self._heard = screen
        if self._stack.indexOf(screen) < 0:
            self._stack.addWidget(screen)
        self._stack.setCurrentWidget(screen)
        screen.titled.connect(self._show_title)
        screen.title_buttons_changed.connect(self._show_acts)
        self._show_title(screen.title)
        self._show_acts()
        self.find_field.show_words(screen.find_words)
        # Who types in the find field goes on typing in it while the screen narrows.
        if not (self.find_field.hasFocus() and screen.find_words):
            self._take_keyboard()

    def leave(self, screen: Screen) -> None:
        """Take a screen out for good and delete it."""
        if self._heard is screen:
            self._heard = None
            self._title.show_acts(())
        for act in screen.title_buttons:
            act.deleteLater()
        self._stack.removeWidget(screen)
        screen.deleteLater()

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if holds_photographs(event.mimeData()):
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        self.data_dropped.emit(event.mimeData())
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
        row.addWidget(self.find_field)
        whole = QWidget()
        column = QVBoxLayout(whole)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for part in (menu_line, self._title, self.notices):
            column.addWidget(part)
        column.addWidget(self._stack, 1)
        column.addWidget(self.status_bar)
        self.setCentralWidget(whole)

    def _connect_keys(self) -> None:
        self._key(QKeySequence("Ctrl+F"), self.find_field.take_keyboard)
        self._key(QKeySequence("Ctrl+Z"), self.undo_requested.emit)
        self._key(QKeySequence("Ctrl+Shift+Z"), self.redo_requested.emit)
        self._key(QKeySequence("F1"), self.list_keys)
        self._key(QKeySequence("F6"), lambda: self._next_region(1))
        self._key(QKeySequence("Shift+F6"), lambda: self._next_region(-1))
        self._key(QKeySequence("Esc"), self._escape)

    def _key(self, keys: QKeySequence, act: Callable[[], object]) -> None:
        shortcut = QShortcut(keys, self)
        shortcut.activated.connect(act)

    def _take_keyboard(self) -> None:
        """Take the keyboard to the first region of the screen."""
        for region in self.current_screen.regions[:1] if self.current_screen is not None else ():
            region.setFocus(Qt.FocusReason.OtherFocusReason)

    def _leave_find_line(self) -> None:
        """Go back to the screen; one where nothing takes the keyboard is left."""
        self._take_keyboard()
        if self.find_field.hasFocus():
            self._go_up()

    def _escape(self) -> None:
        """Leave the innermost thing: the list of keys, what is sought, then the screen."""
        if self._keys.isVisible():
            self._keys.hide()
        elif self.current_screen is not None and self.current_screen.find_words:
            self.find_field.empty()
        else:
            self._go_up()

    def _go_up(self) -> None:
        if self.current_screen is not None:
            self.current_screen.up_wanted.emit()

    def list_keys(self) -> None:
        """List the keys of the screen one is at, or put the list away."""
        self._keys.show_keys(self.current_screen.keys if self.current_screen is not None else ())

    def _show_title(self, title: ScreenTitle) -> None:
        self._title.show_title(title)
        self._title.setVisible(bool(title.text))

    def _show_acts(self) -> None:
        self._title.show_acts(
            self.current_screen.title_buttons if self.current_screen is not None else ()
        )

    def _next_region(self, step: int) -> None:
        regions = self.current_screen.regions if self.current_screen is not None else ()
        stops = [self._title.first_focus(), *regions, self.status_bar.first_focus()]
        held = self.focusWidget()
        at = next((i for i, stop in enumerate(stops) if _holds(stop, held)), -1)
        stops[(at + step) % len(stops)].setFocus(Qt.FocusReason.TabFocusReason)


def _holds(region: QWidget, held: QWidget | None) -> bool:
    return held is not None and (region is held or region.isAncestorOf(held))

"""The frame of the window: menu line, title line, the screen one is at, bench line."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QAction, QDragEnterEvent, QDropEvent, QKeySequence, QShortcut
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

SMALLEST_WINDOW = QSize(940, 490)
"""What is left of 1920 by 1080 pixels at twice the size, less the system's bars."""
MENUS = ("Catalog", "Edit", "View", "Batch", "Tool", "Photograph", "Sheet", "Help")
NEEDS_CATALOG = "needs_catalog"
"""Property of a menu's action that does nothing while no catalog is open."""
# In letters; a longer name of a step would make the menu wider than a small window.
_LONGEST_STEP = 60
_WITHOUT_CATALOG = frozenset({"Catalog", "View", "Help"})


class WindowFrame(QMainWindow):
    """The window around the screens. It knows screens in general, none in particular.

    Attributes: `status_bar` (StatusBar), `notices` (NoticeBar), `find_field` (FindField).
    Signals: `find_wanted(str)` for each word typed into the find field, empty when cleared;
    `find_accepted()` by Enter in it;
    `undo_requested()` and `redo_requested()` from the status bar;
    `data_dropped(QMimeData)` when files or pictures are dropped where no screen takes them itself.
    """

    find_wanted = Signal(str)
    find_accepted = Signal()
    undo_requested = Signal()
    redo_requested = Signal()
    data_dropped = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.setWindowTitle("Planebench")
        self.setMinimumSize(SMALLEST_WINDOW)
        self.setAcceptDrops(True)
        self._menus: dict[str, QMenu] = {}
        self.find_field = FindField()
        self.find_field.typed.connect(self.find_wanted)
        self.find_field.accepted.connect(self.find_accepted)
        self.find_field.down_pressed.connect(self._take_keyboard)
        self.find_field.left.connect(self._leave_find_field)
        self._title = TitleBar()
        self._title.up_wanted.connect(self._go_up)
        self.notices = NoticeBar()
        self._stack = QStackedWidget()
        self.status_bar = StatusBar()
        self.status_bar.undo_requested.connect(self.undo_requested)
        self.status_bar.redo_requested.connect(self.redo_requested)
        self._keys = KeyList(self)
        self._catalog_name = ""
        self._connected: Screen | None = None
        self._yielded: list[tuple[QAction, QKeySequence]] = []
        self._lay_out()
        self._connect_keys()

    @property
    def current_screen(self) -> Screen | None:
        """The screen that is shown."""
        shown = self._stack.currentWidget()
        return shown if isinstance(shown, Screen) else None

    def menu(self, name: str) -> QMenu:
        """Return a menu of MENUS, to add actions to."""
        return self._menus[name]

    def allow_menus(self, *, catalog_open: bool) -> None:
        """Enable what can be used with or without an open catalog."""
        for name, menu in self._menus.items():
            menu.menuAction().setEnabled(catalog_open or name in _WITHOUT_CATALOG)
            for action in menu.actions():
                if action.property(NEEDS_CATALOG):
                    action.setEnabled(catalog_open)

    def set_catalog_name(self, name: str) -> None:
        """Name the open catalog in the window's title; empty while none is open."""
        self._catalog_name = name
        self._name_window()

    def _name_window(self) -> None:
        screen = self.current_screen
        title = screen.title.text if screen is not None else ""
        parts = (title, self._catalog_name, "Planebench")
        self.setWindowTitle(" – ".join(dict.fromkeys(part for part in parts if part)))

    def show_undo_steps(self, undo: str, redo: str) -> None:
        """Name the steps in the Edit menu; an empty name turns the item off."""
        for action, verb, words in zip(
            self.menu("Edit").actions(), ("&Undo", "&Redo"), (undo, redo), strict=False
        ):
            short = words if len(words) <= _LONGEST_STEP else f"{words[:_LONGEST_STEP].rstrip()}…"
            action.setText(f"{verb} {short.replace('&', '&&')}".rstrip())
            action.setEnabled(bool(words))

    def go_to(self, screen: Screen) -> None:
        """Show a screen; it is kept until `leave` removes it."""
        if self._connected is not None and self._connected is not screen:
            self.notices.leave_screen()
        if self._connected is not None:
            self._connected.titled.disconnect(self._show_title)
            self._connected.title_buttons_changed.disconnect(self._show_buttons)
        self._connected = screen
        if self._stack.indexOf(screen) < 0:
            self._stack.addWidget(screen)
        self._stack.setCurrentWidget(screen)
        self._yield_keys(screen)
        screen.titled.connect(self._show_title)
        screen.title_buttons_changed.connect(self._show_buttons)
        self._show_title(screen.title)
        self._show_buttons()
        self.find_field.show_words(screen.find_words)
        # While someone types in the find field, the keyboard stays there.
        if not (self.find_field.hasFocus() and screen.find_words):
            self._take_keyboard()

    def leave(self, screen: Screen) -> None:
        """Remove a screen for good and delete it."""
        if self._connected is screen:
            self._connected = None
            self._title.show_buttons(())
        for button in screen.title_buttons:
            button.deleteLater()
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
            self._menus[name] = bar.addMenu(f"&{name}")
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
        self._key(QKeySequence("F6"), lambda: self._next_region(1))
        self._key(QKeySequence("Shift+F6"), lambda: self._next_region(-1))
        self._key(QKeySequence("Esc"), self._escape)

    def _key(self, keys: QKeySequence, action: Callable[[], object]) -> None:
        shortcut = QShortcut(keys, self)
        shortcut.activated.connect(action)

    def _yield_keys(self, screen: Screen) -> None:
        """Let a screen's own keys win over those of the menus: the same key twice does nothing."""
        for action, keys in self._yielded:
            action.setShortcut(keys)
        taken = {shortcut.key().toString() for shortcut in screen.findChildren(QShortcut)}
        self._yielded = [
            (action, action.shortcut())
            for menu in self._menus.values()
            for action in menu.actions()
            if action.shortcut().toString() in taken and not action.shortcut().isEmpty()
        ]
        for action, _ in self._yielded:
            action.setShortcut(QKeySequence())

    def _take_keyboard(self) -> None:
        """Move the keyboard focus to the first region of the screen."""
        for region in self.current_screen.regions[:1] if self.current_screen is not None else ():
            region.setFocus(Qt.FocusReason.OtherFocusReason)

    def _leave_find_field(self) -> None:
        """Go back to the screen; leave one where nothing takes the keyboard."""
        self._take_keyboard()
        if self.find_field.hasFocus():
            self._go_up()

    def _escape(self) -> None:
        """Leave the innermost thing: the list of keys, the search, then the screen."""
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
        """List the keys of the current screen, or hide the list."""
        self._keys.show_keys(self.current_screen.keys if self.current_screen is not None else ())

    def usual_size(self) -> tuple[tuple[int, int], bool]:
        """Return width and height in pixels when not maximized, and whether it is maximized now."""
        size = self.normalGeometry().size() if self.isMaximized() else self.size()
        return (size.width(), size.height()), self.isMaximized()

    def _show_title(self, title: ScreenTitle) -> None:
        self._title.show_title(title)
        self._title.setVisible(bool(title.text))
        self._name_window()

    def _show_buttons(self) -> None:
        screen = self.current_screen
        self._title.show_buttons(screen.title_buttons if screen is not None else ())

    def _regions(self) -> list[QWidget]:
        """Return the regions that can take the focus, from the title to the status bar."""
        regions = self.current_screen.regions if self.current_screen is not None else ()
        around = (self._title.first_focus(), *regions, self.status_bar.first_focus())
        return [stop for stop in around if stop is not None and _takes_focus(stop)]

    def _next_region(self, step: int) -> None:
        stops = self._regions()
        if not stops:
            return
        focus = self.focusWidget()
        at = next((i for i, stop in enumerate(stops) if _contains(stop, focus)), -1)
        if at < 0 and step < 0:
            at = 0
        stops[(at + step) % len(stops)].setFocus(Qt.FocusReason.TabFocusReason)


def _takes_focus(region: QWidget) -> bool:
    return region.isVisible() and region.isEnabled()


def _contains(region: QWidget, focus: QWidget | None) -> bool:
    return focus is not None and (region is focus or region.isAncestorOf(focus))

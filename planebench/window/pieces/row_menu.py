"""Context menus of rows, by the right button, the menu key or Shift+F10."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QMenu, QWidget


@dataclass(frozen=True, slots=True, kw_only=True)
class MenuEntry:
    """One entry: its words, the key that does the same, what it does, or the entries below it."""

    words: str
    act: Callable[[], object] | None = None
    key: str = ""
    below: tuple[MenuEntry, ...] = ()


def open_row_menu(over: QWidget, at: QPoint, entries: Iterable[MenuEntry]) -> QMenu:
    """Open a menu at a point of a widget; it is deleted when it closes."""
    menu = QMenu(over)
    menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    _fill(menu, entries)
    menu.popup(over.mapToGlobal(at))
    return menu


def _fill(menu: QMenu, entries: Iterable[MenuEntry]) -> None:
    for entry in entries:
        if entry.below:
            _fill(menu.addMenu(entry.words), entry.below)
        elif entry.act is not None:
            act = entry.act
            # The key stands there to be learned; the screen itself answers to it.
            words = f"{entry.words}\t{entry.key}" if entry.key else entry.words
            menu.addAction(words).triggered.connect(lambda _on=False, act=act: act())

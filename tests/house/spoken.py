"""What a screen reader is told of a widget and all in it, as lines that a person can read."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtGui import QAccessible, QAccessibleInterface
from PySide6.QtWidgets import QWidget

_MOST_CHILDREN = 200
"""A list may be endless; the first rows show what is spoken of each."""


def dump(widget: QWidget) -> str:
    """Return one line per object: role, name, value and description, indented by depth."""
    root = QAccessible.queryAccessibleInterface(widget)
    return "\n".join(_lines(root, 0)) + "\n"


def _lines(one: QAccessibleInterface, depth: int) -> Iterator[str]:
    state = one.state()
    if state.invisible:
        return
    yield "  " * depth + spoken(one)
    for number in range(min(one.childCount(), _MOST_CHILDREN)):
        child = one.child(number)
        if child is not None:
            yield from _lines(child, depth + 1)


def spoken(one: QAccessibleInterface) -> str:
    """Return what is spoken of one object: `Button “Undo”: Ctrl+Z, focusable`."""
    text = QAccessible.Text
    name, value = one.text(text.Name), one.text(text.Value)
    words = [one.role().name]
    if name:
        words.append(f"“{name}”")
    if value and value != name:
        words.append(f"= {value}")
    about = one.text(text.Description)
    states = [
        word
        for word, on in (
            ("focusable", one.state().focusable),
            ("checked", one.state().checked),
            ("selected", one.state().selected),
            ("off", one.state().disabled),
        )
        if on
    ]
    rest = ", ".join([*([about] if about and about != name else []), *states])
    return " ".join(words) + (f": {rest}" if rest else "")

"""Rows of a list, a value each: painted from the value, read aloud from its words."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Generic, TypeVar

from PySide6.QtCore import QAbstractListModel, QObject, Qt
from typing_extensions import override

from planebench.window.pieces.row_background import AnyIndex

VALUE_ROLE = Qt.ItemDataRole.UserRole
_TOLD = frozenset({Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole})
_TOLD_AND_TIP = _TOLD | {Qt.ItemDataRole.ToolTipRole}

Value = TypeVar("Value")


class ValueListModel(QAbstractListModel, Generic[Value]):
    """Values in the order in which they are shown; VALUE_ROLE gives a row's value."""

    def __init__(
        self, told: Callable[[Value], str], parent: QObject, *, tips: bool = False
    ) -> None:
        """`told` puts a value into words; with `tips` they come up under the pointer too."""
        super().__init__(parent)
        self.values: tuple[Value, ...] = ()
        self._told = told
        self._told_roles = _TOLD_AND_TIP if tips else _TOLD

    def show_values(self, values: Iterable[Value]) -> None:
        """Show these values in this order."""
        self.beginResetModel()
        self.values = tuple(values)
        self.endResetModel()

    def value_at(self, row: int) -> Value | None:
        """Return the value of a row, None where there is no such row."""
        return self.values[row] if 0 <= row < len(self.values) else None

    @override
    def rowCount(self, parent: AnyIndex | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self.values)

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        value = self.value_at(index.row()) if index.isValid() else None
        if value is None:
            return None
        if role == VALUE_ROLE:
            return value
        return self._told(value) if role in self._told_roles else None

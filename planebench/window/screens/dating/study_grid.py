"""A type study as a grid: one row per variant, one column per feature, with paste and duplicate."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QTableWidget, QTableWidgetItem, QWidget
from typing_extensions import override

from planebench.trade.type_study import FIXED

_HEADS = ("Variant", "Years", "Note", "Source")
_NARROW, _WIDE = 90, 160


class StudyGrid(QTableWidget):
    """The variants of a study. Ctrl+V pastes cells copied from a spreadsheet."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(0, len(FIXED), parent)
        self.features: list[str] = []
        self.setAccessibleName("Variants and their features")
        # Tab leaves the grid; the arrows move inside it.
        self.setTabKeyNavigation(False)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.verticalHeader().setDefaultSectionSize(32)
        self.verticalHeader().hide()
        self.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
        self._show_heads()

    def show_rows(self, features: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
        """Show rows of texts: name, years, note, source, then one per feature."""
        self.features = list(features)
        self.setColumnCount(len(FIXED) + len(self.features))
        self.setRowCount(len(rows))
        for at, row in enumerate(rows):
            self._fill(at, row)
        self._show_heads()

    @property
    def texts(self) -> list[list[str]]:
        """The texts of all rows that hold anything."""
        rows = (
            [self._text(row, column) for column in range(self.columnCount())]
            for row in range(self.rowCount())
        )
        return [row for row in rows if any(row)]

    def add_row(self) -> None:
        """Add an empty row below the current one and edit its name."""
        at = self.currentRow() + 1 if self.currentRow() >= 0 else self.rowCount()
        self.insertRow(at)
        self._edit(at, 0)

    def duplicate_row(self) -> None:
        """Copy the current row below itself and edit the name of the copy."""
        at = self.currentRow()
        if at < 0:
            return
        copied = [self._text(at, column) for column in range(self.columnCount())]
        self.insertRow(at + 1)
        self._fill(at + 1, copied)
        self._edit(at + 1, 0)

    def remove_rows(self) -> None:
        """Remove the selected rows; the row above the first becomes the current one."""
        rows = sorted({index.row() for index in self.selectedIndexes()}, reverse=True)
        for row in rows:
            self.removeRow(row)
        if rows and self.rowCount():
            self.setCurrentCell(max(0, rows[-1] - 1), max(0, self.currentColumn()))

    def add_feature(self, name: str) -> None:
        """Add a column for a feature."""
        self.features.append(name)
        self.setColumnCount(self.columnCount() + 1)
        self._show_heads()

    def remove_feature(self) -> None:
        """Remove the column of the current feature; fixed columns stay."""
        at = self.currentColumn() - len(FIXED)
        if at >= 0:
            del self.features[at]
            self.removeColumn(at + len(FIXED))
            self._show_heads()

    def paste(self, text: str) -> None:
        """Write cells separated by tabs and line ends, from the current cell on.

        The grid grows downward as needed; cells beyond the last column are left out.
        """
        top, left = max(0, self.currentRow()), max(0, self.currentColumn())
        for down, line in enumerate(text.rstrip("\n").split("\n")):
            if top + down >= self.rowCount():
                self.insertRow(self.rowCount())
            for across, cell in enumerate(line.rstrip("\r").split("\t")):
                if left + across < self.columnCount():
                    self._set(top + down, left + across, cell.strip())

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Paste):
            self.paste(QGuiApplication.clipboard().text())
        elif event.matches(QKeySequence.StandardKey.Copy):
            QGuiApplication.clipboard().setText(self._selected_text())
        elif event.key() == Qt.Key.Key_Delete:
            for index in self.selectedIndexes():
                self._set(index.row(), index.column(), "")
        else:
            super().keyPressEvent(event)

    def _selected_text(self) -> str:
        indexes = self.selectedIndexes()
        rows = sorted({index.row() for index in indexes})
        columns = sorted({index.column() for index in indexes})
        return "\n".join("\t".join(self._text(r, c) for c in columns) for r in rows)

    def _show_heads(self) -> None:
        self.setHorizontalHeaderLabels([*_HEADS, *self.features])
        for column in range(self.columnCount()):
            self.setColumnWidth(column, _NARROW if column == 0 else _WIDE)

    def _fill(self, row: int, texts: Sequence[str]) -> None:
        for column, text in enumerate(texts):
            self._set(row, column, text)

    def _set(self, row: int, column: int, text: str) -> None:
        self.setItem(row, column, QTableWidgetItem(text))

    def _text(self, row: int, column: int) -> str:
        return str(self.model().index(row, column).data() or "").strip()

    def _edit(self, row: int, column: int) -> None:
        index = self.model().index(row, column)
        self.selectionModel().setCurrentIndex(
            index, QItemSelectionModel.SelectionFlag.ClearAndSelect
        )
        self.setFocus()
        self.edit(index)

"""Photographs that wait to be filed: choose some, say which tool they show."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.values import Photograph
from planebench.window.fonts import words
from planebench.window.pieces.act import ActButton, Weight
from planebench.window.pieces.field import Field
from planebench.window.pieces.focus_ring import no_ring
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.row_ground import AnyIndex, paint_row_ground
from planebench.window.pieces.words import Ink, Words, heading
from planebench.window.screens.intake.model import NamedTool
from planebench.window.thumbnails import Thumbnails, paint_cover
from planebench.window.tokens import NOTE, tokens_now

_CELL = QSize(196, 164)
_PHOTO = Qt.ItemDataRole.UserRole
# Rows beyond these come up once others are filed, or once a word narrows the list.
_MOST_PHOTOGRAPHS, _MOST_TOOLS = 1000, 300


@dataclass(frozen=True, slots=True, kw_only=True)
class Filing:
    """Photographs and the tool they are to be filed under."""

    photographs: tuple[PhotographId, ...]
    tool: ToolId


class _Cells(QStyledItemDelegate):
    def __init__(self, thumbnails: Thumbnails, parent: QWidget) -> None:
        super().__init__(parent)
        self._thumbnails = thumbnails

    @override
    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:
        return _CELL

    @override
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        photo = index.data(_PHOTO)
        box = QRectF(option.rect)
        painter.save()
        paint_row_ground(painter, box, option.state)
        pixmap = self._thumbnails.of(PhotographId(photo))
        paint_cover(painter, box.adjusted(8, 8, -8, -32), pixmap)
        painter.setFont(words(NOTE))
        painter.setPen(QColor(tokens_now().muted))
        below = box.adjusted(8, box.height() - 28, -8, -8)
        painter.drawText(below, Qt.AlignmentFlag.AlignLeft, str(index.data()))
        painter.restore()


class Tray(QWidget):
    """The page of photographs not filed yet.

    Signals: `filed(Filing)`; `bin_wanted(tuple[PhotographId, ...])`; `done()`.
    """

    filed = Signal(object)
    bin_wanted = Signal(object)
    done = Signal()

    def __init__(self, thumbnails: Thumbnails, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._tools: tuple[NamedTool, ...] = ()
        self._suggested: Mapping[PhotographId, ToolId] = {}
        self.photographs = QListWidget()
        self.tools = QListWidget()
        self.which = Field("Which tool", hint="stock number, maker, kind")
        self._title = heading()
        self._help = Words(ink=Ink.MUTED).wrapped()
        self._prepare(thumbnails)
        self._lay_out()

    def show_waiting(
        self,
        photographs: Sequence[Photograph],
        tools: Sequence[NamedTool],
        suggested: Mapping[PhotographId, ToolId],
    ) -> None:
        """Show what waits and the tools it may belong to; `suggested` is what the cards say."""
        self._suggested = suggested
        self._tools = tuple(tools)
        row = max(0, self.photographs.currentRow())
        self.photographs.clear()
        for photo in photographs[:_MOST_PHOTOGRAPHS]:
            when = "" if photo.taken_at is None else f"  {photo.taken_at:%H:%M}"
            item = QListWidgetItem(f"{photo.original_name}{when}")
            item.setData(_PHOTO, photo.id)
            self.photographs.addItem(item)
        self.photographs.setCurrentRow(min(row, self.photographs.count() - 1))
        count = len(photographs)
        self._title.setText(f"{count} photographs not filed yet" if count else "All are filed")
        self._help.setText(
            "Choose photographs (Shift or Ctrl for several), then a tool. Enter files them under "
            "the tool marked at the right; Delete puts them in the bin."
            if count
            else "Nothing waits here. Esc goes back."
        )
        self._show_tools()

    def _prepare(self, thumbnails: Thumbnails) -> None:
        photographs = self.photographs
        photographs.setAccessibleName("Photographs not filed yet")
        photographs.setFrameShape(QFrame.Shape.NoFrame)
        photographs.setViewMode(QListWidget.ViewMode.IconMode)
        photographs.setMovement(QListWidget.Movement.Static)
        photographs.setResizeMode(QListWidget.ResizeMode.Adjust)
        photographs.setGridSize(_CELL)
        photographs.setUniformItemSizes(True)
        photographs.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        photographs.setItemDelegate(_Cells(thumbnails, photographs))
        no_ring(photographs)
        thumbnails.ready.connect(lambda _photo: photographs.viewport().update())
        photographs.itemActivated.connect(lambda _item: self._file())
        photographs.currentRowChanged.connect(lambda _row: self._stand_on_suggestion())
        self.tools.setAccessibleName("Tools")
        self.tools.setFrameShape(QFrame.Shape.NoFrame)
        self.tools.itemActivated.connect(lambda _item: self._file())
        self.which.typed.connect(lambda _text: self._show_tools())
        self.which.line.returnPressed.connect(self._file)

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.setContentsMargins(24, 16, 16, 12)
        for part in (self._title, self._help):
            left.addWidget(part)
        left.addWidget(self.photographs, 1)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addLayout(left, 3)
        whole.addWidget(Rule(upright=True))
        whole.addLayout(self._right_column(), 1)

    def _right_column(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setContentsMargins(16, 16, 24, 12)
        column.setSpacing(8)
        column.addWidget(heading("Which tool do they show?"))
        column.addWidget(self.which)
        column.addWidget(self.tools, 1)
        acts = QHBoxLayout()
        acts.setSpacing(8)
        file_them = ActButton("File them there", weight=Weight.MAIN, key="Enter")
        file_them.clicked.connect(self._file)
        done = ActButton("Done")
        done.clicked.connect(self.done)
        acts.addWidget(file_them)
        acts.addWidget(done)
        acts.addStretch(1)
        column.addLayout(acts)
        return column

    def _show_tools(self) -> None:
        words_ = self.which.text.casefold().split()
        suggested = set(self._suggested.values())
        fitting = [tool for tool in self._tools if all(word in tool.folded for word in words_)]
        # What a card suggests is never left out of a long list.
        fitting.sort(key=lambda tool: tool.id not in suggested)
        self.tools.clear()
        for tool in fitting[:_MOST_TOOLS]:
            item = QListWidgetItem(tool.words)
            item.setData(_PHOTO, tool.id)
            self.tools.addItem(item)
        self._stand_on_suggestion()

    def _stand_on_suggestion(self) -> None:
        at = self.photographs.currentIndex()
        wanted = self._suggested.get(at.data(_PHOTO)) if at.isValid() else None
        for row in range(self.tools.count()):
            if self.tools.item(row).data(_PHOTO) == wanted:
                self.tools.setCurrentRow(row)
                return
        if self.tools.currentRow() < 0:
            self.tools.setCurrentRow(0)

    def _chosen(self) -> tuple[PhotographId, ...]:
        items = self.photographs.selectedItems()
        return tuple(PhotographId(item.data(_PHOTO)) for item in items)

    def _file(self) -> None:
        tool, photographs = self.tools.currentIndex(), self._chosen()
        if tool.isValid() and photographs:
            self.filed.emit(Filing(photographs=photographs, tool=ToolId(tool.data(_PHOTO))))

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Delete and self._chosen():
            self.bin_wanted.emit(self._chosen())
        else:
            super().keyPressEvent(event)

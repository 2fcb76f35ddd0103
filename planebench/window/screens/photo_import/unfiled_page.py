"""The page of photographs waiting to be filed: select some, choose their tool."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import (
    QAbstractListModel,
    QItemSelectionModel,
    QObject,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import (
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPixmap,
    QShortcut,
    QShowEvent,
)
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QListView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.values import Photograph
from planebench.trade.days import format_day
from planebench.trade.terms import STAGE_WORDS, Stage
from planebench.window.fonts import text_font
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.focus_ring import no_ring
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.row_background import AnyIndex, paint_row_background
from planebench.window.pieces.single_photograph import SinglePhotograph
from planebench.window.pieces.text import Ink, Label, heading
from planebench.window.screens.photo_import.import_model import MOST_PHOTOGRAPHS, ToolChoice
from planebench.window.thumbnails import Thumbnails, paint_cover
from planebench.window.tokens import NOTE, tokens_now

_CELL = QSize(196, 184)
_ID = Qt.ItemDataRole.UserRole


@dataclass(frozen=True, slots=True, kw_only=True)
class Filing:
    """Photographs, the tool they are to be filed under, and their stage; None leaves it."""

    photographs: tuple[PhotographId, ...]
    tool: ToolId
    stage: Stage | None = None


class _Rows(QAbstractListModel):
    """Rows of an id and its words, replaced as a whole, so that thousands stay fast."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._rows: Sequence[tuple[str, str]] = ()

    def show_rows(self, rows: Sequence[tuple[str, str]]) -> None:
        self.beginResetModel()
        self._rows = rows
        self.endResetModel()

    def row_of(self, id_: str | None) -> int:
        return next((row for row, (each, _) in enumerate(self._rows) if each == id_), -1)

    @override
    def rowCount(self, parent: AnyIndex | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self._rows)

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        id_, told = self._rows[index.row()]
        return {_ID: id_, Qt.ItemDataRole.DisplayRole: told}.get(Qt.ItemDataRole(role))


class _Cells(QStyledItemDelegate):
    def __init__(self, thumbnails: Thumbnails, parent: QWidget) -> None:
        super().__init__(parent)
        self._thumbnails = thumbnails

    @override
    def sizeHint(self, option: QStyleOptionViewItem, index: AnyIndex) -> QSize:
        return _CELL

    @override
    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: AnyIndex) -> None:
        photo = index.data(_ID)
        box = QRectF(option.rect)
        painter.save()
        paint_row_background(painter, box, option.state)
        pixmap = self._thumbnails.of(PhotographId(photo))
        paint_whole(painter, box.adjusted(8, 8, -8, -50), pixmap)
        painter.setFont(text_font(NOTE))
        below = box.adjusted(8, box.height() - 46, -8, -8)
        # The file's name, then the card's number or the time; each cut to the width.
        measure = QFontMetricsF(text_font(NOTE))
        for line, text in enumerate(str(index.data()).split("\n")):
            painter.setPen(QColor(tokens_now().muted if line else tokens_now().ink))
            shown = measure.elidedText(text, Qt.TextElideMode.ElideMiddle, below.width())
            painter.drawText(below.translated(0, 18 * line), Qt.AlignmentFlag.AlignLeft, shown)
        painter.restore()


class UnfiledPage(QWidget):
    """The page of photographs not filed yet.

    Signals: `filed(Filing)`; `bin_wanted(tuple[PhotographId, ...])`; `done()`; `tools_wanted(str)`
    for the tools that match these words, to be shown by `show_tools`.
    """

    filed = Signal(object)
    tools_wanted = Signal(str)
    bin_wanted = Signal(object)
    done = Signal()

    def __init__(
        self, thumbnails: Thumbnails, large: Thumbnails, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._large = large
        self.closer = SinglePhotograph()
        self._suggested: Mapping[PhotographId, ToolId] = {}
        self._carded: frozenset[str] = frozenset()
        # The words by which the tools shown were found; None before any are shown.
        self._found_by: str | None = None
        self._file_once_found = False
        self._waiting, self._found = _Rows(self), _Rows(self)
        self.photographs = QListView()
        self.tools = QListView()
        self.which = Field("Which tool", hint="stock number, maker, kind")
        stages = [(stage.value, words) for stage, words in STAGE_WORDS.items()]
        self.stage = DropDown("Stage", [("", "as imported"), *stages])
        self._title = heading()
        self._help = Label(ink=Ink.MUTED).wrapped()
        self._file_them = ActionButton(
            "File under this tool", weight=ButtonWeight.MAIN, key="Enter"
        )
        self._prepare(thumbnails)
        self._lay_out()

    def show_waiting(
        self, photographs: Sequence[Photograph], suggested: Mapping[PhotographId, ToolId]
    ) -> None:
        """Show the waiting photographs; `suggested` is the tool that a card suggests."""
        self._suggested = suggested
        self._carded = frozenset(
            photo.id for photo in photographs if (photo.scale or {}).get("stock")
        )
        first = self._waiting.rowCount() == 0
        chosen, row = self._chosen(), max(0, self.photographs.currentIndex().row())
        at, marked = _stands_on(self.photographs), _stands_on(self.tools)
        shown = [(photo.id, _named(photo)) for photo in photographs[:MOST_PHOTOGRAPHS]]
        self._waiting.show_rows(shown)
        self._stand_on(self.photographs, min(row, len(shown) - 1))
        if not first:
            # What was selected is filed: the next photograph waits to be selected by a person.
            self.photographs.clearSelection()
        self._choose_again(chosen, at)
        if at is not None and _stands_on(self.photographs) == at:
            # The tool selected for a photograph stays selected while others come in.
            self._stand_on(self.tools, self._found.row_of(marked))
        self._tell_count(len(photographs))
        self.tools_wanted.emit(self.which.text)

    def show_tools(self, words_: str, tools: Sequence[ToolChoice]) -> None:
        """Show the tools found by these words; for the same words the selection stays."""
        marked = _stands_on(self.tools) if words_ == self._found_by else None
        suggestion_is_new = self._row_suggested() < 0
        self._found_by = words_
        self._found.show_rows([(tool.id, tool.words) for tool in tools])
        self._stand_on(self.tools, self._found.row_of(marked))
        if suggestion_is_new or marked is None:
            self._stand_on_suggestion()
        if self._file_once_found and words_ == self.which.text:
            self._file()

    def _tell_count(self, count: int) -> None:
        plural = "photograph" if count == 1 else "photographs"
        self._title.setText(
            f"{count} {plural} not filed yet" if count else "All photographs are filed"
        )
        self._file_them.setEnabled(count > 0)
        self.closer.setVisible(count > 0)
        self._help.setText(
            "Select photographs (Shift or Ctrl for several), then a tool. Enter files them "
            "under the tool selected at the right; Delete moves them to the bin."
            if count
            else "Nothing is waiting. Esc goes back."
        )

    def _prepare(self, thumbnails: Thumbnails) -> None:
        photographs = self.photographs
        photographs.setAccessibleName("Photographs not filed yet")
        photographs.setFrameShape(QFrame.Shape.NoFrame)
        photographs.setViewMode(QListView.ViewMode.IconMode)
        photographs.setMovement(QListView.Movement.Static)
        photographs.setResizeMode(QListView.ResizeMode.Adjust)
        photographs.setGridSize(_CELL)
        photographs.setUniformItemSizes(True)
        photographs.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        photographs.setModel(self._waiting)
        photographs.setItemDelegate(_Cells(thumbnails, photographs))
        no_ring(photographs)
        thumbnails.ready.connect(lambda _photo: photographs.viewport().update())
        photographs.activated.connect(lambda _index: self._file())
        photographs.selectionModel().currentChanged.connect(lambda *_: self._stand_on_suggestion())
        photographs.selectionModel().currentChanged.connect(lambda *_: self._look_closer())
        self._large.ready.connect(lambda _photo: self._look_closer())
        self._prepare_tools()

    def _prepare_tools(self) -> None:
        self.tools.setAccessibleName("Tools")
        self.tools.setFrameShape(QFrame.Shape.NoFrame)
        self.tools.setModel(self._found)
        self.tools.setUniformItemSizes(True)
        # In the smallest window two tools are seen at a time; more room goes to this list first.
        self.tools.setMinimumHeight(48)
        self.tools.activated.connect(lambda _index: self._file())
        # Not only typing: Esc clears the field, and then all tools are shown again.
        self.which.line.textChanged.connect(self.tools_wanted)
        self.which.line.returnPressed.connect(self._file)
        for key, step in ((Qt.Key.Key_Up, -1), (Qt.Key.Key_Down, 1)):
            shortcut = QShortcut(QKeySequence(key), self.which.line)
            shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)
            shortcut.activated.connect(partial(self._mark, step))

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.setContentsMargins(24, 16, 16, 12)
        left.setSpacing(8)
        for part in (self._title, self._help):
            left.addWidget(part)
        left.addWidget(self.photographs, 1)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addLayout(left, 2)
        whole.addWidget(Rule(upright=True))
        whole.addLayout(self._right_column(), 1)

    def _right_column(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.setContentsMargins(16, 8, 24, 8)
        column.setSpacing(8)
        column.addWidget(self.closer)
        column.addWidget(heading("Which tool do they show?"))
        column.addWidget(self.which)
        column.addWidget(self.tools, 1)
        column.addWidget(LabeledControl("Stage", self.stage, beside=80))
        acts = QHBoxLayout()
        acts.setSpacing(8)
        self._file_them.clicked.connect(self._file)
        done = ActionButton("Done")
        done.clicked.connect(self.done)
        acts.addWidget(self._file_them)
        acts.addWidget(done)
        acts.addStretch(1)
        column.addLayout(acts)
        return column

    def _stand_on_suggestion(self) -> None:
        row = self._row_suggested()
        # Without a suggestion or a search word the first tool would be a guess, and even the only
        # tool is wrong for a photograph whose card has another number.
        only_one = self._found.rowCount() == 1 and _stands_on(self.photographs) not in self._carded
        asked_for = self.which.text.strip() or only_one
        if row < 0 and not self.tools.currentIndex().isValid() and asked_for:
            row = 0
        self._stand_on(self.tools, row)

    def _row_suggested(self) -> int:
        photograph = _stands_on(self.photographs)
        tool = None if photograph is None else self._suggested.get(PhotographId(photograph))
        return self._found.row_of(tool)

    @staticmethod
    def _stand_on(rows: QListView, row: int) -> None:
        if row >= 0:
            rows.setCurrentIndex(rows.model().index(row, 0))

    def _chosen(self) -> tuple[PhotographId, ...]:
        rows = sorted(index.row() for index in self.photographs.selectedIndexes())
        return tuple(PhotographId(self._waiting.index(row).data(_ID)) for row in rows)

    def _look_closer(self) -> None:
        """Show the current photograph large, once this page is visible."""
        at = _stands_on(self.photographs)
        wanted = at is not None and self.isVisible()
        pixmap = self._large.of(PhotographId(at or "")) if wanted else None
        self.closer.show_pixmap(pixmap, "the selected photograph")

    def _mark(self, step: int) -> None:
        """Select the tool above or below."""
        row = self.tools.currentIndex().row() + step
        self._stand_on(self.tools, min(max(0, row), self._found.rowCount() - 1))

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._look_closer()

    def _choose_again(self, photographs: Sequence[PhotographId], at: str | None) -> None:
        """Restore the selection, with the current photograph `at`, while others come in."""
        rows = [row for each in photographs if (row := self._waiting.row_of(each)) >= 0]
        if rows:
            row = self._waiting.row_of(at)
            self._stand_on(self.photographs, row if row in rows else rows[0])
        for row in rows:
            self.photographs.selectionModel().select(
                self._waiting.index(row), QItemSelectionModel.SelectionFlag.Select
            )

    def _file(self) -> None:
        # Someone who types and presses Enter at once means the tool still being looked up.
        self._file_once_found = self._found_by != self.which.text
        if self._file_once_found:
            return
        tool, photographs = self.tools.currentIndex(), self._chosen()
        if tool.isValid() and photographs:
            stage = Stage(self.stage.held) if self.stage.held else None
            self.filed.emit(
                Filing(photographs=photographs, tool=ToolId(tool.data(_ID)), stage=stage)
            )
        elif photographs:
            self.which.line.setFocus()
        elif self.photographs.currentIndex().isValid():
            # Nothing is selected after filing: the first Enter selects the next photograph.
            self._stand_on(self.photographs, self.photographs.currentIndex().row())
            self.photographs.selectionModel().select(
                self.photographs.currentIndex(), QItemSelectionModel.SelectionFlag.Select
            )

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Delete and self._chosen():
            self.bin_wanted.emit(self._chosen())
        else:
            super().keyPressEvent(event)


def paint_whole(painter: QPainter, box: QRectF, pixmap: QPixmap | None) -> None:
    """Paint a photograph whole inside a box, upright ones too; a dashed frame without one."""
    if pixmap is None or pixmap.isNull():
        paint_cover(painter, box, pixmap)
        return
    times = min(box.width() / pixmap.width(), box.height() / pixmap.height())
    shown = QRectF(0, 0, pixmap.width() * times, pixmap.height() * times)
    shown.moveCenter(box.center())
    paint_cover(painter, shown, pixmap)


def _stands_on(rows: QListView) -> str | None:
    at = rows.currentIndex()
    return str(at.data(_ID)) if at.isValid() else None


def _named(photo: Photograph) -> str:
    """Return the file's name and, on a second line, its card's number, or when it was taken."""
    card = str((photo.scale or {}).get("stock") or "")
    taken = None if photo.taken_at is None else photo.taken_at.astimezone()
    when = "" if taken is None else f"{taken:%H:%M}" if card else _moment(taken)
    parts = (f"card {card}" if card else "", when)
    return f"{photo.original_name}\n{', '.join(filter(None, parts))}"


def _moment(taken: dt.datetime) -> str:
    return f"{format_day(taken.date())}, {taken:%H:%M}"

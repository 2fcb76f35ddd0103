"""Naming views: all photographs of a tool in a grid, several named at once by key."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import PhotographId
from planebench.catalog.photographs import PhotographFields
from planebench.catalog.reference import name_of, open_list
from planebench.catalog.values import Photograph, Tool
from planebench.trade.terms import STAGE_WORDS, Stage
from planebench.window.fonts import text_font
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.esc_key import keeps_esc
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.focus_ring import ring_inside
from planebench.window.pieces.text import heading, small_label
from planebench.window.screens.tool.record_wording import upper_first
from planebench.window.thumbnails import Thumbnails, paint_cover
from planebench.window.tokens import FOCUS_LINE, NOTE, TEXT, tokens_now

VIEW_KEYS = {
    Qt.Key.Key_T: "top",
    Qt.Key.Key_L: "left_side",
    Qt.Key.Key_R: "right_side",
    Qt.Key.Key_S: "sole",
    Qt.Key.Key_F: "front",
    Qt.Key.Key_B: "back",
    Qt.Key.Key_M: "mouth",
    Qt.Key.Key_K: "marks",
    Qt.Key.Key_C: "cutter",
    Qt.Key.Key_D: "detail",
}
STAGE_KEYS = {
    Qt.Key.Key_1: Stage.AS_FOUND,
    Qt.Key.Key_2: Stage.DURING,
    Qt.Key.Key_3: Stage.FINISHED,
}
_STEPS = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
Verb = Callable[[Catalog], Changes]
_CELL, _SHOWN = QSize(176, 164), 112
_VALUE = Qt.ItemDataRole.UserRole


class PhotographGrid(QListWidget):
    """The photographs in order; several can be selected.

    Signals: `view_named(str)`, `stage_named(str)`, `moved(int)` by Alt+Up and Alt+Down,
    `bin_wanted()` by Delete.
    """

    view_named = Signal(str)
    stage_named = Signal(str)
    moved = Signal(int)
    bin_wanted = Signal()

    def __init__(self, thumbnails: Thumbnails) -> None:
        super().__init__()
        self.setAccessibleName("Photographs of the tool")
        self.setViewMode(QListWidget.ViewMode.IconMode)
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setMovement(QListWidget.Movement.Static)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setUniformItemSizes(True)
        self.setSpacing(4)
        self.setItemDelegate(_PhotographPainter(thumbnails, self))
        ring_inside(self)
        thumbnails.ready.connect(lambda _photograph: self.viewport().update())

    @override
    def event(self, event: QEvent) -> bool:
        # Letters and digits name photographs here, so they must not act as shortcuts.
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.ShortcutOverride:
            key, bare = Qt.Key(event.key()), not event.modifiers()
            if bare and (key in VIEW_KEYS or key in STAGE_KEYS):
                event.accept()
                return True
        return super().event(event)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if event.modifiers() & Qt.KeyboardModifier.AltModifier and key in _STEPS:
            self.moved.emit(_STEPS[key])
        elif key is Qt.Key.Key_Delete:
            self.bin_wanted.emit()
        elif event.modifiers() or not self._name_by(key):
            super().keyPressEvent(event)

    def _name_by(self, key: Qt.Key) -> bool:
        if key in VIEW_KEYS:
            self.view_named.emit(VIEW_KEYS[key])
        elif key in STAGE_KEYS:
            self.stage_named.emit(STAGE_KEYS[key].value)
        return key in VIEW_KEYS or key in STAGE_KEYS


class ViewNamingPane(QWidget):
    """The grid with view, stage and caption of the selected photographs.

    Signals: `wanted(Verb)` with an edit of the catalog; `closed()`.
    """

    wanted = Signal(object)
    closed = Signal()

    def __init__(self, thumbnails: Thumbnails, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.grid = PhotographGrid(thumbnails)
        self.view = DropDown("View", _view_choices())
        self.stage = DropDown("Stage", [(s.value, STAGE_WORDS[s]) for s in STAGE_KEYS.values()])
        self.caption = Field("Caption", hint="what it shows, if more than the view")
        self._count = small_label()
        self._empty = small_label("No photographs yet. Drop files here, or choose Add photographs.")
        self._bin = ActionButton("Delete", key="Del")
        self._lay_out()
        self._connect()

    @property
    def chosen(self) -> tuple[PhotographId, ...]:
        """The selected photographs in order."""
        rows = sorted(index.row() for index in self.grid.selectedIndexes())
        return tuple(_value(self.grid.item(row)).id for row in rows)

    def begin(self) -> None:
        """Focus the grid."""
        self.grid.setFocus()
        if self.grid.count() and not self.grid.selectedItems():
            self.grid.setCurrentRow(0)

    def show_tool(self, tool: Tool) -> None:
        """Show the photographs of a tool in order and keep the selection."""
        chosen, row = set(self.chosen), self.grid.currentRow()
        known = [_value(self.grid.item(at)) for at in range(self.grid.count())]
        if known != list(tool.photographs):
            self._fill(tool.photographs, chosen, row)
        self._empty.setVisible(not tool.photographs)
        self._show_chosen()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)

    @override
    def event(self, event: QEvent) -> bool:
        # Esc ends the naming before it leaves the screen.
        return keeps_esc(event) or super().event(event)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 12, 24, 16)
        column.setSpacing(8)
        title = QHBoxLayout()
        title.setSpacing(12)
        title.addWidget(heading("Name the views"), 0, Qt.AlignmentFlag.AlignBaseline)
        title.addWidget(self._count, 0, Qt.AlignmentFlag.AlignBaseline)
        title.addStretch(1)
        done = ActionButton("Done", key="Esc")
        done.clicked.connect(self.closed)
        title.addWidget(done)
        column.addLayout(title)
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(LabeledControl("View", self.view), 2)
        row.addWidget(LabeledControl("Stage", self.stage), 2)
        row.addWidget(LabeledControl("Caption", self.caption), 4)
        row.addWidget(self._bin, 0, Qt.AlignmentFlag.AlignBottom)
        column.addLayout(row)
        column.addWidget(small_label(_keys_help()).wrapped())
        column.addWidget(self._empty)
        column.addWidget(self.grid, 1)

    def _connect(self) -> None:
        self.grid.itemSelectionChanged.connect(self._show_chosen)
        self.grid.view_named.connect(lambda view: self._write(view=view))
        self.grid.stage_named.connect(lambda stage: self._write(stage=Stage(stage)))
        self.grid.moved.connect(self._move)
        self.grid.bin_wanted.connect(self._put_away)
        self.view.chosen.connect(lambda view: self._write(view=view))
        self.stage.chosen.connect(lambda stage: self._write(stage=Stage(stage)))
        self.caption.save_at_rest()
        self.caption.kept.connect(lambda text: self._write(caption=text.strip()))
        self._bin.clicked.connect(self._put_away)

    def _fill(self, photographs: Sequence[Photograph], chosen: set[PhotographId], row: int) -> None:
        self.grid.blockSignals(True)  # noqa: FBT003 (Qt's own)
        self.grid.clear()
        for one in photographs:
            item = QListWidgetItem(photograph_description(one))
            item.setData(_VALUE, one)
            item.setSizeHint(_CELL)
            self.grid.addItem(item)
            item.setSelected(one.id in chosen)
        still = [at for at, one in enumerate(photographs) if one.id in chosen]
        at = still[0] if still else min(row, len(photographs) - 1)
        if at >= 0:
            index = self.grid.model().index(at, 0)
            save_field = self.grid.selectionModel().SelectionFlag.NoUpdate
            self.grid.selectionModel().setCurrentIndex(index, save_field)
        self.grid.blockSignals(False)  # noqa: FBT003 (Qt's own)

    def _show_chosen(self) -> None:
        items = [_value(item) for item in self.grid.selectedItems()]
        count = self.grid.count()
        self._count.setText(f"{len(items)} of {count} selected" if count else "")
        self._bin.set_disabled_reason("" if items else "Select photographs first.")
        for control in (self.view, self.stage, self.caption):
            control.setEnabled(bool(items))
        self._show_shared(items)

    def _show_shared(self, items: Sequence[Photograph]) -> None:
        """Show the values that all selected photographs share."""
        self.view.setPlaceholderText("mixed" if len(items) > 1 else "not named yet")
        self.stage.setPlaceholderText("mixed")
        self.view.hold(_shared([one.view for one in items]))
        self.stage.hold(_shared([one.stage.value for one in items]))
        self.caption.set_text(_shared([one.caption for one in items]))

    def _write(self, **fields: object) -> None:
        chosen = self.chosen
        if chosen:
            values = PhotographFields(**fields)  # type: ignore[typeddict-item]  # named by the callers above
            self.wanted.emit(lambda catalog: catalog.photographs.change(chosen, **values))

    def _put_away(self) -> None:
        chosen = self.chosen
        if chosen:
            self.wanted.emit(lambda catalog: catalog.photographs.bin(chosen))

    def _move(self, step: int) -> None:
        """Move the selected photographs together by one position."""
        order = [_value(self.grid.item(at)).id for at in range(self.grid.count())]
        moved = moved_together(order, self.chosen, step)
        if moved != order:
            self.wanted.emit(lambda catalog: catalog.photographs.set_order(moved))


class _PhotographPainter(QStyledItemDelegate):
    """Paints a photograph with its view, stage and caption below it."""

    def __init__(self, thumbnails: Thumbnails, parent: QWidget) -> None:
        super().__init__(parent)
        self._thumbnails = thumbnails

    @override
    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        return _CELL

    @override
    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        one = index.data(_VALUE)
        tokens, box = tokens_now(), QRectF(option.rect)
        view = self.parent()
        chosen = isinstance(view, QListWidget) and view.selectionModel().isSelected(index)
        painter.save()
        if chosen:
            painter.fillRect(box, QColor(tokens.chosen))
            painter.fillRect(QRectF(box.left(), box.top(), 4, box.height()), QColor(tokens.brass))
        inner = box.adjusted(8, 6, -4, -6)
        shown = QRectF(inner.left(), inner.top(), inner.width(), _SHOWN)
        paint_cover(painter, shown, self._thumbnails.of(one.id))
        if isinstance(view, QListWidget) and view.currentIndex() == index and view.hasFocus():
            painter.setPen(QPen(QColor(tokens.brass), FOCUS_LINE))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(shown.adjusted(1, 1, -1, -1))
        _paint_words(painter, QRectF(inner.left(), shown.bottom() + 4, inner.width(), 40), one)
        painter.restore()


def photograph_description(one: Photograph) -> str:
    """Return view, stage and caption of a photograph."""
    view = name_of("views", one.view) if one.view else "view not named"
    return ", ".join(filter(None, (upper_first(view), STAGE_WORDS[one.stage], one.caption)))


def moved_together(
    order: Sequence[PhotographId], chosen: Sequence[PhotographId], step: int
) -> list[PhotographId]:
    """Return the order with the chosen ones one position up (-1) or down (1)."""
    moved = list(order)
    places = [at for at, one in enumerate(moved) if one in chosen]
    for at in places if step < 0 else reversed(places):
        to = at + step
        if 0 <= to < len(moved) and moved[to] not in chosen:
            moved[at], moved[to] = moved[to], moved[at]
    return moved


def _paint_words(painter: QPainter, box: QRectF, one: Photograph) -> None:
    tokens = tokens_now()
    view = upper_first(name_of("views", one.view)) if one.view else "View not named"
    for at, (text, size, ink) in enumerate(
        (
            (view, TEXT, tokens.ink if one.view else tokens.rust),
            (one.caption or STAGE_WORDS[one.stage], NOTE, tokens.muted),
        )
    ):
        painter.setFont(text_font(size))
        painter.setPen(QColor(ink))
        line = QRectF(box.left(), box.top() + at * 19, box.width(), 19)
        shown = painter.fontMetrics().elidedText(
            text, Qt.TextElideMode.ElideRight, int(box.width())
        )
        painter.drawText(line, Qt.AlignmentFlag.AlignVCenter, shown)


def _value(item: QListWidgetItem) -> Photograph:
    value = item.data(_VALUE)
    assert isinstance(value, Photograph)  # noqa: S101 (set when the grid was filled)
    return value


def _shared(values: Sequence[str]) -> str:
    return values[0] if values and len(set(values)) == 1 else ""


def _view_choices() -> list[tuple[str, str]]:
    return [(row.code, row.name) for row in open_list("views").values()]


def _keys_help() -> str:
    views = ", ".join(
        f"{Qt.Key(key).name[4:]} {name_of('views', v)}" for key, v in VIEW_KEYS.items()
    )
    stages = ", ".join(f"{Qt.Key(k).name[4:]} {STAGE_WORDS[s]}" for k, s in STAGE_KEYS.items())
    return f"{views}. {stages}. Alt+Up and Alt+Down change the order; Delete deletes."

"""A slot for each view of the plane, as found and finished, with details and marks beside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QKeyEvent, QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.ids import PhotographId
from planebench.catalog.reference import name_of
from planebench.catalog.values import Photograph, Tool
from planebench.trade.days import DayOrder
from planebench.trade.terms import STAGE_WORDS, Stage
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.photo_slot import PhotoSlot
from planebench.window.pieces.text import LinkButton, small_label
from planebench.window.screens.tool.record_wording import photograph_words
from planebench.window.thumbnails import Thumbnails
from planebench.window.tokens import NOTE, ON_PHOTOGRAPH

VIEWS = ("back", "top", "front", "sole", "left_side", "right_side")
_WIDE = {
    "back": (1, 0),
    "top": (1, 1),
    "front": (1, 2),
    "sole": (1, 3),
    "left_side": (0, 1),
    "right_side": (2, 1),
}
_NARROW = {view: (0, at) for at, view in enumerate(VIEWS)}
_ENDS = (Stage.AS_FOUND, Stage.FINISHED)
_MOST_DETAILS = 7
# Six views of two small slots each, in pixels.
_ONE_ROW_FROM = 808
_SIZE, _SMALL = QSize(72, 48), QSize(62, 44)
_DIRECTIONS = {
    Qt.Key.Key_Left: QPointF(-1, 0),
    Qt.Key.Key_Right: QPointF(1, 0),
    Qt.Key.Key_Up: QPointF(0, -1),
    Qt.Key.Key_Down: QPointF(0, 1),
}
_HINT = "Left: as found. Right: finished. A dashed frame is not photographed yet."


class ViewSlot(PhotoSlot):
    """A slot that marks the pins of its photograph."""

    def __init__(self, name: str, view: str, size: QSize) -> None:
        super().__init__(name, view, size=size)
        self.photograph: PhotographId | None = None
        self._shape = 1.0
        self._spots: tuple[tuple[float, float], ...] = ()

    def show_spots(self, spots: tuple[tuple[float, float], ...], shape: float) -> None:
        """Show spots, each 0 to 1, on a photograph of this aspect ratio (width / height)."""
        self._spots, self._shape = spots, shape
        self.update()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        # A button would move to its sibling; the slots know which one lies in that direction.
        if Qt.Key(event.key()) in _DIRECTIONS:
            event.ignore()
        else:
            super().keyPressEvent(event)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.is_empty or not self._spots:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        wide, high = float(self.width()), float(self.height())
        if self._shape > wide / high:
            wide = high * self._shape
        else:
            high = wide / self._shape
        corner = QPointF((self.width() - wide) / 2, (self.height() - high) / 2)
        painter.setPen(QColor(ON_PHOTOGRAPH.paper))
        painter.setBrush(QColor(ON_PHOTOGRAPH.ink))
        for x, y in self._spots:
            at = corner + QPointF(x * wide, y * high)
            if QRectF(self.rect()).contains(at):
                painter.drawEllipse(at, 2.5, 2.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class _SlotKey:
    view: str
    stage: Stage


class ViewSlots(QWidget):
    """All photographs of the tool by view.

    Signals: `chosen(str)` with a photograph; `import_wanted(str, str)` with view and stage of an
    empty place; `photographs_wanted()`, `naming_wanted()`; `pair_wanted()` by B and
    `work_wanted()` by Enter for the one shown large.
    """

    chosen = Signal(str)
    import_wanted = Signal(str, str)
    photographs_wanted = Signal()
    naming_wanted = Signal()
    pair_wanted = Signal()
    work_wanted = Signal()

    def __init__(self, thumbnails: Thumbnails, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._thumbnails = thumbnails
        self._tool: Tool | None = None
        self._current: str | None = None
        self._order = DayOrder.MONTH_FIRST
        self.narrow: bool | None = None
        self.slots: dict[_SlotKey, ViewSlot] = {}
        self._names: dict[str, QWidget] = {}
        self.details: list[ViewSlot] = []
        self._grid = QGridLayout()
        self._detail_row = QGridLayout()
        self._more = LinkButton("", size=NOTE)
        self._hint = small_label(_HINT).wrapped()
        self._details_box = QWidget()
        self._actions = self._make_actions()
        self._make_slots()
        self._lay_out()
        thumbnails.ready.connect(self._ready)
        self.set_narrow(narrow=False)

    def show_tool(self, tool: Tool, current: str | None, order: DayOrder) -> None:
        """Show each photograph in its slot; `current` is the one shown large."""
        self._tool, self._current, self._order = tool, current, order
        taken: dict[_SlotKey, Photograph] = {}
        rest: list[Photograph] = []
        for one in tool.photographs:
            key = _SlotKey(view=one.view, stage=one.stage)
            if key in self.slots and key not in taken:
                taken[key] = one
            else:
                rest.append(one)
        for key, slot in self.slots.items():
            self._fill(slot, taken.get(key))
        self._show_details(rest)

    def set_current(self, photograph: str | None) -> None:
        """Mark the photograph that is shown large."""
        self._current = photograph
        for slot in self._all_slots():
            slot.setChecked(slot.photograph is not None and slot.photograph == photograph)

    def set_narrow(self, *, narrow: bool) -> None:
        """Lay the views out in one row, or as a cross with the details beside them."""
        if narrow == self.narrow:
            return
        self.narrow = narrow
        self._lay_out_views()
        for slot in self._all_slots():
            slot.setFixedSize(_SMALL if narrow else _SIZE)
        self._lay_out_details_box(narrow=narrow)
        self._lay_out_details()

    def _lay_out_views(self) -> None:
        """Lay the views out as a cross, in one row, or in two rows where one has no room."""
        spots = _NARROW if self.narrow else _WIDE
        two_rows = self.narrow and self.width() < _ONE_ROW_FROM
        for number, view in enumerate(VIEWS):
            row, column = divmod(number, 3) if two_rows else spots[view]
            self._grid.removeWidget(self._names[view])
            self._grid.addWidget(self._names[view], row, column)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        was, now = event.oldSize().width() < _ONE_ROW_FROM, self.width() < _ONE_ROW_FROM
        if self.narrow and was != now:
            self._lay_out_views()

    def _lay_out_details_box(self, *, narrow: bool) -> None:
        """Put details and actions at the right of the views, or below them."""
        self._outer.removeWidget(self._details_box)
        self._hint.setVisible(not narrow)
        self._sides.removeWidget(self._actions)
        self._grid.setHorizontalSpacing(8 if narrow else 16)
        self._outer.setHorizontalSpacing(0 if narrow else 24)
        if narrow:
            self._outer.addWidget(self._details_box, 1, 0, 1, 3)
            self._sides.addWidget(self._actions, 1, 1, Qt.AlignmentFlag.AlignBottom)
        else:
            self._outer.addWidget(self._details_box, 0, 2)
            self._sides.addWidget(self._actions, 4, 0)

    def take_focus(self) -> None:
        """Focus the slot of the current photograph."""
        for slot in self._all_slots():
            if slot.isChecked():
                slot.setFocus()
                return
        next(iter(self.slots.values())).setFocus()

    def order(self) -> list[PhotographId]:
        """Return the photographs in reading order of the slots."""
        return [slot.photograph for slot in self._all_slots() if slot.photograph is not None]

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, here = Qt.Key(event.key()), self.focusWidget()
        if not isinstance(here, ViewSlot):
            super().keyPressEvent(event)
        elif key in _DIRECTIONS:
            self._go(here, _DIRECTIONS[key])
        elif key is Qt.Key.Key_B:
            self.pair_wanted.emit()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.work_wanted.emit()
        else:
            super().keyPressEvent(event)

    def _go(self, here: ViewSlot, direction: QPointF) -> None:
        there = self._nearest(here, direction)
        if there is not None:
            there.setFocus()
            if there.photograph is not None:
                self.chosen.emit(there.photograph)

    def _make_slots(self) -> None:
        for view in VIEWS:
            box = QWidget()
            column = QVBoxLayout(box)
            column.setContentsMargins(0, 0, 0, 0)
            column.setSpacing(2)
            name = name_of("views", view)
            column.addWidget(small_label(name))
            row = QHBoxLayout()
            row.setSpacing(4)
            for stage in _ENDS:
                slot = self._make_slot(f"{name}, {STAGE_WORDS[stage]}", view)
                slot.clicked.connect(lambda _on, v=view, s=stage: self._clicked(v, s))
                self.slots[_SlotKey(view=view, stage=stage)] = slot
                row.addWidget(slot)
            row.addStretch(1)
            column.addLayout(row)
            self._names[view] = box

    def _make_slot(self, name: str, view: str) -> ViewSlot:
        return ViewSlot(name, view, _SIZE)

    def _lay_out(self) -> None:
        self._outer = QGridLayout(self)
        self._outer.setContentsMargins(0, 0, 0, 0)
        self._outer.setHorizontalSpacing(24)
        self._outer.setVerticalSpacing(8)
        self._grid.setHorizontalSpacing(16)
        self._grid.setVerticalSpacing(4)
        self._outer.addLayout(self._grid, 0, 0)
        self._outer.setColumnStretch(1, 1)
        self._sides = QGridLayout(self._details_box)
        self._sides.setContentsMargins(0, 0, 0, 0)
        self._sides.setVerticalSpacing(2)
        self._sides.addWidget(small_label("details and marks"), 0, 0)
        self._detail_row.setSpacing(8)
        self._sides.addLayout(self._detail_row, 1, 0)
        self._more.clicked.connect(self.naming_wanted)
        self._sides.addWidget(self._more, 2, 0)
        self._sides.addWidget(self._hint, 3, 0)
        self._sides.setColumnStretch(0, 1)
        self._sides.setRowStretch(5, 1)

    def _make_actions(self) -> QWidget:
        box = QWidget()
        row = QHBoxLayout(box)
        row.setContentsMargins(0, 6, 0, 0)
        row.setSpacing(8)
        come = ActionButton("Add photographs")
        come.clicked.connect(self.photographs_wanted)
        name = ActionButton("Name the views")
        name.clicked.connect(self.naming_wanted)
        row.addWidget(come)
        row.addWidget(name)
        row.addStretch(1)
        return box

    def _show_details(self, rest: Sequence[Photograph]) -> None:
        shown = rest[:_MOST_DETAILS]
        while len(self.details) > len(shown) + 1:
            self.details.pop().deleteLater()
        while len(self.details) < len(shown) + 1:
            slot, at = self._make_slot("detail", ""), len(self.details)
            slot.clicked.connect(lambda _on, number=at: self._detail_clicked(number))
            self.details.append(slot)
            slot.setFixedSize(_SMALL if self.narrow else _SIZE)
        for slot, one in zip(self.details, (*shown, None), strict=False):
            self._fill(slot, one)
        left = len(rest) - len(shown)
        self._more.setText(f"and {left} more" if left else "")
        self._more.setVisible(bool(left))
        self._lay_out_details()

    def _lay_out_details(self) -> None:
        across = 8 if self.narrow else 4
        for at, slot in enumerate(self.details):
            self._detail_row.removeWidget(slot)
            self._detail_row.addWidget(slot, at // across, at % across)
            slot.show()
        self._detail_row.setColumnStretch(across, 1)

    def _fill(self, slot: ViewSlot, one: Photograph | None) -> None:
        slot.photograph = None if one is None else one.id
        slot.setChecked(one is not None and one.id == self._current)
        if one is None or self._tool is None:
            slot.show_image(None)
            return
        slot.show_spots(_spots(self._tool, one), one.width / max(1, one.height))
        description = one.caption or photograph_words(one, self._order)
        slot.show_image(_image(self._thumbnails.of(one.id)), description)

    def _ready(self, photograph: str) -> None:
        if self._tool is None:
            return
        for slot in self._all_slots():
            if slot.photograph == photograph:
                one = next(p for p in self._tool.photographs if p.id == photograph)
                self._fill(slot, one)

    def _all_slots(self) -> list[ViewSlot]:
        return [*self.slots.values(), *self.details]

    def _clicked(self, view: str, stage: Stage) -> None:
        slot = self.slots[_SlotKey(view=view, stage=stage)]
        self._select_slot(slot)
        if slot.photograph is None:
            self.import_wanted.emit(view, stage.value)

    def _detail_clicked(self, at: int) -> None:
        self._select_slot(self.details[at])
        if self.details[at].photograph is None:
            self.photographs_wanted.emit()

    def _select_slot(self, slot: ViewSlot) -> None:
        """Keep the mark on the photograph shown large, whatever was clicked."""
        if slot.photograph is None:
            slot.setChecked(False)
        else:
            slot.setChecked(slot.photograph == self._current)
            self.chosen.emit(slot.photograph)

    def _nearest(self, here: QWidget, direction: QPointF) -> ViewSlot | None:
        middle = QPointF(here.mapTo(self, here.rect().center()))
        best: tuple[float, ViewSlot] | None = None
        for slot in self._all_slots():
            there = QPointF(slot.mapTo(self, slot.rect().center())) - middle
            along = there.x() * direction.x() + there.y() * direction.y()
            across = abs(there.x() * direction.y()) + abs(there.y() * direction.x())
            if along < 8:  # noqa: PLR2004 (px; beside or behind, not ahead)
                continue
            far = along + 3 * across
            if best is None or far < best[0]:
                best = (far, slot)
        return None if best is None else best[1]


def _spots(tool: Tool, photograph: Photograph) -> tuple[tuple[float, float], ...]:
    on = (pin for pin in tool.pins if pin.photograph == photograph.id)
    return tuple((pin.x, pin.y) for pin in on if pin.defect is not None)


def _image(pixmap: QPixmap | None) -> QImage | None:
    return None if pixmap is None or pixmap.isNull() else pixmap.toImage()

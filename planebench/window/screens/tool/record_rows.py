"""Rows of the record: each can be opened and deleted from the keyboard."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QColor,
    QContextMenuEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QHBoxLayout, QLayout, QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.trade.shares import Share, format_interval, format_percent
from planebench.window.pieces.balloon import BalloonMark
from planebench.window.pieces.hatching import Hatch, HatchSwatch
from planebench.window.pieces.lines import BasisMark
from planebench.window.pieces.row_menu import MenuEntry, open_row_menu
from planebench.window.pieces.share_scale import ShareScale, reading_of
from planebench.window.pieces.text import ElidedLabel, Ink, Label, small_label
from planebench.window.tokens import NOTE, tokens_now

_LABEL, _NARROW_LABEL = 104, 84
_FIGURE, _NARROW_FIGURE = 112, 56
_SHARE, _NARROW_SHARE = 132, 128
_BALLOON = QSize(24, 20)
_LINE = 20
_LONG = 20  # characters; a longer remark moves under the text


@dataclass(frozen=True, slots=True, kw_only=True)
class RowCell:
    """What one row shows. `key` names its subject; a row without a key cannot be opened.

    `short` replaces the text in a narrow record. `label` is muted at the left, `beneath` small
    under the text (wrapped with `at_length`), `remark` at the right end, `aside` muted and
    `warned` in rust after the text. `shows_share` draws a scale, empty while `share` is None;
    `deletable` rows offer Delete.
    """

    key: str
    text: str
    short: str = ""
    label: str = ""
    beneath: str = ""
    at_length: bool = False
    remark: str = ""
    basis: str = ""
    warned: str = ""
    aside: str = ""
    unknown: bool = False
    strong: bool = False
    balloon: int = 0
    shows_share: bool = False
    share: Share | None = None
    hatch: Hatch | None = None
    deletable: bool = False

    @property
    def is_followed(self) -> bool:
        """Whether anything follows directly after the text."""
        return bool(self.warned or self.basis or self.aside)

    @property
    def remark_beneath(self) -> bool:
        """Whether the remark is too long for the right end."""
        return len(self.remark) > _LONG

    @property
    def all_beneath(self) -> str:
        """Everything shown small under the text."""
        remark = self.remark if self.remark_beneath else ""
        return ", ".join(filter(None, (self.beneath, remark)))

    @property
    def spoken(self) -> str:
        """The row as a screen reader says it."""
        share = ""
        if self.shows_share:
            share = "not measured" if self.share is None else reading_of(self.share).told
        number = str(self.balloon) if self.balloon else ""
        parts = (
            number,
            self.label,
            self.text,
            self.aside,
            self.beneath,
            share,
            self.remark,
            self.warned,
        )
        return ", ".join(part for part in parts if part)


class RecordRow(QWidget):
    """One row; Enter or a click opens it, Delete deletes it.

    Signals: `opened(str)`, `bin_wanted(str)`, `focused(str)` when it gets the focus.
    """

    spoken_role = QAccessible.Role.Button

    opened = Signal(str)
    bin_wanted = Signal(str)
    focused = Signal(str)

    def __init__(
        self, cell: RowCell, parent: QWidget | None = None, *, narrow: bool = False
    ) -> None:
        super().__init__(parent)
        self.cell = cell
        self.narrow = narrow
        self._lit = False
        self.setAttribute(Qt.WidgetAttribute.WA_Hover)
        self._balloon: BalloonMark | None = None
        self._whole = QHBoxLayout(self)
        self._whole.setContentsMargins(0, 0, 0, 0)
        self._whole.setSpacing(8)
        self._line = QHBoxLayout()
        self._line.setSpacing(8)
        self._whole.addLayout(self._line, 1)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        self.show_cell(cell)

    def show_cell(self, cell: RowCell) -> None:
        """Show other content; the row keeps the focus."""
        self.cell = cell
        _empty(self._line)
        self._balloon = None
        self.setAccessibleName(cell.spoken)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus if cell.key else Qt.FocusPolicy.NoFocus)
        if cell.key:
            self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._fill(cell)
        self.set_lit(lit=self._lit)

    def set_lit(self, *, lit: bool) -> None:
        """Highlight its pin number, or not."""
        self._lit = lit
        if self._balloon is not None:
            self._balloon.set_lit(lit)
        self.update()

    def add_control(self, control: QWidget) -> None:
        """Add a control at the right end that stays when the content changes."""
        self._whole.addWidget(control)

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton and self.cell.key:
            self.opened.emit(self.cell.key)

    @override
    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        if not self.cell.key:
            return
        key = self.cell.key
        entries = [MenuEntry(words="Edit", act=lambda: self.opened.emit(key), key="Enter")]
        if self.cell.deletable:
            entries.append(
                MenuEntry(words="Delete", act=lambda: self.bin_wanted.emit(key), key="Del")
            )
        open_row_menu(self, event.pos(), entries)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.opened.emit(self.cell.key)
        elif key == Qt.Key.Key_Delete:
            self.bin_wanted.emit(self.cell.key)
        elif key == Qt.Key.Key_Down:
            self.focusNextChild()
        elif key == Qt.Key.Key_Up:
            self.focusPreviousChild()
        else:
            super().keyPressEvent(event)

    @override
    def event(self, event: QEvent) -> bool:
        if event.type() is QEvent.Type.FocusIn:
            self.focused.emit(self.cell.key)
        return super().event(event)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        if self.underMouse() and self.cell.key:
            box = self.rect().adjusted(-4, 0, 4, 0)
            QPainter(self).fillRect(box, QColor(tokens_now().chosen))

    def _fill(self, cell: RowCell) -> None:
        self._lead(cell)
        self._line.addWidget(self._words(cell), 1)
        if cell.shows_share:
            figure = _figure(cell, _NARROW_FIGURE if self.narrow else _FIGURE)
            self._line.addWidget(figure, 0, Qt.AlignmentFlag.AlignVCenter)
            share = _share_words(cell.share)
            share.setFixedWidth(_NARROW_SHARE if self.narrow else _SHARE)
            self._line.addWidget(share)
        elif cell.remark and not cell.remark_beneath:
            remark = Label(cell.remark, ink=Ink.MUTED)
            self._line.addWidget(remark, 0, Qt.AlignmentFlag.AlignTop)

    def _lead(self, cell: RowCell) -> None:
        """Add what precedes the text: pin number, hatch, label."""
        if cell.balloon:
            self._balloon = BalloonMark(cell.balloon)
            self._balloon.setFixedSize(_BALLOON)
            self._line.addWidget(self._balloon, 0, Qt.AlignmentFlag.AlignTop)
        if cell.hatch is not None:
            self._line.addWidget(HatchSwatch(cell.hatch), 0, Qt.AlignmentFlag.AlignVCenter)
        if cell.label:
            label = Label(cell.label, ink=Ink.MUTED)
            label.setFixedWidth(_NARROW_LABEL if self.narrow else _LABEL)
            self._line.addWidget(label, 0, Qt.AlignmentFlag.AlignTop)

    def _words(self, cell: RowCell) -> QWidget:
        box = _ClickThrough()
        column = QVBoxLayout(box)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        warned_beneath = bool(cell.warned) and self.narrow
        followed = cell.is_followed and not warned_beneath
        text = _text(cell, cell.short if self.narrow else "", whole=not followed)
        if followed:
            column.addLayout(_followed(text, cell))
        else:
            column.addWidget(text)
        if warned_beneath:
            column.addWidget(small_label(cell.warned, ink=Ink.RUST))
        if cell.all_beneath:
            column.addWidget(_small(cell))
        return box


class _ClickThrough(QWidget):
    """A container that passes mouse events to the row below it."""

    def __init__(self) -> None:
        super().__init__()
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)


class RowList(QWidget):
    """Rows in a column, with a form opened under one of them or at the end.

    Signals: those of its rows.
    """

    opened = Signal(str)
    bin_wanted = Signal(str)
    focused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: dict[str, RecordRow] = {}
        self._plain: list[RecordRow] = []
        self._narrow = False
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)

    def show_cells(self, cells: Iterable[RowCell]) -> None:
        """Show these rows; rows with a known key are kept, including the focus."""
        wanted = list(cells)
        order = list(self.rows)
        lost = self._drop_others({cell.key for cell in wanted})
        for at, cell in enumerate(wanted):
            row = self._row(cell)
            if row.cell != cell:
                row.show_cell(cell)
            self._column.removeWidget(row)
            self._column.insertWidget(at, row)
        if lost:
            self._focus_beside(order, lost)

    def _drop_others(self, known: set[str]) -> str:
        """Drop all rows but those with these keys; return the key that had the focus, or ""."""
        while self._plain:
            _drop(self._column, self._plain.pop())
        gone = [key for key in self.rows if key not in known]
        lost = next((key for key in gone if self.rows[key].hasFocus()), "")
        for key in gone:
            _drop(self._column, self.rows.pop(key))
        return lost

    def _focus_beside(self, order: list[str], lost: str) -> None:
        """Focus the row above one that is gone, else the one below it."""
        at = order.index(lost)
        left = [key for key in (*reversed(order[:at]), *order[at + 1 :]) if key in self.rows]
        if left:
            self.rows[left[0]].setFocus()

    def set_narrow(self, *, narrow: bool) -> None:
        """Switch all rows between narrow and usual width."""
        self._narrow = narrow
        for row in (*self.rows.values(), *self._plain):
            if row.narrow != narrow:
                row.narrow = narrow
                row.show_cell(row.cell)

    def lay_form(self, form: QWidget, under: str) -> None:
        """Place a form under the row with key `under`, else at the end."""
        self._column.removeWidget(form)  # else its old position shifts the new index
        row = self.rows.get(under)
        at = self._column.count() if row is None else self._column.indexOf(row) + 1
        self._column.insertWidget(at, form)

    def _row(self, cell: RowCell) -> RecordRow:
        if cell.key in self.rows:
            return self.rows[cell.key]
        row = RecordRow(cell, narrow=self._narrow)
        row.opened.connect(self.opened)
        row.bin_wanted.connect(self.bin_wanted)
        row.focused.connect(self.focused)
        if cell.key:
            self.rows[cell.key] = row
        else:
            self._plain.append(row)
        return row


def _small(cell: RowCell) -> Label:
    if cell.at_length:
        return small_label(cell.all_beneath).wrapped()
    return ElidedLabel(cell.all_beneath, size=NOTE, ink=Ink.MUTED)


def _text(cell: RowCell, short: str, *, whole: bool) -> Label:
    """Return the text: wrapped, or on one line where something follows it."""
    ink = Ink.MUTED if cell.unknown else Ink.INK
    shown = short or cell.text
    if whole and not cell.shows_share:
        text = Label(shown, ink=ink, strong=cell.strong).wrapped()
    else:
        text = ElidedLabel(shown, ink=ink, strong=cell.strong)
    text.setMinimumHeight(_LINE)
    return text


def _followed(text: Label, cell: RowCell) -> QHBoxLayout:
    """Return a row of the text and what directly follows it."""
    row = QHBoxLayout()
    row.setSpacing(6)
    row.addWidget(text)
    if cell.aside:
        row.addWidget(ElidedLabel(cell.aside, ink=Ink.MUTED))
    if cell.basis:
        row.addWidget(BasisMark(cell.basis))
    if cell.warned:
        row.addWidget(small_label(cell.warned, ink=Ink.RUST))
    row.addStretch(1)
    return row


def _figure(cell: RowCell, width: int) -> ShareScale:
    figure = ShareScale(cell.text, width=width)
    figure.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
    if cell.share is not None:
        figure.show_readings(reading_of(cell.share))
    return figure


def _share_words(share: Share | None) -> QWidget:
    box = _ClickThrough()
    column = QVBoxLayout(box)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    if share is None:
        column.addWidget(Label("not measured", ink=Ink.MUTED), 0, Qt.AlignmentFlag.AlignRight)
        return box
    about = "about " if share.is_approximate else ""
    first = QHBoxLayout()
    first.setSpacing(4)
    first.addWidget(
        Label(f"{about}{format_percent(share)}", strong=True), 1, Qt.AlignmentFlag.AlignRight
    )
    first.addWidget(Label(format_interval(share).strip("()"), ink=Ink.MUTED))
    column.addLayout(first)
    column.addWidget(BasisMark(share.basis.value), 0, Qt.AlignmentFlag.AlignRight)
    return box


def _empty(layout: QLayout) -> None:
    while (item := layout.takeAt(0)) is not None:
        if (widget := item.widget()) is not None:
            _drop(layout, widget)


def _drop(layout: QLayout, widget: QWidget) -> None:
    layout.removeWidget(widget)
    widget.hide()
    widget.deleteLater()

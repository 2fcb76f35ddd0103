"""Lines of the record: each can be chosen, opened and put in the bin from the keyboard."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLayout, QSizePolicy, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.trade.shares import Share, format_interval, format_percent
from planebench.window.pieces.balloon import BalloonMark
from planebench.window.pieces.hatching import Hatch, HatchSwatch
from planebench.window.pieces.lines import BasisMark
from planebench.window.pieces.share_scale import ShareScale, reading_of
from planebench.window.pieces.text import ElidedLabel, Ink, Label, small_label
from planebench.window.tokens import NOTE, tokens_now

_LABEL, _NARROW_LABEL = 104, 84
_FIGURE, _NARROW_FIGURE = 112, 56
_SHARE, _NARROW_SHARE = 132, 128
_BALLOON = QSize(24, 20)
_LINE = 20
_LONG = 20  # letters of a remark that would push the text aside


@dataclass(frozen=True, slots=True, kw_only=True)
class RowCell:
    """What one line says. `key` is what it is about; an empty one cannot be opened.

    `short` takes the place of the text in a narrow record. `label` stands muted at the left,
    `beneath` small under the text (over as many lines as it takes with `at_length`), `remark` at
    the right end, `aside` muted and `warned` in rust after the text. `read` True draws a scale,
    bare while `share` is None.
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
    read: bool = False
    share: Share | None = None
    hatch: Hatch | None = None

    @property
    def is_followed(self) -> bool:
        """Whether something stands right after the words."""
        return bool(self.warned or self.basis or self.aside)

    @property
    def remark_beneath(self) -> bool:
        """Whether the remark is so long that it would push the words aside."""
        return len(self.remark) > _LONG

    @property
    def all_beneath(self) -> str:
        """What stands small under the text."""
        remark = self.remark if self.remark_beneath else ""
        return ", ".join(filter(None, (self.beneath, remark)))

    @property
    def told(self) -> str:
        """The line as it is read aloud."""
        share = ""
        if self.read:
            share = "not read" if self.share is None else reading_of(self.share).told
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
    """One line; Enter or a click opens it, Delete asks for the bin.

    Signals: `opened(str)`, `bin_wanted(str)`, `come_to(str)` when the keyboard arrives.
    """

    opened = Signal(str)
    bin_wanted = Signal(str)
    come_to = Signal(str)

    def __init__(
        self, fact: RowCell, parent: QWidget | None = None, *, narrow: bool = False
    ) -> None:
        super().__init__(parent)
        self.fact = fact
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
        self.show_fact(fact)

    def show_fact(self, fact: RowCell) -> None:
        """Say something else; the line keeps the keyboard."""
        self.fact = fact
        _empty(self._line)
        self._balloon = None
        self.setAccessibleName(fact.told)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus if fact.key else Qt.FocusPolicy.NoFocus)
        if fact.key:
            self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._fill(fact)
        self.set_lit(lit=self._lit)

    def set_lit(self, *, lit: bool) -> None:
        """Ring its balloon, or not."""
        self._lit = lit
        if self._balloon is not None:
            self._balloon.set_lit(lit)
        self.update()

    def add_control(self, control: QWidget) -> None:
        """Put a control at the right end, which stays there whatever the line says."""
        self._whole.addWidget(control)

    @override
    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() is Qt.MouseButton.LeftButton and self.fact.key:
            self.opened.emit(self.fact.key)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.opened.emit(self.fact.key)
        elif key == Qt.Key.Key_Delete:
            self.bin_wanted.emit(self.fact.key)
        elif key == Qt.Key.Key_Down:
            self.focusNextChild()
        elif key == Qt.Key.Key_Up:
            self.focusPreviousChild()
        else:
            super().keyPressEvent(event)

    @override
    def event(self, event: QEvent) -> bool:
        if event.type() is QEvent.Type.FocusIn:
            self.come_to.emit(self.fact.key)
        return super().event(event)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        if self.underMouse() and self.fact.key:
            box = self.rect().adjusted(-4, 0, 4, 0)
            QPainter(self).fillRect(box, QColor(tokens_now().chosen))

    def _fill(self, fact: RowCell) -> None:
        self._lead(fact)
        self._line.addWidget(self._words(fact), 1)
        if fact.read:
            figure = _figure(fact, _NARROW_FIGURE if self.narrow else _FIGURE)
            self._line.addWidget(figure, 0, Qt.AlignmentFlag.AlignVCenter)
            share = _share_words(fact.share)
            share.setFixedWidth(_NARROW_SHARE if self.narrow else _SHARE)
            self._line.addWidget(share)
        elif fact.remark and not fact.remark_beneath:
            remark = Label(fact.remark, ink=Ink.MUTED)
            self._line.addWidget(remark, 0, Qt.AlignmentFlag.AlignTop)

    def _lead(self, fact: RowCell) -> None:
        """Lay what stands before the words: balloon, hatch, label."""
        if fact.balloon:
            self._balloon = BalloonMark(fact.balloon)
            self._balloon.setFixedSize(_BALLOON)
            self._line.addWidget(self._balloon, 0, Qt.AlignmentFlag.AlignTop)
        if fact.hatch is not None:
            self._line.addWidget(HatchSwatch(fact.hatch), 0, Qt.AlignmentFlag.AlignVCenter)
        if fact.label:
            label = Label(fact.label, ink=Ink.MUTED)
            label.setFixedWidth(_NARROW_LABEL if self.narrow else _LABEL)
            self._line.addWidget(label, 0, Qt.AlignmentFlag.AlignTop)

    def _words(self, fact: RowCell) -> QWidget:
        box = _Passive()
        column = QVBoxLayout(box)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        warned_beneath = bool(fact.warned) and self.narrow
        followed = fact.is_followed and not warned_beneath
        text = _text(fact, fact.short if self.narrow else "", whole=not followed)
        column.addLayout(_followed(text, fact) if followed else _alone(text))
        if warned_beneath:
            column.addWidget(small_label(fact.warned, ink=Ink.RUST))
        if fact.all_beneath:
            column.addWidget(_small(fact))
        return box


class _Passive(QWidget):
    """Lets the pointer through to the line beneath."""

    def __init__(self) -> None:
        super().__init__()
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)


class RowList(QWidget):
    """Lines one below another, with a form opened under one of them or at the end.

    Signals: those of its lines.
    """

    opened = Signal(str)
    bin_wanted = Signal(str)
    come_to = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: dict[str, RecordRow] = {}
        self._plain: list[RecordRow] = []
        self._narrow = False
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)

    def show_facts(self, facts: Iterable[RowCell]) -> None:
        """Show these lines; one that is there already is kept, with the keyboard if it has it."""
        wanted = list(facts)
        for row in self._plain:
            _drop(self._column, row)
        self._plain = []
        known = {fact.key for fact in wanted}
        for key in [key for key in self.rows if key not in known]:
            _drop(self._column, self.rows.pop(key))
        for at, fact in enumerate(wanted):
            row = self._row(fact)
            if row.fact != fact:
                row.show_fact(fact)
            self._column.removeWidget(row)
            self._column.insertWidget(at, row)

    def set_narrow(self, *, narrow: bool) -> None:
        """Say everything in less room, or in all there is."""
        self._narrow = narrow
        for row in (*self.rows.values(), *self._plain):
            if row.narrow != narrow:
                row.narrow = narrow
                row.show_fact(row.fact)

    def lay_form(self, form: QWidget, under: str) -> None:
        """Put a form under a line, at the end for none."""
        self._column.removeWidget(form)  # counted where it stood, it would go beyond the end
        row = self.rows.get(under)
        at = self._column.count() if row is None else self._column.indexOf(row) + 1
        self._column.insertWidget(at, form)

    def _row(self, fact: RowCell) -> RecordRow:
        if fact.key in self.rows:
            return self.rows[fact.key]
        row = RecordRow(fact, narrow=self._narrow)
        row.opened.connect(self.opened)
        row.bin_wanted.connect(self.bin_wanted)
        row.come_to.connect(self.come_to)
        if fact.key:
            self.rows[fact.key] = row
        else:
            self._plain.append(row)
        return row


def _small(fact: RowCell) -> Label:
    if fact.at_length:
        return small_label(fact.all_beneath).wrapped()
    return ElidedLabel(fact.all_beneath, size=NOTE, ink=Ink.MUTED)


def _text(fact: RowCell, short: str, *, whole: bool) -> Label:
    """Say the words over as many lines as they take, or on one where something follows."""
    ink = Ink.MUTED if fact.unknown else Ink.INK
    shown = short or fact.text
    if whole and not fact.read:
        text = Label(shown, ink=ink, strong=fact.strong).wrapped()
    else:
        text = ElidedLabel(shown, ink=ink, strong=fact.strong)
    text.setMinimumHeight(_LINE)
    return text


def _alone(text: Label) -> QHBoxLayout:
    row = QHBoxLayout()
    row.addWidget(text, 1)
    return row


def _followed(text: Label, fact: RowCell) -> QHBoxLayout:
    """Lay what belongs to the words right after them."""
    row = QHBoxLayout()
    row.setSpacing(6)
    row.addWidget(text)
    if fact.aside:
        row.addWidget(ElidedLabel(fact.aside, ink=Ink.MUTED))
    if fact.basis:
        row.addWidget(BasisMark(fact.basis))
    if fact.warned:
        row.addWidget(small_label(fact.warned, ink=Ink.RUST))
    row.addStretch(1)
    return row


def _figure(fact: RowCell, width: int) -> ShareScale:
    figure = ShareScale(fact.text, width=width)
    figure.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
    if fact.share is not None:
        figure.show_readings(reading_of(fact.share))
    return figure


def _share_words(share: Share | None) -> QWidget:
    box = _Passive()
    column = QVBoxLayout(box)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    if share is None:
        column.addWidget(Label("not read", ink=Ink.MUTED), 0, Qt.AlignmentFlag.AlignRight)
        return box
    first = QHBoxLayout()
    first.setSpacing(4)
    first.addStretch(1)
    about = "about " if share.is_approximate else ""
    first.addWidget(Label(f"{about}{format_percent(share)}", strong=True))
    first.addWidget(Label(format_interval(share).strip("()"), ink=Ink.MUTED))
    column.addLayout(first)
    column.addWidget(BasisMark(share.basis.value), 0, Qt.AlignmentFlag.AlignRight)
    return box


def _empty(layout: QLayout) -> None:
    while (item := layout.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.deleteLater()


def _drop(layout: QLayout, widget: QWidget) -> None:
    layout.removeWidget(widget)
    widget.hide()
    widget.deleteLater()

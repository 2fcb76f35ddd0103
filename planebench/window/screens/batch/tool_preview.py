"""The preview beside the list: photograph, next step, and the bill of the purchase."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.reference import name_of
from planebench.catalog.values import Photograph, Tool, ToolLine
from planebench.trade.terms import STAGE_WORDS, Completeness, Stage
from planebench.window.fonts import title_font
from planebench.window.photograph_names import format_parts_seen
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.hatching import Hatch, HatchKey
from planebench.window.pieces.lines import AmountRow, MessageNote
from planebench.window.pieces.plane_drawing import PlaneDrawing, seen_of
from planebench.window.pieces.single_photograph import SinglePhotograph
from planebench.window.pieces.text import ElidedLabel, Ink, Label, small_label
from planebench.window.screens.batch.purchase_bill import PurchaseBill
from planebench.window.tokens import PAGE_EDGE, SECTION


class ToolPreview(QWidget):
    """The left column of the batch screen.

    Signals: `open_wanted()`, `sheet_wanted()`, `photographs_wanted()` for the current tool.
    """

    open_wanted = Signal()
    sheet_wanted = Signal()
    photographs_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.photograph = SinglePhotograph()
        self._name = ElidedLabel()
        self._name.set_font(title_font(SECTION))
        self._view = small_label()
        self._title = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._title.addWidget(self._name, 1)
        self._title.addWidget(self._view)
        self._about = Label(ink=Ink.MUTED).wrapped()
        self._drawing = PlaneDrawing()
        self._drawing.setFixedHeight(112)
        self._drawn = QWidget()
        self._next = MessageNote("")
        self._bill = QVBoxLayout()
        self._acts = self._make_acts()
        self._lay_out()

    def show_tool(self, tool: Tool | None, drawing: str = "") -> None:
        """Show a tool and its next step; `drawing` names the drawing of its kind."""
        for part in (self._acts, self._next, self._drawn):
            part.setVisible(tool is not None)
        if tool is None:
            self._name.setText("No tool chosen")
            self._view.setText("")
            self._about.setText("")
            self.photograph.show_pixmap(None, "no photograph")
            return
        line = tool.line
        self._name.setText(f"{line.stock_number}  {line.title}")
        self._about.setText(_about(tool))
        latest = [p for p in tool.photographs if p.id == line.latest_photograph]
        self._view.setText(_view_words(latest[0]) if latest else "")
        self._fit_title()
        self._drawing.show_drawing(drawing)
        self._drawing.show_parts(
            {part.code: seen_of(part.status, unasked=part.unasked) for part in tool.parts},
            {part.code: part.name for part in tool.parts},
        )
        self._show_next(line)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit_title()

    def _fit_title(self) -> None:
        """Move the view below the name when both do not fit on one line."""
        side = self._name.sizeHint().width() + 12 + self._view.sizeHint().width()
        beneath = side > self.width() - 2 * PAGE_EDGE
        way = QBoxLayout.Direction
        self._title.setDirection(way.TopToBottom if beneath else way.LeftToRight)

    def _show_next(self, line: ToolLine) -> None:
        act = line.next_act
        said = f"Next step: {act.words[:1].lower()}{act.words[1:]}" if act.is_act else act.words
        self._next.show_message(
            _sentence(act.detail), said, trouble=Completeness.DISAGREES in line.known
        )

    def show_bill(self, bill: PurchaseBill) -> None:
        """Show what the purchase cost and earned."""
        while (item := self._bill.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.deleteLater()
        for row in bill.rows:
            ink = Ink.RUST if row.wanting else Ink.INK
            self._bill.addWidget(AmountRow(row.label, row.amount, strong=row.strong, ink=ink))

    def _make_acts(self) -> QWidget:
        acts = QWidget()
        row = QHBoxLayout(acts)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        for text, key, weight, signal in (
            ("Open tool", "Enter", ButtonWeight.MAIN, self.open_wanted),
            ("Sheet", "", ButtonWeight.NORMAL, self.sheet_wanted),
            ("Add photographs", "", ButtonWeight.NORMAL, self.photographs_wanted),
        ):
            act = ActionButton(text, weight=weight, key=key)
            act.clicked.connect(signal)
            row.addWidget(act)
        row.addStretch(1)
        return acts

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 24, 24, 12)
        column.setSpacing(0)
        column.addWidget(self.photograph)
        column.addSpacing(12)
        column.addLayout(self._title)
        column.addWidget(self._about)
        column.addSpacing(16)
        self._lay_out_drawing()
        column.addWidget(self._drawn)
        column.addSpacing(16)
        column.addWidget(self._next)
        column.addSpacing(16)
        column.addWidget(self._acts)
        column.addStretch(1)
        column.addSpacing(8)
        self._bill.setSpacing(0)
        column.addLayout(self._bill)

    def _lay_out_drawing(self) -> None:
        row = QHBoxLayout(self._drawn)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(24)
        row.addWidget(self._drawing, 1)
        keys = QVBoxLayout()
        keys.setSpacing(4)
        keys.addStretch(1)
        for hatch, word in (
            (Hatch.SEEN, "seen"),
            (Hatch.NOT_ORIGINAL, "not original"),
            (Hatch.NOT_SEEN, "not seen"),
        ):
            keys.addWidget(HatchKey(hatch, word))
        keys.addStretch(1)
        row.addLayout(keys)


def _about(tool: Tool) -> str:
    lengths = {m.what: m.as_typed for m in tool.dimensions}
    sole = f"sole {lengths['sole_length']}" if lengths.get("sole_length") else ""
    asked = [part.status for part in tool.parts if not part.unasked]
    said = (tool.line.subtitle, sole, format_parts_seen(asked))
    return ", ".join(word for word in said if word)


def _view_words(photo: Photograph) -> str:
    view = name_of("views", photo.view) if photo.view else "view not named"
    stage = STAGE_WORDS[Stage(photo.stage)]
    return f"{view}, {stage}"


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:]}." if text else ""

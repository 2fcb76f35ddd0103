"""The record at the right: the seven sections, in the order in which a hand goes over a plane."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QTimer
from PySide6.QtWidgets import QScrollArea, QWidget
from shiboken6 import isValid

from planebench.trade.progress import SECTIONS
from planebench.window.pieces.record_sections import Record
from planebench.window.screens.tool.dates_section import Dates
from planebench.window.screens.tool.defects_section import DefectsSection
from planebench.window.screens.tool.finish_section import FinishLeft
from planebench.window.screens.tool.identity_section import WhatItIs
from planebench.window.screens.tool.parts_section import PartsMissing
from planebench.window.screens.tool.price_section import Price
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.section_panel import RecordSectionPanel
from planebench.window.screens.tool.tool_model import ToolModel
from planebench.window.screens.tool.work_section import WorkDone

_ABOVE, _AROUND = 64, 16  # room above a form for its line, and beneath
_LAID_OUT_MS = 40


class ToolRecord(Record):
    """All seven sections of one tool. `area` is the area that it lies in."""

    def __init__(self, bench: RecordContext) -> None:
        super().__init__()
        self.setAccessibleName("Record")
        self.area: QScrollArea | None = None
        places = [self.add_section(title) for title in SECTIONS]
        self.what = WhatItIs(places[0], bench)
        self.parts = PartsMissing(places[1], bench)
        self.finish = FinishLeft(places[2], bench)
        self.defects = DefectsSection(places[3], bench)
        self.dates = Dates(places[4], bench)
        self.work = WorkDone(places[5], bench)
        self.price = Price(places[6], bench)
        self.all: tuple[RecordSectionPanel, ...] = (
            self.what,
            self.parts,
            self.finish,
            self.defects,
            self.dates,
            self.work,
            self.price,
        )
        for section in self.all:
            section.form_opened.connect(self._form_opened)

    def bring_into_view(self, widget: QWidget) -> None:
        """Scroll so far that a form is seen whole, or its beginning if it is taller."""
        if self.area is None or not isValid(widget):
            return
        top = widget.mapTo(self, QPoint(0, 0)).y()
        bar, room = self.area.verticalScrollBar(), self.area.viewport().height()
        least = top + widget.height() + _AROUND - room
        bar.setValue(min(max(bar.value(), least), top - _ABOVE))

    def show_record(self, shown: ToolModel) -> None:
        """Show what is known by now."""
        for section in self.all:
            section.show(shown)

    def set_narrow(self, *, narrow: bool) -> None:
        """Fit everything into a narrow record, or into a usual one."""
        for section in self.all:
            section.set_narrow(narrow=narrow)

    def jump(self, number: int) -> None:
        """Bring a section, 1 to 7, into view and take the keyboard to its first line."""
        section = self.all[number - 1]
        section.take_focus()
        if self.area is not None:
            self.area.verticalScrollBar().setValue(section.place.y() - 8)

    def _form_opened(self, form: QWidget) -> None:
        # Once it is laid out, its place and height are known.
        QTimer.singleShot(_LAID_OUT_MS, self, lambda: self.bring_into_view(form))

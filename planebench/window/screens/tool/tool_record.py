"""The record at the right: seven sections in the order in which one examines a plane."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QTimer
from PySide6.QtWidgets import QScrollArea, QWidget
from shiboken6 import isValid

from planebench.trade.progress import SECTIONS
from planebench.window.pieces.record_sections import Record
from planebench.window.screens.tool.dates_section import DatesSection
from planebench.window.screens.tool.defects_section import DefectsSection
from planebench.window.screens.tool.finish_section import FinishSection
from planebench.window.screens.tool.identity_section import IdentitySection
from planebench.window.screens.tool.parts_section import PartsSection
from planebench.window.screens.tool.price_section import PriceSection
from planebench.window.screens.tool.record_editor import RecordContext
from planebench.window.screens.tool.section_panel import RecordSectionPanel
from planebench.window.screens.tool.tool_model import ToolModel
from planebench.window.screens.tool.work_section import WorkSection

_ABOVE, _AROUND = 64, 16  # px kept above an opened form for its row, and below it
_LAYOUT_DELAY_MS = 40  # by then Qt has laid the opened form out


class ToolRecord(Record):
    """All seven sections of one tool. `area` is the scroll area around them."""

    def __init__(self, record: RecordContext) -> None:
        super().__init__()
        self.setAccessibleName("Record")
        self.area: QScrollArea | None = None
        places = [self.add_section(title) for title in SECTIONS]
        self.what = IdentitySection(places[0], record)
        self.parts = PartsSection(places[1], record)
        self.finish = FinishSection(places[2], record)
        self.defects = DefectsSection(places[3], record)
        self.dates = DatesSection(places[4], record)
        self.work = WorkSection(places[5], record)
        self.price = PriceSection(places[6], record)
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
        """Scroll until the whole form is visible, or its top if it is taller than the view."""
        if self.area is None or not isValid(widget):
            return
        top = widget.mapTo(self, QPoint(0, 0)).y()
        bar, room = self.area.verticalScrollBar(), self.area.viewport().height()
        least = top + widget.height() + _AROUND - room
        bar.setValue(min(max(bar.value(), least), top - _ABOVE))

    def show_record(self, shown: ToolModel) -> None:
        """Show a freshly read record in every section."""
        for section in self.all:
            section.show(shown)

    def set_narrow(self, *, narrow: bool) -> None:
        """Switch every section between the narrow and the usual width."""
        for section in self.all:
            section.set_narrow(narrow=narrow)

    def jump(self, number: int) -> None:
        """Scroll to a section, 1 to 7, and focus its first row."""
        section = self.all[number - 1]
        section.take_focus()
        if self.area is not None:
            self.area.verticalScrollBar().setValue(section.section.y() - 8)

    def _form_opened(self, form: QWidget) -> None:
        # Position and height are known only after the layout.
        QTimer.singleShot(_LAYOUT_DELAY_MS, self, lambda: self.bring_into_view(form))

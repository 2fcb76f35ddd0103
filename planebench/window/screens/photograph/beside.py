"""The column beside the photograph: its panels, and which of them concern what one does."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from planebench.catalog.values import Photograph
from planebench.trade.terms import STAGE_WORDS, Stage
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.lines import Rule
from planebench.window.pieces.side_panel import SidePanel
from planebench.window.screens.photograph.about_panel import AboutPanel
from planebench.window.screens.photograph.draw_panel import DrawPanel
from planebench.window.screens.photograph.measure_panel import MeasurePanel
from planebench.window.screens.photograph.model import PhotographModel
from planebench.window.screens.photograph.outlines_panel import OutlinesPanel
from planebench.window.screens.photograph.pins_panel import PinsPanel
from planebench.window.screens.photograph.reading_panel import ReadingPanel
from planebench.window.screens.photograph.scale_panel import ScalePanel


class BesidePhotograph(SidePanel):
    """Signals: `write_wanted()`, `pair_wanted()`, `carry_wanted()`."""

    write_wanted = Signal()
    pair_wanted = Signal()
    carry_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Record of the photograph", parent)
        self.outlines = OutlinesPanel()
        self.draw = DrawPanel()
        self.reading = ReadingPanel()
        self.measure = MeasurePanel()
        self.scale = ScalePanel()
        self.about = AboutPanel()
        self.pins = PinsPanel()
        self._rule = Rule()
        self._write = ActionButton("Write the reading down", key="Enter")
        self._carry = ActionButton("Carry to the finished photograph", weight=ButtonWeight.MAIN)
        self._pair = ActionButton("Before and after")
        self._partner: Photograph | None = None
        self._can_carry = False
        self._can_write = False
        self._lay_out()
        self._write.clicked.connect(self.write_wanted)
        self._carry.clicked.connect(self.carry_wanted)
        self._pair.clicked.connect(self.pair_wanted)
        self.show_panels("", chosen=False)

    def _lay_out(self) -> None:
        working = (self.outlines, self.draw, self.reading, self.measure, self.scale)
        for part in (*working, self.about, self._rule, self.pins):
            self.panels.addWidget(part)
        self.panels.addStretch(1)
        upper, lower = QHBoxLayout(), QHBoxLayout()
        upper.addWidget(self._write)
        upper.addStretch(1)
        lower.addWidget(self._carry)
        lower.addWidget(self._pair)
        lower.addStretch(1)
        lower.setSpacing(8)
        self.foot.addLayout(upper)
        self.foot.addLayout(lower)

    def show_partner(self, shown: PhotographModel, partner: Photograph | None) -> None:
        """Know the photograph of the same view at the other stage."""
        self._partner = partner
        self._pair.setVisible(shown.tool is not None)
        before = shown.photograph.stage is not Stage.FINISHED
        self._can_carry = partner is not None and before and bool(shown.outlines)
        if partner is not None:
            self._carry.set_words(f"Carry to the one {STAGE_WORDS[partner.stage]}")

    def offer_surfaces(self, shown: PhotographModel) -> None:
        """Offer the surfaces that can be outlined."""
        self.draw.offer(shown)

    def show_can_write(self, *, can: bool, written: bool) -> None:
        """Return whether there is a reading to be written down, or written already."""
        self._can_write = can
        self._write.set_disabled_reason("It is written down already" if written else "")

    def show_panels(self, code: str, *, chosen: bool) -> None:
        """Show what concerns the means in hand and the chosen outline."""
        drawing = code in {"outline", "hole"}
        self.draw.show_for(hole=code == "hole")
        self.draw.setVisible(drawing)
        self.measure.setVisible(code == "length")
        self.scale.setVisible(code == "scale")
        self.reading.setVisible(chosen and code not in {"length", "scale", "pin"})
        plain = not drawing and code not in {"length", "scale"} and (not chosen or code == "pin")
        about = plain and code != "pin"
        self.about.setVisible(about)
        self._rule.setVisible(about)
        self.pins.setVisible(plain)
        self._write.setVisible(chosen and self._can_write)
        self._carry.setVisible(chosen and self._can_carry)

"""What the photograph is: its view, its stage, its caption."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from planebench.catalog.reference import open_list
from planebench.catalog.values import Photograph
from planebench.trade.terms import STAGE_WORDS, Stage
from planebench.window.photograph_names import capital
from planebench.window.pieces.choice_controls import DropDown
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.side_panel import margin_free_column
from planebench.window.pieces.text import Label, small_label


class AboutPanel(QWidget):
    """View, stage and caption, written as they are changed.

    Signals: `view_chosen(str)`, `stage_chosen(str)`, `caption_kept(str)`.
    """

    view_chosen = Signal(str)
    stage_chosen = Signal(str)
    caption_kept = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        views = [(row.code, capital(row.name)) for row in open_list("views").values()]
        self.view = DropDown("View", [("", "not named"), *views])
        stages = [(stage.value, capital(STAGE_WORDS[stage])) for stage in Stage]
        self.stage = DropDown("Stage", stages)
        self.caption = Field("Caption", hint="what a buyer should see here")
        self._file = small_label().wrapped()
        column = margin_free_column(self)
        column.addWidget(Label("This photograph", strong=True))
        row = QHBoxLayout()
        row.setSpacing(12)
        row.addWidget(LabeledControl("View", self.view), 1)
        row.addWidget(LabeledControl("Stage", self.stage), 1)
        column.addLayout(row)
        column.addWidget(LabeledControl("Caption", self.caption))
        column.addWidget(self._file)
        self.view.chosen.connect(self.view_chosen)
        self.stage.chosen.connect(self.stage_chosen)
        self.caption.kept.connect(self.caption_kept)

    def show_photograph(self, photograph: Photograph) -> None:
        """Show what is written of a photograph."""
        self.view.hold(photograph.view)
        self.stage.hold(photograph.stage.value)
        if not self.caption.line.hasFocus():
            self.caption.set_text(photograph.caption)
        size = f"{photograph.width} × {photograph.height} pixels"
        parts = (photograph.original_name, size, photograph.camera)
        self._file.setText(", ".join(part for part in parts if part))

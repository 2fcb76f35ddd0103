"""Which sections a sheet shows: a check box for each, with a count."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from planebench.sheet.content import SheetContent, SheetSection
from planebench.window.pieces.choice_controls import CheckBox
from planebench.window.screens.sheet.sheet_preview import Preview

_WORDS = {
    SheetSection.BEFORE_AFTER: "Before and after",
    SheetSection.OTHER_PHOTOGRAPHS: "Other photographs",
    SheetSection.DEFECTS: "Defects",
    SheetSection.FINISH: "Finish, with drawings",
    SheetSection.DATING: "When it was made",
    SheetSection.PARTS: "Parts and measurements",
    SheetSection.WORK: "Work done",
    SheetSection.PRICE: "Price",
    SheetSection.PROMISE: "Seller and guarantee",
}
_ALWAYS = "Every buyer must know this; it cannot be left off."
LAYOUTS = (
    ("all", "Everything"),
    ("short", "Short"),
    ("own", "As checked"),
)
_SHORT = frozenset(
    {
        SheetSection.BEFORE_AFTER,
        SheetSection.OTHER_PHOTOGRAPHS,
        SheetSection.DEFECTS,
        SheetSection.PRICE,
        SheetSection.PROMISE,
    }
)
_LAYOUT_SECTIONS = {"all": frozenset(SheetSection), "short": _SHORT}


class SectionChoice(QWidget):
    """The check boxes.

    Signals: `chosen()` when a person changes one; `ratings_chosen(bool)`, because that choice is
    saved in the catalog's settings.
    """

    chosen = Signal()
    ratings_chosen = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.boxes = {section: CheckBox(words, on=True) for section, words in _WORDS.items()}
        self.ratings = CheckBox("Standard ratings")
        first = CheckBox("Problems, and what was not checked", on=True, remark="always on")
        first.set_fixed_on(_ALWAYS)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for section, box in self.boxes.items():
            if section is SheetSection.DEFECTS:
                column.addWidget(first)
            column.addWidget(box)
            if section is SheetSection.FINISH:
                column.addWidget(self.ratings)
            box.clicked.connect(self.chosen)
        self.ratings.clicked.connect(self.ratings_chosen)

    @property
    def sections(self) -> frozenset[SheetSection]:
        """The sections that are checked."""
        return frozenset(section for section, box in self.boxes.items() if box.isChecked())

    @property
    def layout_held(self) -> str:
        """The key in LAYOUTS that matches the checked sections."""
        held = self.sections
        return next((key for key, each in _LAYOUT_SECTIONS.items() if each == held), "own")

    def take_layout(self, key: str) -> None:
        """Check what a layout shows; "own" changes nothing."""
        sections = _LAYOUT_SECTIONS.get(key)
        if sections is None:
            return
        for section, box in self.boxes.items():
            box.setChecked(section in sections)

    def show_counts(self, preview: Preview) -> None:
        """Show how much each section holds."""
        for section, count in counts(preview).items():
            self.boxes[section].set_remark(count)
        self.ratings.set_remark("on" if self.ratings.isChecked() else "off")


def counts(preview: Preview) -> dict[SheetSection, str]:
    """Return a short count for each section of a sheet."""
    content = preview.content
    return {
        SheetSection.BEFORE_AFTER: "no pair" if content.photographs.found is None else "1 pair",
        SheetSection.OTHER_PHOTOGRAPHS: _others(preview),
        SheetSection.DEFECTS: str(len(content.defects) or "none"),
        SheetSection.FINISH: str(len(content.finish) or "not measured"),
        SheetSection.DATING: _count(len(content.dating.evidence), "piece"),
        SheetSection.PARTS: _parts(preview),
        SheetSection.WORK: str(len(content.work) or "none"),
        SheetSection.PRICE: content.price or "no price",
        SheetSection.PROMISE: _promise(content),
    }


def _others(preview: Preview) -> str:
    taken = preview.content.photographs
    others = len(taken.more) + (taken.other is not None)
    return f"{others} of {preview.photographs}" if others else "none"


def _parts(preview: Preview) -> str:
    dimensions = _count(len(preview.content.measurements), "dimension")
    return f"{_count(preview.parts, 'part')}, {dimensions}"


def _promise(content: SheetContent) -> str:
    """Return the seller's name; empty for a guarantee without a seller."""
    seller = content.address.name or content.address.person
    return seller if content.promise or seller else "not recorded"


def _count(number: int, word: str) -> str:
    return f"{number or 'no'} {word}{'' if number == 1 else 's'}"

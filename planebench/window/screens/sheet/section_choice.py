"""What a sheet shows: a box for each part of it, with what there is of it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from planebench.sheet.content import SheetContent, SheetSection
from planebench.window.pieces.choice_controls import CheckBox
from planebench.window.screens.sheet.sheet_preview import Preview

_WORDS = {
    SheetSection.BEFORE_AFTER: "Before and after, with pins",
    SheetSection.OTHER_PHOTOGRAPHS: "Other photographs",
    SheetSection.DEFECTS: "Defects",
    SheetSection.FINISH: "Finish left, with drawings",
    SheetSection.DATING: "When it was made",
    SheetSection.PARTS: "Parts and measurements",
    SheetSection.WORK: "Work done",
    SheetSection.PRICE: "Price",
    SheetSection.PROMISE: "Promise and address",
}
_ALWAYS = "A buyer is told this on every sheet; it cannot be left off."
LAYOUTS = (
    ("all", "All reasons"),
    ("short", "The main things"),
    ("own", "As ticked"),
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
    """The boxes.

    Signals: `chosen()` when a person changes one; `ratings_chosen(bool)` besides, for that choice
    is kept with the catalog.
    """

    chosen = Signal()
    ratings_chosen = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.boxes = {section: CheckBox(words, on=True) for section, words in _WORDS.items()}
        self.ratings = CheckBox("Standard ratings beside the words")
        first = CheckBox("What a buyer must know first", on=True, remark="always on")
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
        """What is ticked."""
        return frozenset(section for section, box in self.boxes.items() if box.isChecked())

    @property
    def layout_held(self) -> str:
        """The key in LAYOUTS of what is ticked."""
        held = self.sections
        return next((key for key, each in _LAYOUT_SECTIONS.items() if each == held), "own")

    def take_layout(self, key: str) -> None:
        """Tick what a layout shows; "own" leaves all as it is."""
        sections = _LAYOUT_SECTIONS.get(key)
        if sections is None:
            return
        for section, box in self.boxes.items():
            box.setChecked(section in sections)

    def show_counts(self, preview: Preview) -> None:
        """Say what there is of each part."""
        for section, told in counts(preview).items():
            self.boxes[section].set_remark(told)
        self.ratings.set_remark("on" if self.ratings.isChecked() else "off")


def counts(preview: Preview) -> dict[SheetSection, str]:
    """Say in few words what there is of each part of a sheet."""
    content = preview.content
    return {
        SheetSection.BEFORE_AFTER: "no pair" if content.photographs.found is None else "1 pair",
        SheetSection.OTHER_PHOTOGRAPHS: _others(preview),
        SheetSection.DEFECTS: str(len(content.defects) or "none"),
        SheetSection.FINISH: str(len(content.finish) or "not judged"),
        SheetSection.DATING: _count(len(content.dating.evidence), "sign"),
        SheetSection.PARTS: f"{_count(preview.parts, 'part')}, {len(content.measurements)} sizes",
        SheetSection.WORK: str(len(content.work) or "none"),
        SheetSection.PRICE: content.price or "no price",
        SheetSection.PROMISE: _promise(content),
    }


def _others(preview: Preview) -> str:
    taken = preview.content.photographs
    others = len(taken.more) + (taken.other is not None)
    return f"{others} of {preview.photographs}" if others else "none"


def _promise(content: SheetContent) -> str:
    """Name the seller; beside a promise that no seller signed nothing is said."""
    seller = content.address.name or content.address.person
    return seller if content.promise or seller else "not written"


def _count(number: int, word: str) -> str:
    return f"{number or 'no'} {word}{'' if number == 1 else 's'}"

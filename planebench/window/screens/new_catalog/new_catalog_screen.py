"""Asks for the name and folder of a new catalog."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QVBoxLayout, QWidget

from planebench.errors import InputError
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.centered import center_on_page
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.screen import Screen
from planebench.window.pieces.text import Ink, Label, page_title, small_label

_WIDE = 560
_NOT_IN_NAMES = set('<>:"/\\|?*')
_LONGEST = 80


class NewCatalogScreen(Screen):
    """The form for a new catalog.

    Signals: `wanted(Path)` with the folder to make.
    """

    wanted = Signal(object)

    def __init__(self, place: Path) -> None:
        super().__init__()
        self._parent_folder = place
        self.name = Field("Name of the catalog", hint="Wendholm workshop")
        self.name.typed.connect(lambda _text: self._show_folder())
        self.name.line.returnPressed.connect(self._create)
        self._path = small_label()
        self._path.setWordWrap(True)
        self._lay_out()
        self._show_folder()
        self.set_title("New catalog", up="Back")
        self.set_regions(self.name)

    def _lay_out(self) -> None:
        box = QWidget()
        column = QVBoxLayout(box)
        column.setSpacing(16)
        column.addWidget(page_title("New catalog"))
        column.addWidget(
            Label(
                "A catalog is one folder on this computer. It holds your records, the original "
                "photographs and every sheet you issue. Everything is saved as you go.",
                ink=Ink.MUTED,
            ).wrapped()
        )
        column.addWidget(LabeledControl("Name, such as your workshop’s", self.name))
        column.addWidget(self._path)
        row = QHBoxLayout()
        row.setSpacing(8)
        make = ActionButton("Create", weight=ButtonWeight.MAIN, key="Enter")
        make.clicked.connect(self._create)
        other = ActionButton("Choose folder…")
        other.clicked.connect(self._choose_folder)
        leave = ActionButton("Cancel", key="Esc")
        leave.clicked.connect(self.up_wanted)
        for act in (make, other, leave):
            row.addWidget(act)
        row.addStretch(1)
        column.addLayout(row)
        center_on_page(self, box, _WIDE)

    def _show_folder(self) -> None:
        name = self.name.text.strip() or "…"
        self._path.setText(f"Folder: {self._parent_folder / name}")

    def _choose_folder(self) -> None:
        chosen = QFileDialog.getExistingDirectory(self, "Choose a folder", str(self._parent_folder))
        if chosen:
            self._parent_folder = Path(chosen)
            self._show_folder()

    def _create(self) -> None:
        name = self.name.text.strip()
        wrong = sorted(_NOT_IN_NAMES & set(name))
        if not name or wrong or len(name) > _LONGEST or name.startswith("."):
            self.name.show_trouble(_refused(name, wrong))
            return
        self.wanted.emit(self._parent_folder / name)


def _refused(name: str, wrong: list[str]) -> InputError:
    """Return the error for a name, with a corrected name as remedy."""
    kept = "".join(" " if letter in _NOT_IN_NAMES else letter for letter in name).lstrip(". ")
    kept = " ".join(kept.split())[:_LONGEST].rstrip()
    what = "A catalog needs a name"
    if wrong:
        what = f"A folder name cannot contain {wrong[0]}"
    elif name.startswith("."):
        what = "A folder name that begins with a dot is hidden"
    elif name:
        what = f"A name can have up to {_LONGEST} characters"
    return InputError(f"{what}.", remedy=f"Try {kept or 'Wendholm workshop'}.", subject="name")

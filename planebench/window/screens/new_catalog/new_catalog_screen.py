"""Asks what a new catalog is called and where it stands."""

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


class NewCatalog(Screen):
    """The form for a new catalog.

    Signals: `wanted(Path)` with the folder to make.
    """

    wanted = Signal(object)

    def __init__(self, place: Path) -> None:
        super().__init__()
        self._where = place
        self.name = Field("Name of the catalog", hint="Wendholm workshop")
        self.name.typed.connect(lambda _text: self._say_where())
        self.name.line.returnPressed.connect(self._make)
        self._path = small_label()
        self._path.setWordWrap(True)
        self._lay_out()
        self._say_where()
        self.set_title("Start your own", up="Back")
        self.set_regions(self.name)

    def _lay_out(self) -> None:
        box = QWidget()
        column = QVBoxLayout(box)
        column.setSpacing(16)
        column.addWidget(page_title("A new catalog"))
        column.addWidget(
            Label(
                "A catalog is one folder on this machine. It holds the record, the photographs "
                "as they came, and every sheet you issue. All is written down as you go.",
                ink=Ink.MUTED,
            ).wrapped()
        )
        column.addWidget(LabeledControl("What it is called, your workshop’s name say", self.name))
        column.addWidget(self._path)
        row = QHBoxLayout()
        row.setSpacing(8)
        make = ActionButton("Make it", weight=ButtonWeight.MAIN, key="Enter")
        make.clicked.connect(self._make)
        other = ActionButton("Another place …")
        other.clicked.connect(self._ask_place)
        leave = ActionButton("Leave it", key="Esc")
        leave.clicked.connect(self.up_wanted)
        for act in (make, other, leave):
            row.addWidget(act)
        row.addStretch(1)
        column.addLayout(row)
        center_on_page(self, box, _WIDE)

    def _say_where(self) -> None:
        name = self.name.text.strip() or "…"
        self._path.setText(f"It will be the folder {self._where / name}")

    def _ask_place(self) -> None:
        chosen = QFileDialog.getExistingDirectory(self, "Where to put it", str(self._where))
        if chosen:
            self._where = Path(chosen)
            self._say_where()

    def _make(self) -> None:
        name = self.name.text.strip()
        wrong = sorted(_NOT_IN_NAMES & set(name))
        if not name or wrong or len(name) > _LONGEST or name.startswith("."):
            self.name.show_trouble(_refused(name, wrong))
            return
        self.wanted.emit(self._where / name)


def _refused(name: str, wrong: list[str]) -> InputError:
    """Say what is wrong with a name, and how the same name would do."""
    kept = "".join(" " if letter in _NOT_IN_NAMES else letter for letter in name).lstrip(". ")
    kept = " ".join(kept.split())[:_LONGEST].rstrip()
    what = "A catalog needs a name"
    if wrong:
        what = f"A folder’s name cannot hold {wrong[0]}"
    elif name.startswith("."):
        what = "A folder’s name that begins with a dot is hidden"
    elif name:
        what = f"A name is {_LONGEST} letters long at most"
    return InputError(f"{what}.", remedy=f"Try {kept or 'Wendholm workshop'}.", subject="name")

"""The page before an import: which photographs, and where they go."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from PySide6.QtCore import QStandardPaths, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QFileDialog, QHBoxLayout, QVBoxLayout, QWidget
from typing_extensions import override

from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.import_types import Destination
from planebench.catalog.reference import Kind
from planebench.errors import InputError
from planebench.trade.terms import STAGE_WORDS, Stage
from planebench.window.pieces.buttons import ActionButton, ButtonWeight
from planebench.window.pieces.centered import center_on_page
from planebench.window.pieces.choice_controls import CheckBox, DropDown
from planebench.window.pieces.field import Field, LabeledControl
from planebench.window.pieces.text import Ink, Label, LinkButton, page_title, small_label

_WIDE = 620
_LONGEST_MINUTES = 24 * 60
_PICTURES = (
    "Photographs (*.jpg *.jpeg *.png *.tif *.tiff *.webp *.heic *.heif *.avif *.bmp *.dng *.cr2 "
    "*.cr3 *.nef *.arw *.raf *.orf *.rw2 *.pef);;All files (*)"
)


class ImportStartPage(QWidget):
    """The page before an import.

    Signals: `wanted(tuple[Path, ...])` with files or one folder; `watch_wanted(Path)`;
    `filing_wanted()` to look at what waits.
    """

    wanted = Signal(object)
    watch_wanted = Signal(object)
    filing_wanted = Signal()

    def __init__(
        self, kinds: Mapping[str, Kind], *, minutes: int, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.setAcceptDrops(True)
        self.first = ActionButton("Choose a folder", weight=ButtonWeight.MAIN, icon="photographs")
        self.goes_to = Label(ink=Ink.MUTED).wrapped()
        stages = [(stage.value, told) for stage, told in STAGE_WORDS.items()]
        self.stage = DropDown("Stage", stages, holds=Stage.AS_FOUND.value)
        self.follow = CheckBox("File by the scale card in the photograph", on=True)
        self.minutes = Field("Also file photographs taken up to this many minutes after a card")
        self.minutes.set_text(str(minutes))
        self.make = DropDown(
            "Unknown stock numbers on cards",
            [("", "ask me afterward"), *((k.code, k.name) for k in kinds.values())],
        )
        self._waiting = LinkButton("", strong=True)
        self._waiting.clicked.connect(self.filing_wanted)
        self._waiting.hide()
        self._lay_out()

    def destination(self, batch: BatchId | None, tool: ToolId | None) -> Destination | None:
        """Return the chosen destination, or None after showing what is wrong."""
        text = self.minutes.text.strip()
        if not text.isdigit() or not 1 <= int(text) <= _LONGEST_MINUTES:
            self.minutes.show_trouble(
                InputError(
                    "Minutes must be a whole number from 1 to 1440.",
                    remedy="Try 30.",
                    subject="minutes",
                )
            )
            return None
        return Destination(
            batch=batch,
            tool=tool,
            stage=Stage(self.stage.held),
            follow_cards=self.follow.isChecked() and tool is None,
            minutes=int(text),
            make_tools=self.make.held if batch is not None else "",
        )

    def set_placeholder(self, count: int) -> None:
        """Show how many photographs are waiting to be filed."""
        told = (
            "1 photograph is waiting to be filed"
            if count == 1
            else f"{count} photographs are waiting to be filed"
        )
        self._waiting.setText(told)
        self._waiting.setVisible(count > 0)

    def say_where(self, words: str, *, cards: bool) -> None:
        """Show where photographs go; `cards` shows the options about scale cards."""
        self.goes_to.setText(words)
        for control in (self.follow, self._minutes_row, self._make_row):
            control.setVisible(cards)

    def ask_watch(self) -> None:
        """Ask which folder to watch."""
        name = QFileDialog.getExistingDirectory(
            self, "Folder to import new files from", _pictures()
        )
        if name:
            self.watch_wanted.emit(Path(name))

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        paths = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        self._want(paths)

    def _want(self, paths: Sequence[Path]) -> None:
        if paths:
            self.wanted.emit(tuple(paths))

    def _ask_files(self) -> None:
        names, _ = QFileDialog.getOpenFileNames(self, "Photographs to add", _pictures(), _PICTURES)
        self._want([Path(name) for name in names])

    def _ask_folder(self) -> None:
        name = QFileDialog.getExistingDirectory(
            self,
            "Folder of photographs, or a camera’s memory card",
            _pictures(),
            QFileDialog.Option(0),  # its files are shown too, so that it does not look empty
        )
        if name:
            self._want([Path(name)])

    def _lay_out(self) -> None:
        box = QWidget()
        column = QVBoxLayout(box)
        column.setSpacing(12)
        column.addWidget(page_title("Which photographs?"))
        column.addWidget(self.goes_to)
        column.addWidget(LabeledControl("They show the tools", self.stage, beside=260))
        column.addLayout(self._acts())
        column.addWidget(self._waiting)
        column.addWidget(
            small_label(
                "A folder can be a camera’s memory card. You can also drop files and folders "
                "on this page. To add photographs as your camera or phone saves them, import "
                "new files from a folder."
            ).wrapped()
        )
        column.addSpacing(8)
        column.addWidget(self.follow)
        self._minutes_row = LabeledControl(
            "Also those taken after a card, up to (minutes)", self.minutes, beside=260
        )
        column.addWidget(self._minutes_row)
        self._make_row = LabeledControl("Unknown number on a card", self.make, beside=260)
        column.addWidget(self._make_row)
        promise = small_label(
            "Originals are copied and never changed. A photograph you already have is not "
            "stored twice. You can stop at any time, and undo the whole import."
        )
        column.addWidget(promise.wrapped())
        center_on_page(self, box, _WIDE)

    def _acts(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(8)
        folder = self.first
        folder.clicked.connect(self._ask_folder)
        files = ActionButton("Choose files")
        files.clicked.connect(self._ask_files)
        watch = ActionButton("Import new files from a folder")
        watch.clicked.connect(self.ask_watch)
        for act in (folder, files, watch):
            row.addWidget(act)
        row.addStretch(1)
        return row


def _pictures() -> str:
    """Return the folder in which the file dialogs open."""
    return QStandardPaths.writableLocation(QStandardPaths.StandardLocation.PicturesLocation)

"""The page that says why each photograph was filed where it is."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from planebench.catalog.ids import PhotographId
from planebench.catalog.import_types import FileFate, FileOutcome
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.text import Ink, Label, heading
from planebench.window.screens.photo_import.import_summary import ImportSummary

_BECAME = {
    FileFate.NEW: "new",
    FileFate.ALREADY_IN_CATALOG: "already here",
    FileFate.REFUSED: "not imported",
}


class FilingReasonsPage(QWidget):
    """One row per file: its outcome, its tool, and why.

    Signals: `done()`.
    """

    done = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows = QTreeWidget()
        self.rows.setAccessibleName("Why each photograph was filed there")
        self.rows.setRootIsDecorated(False)
        self.rows.setUniformRowHeights(True)
        self.rows.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.rows.setHeaderLabels(["File", "", "Tool", "Why", "Nearly the same"])
        self.rows.header().setSectionResizeMode(3, QHeaderView.ResizeMode.Stretch)
        self.rows.header().setStretchLastSection(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 16, 24, 12)
        column.setSpacing(12)
        column.addWidget(heading("Why each photograph was filed there"))
        column.addWidget(
            Label(
                "If the rule was wrong, undo the whole import. To move one photograph, open "
                "its tool.",
                ink=Ink.MUTED,
            ).wrapped()
        )
        column.addWidget(self.rows, 1)
        row = QHBoxLayout()
        done = ActionButton("Back")
        done.clicked.connect(self.done)
        row.addWidget(done)
        row.addStretch(1)
        column.addLayout(row)

    def show_summary(self, summary: ImportSummary) -> None:
        """Show what became of each file, why, and which of them show nearly the same.

        The scroll position stays while more photographs come in.
        """
        seen = self.rows.verticalScrollBar().value()
        row = self.rows.currentIndex().row()
        self.rows.clear()
        alike = describe_look_alikes(summary.look_alikes)
        for outcome in summary.outcomes:
            same = alike.get(outcome.photograph, "") if outcome.photograph else ""
            self.rows.addTopLevelItem(QTreeWidgetItem(_told(outcome, same)))
        for outcome in summary.anew:
            name, _, *rest = _told(outcome, "")
            self.rows.addTopLevelItem(QTreeWidgetItem([name, "already here, filed again", *rest]))
        for column in (0, 1, 2, 4):
            self.rows.resizeColumnToContents(column)
        self.rows.setCurrentIndex(self.rows.model().index(row, 0))
        self.rows.verticalScrollBar().setValue(seen)


def describe_look_alikes(
    groups: Sequence[Sequence[PhotographId]],
) -> dict[PhotographId | None, str]:
    """Return for each look-alike its group and whether it is the sharpest."""
    words: dict[PhotographId | None, str] = {}
    for number, group in enumerate(groups, start=1):
        for place, photograph in enumerate(group):
            best = "the sharpest" if place == 0 else "less sharp"
            words[photograph] = f"group {number} of {len(group)}: {best}"
    return words


def _told(outcome: FileOutcome, same: str) -> list[str]:
    why = outcome.why
    if outcome.became == FileFate.REFUSED:
        why = f"{outcome.happened} {outcome.remedy}"
    elif outcome.suggestion and not outcome.stock:
        why = f"{why}; maybe {outcome.suggestion}".removeprefix("; ")
    why = ". ".join((why, *outcome.warnings))
    tool = outcome.stock or ("not filed yet" if outcome.became == FileFate.NEW else "")
    return [Path(outcome.file).name, _BECAME[outcome.became], tool, why, same]

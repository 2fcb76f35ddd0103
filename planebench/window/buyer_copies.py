"""Copies of photographs for a buyer: asks for a folder, copies as a job, reports the result."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import QFileDialog, QWidget

from planebench.catalog.catalog import Catalog
from planebench.catalog.exporting import ExportResult, export
from planebench.catalog.ids import ToolId
from planebench.window.jobs import JobDesk
from planebench.window.notices import Notices

# More names would make the message longer than its line.
_MOST_NAMED = 5


def ask_folder(over: QWidget, taken: Callable[[Path], object]) -> None:
    """Ask for the folder for the copies."""
    dialog = QFileDialog(over, "Folder for the copies")
    dialog.setFileMode(QFileDialog.FileMode.Directory)
    dialog.setOption(QFileDialog.Option.ShowDirsOnly, on=True)
    dialog.fileSelected.connect(lambda name: taken(Path(name)))
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.open()


class BuyerCopies(QObject):
    """Copies the photographs of tools."""

    def __init__(self, jobs: JobDesk, notices: Notices, over: QWidget) -> None:
        super().__init__(over)
        self._jobs = jobs
        self._notices = notices
        self._over = over

    def ask(self, catalog: Catalog, tools: tuple[ToolId, ...]) -> None:
        """Ask for a folder and copy; without a selected tool, say how to select one."""
        if not tools:
            self._notices.advise(
                "No tool is selected.",
                remedy="Select tools in a list or open one, then try again.",
            )
            return
        ask_folder(self._over, lambda folder: self.copy(catalog, tools, folder))

    def copy(self, catalog: Catalog, tools: tuple[ToolId, ...], folder: Path) -> None:
        """Copy the photographs of tools into a folder."""
        self._jobs.read(
            lambda job: export(catalog, tools, folder, report=job.step),
            done=self._report,
            owner=self,
            text="Copying photographs",
        )

    def _report(self, exported: ExportResult) -> None:
        count = len(exported.copies)
        said = "1 photograph was copied" if count == 1 else f"{count} photographs were copied"
        if not exported.copies and not exported.failed:
            said = "There are no photographs to copy"
        self._notices.advise(
            f"{said}.{_failed(exported)}",
            remedy="Each file says what it shows. Where it was taken is left out."
            if exported.copies
            else "",
            subject=str(exported.folder),
        )


def _failed(exported: ExportResult) -> str:
    if not exported.failed:
        return ""
    named = ", ".join(f"{one.stock} {one.name}" for one in exported.failed[:_MOST_NAMED])
    return f" Not copied: {named}. {exported.failed[0].error}"

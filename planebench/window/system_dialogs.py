"""The system's dialogs for printers and files, and its viewer for files."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QStandardPaths, Qt, QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtPrintSupport import QAbstractPrintDialog, QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QFileDialog, QWidget

PrinterTaken = Callable[[QPrinter], object]
PathTaken = Callable[[Path], object]
SetUp = Callable[[QPrinter], object]


def ask_printer(over: QWidget, set_up: SetUp, taken: PrinterTaken) -> None:
    """Ask for a printer, prepared by `set_up`; nothing is called on Cancel."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    set_up(printer)
    dialog = QPrintDialog(printer, over)
    dialog.setOption(QAbstractPrintDialog.PrintDialogOption.PrintPageRange, on=True)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)

    def accepted() -> None:
        # The paper of the pages is kept, whatever was chosen: they are printed at actual size.
        sides = printer.duplex()
        set_up(printer)
        printer.setDuplex(sides)
        taken(printer)

    dialog.accepted.connect(accepted)
    # The print dialog's own `open` wants a receiver by name; the general one does not.
    QDialog.open(dialog)


def ask_file(over: QWidget, suggested: Path, taken: PathTaken) -> None:
    """Ask where to write a PDF; the dialog itself asks before it replaces another file."""
    dialog = QFileDialog(over, "Save as PDF", str(suggested.parent), "PDF (*.pdf)")
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setDefaultSuffix("pdf")
    dialog.selectFile(suggested.name)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.fileSelected.connect(lambda name: taken(Path(name)))
    dialog.open()


def ask_pdf(over: QWidget, folder: Path, taken: PathTaken) -> None:
    """Ask for a PDF to read."""
    dialog = QFileDialog(over, "Check a sheet", str(folder), "PDF (*.pdf)")
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.fileSelected.connect(lambda name: taken(Path(name)))
    dialog.open()


def ask_folder(over: QWidget, suggested: Path, taken: PathTaken) -> None:
    """Ask for the folder for several PDFs."""
    dialog = QFileDialog(over, "Folder for the PDFs", str(suggested))
    dialog.setFileMode(QFileDialog.FileMode.Directory)
    dialog.setOption(QFileDialog.Option.ShowDirsOnly, on=True)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.fileSelected.connect(lambda name: taken(Path(name)))
    dialog.open()


def documents() -> Path:
    """Return the folder in which this system keeps a person's documents."""
    places = QStandardPaths.standardLocations(QStandardPaths.StandardLocation.DocumentsLocation)
    return Path(places[0]) if places else Path.home()


def show_file(path: Path) -> bool:
    """Open a file in the system's own viewer; False when there is none."""
    return QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))


@dataclass(frozen=True, slots=True, kw_only=True)
class SystemDialogs:
    """The dialogs that lead out of the program; tests pass others that need no answer."""

    printer: Callable[[QWidget, SetUp, PrinterTaken], None] = ask_printer
    file: Callable[[QWidget, Path, PathTaken], None] = ask_file
    folder: Callable[[QWidget, Path, PathTaken], None] = ask_folder
    pdf: Callable[[QWidget, Path, PathTaken], None] = ask_pdf
    show: Callable[[Path], bool] = show_file

"""Prints the pages of PDFs at actual size, and writes PDFs to files."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMarginsF, QPoint, QSize
from PySide6.QtGui import QImage, QPageLayout, QPageSize, QPainter, QTransform
from PySide6.QtPdf import QPdfDocument
from PySide6.QtPrintSupport import QPrinter

from planebench.errors import FileError, SheetError
from planebench.sheet.content import Paper
from planebench.window.jobs import Job

_SIZES = {Paper.LETTER: QPageSize.PageSizeId.Letter, Paper.A4: QPageSize.PageSizeId.A4}
_POINTS_PER_INCH = 72
_FINEST = 600
"""Dots per inch: 0.04 mm, finer than any line of a sheet; a page then takes 130 MB at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Papers:
    """What is printed: PDFs one after another, the paper, and whether on both sides."""

    name: str
    pdfs: tuple[bytes, ...]
    paper: Paper
    both_sides: bool = False


def set_up(printer: QPrinter, papers: Papers) -> None:
    """Set a printer to the paper and sides, with pages that reach the paper's edge."""
    printer.setDocName(papers.name)
    printer.setCreator("Planebench")
    printer.setPageSize(QPageSize(_SIZES[papers.paper]))
    printer.setPageOrientation(QPageLayout.Orientation.Portrait)
    printer.setFullPage(True)
    printer.setPageMargins(QMarginsF(), QPageLayout.Unit.Point)
    sides = QPrinter.DuplexMode.DuplexLongSide
    printer.setDuplex(sides if papers.both_sides else QPrinter.DuplexMode.DuplexNone)


def print_papers(papers: Papers, printer: QPrinter, job: Job) -> int:
    """Print; return the number of pages printed.

    Each PDF begins on a new sheet of paper. Call it on a job. Raise SheetError when the printer
    accepts nothing, Stopped between two pages.
    """
    documents = [_Document(pdf) for pdf in papers.pdfs]
    pages = _asked(_order(documents, both_sides=papers.both_sides), printer)
    copies = 1 if printer.supportsMultipleCopies() else printer.copyCount()
    pages = pages * copies
    painter = QPainter()
    if not pages or not painter.begin(printer):
        raise _refused(printer)
    try:
        _print_pages(painter, printer, pages, job)
    except BaseException:
        printer.abort()
        raise
    finally:
        painter.end()
    return len(pages)


def format_print_result(printer: QPrinter, pages: int) -> str:
    """Return how many pages went to which printer or file, as a sentence."""
    where = printer.outputFileName() or printer.printerName() or "the printer"
    return f"{pages} {'page was' if pages == 1 else 'pages were'} sent to {where}."


def write_file(path: Path, data: bytes) -> Path:
    """Write a file whole or not at all. Raise FileError with its name."""
    part = path.with_name(f"{path.name}.part")
    try:
        part.write_bytes(data)
        part.replace(path)
    except OSError as error:
        _drop(part)
        raise FileError(
            f"{path.name} could not be written: {error.strerror}.",
            remedy="Choose another folder, or free some space on that disk, then try again.",
            subject=str(path),
        ) from error
    return path


class _Document:
    """An open PDF; lives on the thread of the job that prints it."""

    def __init__(self, pdf: bytes) -> None:
        self._buffer = QBuffer()
        self._buffer.setData(QByteArray(pdf))
        self._buffer.open(QIODevice.OpenModeFlag.ReadOnly)
        self._document = QPdfDocument(None)  # type: ignore[call-overload]  # no parent: another thread
        self._document.load(self._buffer)
        if self._document.status() is not QPdfDocument.Status.Ready:
            raise SheetError(
                "The pages could not be read for printing.",
                remedy="Save them as a PDF and print that with another program.",
            )

    @property
    def pages(self) -> int:
        return int(self._document.pageCount())

    def picture(self, page: int, dots: int) -> QImage:
        """Return one page drawn on white at `dots` per inch."""
        points = self._document.pagePointSize(page)
        size = QSize(
            round(points.width() * dots / _POINTS_PER_INCH),
            round(points.height() * dots / _POINTS_PER_INCH),
        )
        drawn = self._document.render(page, size)
        whole = QImage(size, QImage.Format.Format_RGB32)
        whole.fill(0xFFFFFFFF)
        painter = QPainter(whole)
        painter.drawImage(0, 0, drawn)
        painter.end()
        return whole


_Page = tuple[_Document, int] | None
"""A page of a document; None is a blank back."""


def _order(documents: Sequence[_Document], *, both_sides: bool) -> list[_Page]:
    pages: list[_Page] = []
    for document in documents:
        # Else the next tool's sheet would begin on the back of this one's.
        if both_sides and len(pages) % 2:
            pages.append(None)
        pages.extend(_pages_of(document))
    return pages


def _pages_of(document: _Document) -> Iterator[_Page]:
    return ((document, page) for page in range(document.pages))


def _asked(pages: list[_Page], printer: QPrinter) -> list[_Page]:
    """Return only the pages that were asked for in the system's print dialog."""
    if printer.printRange() is not QPrinter.PrintRange.PageRange or not printer.fromPage():
        return pages
    return pages[printer.fromPage() - 1 : printer.toPage()]


def _print_pages(painter: QPainter, printer: QPrinter, pages: Sequence[_Page], job: Job) -> None:
    for number, page in enumerate(pages):
        job.step(number, len(pages), "Printing page")
        if number and not printer.newPage():
            raise _refused(printer)
        if page is not None:
            _print_page(painter, printer, page)


def _print_page(painter: QPainter, printer: QPrinter, page: tuple[_Document, int]) -> None:
    document, number = page
    dots = printer.resolution()
    drawn = min(dots, _FINEST)
    painter.setTransform(QTransform.fromScale(dots / drawn, dots / drawn))
    painter.drawImage(QPoint(0, 0), document.picture(number, drawn))


def _refused(printer: QPrinter) -> SheetError:
    name = printer.printerName() or printer.outputFileName() or "The printer"
    return SheetError(
        f"{name} did not accept the pages.",
        remedy="Check that it is on and has paper, or save a PDF and print that.",
        subject=name,
    )


def _drop(part: Path) -> None:
    try:
        part.unlink(missing_ok=True)
    except OSError:
        # Where nothing can be written, nothing can be deleted either.
        return

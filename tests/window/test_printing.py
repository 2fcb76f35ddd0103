"""Pages on paper: as many as asked, each as large as it is, read back with pypdf."""

from __future__ import annotations

import datetime as dt
import stat
from pathlib import Path

import numpy as np
import pypdf
import pytest
from PySide6.QtCore import QSize
from PySide6.QtGui import QImage
from PySide6.QtPdf import QPdfDocument
from PySide6.QtPrintSupport import QPrinter
from pytestqt.qtbot import QtBot

from planebench.errors import FileError, SheetError
from planebench.sheet.card_press import CardRun, print_cards
from planebench.sheet.content import Paper
from planebench.window.jobs import Job, JobDesk
from planebench.window.printing import Papers, print_papers, set_up, write_file

# ANSI/ASME Y14.1 size A is 8.5 x 11 in, ISO 216 A4 is 210 x 297 mm; a point is 1/72 in.
SIZES = {Paper.LETTER: (612.0, 792.0), Paper.A4: (210 / 25.4 * 72, 297 / 25.4 * 72)}
AT = dt.datetime(2026, 3, 14, tzinfo=dt.UTC)


def cards(resources: Path, paper: Paper = Paper.LETTER, count: int = 1) -> bytes:
    run = CardRun(stocks=("LOT7-001",) * count, paper=paper)
    return print_cards(run, resources=resources, at=AT).pdf


def pdf_printer(file: Path, dots: int = 150) -> QPrinter:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(file))
    printer.setResolution(dots)
    return printer


def printed(qtbot: QtBot, desk: JobDesk, papers: Papers, printer: QPrinter) -> int:
    set_up(printer, papers)
    counts: list[int] = []
    desk.read(lambda job: print_papers(papers, printer, job), done=counts.append, failed=raise_it)
    qtbot.waitUntil(lambda: not desk.open_jobs, timeout=20_000)
    return counts[0] if counts else -1


def raise_it(error: Exception) -> None:
    raise error


@pytest.mark.parametrize("paper", list(Paper))
def test_every_page_is_printed_on_the_paper_chosen(
    qtbot: QtBot, desk: JobDesk, resources: Path, tmp_path: Path, paper: Paper
) -> None:
    papers = Papers(name="cards", pdfs=(cards(resources, paper, 7),), paper=paper)

    count = printed(qtbot, desk, papers, pdf_printer(tmp_path / "out.pdf"))

    pages = pypdf.PdfReader(tmp_path / "out.pdf").pages
    assert count == len(pages) == 2
    for page in pages:
        size = (float(page.mediabox.width), float(page.mediabox.height))
        assert size == pytest.approx(SIZES[paper], abs=1.0)


@pytest.mark.parametrize("dots", [300, 1200])
def test_a_page_is_printed_at_full_size_and_place(
    qtbot: QtBot, desk: JobDesk, resources: Path, tmp_path: Path, dots: int
) -> None:
    pdf = cards(resources)
    (tmp_path / "set.pdf").write_bytes(pdf)
    papers = Papers(name="cards", pdfs=(pdf,), paper=Paper.LETTER)

    printed(qtbot, desk, papers, pdf_printer(tmp_path / "out.pdf", dots))

    # The same page, drawn from what was set and from what was printed: dark in the same places.
    wanted, got = (gray(tmp_path / name) for name in ("set.pdf", "out.pdf"))
    rows, columns = np.nonzero(wanted < 60)
    found_rows, found_columns = np.nonzero(got < 60)
    for expected, actual in ((rows, found_rows), (columns, found_columns)):
        assert abs(int(actual.min()) - int(expected.min())) <= 1
        assert abs(int(actual.max()) - int(expected.max())) <= 1
    assert np.mean(np.abs(wanted.astype(float) - got)) < 2.0


def gray(file: Path) -> np.ndarray:
    document = QPdfDocument(None)
    document.load(str(file))
    image = document.render(0, QSize(1275, 1650))
    converted = image.convertToFormat(QImage.Format.Format_RGBA8888)
    pixels = np.array(converted.constBits())
    rgba = pixels.reshape(image.height(), image.width(), 4).astype(float)
    share = rgba[..., 3:] / 255
    document.close()
    return (rgba[..., :3] * share + 255 * (1 - share)).mean(axis=2)


def test_each_sheet_begins_on_a_paper_of_its_own_when_both_sides_are_printed(
    qtbot: QtBot, desk: JobDesk, resources: Path, tmp_path: Path
) -> None:
    one = cards(resources)
    papers = Papers(name="two", pdfs=(one, one), paper=Paper.LETTER, both_sides=True)

    count = printed(qtbot, desk, papers, pdf_printer(tmp_path / "out.pdf"))

    pages = pypdf.PdfReader(tmp_path / "out.pdf").pages
    assert count == len(pages) == 3
    assert [len(page.images) > 0 for page in pages] == [True, False, True]


def test_only_the_pages_asked_for_are_printed(
    qtbot: QtBot, desk: JobDesk, resources: Path, tmp_path: Path
) -> None:
    printer = pdf_printer(tmp_path / "out.pdf")
    printer.setPrintRange(QPrinter.PrintRange.PageRange)
    printer.setFromTo(2, 3)
    papers = Papers(name="cards", pdfs=(cards(resources, count=19),), paper=Paper.LETTER)

    assert printed(qtbot, desk, papers, printer) == 2


def test_copies_are_printed_where_the_printer_makes_none_itself(
    qtbot: QtBot, desk: JobDesk, resources: Path, tmp_path: Path
) -> None:
    printer = pdf_printer(tmp_path / "out.pdf")
    printer.setCopyCount(3)
    papers = Papers(name="cards", pdfs=(cards(resources),), paper=Paper.LETTER)

    assert printed(qtbot, desk, papers, printer) == 3


@pytest.fixture
def unwritable(tmp_path: Path) -> Path:
    """A name below a file: no folder can be there, whoever asks."""
    file = tmp_path / "file"
    file.write_bytes(b"")
    file.chmod(stat.S_IRUSR)
    return file / "out.pdf"


@pytest.mark.qt_log_ignore("QPainter::begin")
def test_a_printer_that_takes_nothing_is_told(
    qtbot: QtBot, desk: JobDesk, resources: Path, unwritable: Path, caplog: pytest.LogCaptureFixture
) -> None:
    papers = Papers(name="cards", pdfs=(cards(resources),), paper=Paper.LETTER)
    printer = pdf_printer(unwritable)
    troubles: list[Exception] = []
    set_up(printer, papers)

    def work(job: Job) -> int:
        return print_papers(papers, printer, job)

    desk.read(work, done=lambda _count: None, failed=troubles.append, owner=desk)
    qtbot.waitUntil(lambda: bool(troubles))

    assert isinstance(troubles[0], SheetError)
    assert "did not accept the pages" in str(troubles[0])


def test_a_file_is_written_whole(tmp_path: Path) -> None:
    written = write_file(tmp_path / "sheet.pdf", b"%PDF")

    assert written.read_bytes() == b"%PDF"
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.pdf"]


def test_a_file_that_cannot_be_written_is_named(unwritable: Path) -> None:
    with pytest.raises(FileError) as refused:
        write_file(unwritable, b"%PDF")

    assert refused.value.subject == str(unwritable)
    assert "Choose another folder" in refused.value.remedy

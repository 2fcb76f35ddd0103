"""The condition sheets of tools: seen as they will be, issued, printed and saved."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QAbstractButton, QWidget
from pytestqt.qtbot import QtBot

from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.readings import NewReading
from planebench.catalog.tools import NewTool
from planebench.sheet.content import SheetSection
from planebench.trade.shares import Share
from planebench.trade.terms import Basis, Stage
from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.notice_bar import NoticeBar
from planebench.window.notices import Notice, Tone
from planebench.window.pieces.buttons import ActionButton
from planebench.window.pieces.text import LinkButton
from planebench.window.screens.sheet.sheet_screen import SheetScreen
from planebench.window.system_dialogs import PathTaken, PrinterTaken, SetUp, SystemDialogs

Show = Callable[[QWidget], QWidget]
Settled = Callable[[], None]


@dataclass
class Answers:
    """Stands for the person who answers the system's dialogs."""

    folder: Path
    shown: list[Path]

    def printer(self, _over: QWidget, set_up: SetUp, taken: PrinterTaken) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        set_up(printer)
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(self.folder / "printed.pdf"))
        printer.setResolution(100)
        taken(printer)

    def file(self, _over: QWidget, suggested_stock_number: Path, taken: PathTaken) -> None:
        taken(self.folder / suggested_stock_number.name)

    def place(self, _over: QWidget, _suggested: Path, taken: PathTaken) -> None:
        taken(self.folder)

    def pdf(self, _over: QWidget, _folder: Path, taken: PathTaken) -> None:
        taken(next(self.folder.glob("*.pdf")))

    def show(self, path: Path) -> bool:
        self.shown.append(path)
        return True

    @property
    def outlets(self) -> SystemDialogs:
        return SystemDialogs(
            printer=self.printer, file=self.file, folder=self.place, pdf=self.pdf, show=self.show
        )


@pytest.fixture
def answers(tmp_path: Path) -> Answers:
    folder = tmp_path / "out"
    folder.mkdir()
    return Answers(folder=folder, shown=[])


@pytest.fixture
def screen(given: ScreenContext, tool_id: ToolId, answers: Answers, show: Show) -> SheetScreen:
    made = SheetScreen(given, (tool_id,), outlets=answers.outlets)
    show(made)
    made.column.accept.setChecked(True)
    return made


@pytest.fixture
def batch_screen(
    given: ScreenContext, batch: BatchId, tool_id: ToolId, answers: Answers, show: Show
) -> SheetScreen:
    more = [given.catalog.tools.add(batch, NewTool(kind="block")).id for _ in range(2)]
    made = SheetScreen(given, (tool_id, *more), outlets=answers.outlets)
    show(made)
    made.column.accept.setChecked(True)
    return made


def title_seen(screen: SheetScreen) -> str:
    return "" if screen.preview is None else screen.preview.content.title


def test_the_pages_appear_as_they_will_be(screen: SheetScreen) -> None:
    assert screen.pages.count > 0
    assert screen.title.text == "Condition sheet, draft"
    assert screen.title.up.startswith("LOT7-001")


def test_paper_chosen_changes_the_pages_and_is_kept(
    qtbot: QtBot, given: ScreenContext, screen: SheetScreen, settled: Settled
) -> None:
    before = screen.pages._pages[0].size()
    a4 = next(
        act for act in screen.column.paper.findChildren(QAbstractButton) if act.text() == "A4"
    )

    qtbot.mouseClick(a4, Qt.MouseButton.LeftButton)
    settled()

    after = screen.pages._pages[0].size()
    assert before.height() / before.width() == pytest.approx(11 / 8.5, abs=0.01)
    assert after.height() / after.width() == pytest.approx(297 / 210, abs=0.01)
    assert given.catalog.settings.read().paper == "a4"


def test_an_edit_elsewhere_is_followed(
    qtbot: QtBot, given: ScreenContext, tool_id: ToolId, screen: SheetScreen
) -> None:
    given.edits.happened.emit(given.catalog.tools.change(tool_id, maker="Tarrow"))

    qtbot.waitUntil(lambda: "Tarrow" in title_seen(screen))


def test_a_layout_ticks_what_it_shows_and_ticks_name_the_layout(
    qtbot: QtBot, screen: SheetScreen, settled: Settled
) -> None:
    screen.layouts.hold("short")
    screen.layouts.chosen.emit("short")
    settled()

    assert not screen.column.shows.boxes[SheetSection.DATING].isChecked()
    qtbot.keyClick(screen.column.shows.boxes[SheetSection.DATING], Qt.Key.Key_Space)
    assert screen.layouts.held == "own"


def test_what_a_buyer_must_know_first_cannot_be_left_off(screen: SheetScreen) -> None:
    first = next(
        box
        for box in screen.column.shows.findChildren(QAbstractButton)
        if box.text() == "Problems, and what was not checked"
    )

    assert first.isChecked()
    assert not first.isEnabled()


def test_what_is_missing_is_listed_and_must_be_accepted_before_issuing(
    screen: SheetScreen,
) -> None:
    column = screen.column
    column.accept.setChecked(False)

    assert "Missing: photographs." in column.to_settle.accessibleName()
    assert not column.issue_file.isEnabled()
    assert column.draft_file.isEnabled()

    column.accept.setChecked(True)

    assert column.issue_file.isEnabled()


def test_what_contradicts_cannot_be_accepted(
    qtbot: QtBot, given: ScreenContext, tool_id: ToolId, screen: SheetScreen
) -> None:
    surface = given.catalog.tools.one(tool_id).surfaces[0].id
    low, high = (
        Share(value=value, low=value, high=value, basis=Basis.MEASURED)
        for value in (Decimal("0.2"), Decimal("0.3"))
    )
    reading = NewReading(
        tool=tool_id, surface=surface, stage=Stage.FINISHED, share=low, new_finish=high
    )
    given.edits.happened.emit(given.catalog.readings.add(reading).changes)

    qtbot.waitUntil(lambda: not screen.column.issue_file.isEnabled())
    assert "contradict" in screen.column.to_settle.accessibleName()


def test_a_draft_is_saved_with_the_pages_that_were_seen(
    screen: SheetScreen, answers: Answers, settled: Settled, given: ScreenContext, tool_id: ToolId
) -> None:
    screen.column.draft_file.click()
    settled()

    saved = pypdf.PdfReader(answers.folder / "LOT7-001 draft sheet.pdf")
    assert len(saved.pages) == screen.pages.count
    assert (saved.pages[0].mediabox.width, saved.pages[0].mediabox.height) == (612, 792)
    assert "not issued, no number" in saved.pages[0].extract_text()
    assert given.catalog.sheets.of_tool(tool_id) == ()


def test_what_was_saved_is_offered_to_be_opened(
    qtbot: QtBot,
    screen: SheetScreen,
    answers: Answers,
    settled: Settled,
    told: list[Notice],
) -> None:
    screen.column.draft_file.click()
    settled()
    strip = NoticeBar()
    qtbot.addWidget(strip)
    strip.show_notice(told[-1])

    offered = next(act for act in strip.findChildren(ActionButton) if act.text() == "Open")
    offered.click()

    assert answers.shown == [answers.folder / "LOT7-001 draft sheet.pdf"]


def test_issuing_to_a_file_freezes_the_sheet_in_the_catalog(
    screen: SheetScreen, answers: Answers, settled: Settled, given: ScreenContext, tool_id: ToolId
) -> None:
    screen.column.issue_file.click()
    settled()

    [sheet] = given.catalog.sheets.of_tool(tool_id)
    written = answers.folder / "LOT7-001 sheet 0001.pdf"
    assert written.read_bytes() == given.catalog.sheets.path(sheet).read_bytes()
    assert screen.title.text == "Condition sheet, draft"
    assert screen.column.issued.isVisible()


def test_issuing_and_printing_puts_the_issued_pages_on_the_printer(
    qtbot: QtBot, screen: SheetScreen, answers: Answers, settled: Settled, given: ScreenContext
) -> None:
    qtbot.keyClick(screen, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    settled()
    qtbot.waitUntil((answers.folder / "printed.pdf").is_file)
    settled()

    pages = pypdf.PdfReader(answers.folder / "printed.pdf").pages
    [sheet] = given.catalog.sheets.of_tool(screen._tools[0])
    issued = pypdf.PdfReader(given.catalog.sheets.path(sheet))
    assert len(pages) == len(issued.pages)
    assert screen.column.issue_print.isEnabled()


def test_a_changed_record_is_told_against_the_sheet_issued(
    qtbot: QtBot, screen: SheetScreen, settled: Settled, given: ScreenContext, tool_id: ToolId
) -> None:
    screen.column.issue_file.click()
    settled()
    assert not screen.column.issued.since.isVisible()

    given.edits.happened.emit(given.catalog.tools.change(tool_id, maker="Tarrow"))

    qtbot.waitUntil(screen.column.issued.since.isVisible)
    assert "what it is" in screen.column.issued.since.accessibleName()


def test_the_file_of_an_issued_sheet_is_opened(
    qtbot: QtBot, screen: SheetScreen, answers: Answers, settled: Settled, given: ScreenContext
) -> None:
    screen.column.issue_file.click()
    settled()
    [link] = screen.column.issued.findChildren(LinkButton)

    qtbot.keyClick(link, Qt.Key.Key_Return)

    [sheet] = given.catalog.sheets.of_tool(screen._tools[0])
    assert answers.shown == [given.catalog.sheets.path(sheet)]
    assert link.accessibleName() == "Open the PDF of sheet 0001"


def test_nothing_is_issued_when_the_folder_takes_no_file(
    given: ScreenContext,
    screen: SheetScreen,
    answers: Answers,
    told: list[Notice],
    settled: Settled,
) -> None:
    answers.folder = answers.folder / "taken away"

    screen.column.issue_file.click()
    settled()

    assert [notice.tone for notice in told] == [Tone.TROUBLE]
    assert "could not be written" in told[0].happened
    assert given.catalog.sheets.of_tool(screen._tools[0]) == ()
    assert screen.column.issue_file.isEnabled()


def test_a_seller_without_a_name_is_led_to_where_it_is_written(
    qtbot: QtBot, given: ScreenContext, screen: SheetScreen
) -> None:
    assert screen.column.nameless.isVisible()
    [link] = screen.column.nameless.findChildren(LinkButton)
    with qtbot.waitSignal(screen.go) as gone:
        qtbot.keyClick(link, Qt.Key.Key_Return)
    settings = given.catalog.settings

    named = replace(settings.read(), workshop="Wendholm Workshop")
    given.edits.happened.emit(settings.write(named))

    assert gone.args == [routes.SettingsRoute()]
    qtbot.waitUntil(lambda: not screen.column.nameless.isVisible())


def test_several_tools_are_leafed_through_one_after_another(
    qtbot: QtBot, batch_screen: SheetScreen, settled: Settled
) -> None:
    screen, three = batch_screen, batch_screen._tools
    for _ in range(screen.pages.count):
        qtbot.keyClick(screen.pages, Qt.Key.Key_PageDown)
    settled()

    assert screen.preview is not None
    assert screen.preview.request.tool == three[1]
    assert screen.title.text == "Condition sheet, draft"
    qtbot.keyClick(screen.pages, Qt.Key.Key_PageUp)
    settled()
    assert screen.preview.request.tool == three[0]
    assert screen.pages.shown.stop == screen.pages.count


@pytest.mark.parametrize(
    ("files", "names"),
    [
        ("together", {"Condition sheets.pdf"}),
        ("each", {f"LOT7-00{n} sheet 000{n}.pdf" for n in (1, 2, 3)}),
    ],
)
def test_several_tools_go_into_one_file_or_one_each(
    batch_screen: SheetScreen, answers: Answers, settled: Settled, files: str, names: set[str]
) -> None:
    batch_screen.column.files.hold(files)

    batch_screen.column.issue_file.click()
    settled()

    sheets = batch_screen._context.catalog.sheets
    assert {path.name for path in answers.folder.iterdir()} == names
    numbers = [sheets.of_tool(tool)[0].number for tool in batch_screen._tools]
    assert numbers == [1, 2, 3]


def test_a_batch_that_is_stopped_keeps_what_was_issued_and_says_so(
    given: ScreenContext, batch_screen: SheetScreen, told: list[Notice], settled: Settled
) -> None:
    batch_screen.column.issue_file.click()
    [job] = given.jobs.open_jobs
    job.progressed.connect(lambda _text, done, _total: job.stop() if done == 1 else None)
    settled()

    issued = [tool for tool in batch_screen._tools if given.catalog.sheets.of_tool(tool)]
    assert 1 <= len(issued) < 3
    assert f"Stopped after {len(issued)} of 3" in told[-1].happened
    assert batch_screen.column.issue_file.isEnabled()


def test_a_tool_binned_meanwhile_is_told_and_the_others_are_issued(
    given: ScreenContext, batch_screen: SheetScreen, told: list[Notice], settled: Settled
) -> None:
    first, second, third = batch_screen._tools
    given.catalog.tools.bin([second])

    batch_screen.column.issue_file.click()
    settled()

    assert "LOT7-002 is in the bin" in told[-1].happened
    counts = [len(given.catalog.sheets.of_tool(tool)) for tool in (first, second, third)]
    assert counts == [1, 0, 1]


def test_without_a_tool_it_is_said_what_to_do(given: ScreenContext, show: Show) -> None:
    screen = SheetScreen(given, ())
    show(screen)

    assert not screen.column.issue_print.isEnabled()
    assert "Select one" in screen.pages._waiting


def test_every_control_has_a_name_for_a_screen_reader(screen: SheetScreen) -> None:
    nameless = [
        button for button in screen.findChildren(QAbstractButton) if not button.accessibleName()
    ]

    assert nameless == []
    assert screen.pages.accessibleName() == "Pages of the sheet"
    assert screen.pages.accessibleDescription().startswith("Page 1")


@pytest.mark.parametrize("tone", [Tone.ADVICE, Tone.TROUBLE])
def test_a_sheet_s_file_is_checked_against_the_catalog(
    screen: SheetScreen,
    answers: Answers,
    settled: Settled,
    told: list[Notice],
    tone: Tone,
) -> None:
    screen.column.issue_file.click()
    settled()
    [written] = answers.folder.glob("*.pdf")
    if tone is Tone.TROUBLE:
        written.write_bytes(written.read_bytes() + b"\n")

    screen.column.check.click()
    settled()

    assert told[-1].tone is tone
    assert told[-1].happened.startswith("Sheet 0001 of LOT7-001, issued ")

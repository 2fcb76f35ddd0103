"""Scale cards and tags: seen as they will be, printed at full size, corrected for a printer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QAbstractButton, QWidget
from pytestqt.qtbot import QtBot

from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.tools import NewTool
from planebench.window.context import ScreenContext
from planebench.window.notices import Notice, Tone
from planebench.window.screens.cards.cards_screen import CardsScreen
from planebench.window.system_dialogs import PathTaken, PrinterTaken, SetUp, SystemDialogs

Show = Callable[[QWidget], QWidget]
Settled = Callable[[], None]


@pytest.fixture
def out(tmp_path: Path) -> Path:
    folder = tmp_path / "out"
    folder.mkdir()
    return folder


@pytest.fixture
def outlets(out: Path) -> SystemDialogs:
    def printer(_over: QWidget, set_up: SetUp, taken: PrinterTaken) -> None:
        made = QPrinter(QPrinter.PrinterMode.HighResolution)
        set_up(made)
        made.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        made.setOutputFileName(str(out / "printed.pdf"))
        made.setResolution(100)
        taken(made)

    def file(_over: QWidget, suggested_stock_number: Path, taken: PathTaken) -> None:
        taken(out / suggested_stock_number.name)

    return SystemDialogs(printer=printer, file=file)


@pytest.fixture
def tools(given: ScreenContext, batch: BatchId, tool_id: ToolId) -> tuple[ToolId, ...]:
    more = [given.catalog.tools.add(batch, NewTool(kind="block")).id for _ in range(6)]
    return (tool_id, *more)


@pytest.fixture
def screen(
    given: ScreenContext, tools: tuple[ToolId, ...], outlets: SystemDialogs, show: Show
) -> CardsScreen:
    made = CardsScreen(given, tools, outlets=outlets)
    show(made)
    return made


def measure(qtbot: QtBot, screen: CardsScreen, text: str) -> None:
    qtbot.keyClicks(screen.column.measured.line, text)
    qtbot.keyClick(screen.column.measured.line, Qt.Key.Key_Return)


def saved_words(out: Path, name: str = "Scale cards.pdf") -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(out / name).pages]


def test_seven_cards_take_two_pages(screen: CardsScreen) -> None:
    assert screen.pages.count == 2
    assert screen.title.remark == "7 tools"


def test_tags_chosen_add_their_pages(qtbot: QtBot, screen: CardsScreen, settled: Settled) -> None:
    qtbot.keyClick(screen.column.tags, Qt.Key.Key_Space)
    settled()

    assert screen.pages.count == 3


def test_tags_alone_are_saved_without_cards(
    qtbot: QtBot, screen: CardsScreen, out: Path, settled: Settled
) -> None:
    qtbot.keyClick(screen.column.tags, Qt.Key.Key_Space)
    qtbot.keyClick(screen.column.cards, Qt.Key.Key_Space)
    screen.column.save.click()
    settled()

    [words] = saved_words(out, "Tags.pdf")
    assert words.count("LOT7-001") == 4
    assert "100 mm" not in words


def test_neither_cards_nor_tags_is_said_and_not_printed(qtbot: QtBot, screen: CardsScreen) -> None:
    qtbot.keyClick(screen.column.cards, Qt.Key.Key_Space)

    assert screen.pages.count == 0
    assert not screen.column.print.isEnabled()
    assert screen.column.print.toolTip() == "Choose cards, tags or both."


def test_paper_chosen_is_that_of_the_file_and_is_kept(
    qtbot: QtBot, given: ScreenContext, screen: CardsScreen, out: Path, settled: Settled
) -> None:
    buttons = screen.column.paper.findChildren(QAbstractButton)
    qtbot.mouseClick(next(b for b in buttons if b.text() == "A4"), Qt.MouseButton.LeftButton)
    screen.column.save.click()
    settled()

    # ISO 216: A4 is 210 x 297 mm.
    page = pypdf.PdfReader(out / "Scale cards.pdf").pages[0]
    assert float(page.mediabox.width) == pytest.approx(210 / 25.4 * 72, abs=0.1)
    assert float(page.mediabox.height) == pytest.approx(297 / 25.4 * 72, abs=0.1)
    assert given.catalog.settings.read().paper == "a4"


def test_what_the_line_measures_becomes_the_correction_and_is_kept(
    qtbot: QtBot, given: ScreenContext, screen: CardsScreen, out: Path, settled: Settled
) -> None:
    measure(qtbot, screen, "99.2 mm")
    screen.column.save.click()
    settled()

    assert given.catalog.settings.read().printer_scale == pytest.approx(100 / 99.2)
    assert "0.81% longer" in screen.column.stretch.accessibleName()
    assert "lengths × 1.0081" in saved_words(out)[0]
    assert screen.column.measured.text == ""


def test_a_second_measure_builds_on_the_first(
    qtbot: QtBot, screen: CardsScreen, settled: Settled
) -> None:
    measure(qtbot, screen, "98")
    settled()
    measure(qtbot, screen, "100.1")
    settled()

    assert screen.column.scale == pytest.approx(100 / 98 * 100 / 100.1)


def test_the_correction_can_be_taken_away(
    qtbot: QtBot, given: ScreenContext, screen: CardsScreen, settled: Settled
) -> None:
    measure(qtbot, screen, "3 29/32 in")
    settled()
    qtbot.keyClick(screen.column.true, Qt.Key.Key_Return)
    settled()

    assert given.catalog.settings.read().printer_scale == 1.0
    assert not screen.column.true.isVisible()


@pytest.mark.parametrize("typed", ["62 mm", "a hand", "0"])
def test_a_line_that_cannot_be_is_refused_beneath_its_field(
    qtbot: QtBot, screen: CardsScreen, typed: str
) -> None:
    measure(qtbot, screen, typed)

    assert screen.column.measured.trouble.startswith("Measured length of the 100 mm line")
    assert screen.column.scale == 1.0


def test_cards_are_printed_by_the_keyboard(
    qtbot: QtBot, screen: CardsScreen, out: Path, told: list[Notice], settled: Settled
) -> None:
    qtbot.keyClick(screen.pages, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    settled()

    page = pypdf.PdfReader(out / "printed.pdf").pages[0]
    assert len(pypdf.PdfReader(out / "printed.pdf").pages) == screen.pages.count
    assert (float(page.mediabox.width), float(page.mediabox.height)) == (612, 792)
    assert told[-1].happened == f"2 pages were sent to {out / 'printed.pdf'}."
    assert screen.column.print.isEnabled()


def test_a_folder_that_takes_no_file_is_told(
    screen: CardsScreen, out: Path, told: list[Notice], settled: Settled
) -> None:
    out.rmdir()

    screen.column.save.click()
    settled()

    assert [notice.tone for notice in told] == [Tone.TROUBLE]
    assert "Scale cards.pdf could not be written" in told[0].happened
    assert screen.column.save.isEnabled()


def test_a_stock_number_changed_elsewhere_is_followed(
    qtbot: QtBot, given: ScreenContext, screen: CardsScreen, tools: tuple[ToolId, ...], out: Path
) -> None:
    given.edits.happened.emit(given.catalog.tools.change(tools[0], stock_number="LOT7-X"))

    screen.column.save.click()
    qtbot.waitUntil((out / "Scale cards.pdf").is_file)
    assert "LOT7-X" in saved_words(out)[0]


def test_a_tool_put_in_the_bin_has_no_card(
    qtbot: QtBot, given: ScreenContext, screen: CardsScreen, tools: tuple[ToolId, ...]
) -> None:
    given.edits.happened.emit(given.catalog.tools.bin([tools[0]]))

    qtbot.waitUntil(lambda: screen.pages.count == 1)
    assert screen.title.remark == "6 tools"


def test_settings_changed_elsewhere_are_taken_up(
    qtbot: QtBot, given: ScreenContext, screen: CardsScreen
) -> None:
    settings = given.catalog.settings
    given.edits.happened.emit(settings.write(replace(settings.read(), printer_scale=0.99)))

    qtbot.waitUntil(lambda: screen.column.scale == pytest.approx(0.99))


def test_without_a_tool_it_is_said_what_to_do(given: ScreenContext, show: Show) -> None:
    screen = CardsScreen(given, ())
    show(screen)

    assert not screen.column.print.isEnabled()
    assert "Add tools to a batch first" in screen.pages._waiting


def test_every_control_has_a_name_for_a_screen_reader(screen: CardsScreen) -> None:
    buttons = screen.findChildren(QAbstractButton)

    assert [button for button in buttons if not button.accessibleName()] == []
    assert screen.pages.accessibleDescription() == "Page 1 of 2"

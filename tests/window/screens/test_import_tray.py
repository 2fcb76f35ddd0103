"""The tray while a folder is watched: what is chosen and marked stays so, nothing is guessed."""

import shutil

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from planebench.catalog.tools import NewTool, ToolFilter
from planebench.trade.terms import Stage
from tests.catalog.shots import rested, shot
from tests.window.screens.test_import_screen import PHOTOGRAPHS
from tests.window.screens.test_import_watching import in_now


@pytest.fixture
def tray_of_two(given, batch, watching, folder, until):
    """The tray while two photographs wait, with three tools to choose from."""
    for _ in range(3):
        given.catalog.tools.add(batch, NewTool(kind="block"))
    for number in (1, 2):
        shot(folder / f"{number}.jpg", seed=number)
    until(lambda: in_now(watching) == 2)
    watching.progress_page.filing_wanted.emit()
    until(lambda: watching.unfiled_page.photographs.model().rowCount() == 2)
    until(lambda: watching.unfiled_page.tools.model().rowCount() == 3)
    return watching.unfiled_page


def test_the_tool_marked_in_the_tray_stays_marked_while_others_come_in(tray_of_two, folder, until):
    tray = tray_of_two
    tray.tools.setCurrentIndex(tray.tools.model().index(1, 0))
    marked = tray.tools.currentIndex().data()

    shot(folder / "0.jpg", seed=3)
    until(lambda: tray.photographs.model().rowCount() == 3)
    shot(folder / "4.jpg", seed=4)
    until(lambda: tray.photographs.model().rowCount() == 4)

    assert tray.tools.currentIndex().data() == marked


def test_filing_one_selects_no_other_and_the_tool_stays_marked_for_the_next(
    given, batch, tray_of_two, until
):
    tray = tray_of_two
    tray.tools.setCurrentIndex(tray.tools.model().index(2, 0))
    marked = tray.tools.currentIndex().data()
    QTest.keyClick(tray.photographs, Qt.Key.Key_Return)
    until(lambda: tray.photographs.model().rowCount() == 1)

    assert tray.photographs.selectedIndexes() == []
    assert tray.tools.currentIndex().data() == marked

    # The first Enter selects the next photograph, the second files it.
    QTest.keyClick(tray.photographs, Qt.Key.Key_Return)
    assert len(tray.photographs.selectedIndexes()) == 1
    QTest.keyClick(tray.photographs, Qt.Key.Key_Return)
    until(lambda: tray.photographs.model().rowCount() == 0)


def test_the_stage_is_set_where_one_files(given, batch, tray_of_two, until):
    tray = tray_of_two
    tray.tools.setCurrentIndex(tray.tools.model().index(2, 0))
    tray.stage.hold("finished")
    QTest.keyClick(tray.photographs, Qt.Key.Key_Return)
    until(lambda: tray.photographs.model().rowCount() == 1)

    stages = [
        photo.stage
        for line in given.catalog.tools.find(ToolFilter())
        for photo in given.catalog.tools.one(line).photographs
    ]
    assert stages == [Stage.FINISHED]


def test_nothing_is_filed_before_a_tool_was_chosen(given, batch, tray_of_two):
    tray_of_two.photographs.selectAll()

    QTest.keyClick(tray_of_two.photographs, Qt.Key.Key_Return)

    assert tray_of_two.which.line.hasFocus()
    assert len(given.catalog.photographs.unfiled(batch)) == 2


def test_esc_in_the_line_of_the_tray_brings_all_tools_back(given, batch, tray_of_two, until):
    tray = tray_of_two
    given.catalog.tools.add(batch, NewTool(kind="jack", maker="Tarrow"))
    QTest.keyClicks(tray.which.line, "tarrow")
    until(lambda: tray.tools.model().rowCount() == 1)

    QTest.keyClick(tray.which.line, Qt.Key.Key_Escape)

    until(lambda: tray.tools.model().rowCount() == 4)
    assert tray.which.text == ""


def test_what_is_chosen_in_the_tray_stays_chosen_while_others_come_in(watching, folder, until):
    for number in (1, 2):
        shot(folder / f"{number}.jpg", seed=number)
    until(lambda: in_now(watching) == 2)
    watching.progress_page.filing_wanted.emit()
    tray = watching.unfiled_page
    until(lambda: tray.photographs.model().rowCount() == 2)
    tray.photographs.selectAll()
    chosen = set(tray._chosen())

    shot(folder / "0.jpg", seed=3)
    until(lambda: tray.photographs.model().rowCount() == 3)

    assert set(tray._chosen()) == chosen


def test_the_tray_files_nothing_once_all_is_filed(watching, folder, until):
    shot(folder / "1.jpg", seed=1)
    until(watching.unfiled_page._file_them.isEnabled)

    watching.unfiled_page.photographs.selectAll()
    watching.unfiled_page.bin_wanted.emit(watching.unfiled_page._chosen())

    until(lambda: not watching.unfiled_page._file_them.isEnabled())


def test_the_tool_is_marked_with_up_and_down_while_one_types(tray_of_two):
    tray = tray_of_two
    line = tray.which.line
    tray.tools.setCurrentIndex(tray.tools.model().index(0, 0))

    rows = []
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Up):
        line.setFocus()
        QTest.keyClick(line, key)
        rows.append(tray.tools.currentIndex().row())

    assert rows == [1, 2, 2, 1]


def test_the_photograph_one_stands_on_is_seen_large(tray_of_two, until):
    tray = tray_of_two

    until(lambda: tray.closer._pixmap is not None)

    assert tray.closer._pixmap.width() == 96


def test_the_only_tool_is_not_marked_for_a_photograph_whose_card_has_another_number(
    given, batch, watching, folder, until
):
    given.catalog.tools.add(batch, NewTool(kind="block", stock_number="LOT7-099"))
    rested(shutil.copy(PHOTOGRAPHS[0], folder / "1.jpg"))
    until(lambda: in_now(watching) == 1)
    watching.progress_page.filing_wanted.emit()
    until(lambda: watching.unfiled_page.tools.model().rowCount() == 1)
    until(lambda: watching.unfiled_page.photographs.currentIndex().isValid())

    QTest.keyClick(watching.unfiled_page.photographs, Qt.Key.Key_Return)

    assert not watching.unfiled_page.tools.currentIndex().isValid()
    assert len(given.catalog.photographs.unfiled(batch)) == 1

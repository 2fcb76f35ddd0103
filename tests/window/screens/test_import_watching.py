"""A folder that is watched in the window: what is told, what can be done meanwhile, how it ends."""

import shutil

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog, QStackedWidget

from planebench.catalog.import_types import Destination
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.tools import NewTool, ToolFilter
from planebench.window import routes
from planebench.window.screens.photo_import.photo_import_screen import PhotoImportScreen
from planebench.window.screens.photo_import.unfiled_page import Filing
from tests.catalog.shots import rested, shot
from tests.window.screens.test_import_screen import PHOTOGRAPHS


def in_now(screen):
    return screen._summary.counts[0]


def test_a_watch_says_what_it_does_while_nothing_comes(watching):
    assert watching.progress_page._count.text() == "Waiting for new files in \u2068camera\u2069"
    assert watching.progress_page._stop.text() == "Stop"
    assert "then each new one" in watching.progress_page._sentence.text()
    assert not watching.progress_page._bar.isVisible()
    assert not watching.progress_page.back.isVisible()


def test_what_is_put_there_is_told_at_once_and_can_be_filed_while_the_watch_goes_on(
    given, batch, watching, folder, until
):
    shot(folder / "1.jpg", seed=1)
    until(lambda: in_now(watching) == 1)

    assert watching.busy
    assert watching.progress_page._sentence.text() == "1 new."
    assert watching.progress_page.file_photographs.isVisible()
    assert watching.progress_page.reasons.isVisible()
    given.catalog.tools.add(batch, NewTool(kind="block", maker="Tarrow"))
    watching.progress_page.filing_wanted.emit()
    until(lambda: watching.unfiled_page.photographs.model().rowCount() == 1)
    QTest.keyClicks(watching.unfiled_page.which.line, "tarrow")
    QTest.keyClick(watching.unfiled_page.which.line, Qt.Key.Key_Return)
    until(lambda: given.catalog.photographs.unfiled(batch) == ())

    shot(folder / "2.jpg", seed=2)

    until(lambda: in_now(watching) == 2)


def test_every_decision_is_listed_while_the_watch_goes_on(watching, folder, until):
    shot(folder / "1.jpg", seed=1)
    until(lambda: in_now(watching) == 1)
    watching.progress_page.reasons_wanted.emit()
    rows = watching.reasons_page.rows
    assert rows.topLevelItemCount() == 1
    QTest.keyClick(rows, Qt.Key.Key_Down)

    shot(folder / "2.jpg", seed=2)

    until(lambda: rows.topLevelItemCount() == 2)
    assert rows.currentItem() is rows.topLevelItem(0)


def test_other_screens_hear_of_each_lot(given, watching, folder, until):
    heard = []
    given.edits.happened.connect(heard.append)

    shot(folder / "1.jpg", seed=1)
    until(lambda: bool(heard))

    assert heard[0].words.startswith("1 photograph added")


def test_tools_of_unknown_numbers_are_made_while_the_watch_goes_on(
    given, batch, watching, folder, until
):
    rested(shutil.copy(PHOTOGRAPHS[0], folder / "1.jpg"))
    until(watching.progress_page.unknown.isVisible)

    watching.progress_page.unknown.make_wanted.emit("block")

    until(lambda: not watching.progress_page.unknown.isVisible())
    assert watching.busy
    assert given.catalog.photographs.unfiled(batch) == ()


def test_a_folder_that_is_away_is_told_until_it_is_back(watching, folder, tmp_path, until):
    until(lambda: "Waiting for new files" in watching.progress_page._count.text())
    pocket = folder.rename(tmp_path / "pocket")
    until(watching.progress_page._away.isVisible)
    assert watching.progress_page._away.accessibleName().startswith(
        "Trouble: camera cannot be read There is no such file or folder."
    )

    pocket.rename(folder)

    until(lambda: not watching.progress_page._away.isVisible())


def test_what_was_refused_is_refused_no_more_once_it_comes_whole(watching, folder, until):
    (folder / "1.jpg").write_text("half of it")
    rested(folder / "1.jpg")
    until(lambda: len(watching.progress_page._refusals.outcomes) == 1)
    assert watching.progress_page._refusals.isVisible()

    shot(folder / "1.jpg", seed=1)

    until(lambda: in_now(watching) == 1)
    assert not watching.progress_page._refusals.isVisible()
    assert watching.progress_page._sentence.text() == "1 new."


def test_a_watch_that_is_stopped_before_anything_came_leaves_a_way_on(watching, until):
    watching.progress_page.stop_wanted.emit()
    until(lambda: not watching.busy)

    assert watching.progress_page._count.text() == "No photographs found"
    assert watching.progress_page.more.isVisible()
    assert not watching.progress_page._stop.isVisible()
    assert not watching.progress_page.back.isVisible()


def test_all_lots_of_a_watch_are_taken_back_together(given, batch, watching, folder, until):
    for number in (1, 2):
        shot(folder / f"{number}.jpg", seed=number)
        until(lambda: in_now(watching) == number)  # noqa: B023 -- waited for at once
    watching.progress_page.stop_wanted.emit()
    until(lambda: not watching.busy)
    assert watching.progress_page.back.text() == "Undo all of it"

    watching.progress_page.back.click()

    until(lambda: given.catalog.photographs.unfiled(batch) == ())


def test_a_lot_that_brought_nothing_is_no_hindrance_to_taking_all_back(
    given, batch, watching, folder, until
):
    shot(folder / "1.jpg", seed=1)
    until(lambda: in_now(watching) == 1)
    (folder / "2.jpg").write_text("a shopping list")
    rested(folder / "2.jpg")
    until(lambda: len(watching.progress_page._refusals.outcomes) == 1)
    watching.progress_page.stop_wanted.emit()
    until(lambda: not watching.busy)

    watching.progress_page.back.click()

    until(lambda: given.catalog.photographs.unfiled(batch) == ())


def test_what_a_person_did_between_two_lots_is_not_taken_back_with_them(
    given, watching, folder, until, told
):
    for number in (1, 2):
        shot(folder / f"{number}.jpg", seed=number)
        until(lambda: in_now(watching) == number)  # noqa: B023 -- waited for at once
        if number == 1:
            given.catalog.tools.add(watching.current_batch, NewTool(kind="block"))
    watching.progress_page.stop_wanted.emit()
    until(lambda: not watching.busy)

    watching.progress_page.back.click()
    until(lambda: bool(told))

    assert told[0].happened.startswith("The latest photographs are undone. Other changes")
    assert [p.original_name for p in given.catalog.photographs.unfiled()] == ["1.jpg"]


def test_a_watch_that_cannot_go_on_says_why_and_shows_what_is_in(
    given, watching, folder, until, told
):
    shot(folder / "1.jpg", seed=1)
    until(lambda: in_now(watching) == 1)
    given.catalog.batches.bin(watching.current_batch)

    shot(folder / "2.jpg", seed=2)
    until(lambda: not watching.busy)

    assert "was deleted" in told[0].happened
    assert watching.progress_page._count.text() == "1 photograph checked"
    assert watching.progress_page.more.isVisible()


def test_the_folder_is_asked_for_when_the_menu_leads_here(given, folder, show, until, monkeypatch):
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_given: str(folder))
    screen = show(PhotoImportScreen(given))

    screen.ask_watch()

    until(lambda: screen.busy)
    assert screen.serves(routes.ImportRoute(watch=True))
    screen.progress_page.stop_wanted.emit()
    until(lambda: not screen.busy)
    assert not screen.serves(routes.ImportRoute(watch=True))


def test_what_was_filed_in_the_tray_waits_no_more_on_the_page_of_the_watch(
    given, batch, watching, folder, until
):
    shot(folder / "1.jpg", seed=1)
    until(watching.progress_page.file_photographs.isVisible)
    tool = given.catalog.tools.add(batch, NewTool(kind="block", stock_number="LOT9-001")).id
    (photograph,) = given.catalog.photographs.unfiled(batch)

    watching.unfiled_page.filed.emit(Filing(photographs=(photograph.id,), tool=tool))

    until(lambda: not watching.progress_page.file_photographs.isVisible())
    assert [row.stock for row in watching._by_tool.rows] == ["LOT9-001"]
    assert watching.progress_page.last._tag.text().endswith("→ LOT9-001")


def test_what_is_taken_back_while_the_watch_goes_on_is_counted_no_more(
    given, watching, folder, until
):
    shot(folder / "1.jpg", seed=1)
    until(lambda: in_now(watching) == 1)

    given.edits.happened.emit(given.catalog.history.undo())
    until(lambda: in_now(watching) == 0)
    assert watching.progress_page._sentence.text() == "0 new. 1 undone or deleted since."
    assert watching._by_tool.rows == ()
    assert not watching.progress_page.last._tag.isVisible()
    assert not watching.progress_page.file_photographs.isVisible()

    given.edits.happened.emit(given.catalog.history.redo())

    until(lambda: in_now(watching) == 1)
    assert watching.progress_page._sentence.text() == "1 new."
    assert watching.progress_page.file_photographs.isVisible()


def test_numbers_written_down_by_hand_meanwhile_are_unknown_no_more(
    given, batch, watching, folder, until
):
    rested(shutil.copy(PHOTOGRAPHS[0], folder / "1.jpg"))
    unknown = watching.progress_page.unknown
    until(unknown.isVisible)
    assert unknown.kind.isVisible()

    (number,) = unknown.stocks
    added = given.catalog.tools.add(batch, NewTool(kind="jack", stock_number=number))
    given.edits.happened.emit(added.changes)
    until(lambda: unknown.stocks == ())
    assert unknown._note.accessibleName().startswith(f"Advice: {number} is in the catalog now")
    assert not unknown.kind.isVisible()
    unknown._make.click()

    until(lambda: not unknown.isVisible())
    assert len(given.catalog.tools.one(added.id).photographs) == 1


def test_the_next_watch_does_not_begin_with_the_last_photograph_of_the_one_before(
    watching, folder, until
):
    shot(folder / "1.jpg", seed=1)
    until(watching.progress_page.last._tag.isVisible)
    watching.progress_page.stop_wanted.emit()
    until(lambda: not watching.busy)

    watching.start_page.watch_wanted.emit(folder)

    assert not watching.progress_page.last._tag.isVisible()
    assert watching.progress_page.last._pixmap is None


@pytest.fixture
def two(given, tool, show):
    """A screen for a batch and one for a tool, in one window."""
    both = QStackedWidget()
    screens = PhotoImportScreen(given, tool.batch), PhotoImportScreen(given, tool=tool.id)
    for screen in screens:
        both.addWidget(screen)
    show(both)
    return screens


@pytest.mark.parametrize("within", ["", "second card"])
def test_a_folder_is_not_watched_twice(two, folder, until, told, within):
    first, second = two
    (folder / "second card").mkdir()
    first.start_page.watch_wanted.emit(folder)
    until(lambda: first.busy)

    second.start_page.watch_wanted.emit(folder / within)

    assert not second.busy
    assert told[0].happened == f"New files from {folder} are already being imported."
    first.progress_page.stop_wanted.emit()
    until(lambda: not first.busy)
    second.start_page.watch_wanted.emit(folder / within)
    assert second.busy


def test_the_folder_of_the_catalog_is_not_watched(given, batch, show, until, told):
    screen = show(PhotoImportScreen(given, batch))

    screen.start_page.watch_wanted.emit(given.catalog.folder)
    until(lambda: not screen.busy)

    assert "part of the catalog itself" in told[0].happened
    assert screen.pages.currentWidget() is screen.start_page


def test_a_photograph_under_another_name_is_counted_once_for_its_tool(
    given, watching, folder, tool, until
):
    shot(folder / "1.jpg", seed=1)
    until(lambda: in_now(watching) == 1)
    (photograph,) = given.catalog.photographs.unfiled()
    watching.unfiled_page.filed.emit(Filing(photographs=(photograph.id,), tool=tool.id))
    until(lambda: watching._by_tool.rows[0].stock == tool.stock_number)

    rested((folder / "1.jpg").rename(folder / "renamed.jpg"))
    until(lambda: watching._summary.counts == (1, 1, 0))

    assert [row.told for row in watching._by_tool.rows] == ["1 added"]
    assert watching.progress_page._sentence.text() == "1 new, 1 already here, not stored twice."


def test_what_was_here_already_is_not_told_as_taken_in(given, batch, folder, show, until):
    shot(folder / "1.jpg", seed=1)
    import_photographs(given.catalog, [folder], to=Destination(batch=batch))
    screen = show(PhotoImportScreen(given, batch))

    screen.start_page.watch_wanted.emit(folder)
    until(lambda: bool(screen._summary.runs))

    assert [row.told for row in screen._by_tool.rows] == ["1 already here"]


def test_the_list_of_what_was_refused_is_no_higher_than_its_rows(watching, folder, until):
    refusals = watching.progress_page._refusals
    (folder / "1.jpg").write_text("no picture")
    until(refusals.isVisible)
    until(lambda: refusals.height() == refusals.widget().height())
    assert refusals.height() < 80

    for number in range(2, 12):
        (folder / f"{number}.jpg").write_text("no picture")
    until(lambda: len(refusals.outcomes) == 11)

    until(lambda: refusals.widget().height() > refusals.height() == 148)


def test_esc_leads_from_the_tray_and_the_list_back_to_the_count(watching, folder, until):
    shot(folder / "1.jpg", seed=1)
    until(watching.progress_page.file_photographs.isVisible)
    left = []
    watching.up_wanted.connect(lambda: left.append(True))

    for opened, within in (
        (watching.progress_page.filing_wanted, watching.unfiled_page.photographs),
        (watching.progress_page.filing_wanted, watching.unfiled_page.which.line),
        (watching.progress_page.reasons_wanted, watching.reasons_page.rows),
    ):
        opened.emit()
        assert watching.pages.currentWidget() is not watching.progress_page
        QTest.keyClick(within, Qt.Key.Key_Escape)
        assert watching.pages.currentWidget() is watching.progress_page

    assert left == []


def test_all_is_taken_back_with_the_tools_made_for_it_and_whatever_brought_nothing_new(
    given, watching, folder, until
):
    rested(shutil.copy(PHOTOGRAPHS[0], folder / "1.jpg"))
    until(watching.progress_page.unknown.isVisible)
    watching.progress_page.unknown.make_wanted.emit("block")
    until(lambda: not watching.progress_page.unknown.isVisible())
    shot(folder / "2.jpg", seed=2)
    until(lambda: in_now(watching) == 2)
    given.edits.happened.emit(given.catalog.history.undo())
    until(lambda: in_now(watching) == 1)
    rested((folder / "1.jpg").rename(folder / "renamed.jpg"))
    until(lambda: watching._summary.counts == (1, 1, 0))
    watching.progress_page.stop_wanted.emit()
    until(lambda: not watching.busy)

    watching.progress_page.back.click()

    until(lambda: watching.pages.currentWidget() is watching.start_page)
    assert given.catalog.tools.find(ToolFilter()) == ()
    assert given.catalog.photographs.unfiled() == ()


def test_what_comes_in_a_later_lot_waits_for_its_cards_until_the_lot_is_in(watching, folder, until):
    shot(folder / "1.jpg", seed=1)
    until(lambda: in_now(watching) == 1)
    assert watching._by_tool.rows[0].remark == "waiting for you to choose its tool"

    seen = []
    watching._taking.progressed.connect(lambda _told: seen.append(watching._by_tool.rows[0].remark))
    shot(folder / "2.jpg", seed=2)
    until(lambda: in_now(watching) == 2)

    assert seen == ["will be filed by their cards when the import ends"]
    assert watching._by_tool.rows[0].remark == "waiting for you to choose their tool"

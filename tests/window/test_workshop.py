"""The window as a whole: what is brought to it, where its menus lead, what it remembers."""

from __future__ import annotations

import datetime as dt
import shutil

import pytest
from PySide6.QtCore import QMimeData, Qt, QUrl
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QFileDialog

from planebench.catalog import continuous_import
from planebench.catalog.changes import Changes
from planebench.catalog.program_settings import ProgramSettingsFile
from planebench.catalog.reference import sample_source
from planebench.catalog.tools import NewTool
from planebench.window import routes
from planebench.window.main_window import MainWindow
from planebench.window.program import program_services
from planebench.window.screens.batch.batch_screen import BatchScreen
from planebench.window.screens.batches.batches_screen import BatchesScreen
from planebench.window.screens.photo_import.photo_import_screen import PhotoImportScreen

PHOTOGRAPH = sample_source() / "photographs" / "LOT7-001_top_as_found.jpg"


@pytest.fixture
def workshop(qtbot, qapp, tmp_path):
    made = MainWindow(
        qapp,
        program_services(lambda: dt.datetime.now(dt.UTC), home=tmp_path, cache=tmp_path / "cache"),
        ProgramSettingsFile(tmp_path / "settings.json"),
    )
    qtbot.addWidget(made.frame)
    made.frame.show()
    yield made
    assert made.close()


def plain(action):
    """Return the words of a menu's item without the mark of its Alt letter."""
    return action.text().replace("&", "")


@pytest.fixture
def in_batch(qtbot, workshop, tmp_path):
    """Return a workshop with a new catalog open, in a batch."""
    workshop._make(tmp_path / "Wendholm")
    qtbot.waitUntil(lambda: isinstance(workshop.current_screen, BatchesScreen), timeout=10_000)
    batch = workshop.catalog.batches.add(code="LOT7").id
    workshop.go(routes.BatchRoute(batch=batch))
    return workshop


def test_what_needs_a_catalog_cannot_be_chosen_while_none_is_open(qtbot, workshop, tmp_path):
    menu = workshop.frame.menu("Catalog")
    without = {plain(act) for act in menu.actions() if act.text() and act.isEnabled()}
    workshop._make(tmp_path / "Wendholm")
    qtbot.waitUntil(lambda: isinstance(workshop.current_screen, BatchesScreen), timeout=10_000)

    assert without == {"New catalog…", "Open catalog…", "Open the sample catalog", "Quit"}
    assert all(act.isEnabled() for act in menu.actions())


def test_what_stays_is_shown_without_offering_to_undo_it(in_batch):
    bench, now = in_batch.frame.status_bar, dt.datetime.now(dt.UTC)
    in_batch.edits.happened.emit(Changes(words="chip added", at=now))
    offered = bench.first_focus() is not None

    in_batch.edits.happened.emit(Changes(words="sheet 0001 issued", at=now, stays=True))

    assert offered
    assert bench.first_focus() is None


def test_files_dropped_on_the_window_are_taken_in_for_the_batch_in_hand(qtbot, in_batch):
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(PHOTOGRAPH))])

    in_batch.frame.data_dropped.emit(data)
    place = in_batch.current_screen
    assert isinstance(place, PhotoImportScreen)
    qtbot.waitUntil(lambda: not place.busy, timeout=20_000)

    assert len(in_batch.catalog.photographs.unfiled()) == 1


@pytest.fixture
def watching(in_batch, tmp_path, monkeypatch):
    """The place where a folder is watched, with one photograph come in."""
    monkeypatch.setattr(continuous_import, "LOOK_SECONDS", 0.1)
    folder = tmp_path / "camera"
    folder.mkdir()
    monkeypatch.setattr(QFileDialog, "getExistingDirectory", lambda *_given: str(folder))
    act = next(a for a in in_batch.frame.menu("Photograph").actions() if "new files" in a.text())
    act.trigger()
    return in_batch.current_screen


def test_a_folder_is_watched_from_the_menu_and_what_comes_is_told_at_the_foot(
    qtbot, in_batch, watching, tmp_path
):
    qtbot.waitUntil(lambda: watching.busy, timeout=10_000)
    in_batch.up()

    shutil.copy(PHOTOGRAPH, tmp_path / "camera")

    told = in_batch.frame.status_bar._last
    qtbot.waitUntil(lambda: "1 photograph added" in told.text(), timeout=20_000)
    running = in_batch.frame.status_bar._running
    qtbot.waitUntil(running.isVisible, timeout=10_000)
    resting = "Waiting for new files in camera"
    qtbot.waitUntil(lambda: running._text.text() == resting, timeout=10_000)


def test_one_comes_back_to_the_watch_from_wherever_one_is(qtbot, in_batch, watching):
    qtbot.waitUntil(lambda: watching.busy, timeout=10_000)
    in_batch.up()
    in_batch.go(routes.HistoryRoute())
    assert in_batch.current_screen is not watching

    in_batch.go(routes.ImportRoute(watch=True))

    assert in_batch.current_screen is watching


def test_a_watch_that_lies_further_back_is_come_back_to_as_well(qtbot, in_batch, watching):
    qtbot.waitUntil(lambda: watching.busy, timeout=10_000)
    in_batch.go(routes.HistoryRoute())

    in_batch.go(routes.ImportRoute(watch=True))

    assert in_batch.current_screen is watching
    in_batch.up()
    assert not isinstance(in_batch.current_screen, PhotoImportScreen)


def test_what_is_dropped_while_a_folder_is_watched_comes_in_beside_it(qtbot, in_batch, watching):
    qtbot.waitUntil(lambda: watching.busy, timeout=10_000)
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(PHOTOGRAPH))])

    in_batch.frame.data_dropped.emit(data)

    place = in_batch.current_screen
    assert place is not watching
    qtbot.waitUntil(lambda: not place.busy, timeout=20_000)
    assert watching.busy
    assert len(in_batch.catalog.photographs.unfiled()) == 1


def test_photographs_for_one_tool_are_asked_for_while_a_folder_is_watched(
    qtbot, in_batch, watching
):
    qtbot.waitUntil(lambda: watching.busy, timeout=10_000)
    tool = in_batch.catalog.tools.add(watching.current_batch, NewTool(kind="block")).id
    in_batch.up()

    in_batch.go(routes.ImportRoute(tool=tool))

    assert in_batch.current_screen is not watching
    assert not in_batch.current_screen.busy


def test_others_are_taken_in_beside_the_watch_and_one_comes_back_to_it(qtbot, in_batch, watching):
    qtbot.waitUntil(lambda: watching.busy, timeout=10_000)
    assert watching.progress_page.more.text() == "Add others meanwhile"

    watching.progress_page.more.click()

    assert in_batch.current_screen is not watching
    assert not in_batch.current_screen.busy
    in_batch.up()
    assert in_batch.current_screen is watching


def test_the_menu_takes_in_for_the_tool_whose_record_is_open(qtbot, in_batch):
    batch = in_batch.catalog.batches.lines()[0].batch.id
    tool = in_batch.catalog.tools.add(batch, NewTool(kind="block")).id
    in_batch.go(routes.ToolRoute(tool=tool))
    act = next(
        a for a in in_batch.frame.menu("Photograph").actions() if "dd photographs" in a.text()
    )

    act.trigger()

    assert in_batch.current_screen.selected_tools == (tool,)


def test_cards_are_printed_for_the_whole_batch_unless_several_tools_are_chosen(in_batch):
    batch = in_batch.catalog.batches.lines()[0].batch.id
    lines = [NewTool(kind="block") for _ in range(3)]
    tools, _ = in_batch.catalog.tools.add_lines(batch, lines)
    act = next(a for a in in_batch.frame.menu("Batch").actions() if "scale cards" in plain(a))

    act.trigger()

    assert in_batch.current_screen.request.tools == tools


def test_another_catalog_ends_the_watch(qtbot, in_batch, watching, tmp_path):
    qtbot.waitUntil(lambda: watching.busy, timeout=10_000)
    in_batch.up()

    in_batch._make(tmp_path / "Another")
    qtbot.waitUntil(
        lambda: in_batch.catalog is not None and in_batch.catalog.name == "Another", timeout=20_000
    )

    qtbot.waitUntil(lambda: not in_batch.jobs.open_jobs, timeout=20_000)
    in_batch.go(routes.ImportRoute())
    assert in_batch.current_screen is not watching


def test_who_comes_back_after_an_intake_sees_how_it_ended(qtbot, in_batch):
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(PHOTOGRAPH))])
    in_batch.frame.data_dropped.emit(data)
    place = in_batch.current_screen
    in_batch.up()
    qtbot.waitUntil(lambda: not place.busy, timeout=20_000)

    in_batch.go(routes.ImportRoute())
    assert in_batch.current_screen is not place
    in_batch.up()

    in_batch.go(routes.ImportRoute(batch=place.current_batch))

    assert in_batch.current_screen is place
    assert place.progress_page.back.isVisibleTo(place)


def test_a_picture_copied_elsewhere_is_taken_in(qtbot, in_batch):
    image = QImage(320, 240, QImage.Format.Format_RGB32)
    image.fill(0x884422)
    data = QMimeData()
    data.setImageData(image)

    in_batch.import_data(data)
    qtbot.waitUntil(lambda: isinstance(in_batch.current_screen, PhotoImportScreen), timeout=10_000)
    place = in_batch.current_screen
    qtbot.waitUntil(lambda: not place.busy, timeout=20_000)

    assert len(in_batch.catalog.photographs.unfiled()) == 1


def test_escape_leads_back_to_where_one_came_from(in_batch):
    in_batch.go(routes.HistoryRoute())

    in_batch.current_screen.up_wanted.emit()

    assert isinstance(in_batch.current_screen, BatchScreen)


def test_catalogs_opened_are_remembered_for_the_next_start(in_batch, tmp_path):
    kept = ProgramSettingsFile(tmp_path / "settings.json").read()

    assert kept.recent == (str((tmp_path / "Wendholm").resolve()),)


def test_what_cannot_be_opened_is_told_in_a_place_of_its_own(qtbot, workshop, tmp_path):
    (tmp_path / "letters").mkdir()

    workshop.open_catalog(tmp_path / "letters")
    qtbot.waitUntil(
        lambda: type(workshop.current_screen).__name__ == "TroubleScreen", timeout=10_000
    )

    assert workshop.catalog is None


def test_photographs_dropped_while_no_catalog_is_open_are_told_where_they_go(workshop):
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(PHOTOGRAPH))])

    workshop.import_data(data)

    assert "go into a catalog" in " ".join(workshop.frame.notices.texts)


def test_the_only_batch_is_opened_at_once_and_escape_leads_to_the_list(qtbot, in_batch):
    folder = in_batch.catalog.folder

    in_batch.open_catalog(folder)
    qtbot.waitUntil(lambda: len(in_batch._history) == 2, timeout=10_000)
    assert isinstance(in_batch.current_screen, BatchScreen)

    in_batch.current_screen.up_wanted.emit()
    assert isinstance(in_batch.current_screen, BatchesScreen)


def test_what_is_typed_in_the_find_field_is_sought_whole_though_it_leads_elsewhere(qtbot, in_batch):
    in_batch.up()
    frame = in_batch.frame
    frame.activateWindow()
    frame.find_field.take_keyboard()

    for letter in "tarrow":
        QTest.keyClick(frame.windowHandle(), letter)

    qtbot.waitUntil(lambda: in_batch.current_screen.find_words == "tarrow")
    assert (frame.find_field.text(), frame.find_field.hasFocus()) == ("tarrow", True)
    in_batch.up()
    assert frame.find_field.text() == ""


def test_enter_in_find_opens_the_tool_found_though_it_comes_before_the_answer(qtbot, in_batch):
    batch = in_batch.catalog.batches.lines()[0].batch.id
    tool = in_batch.catalog.tools.add(batch, NewTool(kind="block", maker="Tarrow")).id
    in_batch.catalog.tools.add(batch, NewTool(kind="smoothing"))
    in_batch.up()
    frame = in_batch.frame
    frame.activateWindow()
    frame.find_field.take_keyboard()

    for letter in "tarrow":
        QTest.keyClick(frame.windowHandle(), letter)
    QTest.keyClick(frame.windowHandle(), Qt.Key.Key_Return)

    qtbot.waitUntil(lambda: in_batch.current_screen.selected_tools == (tool,))
    qtbot.waitUntil(lambda: type(in_batch.current_screen).__name__ == "ToolScreen")


def test_size_and_text_size_are_remembered_for_the_next_start(in_batch, tmp_path):
    in_batch.frame.resize(1000, 700)

    in_batch.choose_text_size(125)
    in_batch.close()

    kept = ProgramSettingsFile(tmp_path / "settings.json").read()
    assert kept.text_size == 125
    assert kept.window == (1000, 700)

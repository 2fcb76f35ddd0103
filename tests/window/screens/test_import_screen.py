import datetime as dt
import shutil

import pytest
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from planebench.catalog.import_types import Destination, FileFate, FileOutcome, Progress
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.reference import sample_source
from planebench.catalog.tools import NewTool, ToolFilter
from planebench.window.screens.photo_import.photo_import_screen import PhotoImportScreen
from tests.catalog.shots import rested, shot, shot_of_card

PHOTOGRAPHS = sorted((sample_source() / "photographs").glob("*.jpg"))


@pytest.fixture
def taken(qtbot, settled):
    """Take paths in on a screen and wait until they are."""

    def take(screen, *paths):
        screen.take(paths)
        qtbot.waitUntil(lambda: not screen.busy, timeout=20_000)
        settled()

    return take


def test_photographs_come_in_and_what_is_no_picture_is_told_with_its_name(
    given, batch, tmp_path, show, taken
):
    folder = tmp_path / "card"
    folder.mkdir()
    shutil.copy(PHOTOGRAPHS[0], folder)
    (folder / "notes.jpg").write_text("shopping list")
    screen = show(PhotoImportScreen(given, batch))
    screen.start_page.follow.setChecked(False)

    taken(screen, folder)

    assert len(given.catalog.photographs.unfiled(batch)) == 1
    assert [o.file.endswith("notes.jpg") for o in screen.progress_page._refusals.outcomes] == [True]
    assert screen.progress_page.file_photographs.isVisible()


def test_the_card_in_the_picture_files_it_and_makes_the_tool(given, batch, show, taken):
    screen = show(PhotoImportScreen(given, batch))
    screen.start_page.make.hold("block")

    taken(screen, PHOTOGRAPHS[0])

    (tool,) = given.catalog.tools.find(ToolFilter(batch=batch))
    assert len(given.catalog.tools.one(tool).photographs) == 1


def test_an_intake_is_taken_back_whole(given, batch, show, taken, settled):
    screen = show(PhotoImportScreen(given, batch))
    screen.start_page.follow.setChecked(False)
    taken(screen, *PHOTOGRAPHS[:3])

    screen.progress_page.back.click()
    settled()

    assert given.catalog.photographs.unfiled(batch) == ()


def test_waiting_photographs_are_filed_under_a_tool(given, tool, show, taken, settled):
    screen = show(PhotoImportScreen(given, tool.batch))
    screen.start_page.follow.setChecked(False)
    taken(screen, *PHOTOGRAPHS[:2])
    screen.show_waiting()
    screen.unfiled_page.photographs.selectAll()

    screen.unfiled_page._file()
    settled()

    assert len(given.catalog.tools.one(tool.id).photographs) == 2


def test_tools_are_made_for_unknown_numbers_and_their_photographs_filed(
    given, batch, show, taken, settled
):
    screen = show(PhotoImportScreen(given, batch))
    taken(screen, PHOTOGRAPHS[0])
    assert screen.progress_page.unknown.isVisible()
    assert len(given.catalog.photographs.unfiled(batch)) == 1

    screen.progress_page.unknown.make_wanted.emit("block")
    settled()

    assert given.catalog.photographs.unfiled(batch) == ()
    assert not screen.progress_page.unknown.isVisible()
    screen.progress_page.reasons_wanted.emit()
    assert "its own card" in screen.reasons_page.rows.topLevelItem(0).text(3)


def test_a_card_of_another_batch_stands_for_the_tool_with_the_same_number(
    given, batch, show, taken, settled
):
    catalog = given.catalog
    screen = show(PhotoImportScreen(given, batch))
    taken(screen, PHOTOGRAPHS[0])
    (number,) = screen.progress_page.unknown.stocks
    other = catalog.batches.add(code="LOT1").id
    meant = number.replace(number.rpartition("-")[0], "LOT1")
    added = catalog.tools.add(other, NewTool(kind="block", stock_number=meant))
    given.edits.happened.emit(added.changes)
    settled()
    button = screen.progress_page.unknown.use_aliases
    shown = screen.unfiled_page.photographs.model().index(0, 0).data()
    assert shown.startswith(f"{PHOTOGRAPHS[0].name}\ncard {number}")
    assert button.text() == f"{number} is {meant}"

    button.click()
    settled()

    assert len(catalog.tools.one(added.id).photographs) == 1
    assert catalog.photographs.unfiled() == ()
    assert not screen.progress_page.unknown.isVisible()


def test_tools_of_unknown_numbers_get_their_batch_where_none_is_as_one_step(
    given, show, taken, settled
):
    catalog = given.catalog
    for line in catalog.batches.lines():
        catalog.batches.bin(line.batch.id)
    screen = show(PhotoImportScreen(given))
    taken(screen, PHOTOGRAPHS[0])
    (number,) = screen.progress_page.unknown.stocks

    screen.progress_page.unknown.make_wanted.emit("block")
    settled()

    (line,) = catalog.batches.lines()
    assert number.startswith(f"{line.batch.code}-")
    assert line.tools == 1
    assert catalog.photographs.unfiled(line.batch.id) == ()

    back = catalog.history.undo()

    assert back.words == "Undone: 1 filed by cards"
    assert catalog.batches.lines() == ()


def test_each_decision_is_listed_with_its_reason(given, batch, show, taken):
    screen = show(PhotoImportScreen(given, batch))
    screen.start_page.make.hold("block")
    taken(screen, PHOTOGRAPHS[0])
    screen.progress_page.reasons_wanted.emit()

    row = screen.reasons_page.rows.topLevelItem(0)

    assert row.text(0) == PHOTOGRAPHS[0].name
    assert row.text(2).startswith("LOT7-")
    assert "its own card says" in row.text(3)


def test_a_card_to_be_minded_is_told_at_the_end_of_the_intake(given, batch, tmp_path, show, taken):
    mirrored = tmp_path / "\u202eקלף.jpg"
    with Image.open(PHOTOGRAPHS[0]) as picture:
        picture.transpose(Image.Transpose.FLIP_LEFT_RIGHT).save(mirrored, quality=92)
    screen = show(PhotoImportScreen(given, batch))

    taken(screen, rested(mirrored))
    screen.progress_page.reasons_wanted.emit()

    assert "1 card is worth checking" in screen.progress_page._after.text()
    assert "The picture is mirrored" in screen.reasons_page.rows.topLevelItem(0).text(3)
    assert screen.progress_page.last._tag.text().startswith(
        f"\u2068{mirrored.name}\u2069, not filed"
    )


def test_what_a_card_suggested_is_still_suggested_when_one_comes_back(given, tool, tmp_path, show):
    morning = dt.datetime(2026, 3, 14, 9, 0)  # noqa: DTZ001 -- a camera's clock has no zone
    late = morning + dt.timedelta(hours=2)
    paths = [
        shot_of_card(tmp_path / "1.jpg", text=f"PB:{tool.stock_number}", at=morning),
        shot(tmp_path / "2.jpg", seed=2, at=late),
    ]
    import_photographs(given.catalog, paths, to=Destination(batch=tool.batch, follow_cards=True))
    (waiting,) = given.catalog.photographs.unfiled(tool.batch)

    screen = show(PhotoImportScreen(given, tool.batch))

    assert waiting.suggested_stock_number == tool.stock_number
    assert screen.unfiled_page._suggested == {waiting.id: tool.id}


def test_enter_right_after_typing_files_under_the_tool_that_was_typed(
    given, tool, show, taken, settled
):
    wanted, _ = given.catalog.tools.add_lines(tool.batch, [NewTool(kind="jack", maker="Tarrow")])
    screen = show(PhotoImportScreen(given, tool.batch))
    screen.start_page.follow.setChecked(False)
    taken(screen, PHOTOGRAPHS[0])
    screen.show_waiting()

    QTest.keyClicks(screen.unfiled_page.which.line, "tarrow")
    QTest.keyClick(screen.unfiled_page.which.line, Qt.Key.Key_Return)
    settled()

    assert len(given.catalog.tools.one(wanted[0]).photographs) == 1
    assert given.catalog.photographs.unfiled(tool.batch) == ()


@pytest.mark.parametrize(
    ("per_second", "seconds_left", "words"),
    [
        (7.4, 32.0, "7 per second, about 30 seconds left"),
        (0.5, 200.0, "30 per minute, about 3 minutes left"),
        (2.0, None, "2 per second, counting"),
    ],
)
def test_how_fast_and_how_long_is_told_on_the_way(given, show, per_second, seconds_left, words):
    screen = show(PhotoImportScreen(given))
    screen.progress_page.show_progress(
        Progress(
            done=4,
            total=None if seconds_left is None else 100,
            new=4,
            already_in_catalog=0,
            refused=0,
            per_second=per_second,
            seconds_left=seconds_left,
            latest=FileOutcome(file="PL-0001.jpg", became=FileFate.NEW),
        )
    )

    assert screen.progress_page._left.text() == words

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit

from planebench.catalog.tools import ToolFilter
from planebench.window import routes
from planebench.window.screens.backups.backups_screen import BackupsScreen
from planebench.window.screens.bin.bin_screen import BinScreen
from planebench.window.screens.history.history_screen import HistoryScreen
from planebench.window.screens.kinds.kinds_screen import KindsScreen
from planebench.window.screens.settings.settings_screen import SettingsScreen
from planebench.window.screens.views_missing.views_missing_screen import ViewsMissingScreen


def test_the_history_lists_edits_and_takes_the_last_back(given, tool_id, show, settled):
    given.catalog.tools.change(tool_id, note="heavy")
    screen = show(HistoryScreen(given, tool_id))
    assert screen.rows.topLevelItem(0).text(2) == "LOT7-001 changed: note"

    screen._undo_button.click()
    settled()

    assert given.catalog.tools.one(tool_id).note == ""
    taken_back = [screen.rows.topLevelItem(i).text(3) for i in range(3)]
    assert "undone" in taken_back


def test_things_in_the_bin_are_put_back(given, tool_id, show, settled):
    given.catalog.tools.bin([tool_id])
    screen = show(BinScreen(given))

    screen._restore_button.click()
    settled()

    assert given.catalog.tools.find(ToolFilter()) == (tool_id,)


def test_a_choice_is_kept_as_soon_as_it_is_left(qtbot, given, show, settled):
    screen = show(SettingsScreen(given))

    qtbot.keyClicks(screen.workshop.line, "Wendholm Workshop")
    qtbot.keyClick(screen.workshop.line, Qt.Key.Key_Return)
    settled()

    assert given.catalog.settings.read().workshop == "Wendholm Workshop"


def test_stock_numbers_are_set_in_a_form_with_an_example(qtbot, given, tool_id, show, settled):
    screen = show(SettingsScreen(given))
    form = screen.stock_numbers
    code = given.catalog.batches.lines()[0].batch.code
    before = form.example.text()

    form.begins.hold("text")
    form.text.set_text("")
    qtbot.keyClicks(form.text.line, "PL-")
    form.first.line.selectAll()
    qtbot.keyClicks(form.first.line, "40")
    typed = form.example.text()
    qtbot.keyClick(form.first.line, Qt.Key.Key_Return)
    settled()

    settings = given.catalog.settings.read()
    assert before == f"Next in {code}: {code}-002, then {code}-003"
    assert typed == f"Next in {code}: PL-040, then PL-041"
    assert (settings.stock_pattern, settings.first_stock_number) == ("PL-{n:03}", 40)


def test_a_text_that_would_break_the_pattern_is_refused_under_its_field(
    qtbot, given, show, settled
):
    screen = show(SettingsScreen(given))
    form = screen.stock_numbers

    qtbot.keyClicks(form.text.line, "{x}")
    qtbot.keyClick(form.text.line, Qt.Key.Key_Return)
    settled()

    assert "cannot be used as a stock number pattern" in form.text.trouble
    assert given.catalog.settings.read().stock_pattern == "{batch}-{n:03}"


def test_a_pattern_of_another_form_stays_as_it_is(given, show):
    chosen = replace(given.catalog.settings.read(), stock_pattern="{n}/{batch}")
    given.catalog.settings.write(chosen)

    form = show(SettingsScreen(given)).stock_numbers

    assert (form.begins.held, form.custom.text) == ("custom", "{n}/{batch}")
    assert form.pattern == "{n}/{batch}"


def test_a_kind_of_one_s_own_is_made_like_another_and_changed_at_once(qtbot, given, show, settled):
    screen = show(KindsScreen(given))
    screen._copy.click()
    settled()
    qtbot.keyClicks(screen.name.line, "Cork plane")
    qtbot.keyClick(screen.name.line, Qt.Key.Key_Return)
    screen._add.click()
    line = screen.parts.findChild(QLineEdit)
    qtbot.keyClicks(line, "Cork rest")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    settled()

    own = [kind for kind in given.catalog.kinds.all().values() if kind.own]
    assert [kind.name for kind in own] == ["Cork plane"]
    assert own[0].parts[-1].name == "Cork rest"


def test_a_part_is_taken_out_of_a_kind_and_its_finish_changed_at_once(given, show, settled):
    screen = show(KindsScreen(given))
    screen._copy.click()
    settled()
    (before,) = [kind for kind in given.catalog.kinds.all().values() if kind.own]
    screen.parts.selectRow(1)

    screen._remove.click()
    finish = screen.parts.cellWidget(0, 1)
    finish.hold("lacquer")
    finish.chosen.emit("lacquer")
    settled()

    (after,) = [kind for kind in given.catalog.kinds.all().values() if kind.own]
    assert [part.name for part in after.parts] == [
        part.name for part in before.parts if part is not before.parts[1]
    ]
    assert after.parts[0].finish == "lacquer"


def test_a_full_backup_is_written_and_restored_beside(given, tool_id, tmp_path, show, settled):
    screen = show(BackupsScreen(given))
    screen.back_up_to(tmp_path / "elsewhere")
    settled()
    (folder,) = (tmp_path / "elsewhere").iterdir()

    screen.restore_to(folder, tmp_path / "again")
    settled()

    assert (tmp_path / "again" / "catalog.db").is_file()
    assert "Restored as a new catalog" in screen.note._title.text()


def test_a_sound_catalog_is_said_to_be_sound(given, show, settled):
    screen = show(BackupsScreen(given))

    screen._check_catalog()
    settled()

    assert screen.note._title.text() == "No problems found"


def test_views_still_to_take_are_listed_for_the_camera(qtbot, given, tool_id, batch, show):
    screen = show(ViewsMissingScreen(given, batch))

    assert screen.as_text().startswith("LOT7-001 Smoothing plane, as found: top, left side")
    with qtbot.waitSignal(screen.go) as went:
        screen._open()
    assert went.args[0] == routes.ToolRoute(tool=tool_id)

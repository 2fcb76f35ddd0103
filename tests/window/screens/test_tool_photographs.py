"""The photographs of a record: pins, views, naming many at once, what is dropped in."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QColor, QDropEvent, QGuiApplication, QImage

from planebench.catalog.tools import NewTool
from planebench.trade.terms import Stage
from planebench.window import routes
from planebench.window.screens.tool.tool_screen import ToolScreen
from planebench.window.screens.tool.view_naming import moved_together

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def tool_id(sample):
    return sample.tools.by_stock_number("LOT7-003")


@pytest.fixture
def screen(given_sample, tool_id, show):
    return show(ToolScreen(given_sample, tool_id))


@pytest.fixture
def look(sample, tool_id, settled):
    """Wait for what is under way and give the tool as the catalog has it."""

    def looked():
        settled()
        return sample.tools.one(tool_id)

    return looked


def on_screen(screen, x, y):
    """Lead a spot of the photograph, 0 to 1, to the view."""
    size = screen.picture.loaded.picture.size
    spot = QPointF(x * size.width(), y * size.height())
    return screen.picture.view.viewport.to_screen(spot).toPoint()


def pins_on_current(screen, tool):
    return [pin for pin in tool.pins if pin.photograph == screen.current and pin.defect]


def test_the_latest_photograph_is_seen_large_with_its_pins(screen, look):
    tool = look()

    assert screen.current == tool.line.latest_photograph
    assert len(screen.picture.view.pins) == len(pins_on_current(screen, tool)) > 0
    assert screen.picture.caption.text().startswith("Top, finished")


def test_a_click_on_the_photograph_sets_the_pin_of_a_defect(qtbot, sample, screen, tool_id, look):
    added = sample.defects.add(tool_id, kind="stain")
    screen._context.edits.happened.emit(added.changes)
    look()
    screen.record.defects.pin_wanted.emit(added.id)
    qtbot.mouseClick(screen.picture.view, LEFT, pos=on_screen(screen, 0.4, 0.5))

    (pin,) = [pin for pin in look().pins if pin.defect == added.id]

    assert (pin.x, pin.y) == (pytest.approx(0.4, abs=0.01), pytest.approx(0.5, abs=0.01))
    assert pin.photograph == screen.current
    assert not screen.picture.setting


def test_enter_sets_the_pin_in_the_middle_and_arrows_move_it(qtbot, sample, screen, tool_id, look):
    added = sample.defects.add(tool_id, kind="stain")
    screen._context.edits.happened.emit(added.changes)
    look()
    screen.record.defects.pin_wanted.emit(added.id)
    qtbot.keyClick(screen.picture.view, Qt.Key.Key_Return)
    (before,) = [pin for pin in look().pins if pin.defect == added.id]
    qtbot.keyClick(screen.picture.view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    (after,) = [pin for pin in look().pins if pin.defect == added.id]

    assert after.x > before.x
    assert after.y == pytest.approx(before.y)


def test_esc_gives_up_setting_a_pin(qtbot, screen, look):
    screen.record.defects.pin_wanted.emit(look().defects[0].id)
    asked = screen.picture.setting
    qtbot.keyClick(screen.picture.view, Qt.Key.Key_Escape)

    assert asked
    assert not screen.picture.setting


def test_a_balloon_is_dragged_to_another_place(qtbot, screen, look):
    pin = pins_on_current(screen, look())[0]
    start = on_screen(screen, pin.balloon_x, pin.balloon_y)
    view = screen.picture.view
    qtbot.mousePress(view, LEFT, pos=start)
    qtbot.mouseMove(view, start + QPoint(30, 20))
    qtbot.mouseRelease(view, LEFT, pos=start + QPoint(30, 20))

    (after,) = [one for one in look().pins if one.id == pin.id]

    assert after.balloon_x > pin.balloon_x
    assert (after.x, after.y) == (pytest.approx(pin.x), pytest.approx(pin.y))


def test_choosing_a_defect_lights_its_balloon_and_the_other_way_round(qtbot, screen, look):
    tool = look()
    pin = pins_on_current(screen, tool)[0]
    number = next(one.number for one in tool.defects if one.id == pin.defect)
    row = screen.record.defects.rows.rows[pin.defect]
    row.setFocus()
    lit_by_row = screen.picture.view._highlighted
    screen.record.what.rows.rows["kind"].setFocus()
    screen._pinning.light(None)
    qtbot.mouseClick(screen.picture.view, LEFT, pos=on_screen(screen, pin.balloon_x, pin.balloon_y))

    assert lit_by_row == number
    assert row._lit


def test_delete_on_the_photograph_takes_the_lit_pin_off(qtbot, screen, look):
    pin = pins_on_current(screen, look())[0]
    screen.record.defects.rows.rows[pin.defect].setFocus()
    screen.picture.view.setFocus()
    qtbot.keyClick(screen.picture.view, Qt.Key.Key_Delete)

    assert pin.id not in {one.id for one in look().pins}
    assert pin.defect in {one.id for one in look().defects}


def test_arrows_among_the_views_choose_what_is_seen_large(qtbot, screen, look, settled):
    screen.view_slots.take_focus()
    qtbot.keyClick(screen.focusWidget(), Qt.Key.Key_Left)
    settled()

    chosen = look().photographs
    current = next(one for one in chosen if one.id == screen.current)
    assert (current.view, current.stage) == ("top", Stage.AS_FOUND)
    assert screen.picture.caption.text().startswith("Top, as found")


def test_an_empty_place_says_so_and_leads_to_taking_photographs_in(qtbot, screen, tool_id):
    places = {place.accessibleName(): place for place in screen.view_slots.slots.values()}
    empty = places["front, finished, not photographed yet"]

    with qtbot.waitSignal(screen.go) as went:
        qtbot.mouseClick(empty, LEFT)

    assert went.args[0] == routes.ImportRoute(tool=tool_id)


def test_b_lays_the_photograph_beside_the_same_view_as_found(qtbot, screen, look, tool_id):
    screen.picture.view.setFocus()
    with qtbot.waitSignal(screen.go) as went:
        qtbot.keyClick(screen.picture.view, Qt.Key.Key_B)

    pair = next(p for p in look().pairs if screen.current in (p.before, p.after))
    assert went.args[0] == routes.PairRoute(tool=tool_id, pair=pair.id)


def test_enter_and_b_act_on_what_is_shown_large(qtbot, screen, look, tool_id):
    screen.view_slots.take_focus()
    with qtbot.waitSignal(screen.go) as worked:
        qtbot.keyClick(screen.focusWidget(), Qt.Key.Key_Return)
    with qtbot.waitSignal(screen.go) as paired:
        qtbot.keyClick(screen.focusWidget(), Qt.Key.Key_B)

    assert worked.args[0] == routes.PhotographRoute(photograph=screen.current)
    assert isinstance(paired.args[0], routes.PairRoute)


def test_a_view_without_a_pair_is_paired_first(qtbot, sample, screen, look, tool_id):
    for pair in look().pairs:
        screen._context.edits.happened.emit(sample.pairs.bin(pair.id))
    look()
    with qtbot.waitSignal(screen.go) as went:
        qtbot.mouseClick(screen.picture.pair, LEFT)

    (made,) = look().pairs
    assert went.args[0] == routes.PairRoute(tool=tool_id, pair=made.id)
    assert made.after == screen.current


def test_enter_on_the_photograph_works_on_it(qtbot, screen):
    with qtbot.waitSignal(screen.go) as went:
        qtbot.keyClick(screen.picture.view, Qt.Key.Key_Return)

    assert went.args[0] == routes.PhotographRoute(photograph=screen.current)


def test_the_tool_after_takes_the_place_of_this_one(qtbot, sample, screen):
    with qtbot.waitSignal(screen.go) as went:
        qtbot.mouseClick(screen.title_controls.next, LEFT)

    after = sample.tools.by_stock_number("LOT7-004")
    assert went.args[0] == routes.ToolRoute(tool=after, replaces=True)


def test_several_photographs_are_given_a_view_and_a_stage_by_one_key_each(qtbot, screen, look):
    screen.name_views()
    grid = screen.naming.grid
    grid.selectAll()
    qtbot.keyClick(grid, Qt.Key.Key_M)
    look()
    qtbot.keyClick(grid, Qt.Key.Key_2)

    photographs = look().photographs

    assert {(one.view, one.stage) for one in photographs} == {("mouth", Stage.DURING)}
    assert len(screen.naming.chosen) == len(photographs)


def test_a_caption_is_written_for_what_is_chosen(qtbot, screen, look):
    screen.name_views()
    caption = screen.naming.caption.line
    caption.setFocus()
    qtbot.keyClicks(caption, "before any work")
    qtbot.keyClick(caption, Qt.Key.Key_Return)

    assert [one.caption for one in look().photographs].count("before any work") == 1


def test_alt_down_moves_a_photograph_one_place_on(qtbot, screen, look):
    before = [one.id for one in look().photographs]
    screen.name_views()
    qtbot.keyClick(screen.naming.grid, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)

    after = [one.id for one in look().photographs]

    assert after[:2] == [before[1], before[0]]
    assert screen.naming.chosen == (before[0],)


def test_delete_puts_the_chosen_photographs_in_the_bin(qtbot, screen, look):
    before = [one.id for one in look().photographs]
    screen.name_views()
    qtbot.keyClick(screen.naming.grid, Qt.Key.Key_Delete)

    assert [one.id for one in look().photographs] == before[1:]


def test_esc_ends_the_naming(qtbot, screen):
    screen.name_views()
    qtbot.keyClick(screen.naming.grid, Qt.Key.Key_Escape)

    assert screen.picture.isVisible()


def test_chosen_photographs_move_together_and_stop_at_the_edge():
    assert moved_together(list("abcd"), list("cd"), -1) == list("acdb")
    assert moved_together(list("abcd"), list("ab"), -1) == list("abcd")
    assert moved_together(list("abcd"), list("ab"), 1) == list("cabd")


def test_a_pasted_picture_is_kept_as_a_file_and_taken_in(qtbot, screen, tool_id):
    image = QImage(40, 30, QImage.Format.Format_RGB32)
    image.fill(QColor("#336699"))
    QGuiApplication.clipboard().setImage(image)

    with qtbot.waitSignal(screen.go) as went:
        screen.paste()

    way = went.args[0]
    assert (way.tool, len(way.paths)) == (tool_id, 1)
    assert QImage(way.paths[0]) == image


def test_pasted_files_are_taken_in_as_they_lie(qtbot, screen, tool_id, tmp_path):
    file = tmp_path / "plane.jpg"
    file.write_bytes(b"whatever it holds is looked at when it is taken in")
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(file))])
    QGuiApplication.clipboard().setMimeData(data)

    with qtbot.waitSignal(screen.go) as went:
        qtbot.keyClick(screen, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)

    (path,) = went.args[0].paths
    assert Path(path) == file
    assert went.args[0].tool == tool_id


def test_files_dropped_on_the_screen_are_taken_in_for_this_tool(qtbot, screen, tool_id, tmp_path):
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(tmp_path / name)) for name in ("a.jpg", "b.jpg")])
    copy, none = Qt.DropAction.CopyAction, Qt.KeyboardModifier.NoModifier
    event = QDropEvent(QPointF(200, 200), copy, data, LEFT, none)

    with qtbot.waitSignal(screen.go) as went:
        screen.dropEvent(event)

    assert went.args[0].tool == tool_id
    assert [Path(path).name for path in went.args[0].paths] == ["a.jpg", "b.jpg"]


def test_a_tool_without_photographs_says_what_to_do(qtbot, given_sample, sample, show, look):
    new = sample.tools.add(look().batch, NewTool(kind="jack")).id
    screen = show(ToolScreen(given_sample, new))

    assert screen.picture.empty.isVisible()
    assert not screen.picture.pair.isVisible()
    with qtbot.waitSignal(screen.go) as went:
        screen.picture.photographs_wanted.emit()
    assert went.args[0] == routes.ImportRoute(tool=new)


def test_a_pin_without_a_photograph_is_not_asked_for(given_sample, sample, show, look, told):
    new = sample.tools.add(look().batch, NewTool(kind="jack")).id
    defect = sample.defects.add(new, kind="chip").id
    screen = show(ToolScreen(given_sample, new))
    screen.record.defects.pin_wanted.emit(defect)

    assert not screen.picture.setting
    assert told[0].happened == "There is no photograph to set a pin on."

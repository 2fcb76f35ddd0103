"""Outlines on a photograph: drawn along edges, altered, judged after each stroke, written down."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtWidgets import QScrollArea

from planebench.catalog.pair_alignment import align_photographs
from planebench.trade.terms import Basis, Stage
from planebench.window.pieces.side_panel import NARROW
from planebench.window.pieces.side_panel_row import SidePanelRow
from planebench.window.pieces.tool_box import ToolBoxEntry
from planebench.window.screens.photograph.photograph_screen import PhotographScreen
from tests.window.screens.unmeasured import forget_readings

LEFT = Qt.MouseButton.LeftButton
# Along the inside of the rim, which bends between one point and the next.
RIM = ((256, 292), (786, 172), (1382, 141), (1862, 277), (1600, 680), (957, 654))
RING = ((500, 560), (1180, 560), (1180, 860), (500, 860))


@pytest.fixture
def tool_id(sample):
    return sample.tools.by_stock_number("LOT7-009")


@pytest.fixture
def screen(given_sample, sample, tool_id, show):
    forget_readings(sample, tool_id)
    return show(PhotographScreen(given_sample, sample.tools.one(tool_id).photographs[0].id))


@pytest.fixture
def outlines(sample, screen, settled):
    """Wait for what is under way and give the outlines as the catalog has them."""

    def looked():
        settled()
        return sample.photographs.outlines(screen.photograph)

    return looked


def at(screen, x, y):
    return screen.view.viewport.to_screen(QPointF(x, y)).toPoint()


def click(qtbot, screen, *spots):
    for x, y in spots:
        qtbot.mouseClick(screen.view, LEFT, pos=at(screen, x, y))


def stroke(qtbot, screen, start, end):
    qtbot.mousePress(screen.view, LEFT, pos=at(screen, *start))
    for share in np.linspace(0, 1, 6):
        x, y = np.array(start) * (1 - share) + np.array(end) * share
        qtbot.mouseMove(screen.view, at(screen, x, y))
    qtbot.mouseRelease(screen.view, LEFT, pos=at(screen, *end))


@pytest.fixture
def outlined(qtbot, screen, outlines):
    """Outline a stretch of the bed by straight lines, and wait for its reading."""
    qtbot.keyClick(screen.view, Qt.Key.Key_O)
    screen.panel.draw.line.hold("straight")
    screen.tools.set_line("straight")
    click(qtbot, screen, *RING)
    qtbot.keyClick(screen.view, Qt.Key.Key_Return)
    outlines()
    return screen


def ring_of(outline):
    return outline.polygons["polygons"][0]["outer"]


def test_straight_clicks_make_an_outline_of_the_surface_chosen(outlined, outlines):
    (outline,) = outlines()

    assert outline.finish == "japanning"
    assert np.array(ring_of(outline)) == pytest.approx(np.array(RING), abs=2)
    assert outlined.outlines.chosen == outline.id


def test_a_line_along_edges_has_more_points_than_were_clicked(qtbot, screen, outlines):
    qtbot.keyClick(screen.view, Qt.Key.Key_O)
    for spot in RIM:
        click(qtbot, screen, spot)
        outlines()
    qtbot.keyClick(screen.view, Qt.Key.Key_Return)

    assert len(ring_of(outlines()[0])) > 5 * len(RIM)


def test_backspace_takes_the_last_point_back_and_esc_lays_all_down(qtbot, screen, outlines):
    qtbot.keyClick(screen.view, Qt.Key.Key_O)
    screen.tools.set_line("straight")
    click(qtbot, screen, *RING, (300, 300))
    qtbot.keyClick(screen.view, Qt.Key.Key_Backspace)
    qtbot.keyClick(screen.view, Qt.Key.Key_Return)
    drawn = outlines()
    qtbot.keyClick(screen.view, Qt.Key.Key_O)
    click(qtbot, screen, (200, 200), (300, 200), (300, 300))
    qtbot.keyClick(screen.view, Qt.Key.Key_Escape)

    assert len(ring_of(drawn[0])) == 4
    assert len(outlines()) == 1


def test_freehand_follows_the_pointer_and_closes_where_it_began(qtbot, screen, outlines):
    qtbot.keyClick(screen.view, Qt.Key.Key_O)
    screen.tools.set_line("freehand")
    ring = [(800 + 300 * np.cos(a), 700 + 120 * np.sin(a)) for a in np.linspace(0, 2 * np.pi, 60)]

    qtbot.mousePress(screen.view, LEFT, pos=at(screen, *ring[0]))
    for spot in ring:
        qtbot.mouseMove(screen.view, at(screen, *spot))
    qtbot.mouseRelease(screen.view, LEFT, pos=at(screen, *ring[0]))

    assert len(ring_of(outlines()[0])) > 20


def test_an_outline_that_crosses_itself_is_refused_beside_the_photograph(qtbot, screen, outlines):
    qtbot.keyClick(screen.view, Qt.Key.Key_O)
    screen.tools.set_line("straight")
    click(qtbot, screen, (500, 500), (900, 900), (900, 500), (500, 900))
    qtbot.keyClick(screen.view, Qt.Key.Key_Return)

    assert outlines() == ()
    assert "crosses itself" in screen.panel.draw.refusal
    assert screen.view.tool.unfinished


def test_a_point_is_dragged_nudged_set_between_and_taken_away(qtbot, outlined, outlines):
    qtbot.mousePress(outlined.view, LEFT, pos=at(outlined, *RING[0]))
    qtbot.mouseMove(outlined.view, at(outlined, 520, 600))
    qtbot.mouseRelease(outlined.view, LEFT, pos=at(outlined, 520, 600))
    dragged = ring_of(outlines()[0])[0]
    qtbot.keyClick(outlined.view, Qt.Key.Key_Right)
    outlined.take("")
    nudged = ring_of(outlines()[0])[0]
    outlined.take("outline")
    click(qtbot, outlined, (850, 860))
    inserted = len(ring_of(outlines()[0]))
    qtbot.keyClick(outlined.view, Qt.Key.Key_Delete)

    assert dragged == pytest.approx([520, 600], abs=2)
    assert nudged[0] == pytest.approx(dragged[0] + 1)
    assert inserted == 5
    assert len(ring_of(outlines()[0])) == 4


def test_a_hole_is_cut_into_the_chosen_outline(qtbot, outlined, outlines):
    qtbot.keyClick(outlined.view, Qt.Key.Key_H)
    click(qtbot, outlined, (700, 650), (800, 650), (800, 750), (700, 750))
    qtbot.keyClick(outlined.view, Qt.Key.Key_Return)

    assert len(outlines()[0].polygons["polygons"][0]["holes"]) == 1


def test_every_step_is_taken_back_by_the_history(outlined, outlines, sample, given_sample):
    given_sample.edits.happened.emit(sample.history.undo())

    assert outlines() == ()
    assert outlined.outlines.chosen is None


def test_an_outline_is_judged_at_once_and_its_reading_written_when_it_is_left(
    outlined, outlines, sample, tool_id
):
    outlines()
    told = outlined.panel.reading.findChildren(object, "")
    outlined.outlines.choose(None)
    outlines()
    reading = sample.tools.one(tool_id).readings[-1]

    assert told
    assert reading.share.basis is Basis.MEASURED
    assert reading.stage is Stage.AS_FOUND
    assert reading.share.low <= reading.share.value <= reading.share.high
    assert reading.areas[0].kept_px + reading.areas[0].lost_px + reading.areas[0].cannot_tell_px
    assert float(reading.areas[0].area_mm2) == pytest.approx(680 * 300 * 0.12**2, rel=0.15)


def test_by_eye_stays_beside_what_was_measured(outlined, outlines, sample, tool_id):
    before = [r for r in sample.tools.one(tool_id).readings if r.share.basis is Basis.BY_EYE]
    outlined.outlines.choose(None)
    outlines()
    readings = sample.tools.one(tool_id).readings

    assert [r for r in readings if r.share.basis is Basis.BY_EYE] == before


def test_a_stroke_is_kept_in_order_and_the_whole_is_judged_again(qtbot, outlined, outlines):
    qtbot.keyClick(outlined.view, Qt.Key.Key_L)
    stroke(qtbot, outlined, (560, 640), (620, 690))
    qtbot.keyClick(outlined.view, Qt.Key.Key_K)
    stroke(qtbot, outlined, (820, 680), (1000, 690))
    (outline,) = outlines()

    assert [one.kind for one in outlined.outlines.strokes] == ["lost", "kept"]
    assert outline.strokes["lost"][0]["number"] == 1
    assert outline.strokes["kept"][0]["number"] == 2
    assert not outlined.panel.reading.strokes.remove_last.isHidden()


def test_the_last_stroke_is_taken_back_by_the_act(qtbot, outlined, outlines):
    qtbot.keyClick(outlined.view, Qt.Key.Key_L)
    stroke(qtbot, outlined, (560, 640), (620, 690))
    outlines()

    qtbot.mouseClick(outlined.panel.reading.strokes.remove_last, LEFT)

    assert outlines()[0].strokes == {}


def test_comma_and_period_change_how_wide_a_stroke_is(qtbot, outlined):
    qtbot.keyClick(outlined.view, Qt.Key.Key_K)
    usual = outlined.tools.brush.wide

    qtbot.keyClick(outlined.view, Qt.Key.Key_Period)

    assert outlined.tools.brush.wide > usual


def test_enter_writes_the_reading_down_once(qtbot, outlined, outlines, sample, tool_id):
    outlines()
    outlined.take("")
    before = len(sample.tools.one(tool_id).readings)
    for _ in range(2):
        qtbot.keyClick(outlined.view, Qt.Key.Key_Return)
        outlines()

    assert len(sample.tools.one(tool_id).readings) == before + 1


def test_a_stroke_without_an_outline_says_what_to_do(qtbot, screen, told):
    qtbot.keyClick(screen.view, Qt.Key.Key_K)

    assert told[0].happened == "No outline is selected."
    assert screen.tools.code == ""


def test_a_second_light_is_judged_together_and_kept_with_the_outline(
    outlined, outlines, sample, tool_id
):
    other = sample.tools.one(tool_id).photographs[1]
    sample.photographs.change((other.id,), view="top")
    outlined.outlines.choose(None)
    outlined._look_again(sample.photographs.change((other.id,), caption="window light"))
    (outline,) = outlines()
    outlined.outlines.choose(outline.id)
    outlines()

    outlined.panel.reading.second_light_chosen.emit(other.id)
    (outline,) = outlines()

    assert outline.strokes == {"second_light": other.id}
    assert outlined.outlines.can_record


def test_rust_on_bare_metal_is_outlined_without_adding_a_surface_first(
    qtbot, screen, outlines, sample, tool_id
):
    before = sample.tools.one(tool_id)
    panel = screen.panel.draw
    box = panel.surface
    words = [box.itemText(row) for row in range(box.count())]
    rust = box.itemData(words.index("Rust, left cheek"))
    qtbot.keyClick(screen.view, Qt.Key.Key_O)
    screen.tools.set_line("straight")
    panel.surface.hold(rust)
    click(qtbot, screen, *RING)
    qtbot.keyClick(screen.view, Qt.Key.Key_Return)
    (outline,) = outlines()
    tool = sample.tools.one(tool_id)

    assert outline.finish == "rust"
    assert [one.name for one in tool.surfaces[len(before.surfaces) :]] == ["Left cheek"]
    assert tool.surfaces[-1].is_bare
    assert tool.line.next_act == before.line.next_act
    assert tool.line.known[2] is before.line.known[2]


def test_a_bare_surface_goes_with_its_outline_when_that_is_taken_back(
    screen, outlines, sample, given_sample, tool_id
):
    before = sample.tools.one(tool_id).surfaces
    bare = screen.outlines._model.bare[0]
    screen.outlines.draw(RING, (bare, "rust"))
    outlines()
    given_sample.edits.happened.emit(sample.history.undo())

    assert outlines() == ()
    assert sample.tools.one(tool_id).surfaces == before


def test_what_the_view_shows_is_offered_first(screen, sample, settled):
    sample.photographs.change((screen.photograph,), view="sole")
    screen.panel.draw.surface.offer([])
    screen._look_again(sample.photographs.change((screen.photograph,), caption="its sole"))
    settled()
    surface, finish = screen.panel.draw.wanted

    assert (surface.code, finish) == ("sole", "rust")


def test_iron_is_called_bright_and_rust_wherever_it_is_named(qtbot, screen, outlines):
    surface = screen.panel.draw.surface
    offered = [str(surface.itemData(number)) for number in range(surface.count())]
    qtbot.keyClick(screen.view, Qt.Key.Key_O)
    surface.hold(next(key for key in offered if key.endswith("|rust")))
    screen.tools.set_line("straight")
    click(qtbot, screen, *RING)
    qtbot.keyClick(screen.view, Qt.Key.Key_Return)
    outlines()
    qtbot.keyClick(screen.view, Qt.Key.Key_L)
    stroke(qtbot, screen, (700, 700), (760, 700))
    outlines()

    rows = [row.text() for row in screen.panel.reading.findChildren(SidePanelRow)]
    tool_box = [tool.text() for tool in screen.workspace.tool_box.findChildren(ToolBoxEntry)]
    assert "1  rust" in rows
    assert {"bright", "patina", "rust"} <= set(tool_box)


def test_nothing_in_the_column_is_cut_where_the_window_is_narrow(qtbot, outlined, outlines):
    qtbot.keyClick(outlined.view, Qt.Key.Key_K)
    stroke(qtbot, outlined, (700, 700), (760, 700))
    outlines()
    (area,) = outlined.panel.findChildren(QScrollArea)
    room = NARROW - area.verticalScrollBar().sizeHint().width()

    assert outlined.panel.width() == NARROW
    assert area.widget().minimumSizeHint().width() <= room


def test_the_history_tells_a_stroke_set_from_one_taken_off(qtbot, outlined, outlines, sample):
    qtbot.keyClick(outlined.view, Qt.Key.Key_K)
    stroke(qtbot, outlined, (700, 700), (760, 700))
    outlines()
    outlined.outlines.remove_stroke()
    outlines()

    assert sample.history.undo().words.endswith("stroke removed")
    assert sample.history.undo().words.endswith("stroke painted")


def test_ctrl_and_the_arrows_move_the_whole_outline(qtbot, outlined, outlines):
    shift = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    qtbot.keyClick(outlined.view, Qt.Key.Key_Right, shift)
    qtbot.keyClick(outlined.view, Qt.Key.Key_Down, Qt.KeyboardModifier.ControlModifier)
    outlined.take("")

    assert np.array(ring_of(outlines()[0])) == pytest.approx(np.add(RING, (10, 1)), abs=2)


@pytest.fixture
def unpaired(sample):
    """Return a photograph with an outline whose partner at the other end is not linked yet."""
    tool = sample.tools.one(sample.tools.by_stock_number("LOT7-003"))
    for pair in tool.pairs:
        sample.pairs.bin(pair.id)
    forget_readings(sample, tool.id)
    before = next(p for p in tool.photographs if p.view == "top" and p.stage is Stage.AS_FOUND)
    ring = {"polygons": [{"outer": [[700, 560], [900, 560], [900, 700]], "holes": []}]}
    sample.outlines.add(before.id, tool.surfaces[0].id, finish="japanning", polygons=ring)
    after = next(p for p in tool.photographs if p.view == "top" and p.stage is Stage.FINISHED)
    # Computed and cached here, where no clock runs.
    align_photographs(sample, before, after, lambda *_: None)
    return before


def test_copying_outlines_links_the_two_says_how_well_they_align_and_is_one_step(
    qtbot, given_sample, unpaired, show
):
    screen = show(PhotographScreen(given_sample, unpaired.id))

    with qtbot.waitSignal(screen.go, timeout=30_000) as heard:
        screen.panel.carry_wanted.emit()

    tool = given_sample.catalog.tools.one(unpaired.tool)
    assert len(tool.pairs) == 1
    assert ". Alignment good, typical error " in heard.args[0].message
    assert heard.args[0].outline is not None
    given_sample.catalog.history.undo()
    assert given_sample.catalog.tools.one(unpaired.tool).pairs == ()
    assert not given_sample.catalog.photographs.outlines(heard.args[0].photograph)


def test_an_outline_one_came_for_is_chosen_and_judged(given_sample, unpaired, show, settled):
    (outline, *_) = given_sample.catalog.photographs.outlines(unpaired.id)
    screen = PhotographScreen(given_sample, unpaired.id)
    screen.arrive(outline.id, "1 outline was carried over.")
    show(screen)
    settled()

    assert screen.outlines.chosen == outline.id
    assert screen.outlines.can_record


def test_why_a_ring_was_refused_goes_once_it_is_drawn_on(qtbot, screen, outlines):
    qtbot.keyClick(screen.view, Qt.Key.Key_O)
    screen.tools.set_line("straight")
    click(qtbot, screen, (500, 500), (900, 900), (900, 500), (500, 900))
    qtbot.keyClick(screen.view, Qt.Key.Key_Return)
    refused = screen.panel.draw.refusal

    qtbot.keyClick(screen.view, Qt.Key.Key_Backspace)

    assert refused
    assert not screen.panel.draw.refusal


def test_a_hole_outside_the_outline_is_refused_beside_the_photograph(qtbot, outlined, outlines):
    qtbot.keyClick(outlined.view, Qt.Key.Key_H)
    click(qtbot, outlined, (1500, 1200), (1600, 1200), (1600, 1300))
    qtbot.keyClick(outlined.view, Qt.Key.Key_Return)

    assert "outside the outline" in outlined.panel.draw.refusal


def test_an_outline_with_strokes_is_told_at_once_and_what_each_did_follows(
    qtbot, outlined, outlines, show, given_sample
):
    for start in (700, 800, 900):
        qtbot.keyClick(outlined.view, Qt.Key.Key_K)
        stroke(qtbot, outlined, (start, 700), (start + 40, 700))
    (outline,) = outlines()
    again = PhotographScreen(given_sample, outlined.photograph)
    again.arrive(outline.id, "")
    told = []
    again.outlines._desk.judged.connect(lambda judged: told.append(judged.shares))
    show(again)
    outlines()

    assert np.isnan(told[0][:3]).all()
    assert not np.isnan(told[-1]).any()
    assert told[0][3] == told[-1][3]

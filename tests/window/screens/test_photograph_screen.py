"""One photograph: seen, named, pinned, scaled and measured, by key and click."""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt

from planebench.catalog.tools import ToolFilter
from planebench.trade.photo_measurement import MeasuredValue
from planebench.trade.terms import Basis, Stage
from planebench.window import routes
from planebench.window.screens.photograph.measurement_text import decimal_of, format_measured_inches
from planebench.window.screens.photograph.photograph_screen import PhotographScreen

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def tool_id(sample):
    return sample.tools.by_stock_number("LOT7-003")


@pytest.fixture
def screen(given_sample, sample, tool_id, show):
    return show(PhotographScreen(given_sample, sample.tools.one(tool_id).photographs[0].id))


@pytest.fixture
def look(sample, tool_id, settled):
    """Wait for what is under way and give the tool as the catalog has it."""

    def looked():
        settled()
        return sample.tools.one(tool_id)

    return looked


def at(screen, x, y):
    return screen.view.viewport.to_screen(QPointF(x, y)).toPoint()


def pins_here(tool, screen):
    return [pin for pin in tool.pins if pin.photograph == screen.photograph]


def test_the_title_says_view_stage_day_and_place_among_the_tools_photographs(screen):
    assert screen.title.text == "Top, as found, 23 February 2026"
    assert screen.title.up == "LOT7-003 Smoothing plane"
    assert screen.title.remark == "photograph 1 of 3"


def test_the_next_photograph_takes_the_place_of_this_one(qtbot, screen, look):
    second = look().photographs[1].id

    with qtbot.waitSignal(screen.go) as heard:
        qtbot.mouseClick(screen.title_buttons[1], LEFT)

    assert heard.args == [routes.PhotographRoute(photograph=second, replaces=True)]


def test_view_and_caption_are_written_as_they_are_changed(qtbot, screen, look):
    screen.panel.about.stage.chosen.emit("during")
    caption = screen.panel.about.caption.line
    caption.selectAll()
    qtbot.keyClicks(caption, "Dust on the toe")
    qtbot.keyClick(caption, Qt.Key.Key_Return)
    photograph = next(p for p in look().photographs if p.id == screen.photograph)

    assert photograph.stage is Stage.DURING
    assert photograph.caption == "Dust on the toe"


def test_a_defect_chosen_in_the_column_is_pinned_by_the_next_click(qtbot, screen, look):
    defect = look().defects[0].id
    qtbot.mouseClick(screen.panel.pins.rows[defect], LEFT)

    qtbot.mouseClick(screen.view, LEFT, pos=at(screen, 600, 480))

    pin = next(pin for pin in pins_here(look(), screen) if pin.defect == defect)
    assert (pin.x * 2400, pin.y * 1600) == pytest.approx((600, 480), abs=2)


def test_a_piece_of_evidence_of_date_is_pinned_by_its_letter(qtbot, screen, look):
    evidence = look().evidence[1].id
    qtbot.mouseClick(screen.panel.pins.rows[evidence], LEFT)

    qtbot.mouseClick(screen.view, LEFT, pos=at(screen, 1500, 900))
    look()

    assert "B" in {pin.mark for pin in screen.view.pins}


def test_delete_takes_the_lit_pin_off_and_taking_back_brings_it_again(qtbot, screen, look, sample):
    before = len(pins_here(look(), screen))
    screen.view.setFocus()
    screen.view.highlight_pin(screen.view.pins[0].number)

    qtbot.keyClick(screen.view, Qt.Key.Key_Delete)
    without = len(pins_here(look(), screen))
    sample.history.undo()

    assert without == before - 1
    assert len(pins_here(look(), screen)) == before


def test_a_balloon_that_is_dragged_stands_where_it_was_let_go(qtbot, screen, look):
    pin = screen.view.pins[0]
    start = at(screen, *pin.balloon)
    end = at(screen, 2000, 1300)

    qtbot.mousePress(screen.view, LEFT, pos=start)
    qtbot.mouseMove(screen.view, end)
    qtbot.mouseRelease(screen.view, LEFT, pos=end)
    look()
    moved = next(one for one in screen.view.pins if one.number == pin.number)

    assert moved.balloon == pytest.approx((2000, 1300), abs=2)
    assert moved.spot == pytest.approx(pin.spot)


def test_lifting_shadows_changes_what_is_seen_and_not_what_is_stored(qtbot, screen, sample):
    photograph = sample.photographs.one(screen.photograph)
    stored = sample.originals.read(photograph.sha256, photograph.suffix)
    plain = screen.view.grab().toImage()

    qtbot.keyClick(screen.view, Qt.Key.Key_B)

    assert screen.view.grab().toImage() != plain
    assert sample.originals.read(photograph.sha256, photograph.suffix) == stored


def test_the_view_turns_by_quarters_and_a_click_still_finds_its_spot(qtbot, screen):
    qtbot.keyClick(screen.view, Qt.Key.Key_R)
    there = screen.view.viewport.to_screen(QPointF(300, 200))

    back = screen.view.viewport.to_photo(there)

    assert (back.x(), back.y()) == pytest.approx((300, 200))
    top_left = screen.view.viewport.to_screen(QPointF(0, 0))
    assert top_left.x() > screen.view.viewport.to_screen(QPointF(0, 1600)).x()


def card_corners(sample, screen):
    """Return where the card's own corners lie, by the scale that was read from it."""
    scale = sample.photographs.one(screen.photograph).scale
    back = np.linalg.inv(np.array(scale["matrix_px_to_mm"]))
    ends = np.array([[0, 0, 1], [90, 0, 1], [90, 60, 1], [0, 60, 1]]) @ back.T
    return ends[:, :2] / ends[:, 2:]


def test_the_long_side_of_the_card_measures_90_mm_and_is_written_down(qtbot, screen, sample, look):
    qtbot.keyClick(screen.view, Qt.Key.Key_M)
    for x, y in card_corners(sample, screen)[:2]:
        qtbot.mouseClick(screen.view, LEFT, pos=at(screen, x, y))
    screen.panel.measure.use.hold("length|cutter_width")

    qtbot.mouseClick(screen.panel.measure.write, LEFT)

    written = next(one for one in look().dimensions if one.what == "cutter_width")
    assert float(written.value) == pytest.approx(90, abs=float(written.plus_minus or 0) + 0.5)
    assert written.basis is Basis.MEASURED


def test_a_doubt_is_written_down_with_no_more_digits_than_its_length(qtbot, screen, look):
    qtbot.keyClick(screen.view, Qt.Key.Key_S)
    for x, y in ((600, 800), (640, 800)):
        qtbot.mouseClick(screen.view, LEFT, pos=at(screen, x, y))
    qtbot.keyClicks(screen.panel.scale.across.line, "4 mm")
    qtbot.keyClick(screen.panel.scale.across.line, Qt.Key.Key_Return)
    look()
    qtbot.keyClick(screen.view, Qt.Key.Key_M)
    for x, y in ((300, 700), (2100, 700)):
        qtbot.mouseClick(screen.view, LEFT, pos=at(screen, x, y))
    screen.panel.measure.use.hold("length|sole_length")

    qtbot.mouseClick(screen.panel.measure.write, LEFT)

    written = next(one for one in look().dimensions if one.what == "sole_length")
    assert written.plus_minus is not None
    assert written.plus_minus > 3
    assert written.plus_minus == round(written.plus_minus)
    assert written.value == round(written.value)


def test_a_length_becomes_the_size_of_a_defect(qtbot, screen, sample, look):
    defect = look().defects[0]
    qtbot.keyClick(screen.view, Qt.Key.Key_M)
    for x, y in card_corners(sample, screen)[1:3]:
        qtbot.mouseClick(screen.view, LEFT, pos=at(screen, x, y))
    screen.panel.measure.use.hold(f"defect|{defect.id}")

    qtbot.mouseClick(screen.panel.measure.write, LEFT)

    value, within = look().defects[0].size.removesuffix(" mm").split(" ±")
    assert float(value) == pytest.approx(60, abs=1)
    assert 0 < float(within) < 1


def test_a_scale_by_two_points_replaces_the_cards(qtbot, screen, sample, look):
    qtbot.keyClick(screen.view, Qt.Key.Key_S)
    for x, y in ((600, 800), (1600, 800)):
        qtbot.mouseClick(screen.view, LEFT, pos=at(screen, x, y))
    qtbot.keyClicks(screen.panel.scale.across.line, "5 in")
    qtbot.keyClick(screen.panel.scale.across.line, Qt.Key.Key_Return)
    look()

    scale = sample.photographs.one(screen.photograph).scale
    assert scale["kind"] == "two_points"
    assert scale["mm_per_px"] == pytest.approx(127 / 1000, rel=0.003)


def test_the_card_on_a_photograph_is_read_when_asked_for(qtbot, screen, sample, look):
    photographs = sample.photographs
    before = photographs.one(screen.photograph).scale
    screen._context.edits.happened.emit(photographs.set_scale(screen.photograph, None))
    look()
    qtbot.keyClick(screen.view, Qt.Key.Key_S)

    qtbot.mouseClick(screen.panel.scale.card, LEFT)
    look()

    scale = photographs.one(screen.photograph).scale
    assert scale["stock"] == "LOT7-003"
    assert scale["mm_per_px"] == pytest.approx(before["mm_per_px"], rel=0.001)


def test_a_photograph_without_a_card_says_so(given_sample, sample, show, settled, told):
    tools = sample.tools.find(ToolFilter())
    photographs = [one for tool in tools for one in sample.tools.one(tool).photographs]
    plain = next(one for one in photographs if one.scale is None)
    screen = show(PhotographScreen(given_sample, plain.id))
    screen.take("scale")

    screen.panel.scale.card_wanted.emit()
    settled()

    assert told[0].happened.startswith("No scale card was found")


# A ruler seen by a camera that leans: millimeters to pixels.
RULER = np.array([[9.2, -2.1, 181.0], [0.38, 7.6, 990.0], [-1.7e-4, -1.2e-3, 1.0]])


def on_ruler(*marks):
    seen = np.array([[mark, 0.0, 1.0] for mark in marks]) @ RULER.T
    return seen[:, :2] / seen[:, 2:]


def set_marks(qtbot, screen, *marks):
    screen.take("scale")
    screen.panel.scale.shape.hold("marks")
    screen.panel.scale.shape.chosen.emit("marks")
    qtbot.keyClicks(screen.panel.scale.across.line, "20 mm")
    for x, y in on_ruler(*marks):
        qtbot.mouseClick(screen.view, LEFT, pos=at(screen, x, y))


def test_a_scale_by_the_marks_of_a_ruler_measures_between_them_within_half_a_percent(
    qtbot, screen, sample, look
):
    # Not in their order: they are sorted along the ruler.
    set_marks(qtbot, screen, 200, 0, 20, 60, 40, 80, 100, 120, 140, 180, 160)
    said = screen.panel.scale.fit
    qtbot.mouseClick(screen.panel.scale.write, LEFT)
    look()
    scale = sample.photographs.one(screen.photograph).scale
    screen.take("length")
    for x, y in on_ruler(30, 190):
        qtbot.mouseClick(screen.view, LEFT, pos=at(screen, x, y))
    shown = screen.measures.ruler.label

    assert said.startswith("11 marks set, 200 mm from end to end. They are off by 0.")
    assert scale["kind"] == "ruler"
    assert float(shown.split()[0]) == pytest.approx(160, rel=0.005)
    assert "11 marks of a ruler" in screen.workspace.scale.text()
    # Beside the ruler it is less sure, so the figure is not told of the whole photograph.
    assert screen.workspace.scale.text().endswith(
        "% along it, less so off that line, because the tilt is unknown. "
        "A card or rectangle gives it"
    )


def test_a_mark_left_out_is_told_and_can_be_taken_back(qtbot, screen):
    set_marks(qtbot, screen, 0, 20, 40, 80)
    doubted = screen.panel.scale.fit
    qtbot.keyClick(screen.view, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    qtbot.mouseClick(screen.view, LEFT, pos=at(screen, *on_ruler(60)[0]))

    assert "skipped" in doubted
    assert screen.panel.scale.fit.startswith("4 marks set, 60 mm")
    assert "skipped" not in screen.panel.scale.fit


def test_marks_drawn_together_on_one_spot_give_no_scale(qtbot, screen, told):
    set_marks(qtbot, screen, 0, 20, 40, 60)
    here = at(screen, *on_ruler(0)[0])
    for spot in on_ruler(20, 40, 60):
        qtbot.mousePress(screen.view, LEFT, pos=at(screen, *spot))
        qtbot.mouseMove(screen.view, here)
        qtbot.mouseRelease(screen.view, LEFT, pos=here)

    qtbot.mouseClick(screen.panel.scale.write, LEFT)

    assert "off by" not in screen.panel.scale.fit
    assert told[-1].happened == "These points give no scale."


def test_a_length_that_cannot_be_meant_is_told_under_its_field(qtbot, screen):
    qtbot.keyClick(screen.view, Qt.Key.Key_S)
    for x, y in ((600, 800), (1600, 800)):
        qtbot.mouseClick(screen.view, LEFT, pos=at(screen, x, y))

    qtbot.keyClicks(screen.panel.scale.across.line, "1 5/0 in")
    qtbot.keyClick(screen.panel.scale.across.line, Qt.Key.Key_Return)

    assert screen.panel.scale.across.trouble


def test_a_circle_is_offered_as_the_size_of_a_defect_before_all_else(screen):
    lengths_first = screen.panel.measure.use.held
    screen.panel.measure.shape.hold("circle")
    screen.panel.measure.shape.chosen.emit("circle")

    assert lengths_first == "length|sole_length"
    assert screen.panel.measure.use.held.startswith("defect|")


@pytest.mark.parametrize(
    ("value", "doubt", "told"),
    [(171.2, 7.5, "6 3/4 in"), (93.0, 0.15, "3 21/32 in"), (6.62, 0.43, "1/4 in")],
)
def test_inches_are_told_in_fractions_no_finer_than_their_doubt(value, doubt, told):
    measured = MeasuredValue(value=value, by_placing=doubt, by_scale=0.0, by_height=0.0)

    assert format_measured_inches(measured) == told


def test_a_figure_has_no_more_digits_than_its_doubt_allows():
    assert decimal_of(41.2648, 0.02) == Decimal("41.26")
    assert decimal_of(41.2648, 0.4) == Decimal("41.3")
    assert decimal_of(41.2648, 4.0) == Decimal(41)

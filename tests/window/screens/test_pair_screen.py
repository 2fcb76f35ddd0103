"""Before and after: chosen, laid on each other, nudged, carried over, told to the buyer."""

from __future__ import annotations

from decimal import Decimal

import pytest
from PySide6.QtCore import Qt

from planebench.catalog.pair_alignment import PairAlignment, alignment_from_json
from planebench.catalog.photographs import PinPosition
from planebench.catalog.readings import NewReading
from planebench.catalog.reference import sample_source
from planebench.photo.align import AlignmentQuality, align
from planebench.photo.decode import open_upright
from planebench.trade.shares import Share
from planebench.trade.terms import Basis, Stage
from planebench.window import routes
from planebench.window.pieces.photo_comparison import ComparisonMode
from planebench.window.screens.pair.pair_screen import PairScreen

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def tool_id(sample):
    return sample.tools.by_stock_number("LOT7-003")


@pytest.fixture
def pair(sample, tool_id):
    return sample.tools.one(tool_id).pairs[0]


@pytest.fixture(scope="session")
def fit():
    """Lay the pair together once for all tests that are about something else."""
    folder = sample_source() / "photographs"
    names = ("LOT7-003_top_as_found.jpg", "LOT7-003_top_finished.jpg")
    found = align(*(open_upright(folder / name) for name in names))
    return PairAlignment(
        warp=found.warp,
        inliers=found.inliers,
        feature_count=found.feature_count,
        median_error_px=found.median_error_px,
        quality=found.quality,
    )


@pytest.fixture
def pair_alignment(sample, pair, fit):
    sample.pairs.set_alignment(pair.id, fit.to_json())
    return pair


@pytest.fixture
def screen(given_sample, tool_id, pair_alignment, show):
    return show(PairScreen(given_sample, tool_id, pair_alignment.id))


@pytest.fixture
def look(sample, tool_id, settled):
    """Wait for what is under way and give the tool as the catalog has it."""

    def looked():
        settled()
        return sample.tools.one(tool_id)

    return looked


def test_looking_at_a_pair_aligns_it_and_writes_no_history(given_sample, pair, look, show):
    history = given_sample.catalog.history
    before = len(history.lines())
    screen = show(PairScreen(given_sample, look().id, pair.id))
    look()

    assert screen.title.text == "Top, as found and finished"
    assert screen.title.remark == "pair 1 of 1"
    assert screen.alignment.quality is AlignmentQuality.GOOD
    assert screen.panel.alignment.summary.startswith("Alignment good, typical error ")
    assert len(history.lines()) == before


def test_a_pair_is_aligned_once_and_then_known_at_once(given_sample, pair, look, show, monkeypatch):
    first = show(PairScreen(given_sample, look().id, pair.id))
    look()
    monkeypatch.setattr("planebench.catalog.pair_alignment.align_prepared", None)

    again = show(PairScreen(given_sample, look().id, pair.id))
    look()

    assert again.alignment.to_json() == first.alignment.to_json()


def test_a_nudge_moves_the_finished_one_and_is_kept(qtbot, screen, look):
    look()
    qtbot.keyClick(screen.view, Qt.Key.Key_N)
    for _ in range(3):
        qtbot.keyClick(screen.view, Qt.Key.Key_Right)
    qtbot.keyClick(screen.view, Qt.Key.Key_Return)

    nudge = alignment_from_json(look().pairs[0].alignment).nudge
    assert nudge[0] == pytest.approx(-3 / screen.view.viewport.zoom, rel=0.01)
    assert nudge[1] == 0


def test_arrows_move_the_divider_while_one_does_not_nudge(qtbot, screen):
    before = screen.view.divider

    qtbot.keyClick(screen.view, Qt.Key.Key_Right)

    assert screen.view.divider == pytest.approx(before + 0.01)


def test_pins_are_carried_through_the_alignment(qtbot, screen, look, pair, sample):
    added = sample.defects.add(look().id, kind="stain")
    spot = sample.photographs.pins(pair.before)[0]
    from_before = sample.pins.add_defect(pair.before, added.id, _spot(spot))
    screen._context.edits.happened.emit(from_before.changes)
    look()

    qtbot.mouseClick(screen.panel.pins, LEFT)

    carried = [pin for pin in look().pins if pin.photograph == pair.after]
    pin = next(pin for pin in carried if pin.defect == added.id)
    assert (pin.x, pin.y) == pytest.approx((spot.x, spot.y), abs=0.1)


def _spot(pin):
    return PinPosition(x=pin.x, y=pin.y, balloon_x=pin.balloon_x, balloon_y=pin.balloon_y)


def test_outlines_are_carried_once(qtbot, screen, look, pair, sample):
    surface = look().surfaces[0].id
    ring = [[400, 500], [900, 500], [900, 900], [400, 900]]
    polygons = {"polygons": [{"outer": ring, "holes": []}]}
    added = sample.outlines.add(pair.before, surface, finish="japanning", polygons=polygons)
    screen._context.edits.happened.emit(added.changes)
    look()

    for _ in range(2):
        qtbot.mouseClick(screen.panel.outlines, LEFT)
        look()

    (carried,) = sample.photographs.outlines(pair.after)
    assert carried.surface == surface
    assert len(carried.polygons["polygons"][0]["outer"]) == 4


def test_what_changed_is_found_when_it_is_asked_for(qtbot, screen, look):
    look()

    qtbot.keyClick(screen.view, Qt.Key.Key_C)
    look()

    assert screen.view.mode is ComparisonMode.CHANGES
    assert len(screen.view._changed) == 1


def share(value, low, high):
    return Share(value=value, low=low, high=high, basis=Basis.MEASURED)


def test_a_gain_is_asked_about_and_written_down_as_new_finish(qtbot, screen, look, sample):
    surface = look().surfaces[1].id
    for stage, kept in ((Stage.AS_FOUND, ("0.5", "0.4", "0.6")), (Stage.FINISHED, ("0.9",) * 3)):
        new = NewReading(tool=look().id, surface=surface, stage=stage, share=_exact(kept))
        screen._context.edits.happened.emit(sample.readings.add(new).changes)
    look()

    act = next(b for b in screen.panel.changed.findChildren(type(screen.panel.pins)))
    qtbot.mouseClick(act, LEFT)
    reading = look().reading(surface, Stage.FINISHED)

    assert float(reading.new_finish.value) == pytest.approx(0.4)
    assert float(reading.new_finish.low) == pytest.approx(0.3)
    assert float(reading.new_finish.high) == pytest.approx(0.5)


def _exact(kept):
    return share(*(Decimal(value) for value in kept))


def test_the_pair_is_left_off_the_sheet_and_put_there_again(qtbot, screen, look):
    was = look().pairs[0].on_sheet
    qtbot.mouseClick(screen.panel.on_sheet, LEFT)
    once = look().pairs[0].on_sheet
    qtbot.mouseClick(screen.panel.on_sheet, LEFT)

    assert once is not was
    assert look().pairs[0].on_sheet is was


def test_without_a_pair_two_photographs_are_chosen_and_linked(
    qtbot, given_sample, sample, show, settled
):
    tool = sample.tools.by_stock_number("LOT7-009")
    screen = show(PairScreen(given_sample, tool, None))
    choosing = screen.choosing
    chosen = [key for key, place in choosing.before.items() if place.isChecked()]

    qtbot.mouseClick(choosing.link, LEFT)
    settled()

    (pair,) = sample.tools.one(tool).pairs
    assert pair.before == chosen[0]
    assert screen.title.remark == "pair 1 of 1"


def test_a_tool_with_no_photograph_after_says_what_to_do(qtbot, given_sample, sample, show):
    tool = sample.tools.by_stock_number("LOT7-010")
    screen = show(PairScreen(given_sample, tool, None))
    act = next(b for b in screen.choosing.findChildren(type(screen.panel.pins)) if b.isVisible())

    with qtbot.waitSignal(screen.go) as heard:
        qtbot.mouseClick(act, LEFT)

    assert heard.args == [routes.ImportRoute(tool=tool)]


def test_two_different_planes_are_never_laid_on_each_other(given_sample, sample, show, settled):
    first = sample.tools.one(sample.tools.by_stock_number("LOT7-009"))
    other = sample.tools.one(sample.tools.by_stock_number("LOT7-010")).photographs[1]
    sample.photographs.file_under((other.id,), first.id, by="hand")
    added = sample.pairs.add(first.photographs[0].id, other.id)
    screen = show(PairScreen(given_sample, first.id, added.id))
    settled()

    assert screen.alignment.quality is AlignmentQuality.NONE
    assert screen.view.mode is ComparisonMode.SIDE_BY_SIDE
    assert screen.panel.alignment.summary == "The two photographs could not be aligned"
    assert not screen.panel.pins.isEnabled() or screen.panel.pins.toolTip()

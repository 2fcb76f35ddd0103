"""An outline knows its surface: which one a view begins with, and how that is changed."""

import pytest
from PySide6.QtCore import QPointF, Qt

from planebench.trade.terms import Stage
from planebench.window.screens.photograph.photograph_screen import PhotographScreen

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def tool(sample):
    return sample.tools.one(sample.tools.by_stock_number("LOT7-010"))


@pytest.fixture
def photograph(tool):
    return next(one for one in tool.photographs if one.view == "top")


@pytest.fixture
def outline(sample, photograph):
    return sample.photographs.outlines(photograph.id)[0]


@pytest.fixture
def screen(given_sample, photograph, outline, show, settled):
    made = show(PhotographScreen(given_sample, photograph.id))
    made.outlines.choose(outline.id)
    settled()
    return made


def test_a_side_view_begins_with_the_cheek(given_sample, sample, photograph, show):
    sample.photographs.change((photograph.id,), view="left_side")

    screen = show(PhotographScreen(given_sample, photograph.id))

    assert screen.panel.draw.surface.currentText().startswith("Rust, left cheek")


def test_a_photograph_opened_to_measure_begins_with_the_outline_tool(
    given_sample, photograph, show, settled
):
    screen = PhotographScreen(given_sample, photograph.id)
    screen.measure()
    show(screen)

    assert screen.tools.code == "outline"


def test_the_surface_of_a_drawn_outline_is_changed_and_its_reading_goes(
    screen, sample, tool, outline, settled
):
    lever_cap = next(one for one in tool.surfaces if one.code == "lever_cap")
    key = f"{lever_cap.id}|{lever_cap.finish}"
    assert tool.reading(outline.surface, Stage.AS_FOUND) is not None

    screen.panel.outlines.surface_chosen.emit(key)
    settled()

    (now,) = (
        one for one in sample.photographs.outlines(outline.photograph) if one.id == outline.id
    )
    assert (now.surface, now.finish) == (lever_cap.id, lever_cap.finish)
    was = sample.tools.one(tool.id).reading(outline.surface, Stage.AS_FOUND)
    assert was is None or outline.id not in {area.outline for area in was.areas}
    assert screen.outlines.lines()[0].words.startswith("Lever cap")
    sample.history.undo()
    assert sample.photographs.outlines(outline.photograph)[0].surface == outline.surface


def test_only_what_is_seen_can_be_removed_by_the_buttons_of_the_title(screen):
    assert [button.text() for button in screen.title_buttons] == ["Previous", "Next"]


def test_the_last_stroke_is_removed_beside_the_strokes(qtbot, screen, settled, sample, outline):
    strokes = screen.panel.reading.strokes
    assert strokes.remove_last.isHidden() is not bool(screen.outlines.strokes)
    qtbot.keyClick(screen.view, Qt.Key.Key_K)
    corner = QPointF(*outline.polygons["polygons"][0]["outer"][0])
    qtbot.mouseClick(screen.view, LEFT, pos=screen.view.viewport.to_screen(corner).toPoint())
    settled()
    count = len(screen.outlines.strokes)
    assert count > 0

    qtbot.mouseClick(strokes.remove_last, LEFT)
    settled()

    assert len(screen.outlines.strokes) == count - 1

"""Strokes belong to the outline they lie in."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, Qt

from planebench.photo.outline import PixelOutline, Polygon
from planebench.window.screens.photograph.photograph_screen import PhotographScreen
from planebench.window.screens.photograph.stroke_tool import OutlineStroke, stroke_overlaps
from tests.window.screens.unmeasured import forget_readings

LEFT = Qt.MouseButton.LeftButton
BED = [[500, 560], [1180, 560], [1180, 860], [500, 860]]
TOE = [[1640, 420], [2060, 440], [2060, 640], [1640, 600]]


def square(*, hole=()):
    ring = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    return PixelOutline(polygons=(Polygon(outer=ring, holes=hole),))


HOLE = ((30.0, 30.0), (70.0, 30.0), (70.0, 70.0), (30.0, 70.0))


@pytest.mark.parametrize(
    ("at", "reaches"),
    [((20, 20), True), ((104, 50), True), ((110, 50), False), ((50, 50), False), ((33, 50), True)],
)
def test_a_stroke_reaches_into_what_is_held_and_not_into_holes_alone(at, reaches):
    stroke = OutlineStroke(kind="lost", points=(at,), radius=5)

    assert stroke_overlaps(stroke, square(hole=(HOLE,))) is reaches


@pytest.fixture
def screen(given_sample, sample, show, settled):
    """Show a photograph with two outlines, the first of them chosen and judged."""
    tool = sample.tools.one(sample.tools.by_stock_number("LOT7-009"))
    forget_readings(sample, tool.id)
    photograph = tool.photographs[0].id
    for ring in (BED, TOE):
        polygons = {"polygons": [{"outer": ring, "holes": []}]}
        sample.outlines.add(photograph, tool.surfaces[0].id, finish="japanning", polygons=polygons)
    screen = show(PhotographScreen(given_sample, photograph))
    settled()
    screen.outlines.choose(sample.photographs.outlines(photograph)[0].id)
    settled()
    return screen


def dot(qtbot, screen, x, y):
    qtbot.keyClick(screen.view, Qt.Key.Key_L)
    qtbot.mouseClick(screen.view, LEFT, pos=screen.view.viewport.to_screen(QPointF(x, y)).toPoint())


def test_a_stroke_in_another_outline_chooses_and_corrects_that(qtbot, screen, sample, settled):
    dot(qtbot, screen, 1850, 520)
    settled()

    first, second = sample.photographs.outlines(screen.photograph)
    assert screen.outlines.chosen == second.id
    assert not first.strokes
    assert len(second.strokes["lost"]) == 1


def test_a_stroke_beside_all_outlines_is_not_set(qtbot, screen, sample, settled, told):
    dot(qtbot, screen, 1100, 1200)
    settled()

    assert "outside every outline" in told[-1].happened
    assert not any(one.strokes for one in sample.photographs.outlines(screen.photograph))

"""The photograph by keyboard: a crosshair moved by the arrows draws, strokes and measures."""

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt
from pytestqt.qtbot import QtBot

from planebench.window.screens.photograph.photograph_screen import PhotographScreen

LEFT = Qt.MouseButton.LeftButton
NONE, SHIFT = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ShiftModifier
RING = ((300, 300), (900, 300), (900, 700), (300, 700))


@pytest.fixture
def photograph(sample):
    tool = sample.tools.one(sample.tools.by_stock_number("LOT7-003"))
    return next(one for one in tool.photographs if one.view == "top")


@pytest.fixture
def screen(given_sample, sample, photograph, show):
    for outline in sample.photographs.outlines(photograph.id):
        sample.outlines.bin(outline.id)
    return show(PhotographScreen(given_sample, photograph.id))


def go_to(qtbot: QtBot, screen, x, y):
    """Move the crosshair to a spot of the photograph, in long steps and then in short ones."""
    view = screen.view
    wanted = view.viewport.to_screen(QPointF(x, y))
    here = view._crosshair.at or QPointF(view.width() / 2, view.height() / 2)
    for way, keys in (
        (wanted.x() - here.x(), (Qt.Key.Key_Left, Qt.Key.Key_Right)),
        (wanted.y() - here.y(), (Qt.Key.Key_Up, Qt.Key.Key_Down)),
    ):
        key = keys[way > 0]
        for _ in range(int(abs(way) // 40)):
            qtbot.keyClick(view, key, SHIFT)
        for _ in range(round(abs(way) % 40 / 4)):
            qtbot.keyClick(view, key)


def enter(qtbot, screen):
    qtbot.keyClick(screen.view, Qt.Key.Key_Return)


@pytest.fixture
def outlined(qtbot, screen, settled):
    """Outline a rectangle by arrows and Enter alone."""
    qtbot.keyClick(screen.view, Qt.Key.Key_O)
    qtbot.keyClick(screen.view, Qt.Key.Key_G)
    qtbot.keyClick(screen.view, Qt.Key.Key_G)
    for spot in RING:
        go_to(qtbot, screen, *spot)
        enter(qtbot, screen)
    enter(qtbot, screen)
    settled()
    return screen


def test_an_outline_is_drawn_by_arrows_and_enter(outlined, sample, photograph):
    (outline,) = sample.photographs.outlines(photograph.id)

    ring = np.array(outline.polygons["polygons"][0]["outer"])
    step = 4 / outlined.view.viewport.zoom
    assert ring == pytest.approx(np.array(RING), abs=step)


def test_a_stroke_is_drawn_by_enter_arrows_enter(qtbot, outlined, sample, photograph, settled):
    qtbot.keyClick(outlined.view, Qt.Key.Key_K)
    go_to(qtbot, outlined, 450, 500)
    enter(qtbot, outlined)
    go_to(qtbot, outlined, 700, 500)
    enter(qtbot, outlined)
    settled()

    (outline,) = sample.photographs.outlines(photograph.id)
    (stroke,) = outline.strokes["kept"]
    step = 4 / outlined.view.viewport.zoom
    assert stroke["points"][0] == pytest.approx((450, 500), abs=step)
    assert stroke["points"][-1] == pytest.approx((700, 500), abs=2 * step)


def test_a_length_is_measured_by_arrows_and_enter(qtbot, screen):
    qtbot.keyClick(screen.view, Qt.Key.Key_M)
    go_to(qtbot, screen, 400, 400)
    enter(qtbot, screen)
    go_to(qtbot, screen, 800, 400)
    enter(qtbot, screen)

    step = 4 / screen.view.viewport.zoom
    assert np.ptp(screen.tools.ruler.points[:, 0]) == pytest.approx(400, abs=2 * step)


def test_the_mouse_puts_the_crosshair_away(qtbot, screen):
    qtbot.keyClick(screen.view, Qt.Key.Key_M)
    qtbot.keyClick(screen.view, Qt.Key.Key_Right)
    assert screen.view._crosshair.at is not None

    qtbot.mouseClick(screen.view, LEFT, pos=screen.view.rect().center())

    assert screen.view._crosshair.at is None


def test_a_click_near_a_point_begins_a_hole_there(qtbot, outlined, sample, photograph, settled):
    qtbot.keyClick(outlined.view, Qt.Key.Key_H)
    outlined.tools.set_line("straight")
    inset = 3 / outlined.view.viewport.zoom
    hole = ((300 + inset, 300 + inset), (500, 320), (500, 500), (320, 500))
    for spot in hole:
        at = outlined.view.viewport.to_screen(QPointF(*spot)).toPoint()
        qtbot.mouseClick(outlined.view, LEFT, pos=at)
    qtbot.keyClick(outlined.view, Qt.Key.Key_Return)
    settled()

    (outline,) = sample.photographs.outlines(photograph.id)
    (polygon,) = outline.polygons["polygons"]
    assert len(polygon["outer"]) == 4
    assert len(polygon["holes"][0]) == 4

"""Views on photographs: zoom, pins, pairs."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, QSizeF, Qt
from PySide6.QtGui import QImage, QNativeGestureEvent, QPainter, QPointingDevice, QTransform
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from planebench.window.pieces.hatching import Hatch
from planebench.window.pieces.photo_comparison import (
    ComparedPhotographs,
    ComparisonMode,
    PhotoComparison,
)
from planebench.window.pieces.photo_layers import MaskLayer, OutlineLayer
from planebench.window.pieces.photo_slot import PhotoSlot
from planebench.window.pieces.photo_view import PhotoView, ViewPin
from planebench.window.pieces.picture import Picture, lift_shadows
from planebench.window.pieces.viewport import Viewport


@pytest.fixture
def view(qtbot: QtBot, halves: QImage) -> PhotoView:
    made = PhotoView(movable_pins=True)
    qtbot.addWidget(made)
    made.resize(400, 300)
    made.show()
    made.show_picture(Picture.of_image(halves))
    return made


def test_what_lies_under_the_pointer_stays_there_when_zooming() -> None:
    viewport = Viewport()
    viewport.set_room(QSizeF(800, 600))
    viewport.set_whole(QSizeF(4000, 3000))
    at = QPointF(300, 200)
    held = viewport.to_photo(at)

    viewport.zoom_by(3, at)

    assert viewport.to_photo(at).x() == pytest.approx(held.x())
    assert viewport.to_photo(at).y() == pytest.approx(held.y())
    assert viewport.zoom == pytest.approx(0.2 * 1.25**3)


def test_the_whole_is_kept_whole_when_the_view_changes_its_size() -> None:
    viewport = Viewport()
    viewport.set_whole(QSizeF(4000, 3000))

    for room in (QSizeF(800, 600), QSizeF(200, 600)):
        viewport.set_room(room)
        assert viewport.zoom == pytest.approx(min(room.width() / 4000, room.height() / 3000))


def test_a_photograph_cannot_be_pushed_out_of_sight() -> None:
    viewport = Viewport()
    viewport.set_room(QSizeF(800, 600))
    viewport.set_whole(QSizeF(4000, 3000))
    viewport.zoom_to(1)

    viewport.move_by(QPointF(99999, -99999))

    assert viewport.to_screen(QPointF(0, 0)).x() == 0
    assert viewport.to_screen(QPointF(0, 3000)).y() == 600


def test_halves_of_a_picture_keep_its_place_and_color(view: PhotoView) -> None:
    shown = view.grab().toImage()

    assert shown.pixelColor(100, 150).red() == 255
    assert shown.pixelColor(300, 150).blue() == 255


def test_keys_go_closer_and_back_to_the_whole(qtbot: QtBot, view: PhotoView) -> None:
    whole = view.viewport.zoom

    qtbot.keyClick(view, Qt.Key.Key_Plus)
    closer = view.viewport.zoom
    qtbot.keyClick(view, Qt.Key.Key_A)
    one = view.viewport.zoom
    qtbot.keyClick(view, Qt.Key.Key_F)

    assert closer > whole
    assert one == pytest.approx(1 / view.devicePixelRatioF())
    assert view.viewport.zoom == whole


def test_two_fingers_drawn_apart_bring_the_photograph_closer(qtbot: QtBot, view: PhotoView) -> None:
    screen = QTest.createTouchDevice()
    whole, left, right = view.viewport.zoom, QPoint(190, 150), QPoint(210, 150)
    QTest.touchEvent(view, screen).press(0, left).press(1, right)
    for apart in range(10, 81, 10):
        away = QPoint(apart, 0)
        QTest.touchEvent(view, screen).move(0, left - away).move(1, right + away)
    QTest.touchEvent(view, screen).release(0, left - away).release(1, right + away)

    assert view.viewport.zoom > 1.5 * whole


def test_a_pinch_on_a_touch_pad_brings_it_closer_at_the_pointer(view: PhotoView) -> None:
    at = QPointF(100, 100)
    held, whole = view.photo_point(at), view.viewport.zoom
    pad = QPointingDevice.primaryPointingDevice()
    pinch = Qt.NativeGestureType.ZoomNativeGesture
    around = view.mapToGlobal(at)
    QApplication.sendEvent(view, QNativeGestureEvent(pinch, pad, 2, at, at, around, 0.5, QPointF()))

    assert view.viewport.zoom == pytest.approx(1.5 * whole)
    assert view.photo_point(at).x() == pytest.approx(held.x())


def test_a_pin_is_chosen_at_its_balloon_and_moved_by_its_spot(
    qtbot: QtBot, view: PhotoView
) -> None:
    view.set_pins([ViewPin(number=3, spot=(100, 100), balloon=(200, 40), text="chip")])

    with qtbot.waitSignal(view.pin_chosen) as chosen:
        qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=QPoint(200, 40))
    with qtbot.waitSignal(view.pin_moved) as moved:
        qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=QPoint(100, 100))
        qtbot.mouseMove(view, QPoint(150, 120))
        qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=QPoint(150, 120))

    assert chosen.args == [3]
    assert moved.args[0].spot == pytest.approx((150, 120))
    assert moved.args[0].balloon == (200, 40)


def test_arrows_nudge_the_spot_of_the_chosen_pin(qtbot: QtBot, view: PhotoView) -> None:
    view.set_pins([ViewPin(number=1, spot=(100, 100), balloon=(200, 40))])
    view.highlight_pin(1)

    with qtbot.waitSignal(view.pin_moved):
        qtbot.keyClick(view, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)

    assert view.pins[0].spot == pytest.approx((100 + 10 / view.viewport.zoom, 100))


def test_with_a_means_in_hand_the_pointer_is_told_in_pixels_of_the_photograph(
    qtbot: QtBot, view: PhotoView
) -> None:
    view.left_drag_pans = False

    with qtbot.waitSignal(view.pressed) as told:
        qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=QPoint(40, 30))

    assert told.args[0] == QPointF(40, 30)


def test_lifting_shadows_brightens_dark_tones_only_and_keeps_black_and_white(
    qtbot: QtBot,
) -> None:
    image = QImage(3, 1, QImage.Format.Format_RGB32)
    for x, tone in enumerate((0xFF000000, 0xFF202020, 0xFFFFFFFF)):
        image.setPixel(x, 0, tone)

    lift_shadows(image)

    assert qtbot is not None
    assert [image.pixelColor(x, 0).red() for x in (0, 2)] == [0, 255]
    assert image.pixelColor(1, 0).red() > 0x40


def test_the_ground_beside_the_photograph_is_not_lifted(view: PhotoView) -> None:
    view.resize(400, 500)
    before = view.grab().toImage()

    view.set_brightened(True)

    after = view.grab().toImage()
    assert after.pixelColor(200, 20) == before.pixelColor(200, 20)
    assert after.pixelColor(100, 250).red() == 255


def test_a_mask_is_hatched_inside_and_leaves_the_rest(view: PhotoView) -> None:
    mask = np.zeros((30, 40), np.uint8)
    mask[:15] = 255
    image = QImage(mask.tobytes(), 40, 30, 40, QImage.Format.Format_Grayscale8)
    before = view.grab().toImage()

    view.add_layer(MaskLayer(image, Hatch.LOST, QSizeF(400, 300)))

    after = view.grab().toImage()
    assert after.pixelColor(100, 60) != before.pixelColor(100, 60)
    assert after.pixelColor(100, 250) == before.pixelColor(100, 250)


def test_an_outline_has_a_square_at_each_point(halves: QImage) -> None:
    viewport = Viewport()
    viewport.set_room(QSizeF(400, 300))
    viewport.set_whole(QSizeF(400, 300))
    painter = QPainter(halves)
    OutlineLayer(points=[(50, 50), (150, 50), (150, 150)]).paint(painter, viewport)
    painter.end()

    assert halves.pixelColor(50, 50).name().upper() == "#DDB56A"
    assert halves.pixelColor(75, 120).name().upper() == "#FF0000"


@pytest.fixture
def pair(qtbot: QtBot, halves: QImage) -> PhotoComparison:
    other = QImage(400, 300, QImage.Format.Format_RGB32)
    other.fill(0xFF00FF00)
    made = PhotoComparison()
    qtbot.addWidget(made)
    made.resize(400, 300)
    made.show()
    made.show_pair(
        ComparedPhotographs(
            before=Picture.of_image(halves),
            after=Picture.of_image(other),
            after_to_before=QTransform(),
        )
    )
    return made


def green(view: PhotoComparison, x: int) -> bool:
    color = view.grab().toImage().pixelColor(x, 120)
    return (color.red(), color.green(), color.blue()) == (0, 255, 0)


def test_left_of_the_divider_is_as_found_and_right_of_it_finished(
    qtbot: QtBot, pair: PhotoComparison
) -> None:
    with qtbot.waitSignal(pair.divider_moved):
        pair.move_divider(0.25)

    assert not green(pair, 80)
    assert green(pair, 120)


def test_arrows_move_the_divider_by_a_hundredth_and_finely_by_a_thousandth(
    qtbot: QtBot, pair: PhotoComparison
) -> None:
    qtbot.keyClick(pair, Qt.Key.Key_Right)
    qtbot.keyClick(pair, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)

    assert pair.divider == pytest.approx(0.511)


def test_with_the_changes_shown_space_switches_between_the_two(
    qtbot: QtBot, pair: PhotoComparison
) -> None:
    qtbot.keyClick(pair, Qt.Key.Key_C)
    first = green(pair, 100)
    qtbot.keyClick(pair, Qt.Key.Key_Space)

    assert pair.mode is ComparisonMode.CHANGES
    assert first is not green(pair, 100)


def test_side_by_side_both_are_whole_and_point_at_the_same_spot(
    qtbot: QtBot, pair: PhotoComparison
) -> None:
    qtbot.keyClick(pair, Qt.Key.Key_B)

    left, right = pair.photo_point(QPointF(50, 150)), pair.photo_point(QPointF(250, 150))
    assert left == right
    assert green(pair, 250)
    assert not green(pair, 50)


def test_a_photograph_laid_on_another_is_drawn_where_it_was_laid(
    pair: PhotoComparison, halves: QImage
) -> None:
    shifted = ComparedPhotographs(
        before=Picture.of_image(halves),
        after=Picture.of_image(halves),
        after_to_before=QTransform.fromTranslate(100, 0),
    )
    pair.show_pair(shifted)
    pair.move_divider(0.0)

    # The after picture turns from red to blue at 200; laid 100 further, it does so at 300.
    assert pair.grab().toImage().pixelColor(280, 60).red() == 255


def test_a_place_says_whether_it_is_photographed(qtbot: QtBot, halves: QImage) -> None:
    place = PhotoSlot("top, finished", "top")
    qtbot.addWidget(place)
    assert place.is_empty
    assert place.accessibleName() == "top, finished, not photographed yet"

    place.show_image(halves, "2 May 2026")

    assert not place.is_empty
    assert place.accessibleName() == "top, finished, 2 May 2026"
    assert place.grab().toImage().pixelColor(20, 24).red() == 255

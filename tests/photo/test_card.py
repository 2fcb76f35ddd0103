"""The scale card is read wherever it lies, with a warning when its reading is doubtful."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
import segno
from numpy.typing import NDArray

from planebench.photo.card import CardReading, find_card
from tests.photo.card_scene import View, drawn_card, length_errors, photograph

VIEW = View()


def shown(card: NDArray[np.float64], view: View = VIEW) -> NDArray[np.uint8]:
    return photograph((card, view.mm_to_px()), size=view.size)


def read(picture: NDArray[np.uint8], view: View = VIEW, expected: str | None = None) -> CardReading:
    reading = find_card(picture, focal_px=view.focal_px, expected_stock=expected)
    assert reading is not None
    return reading


def covered(card: NDArray[np.float64], *places: tuple[int, int, int, int]) -> NDArray[np.float64]:
    """Lay something dull over parts of a card, each left, top, right, bottom in mm."""
    hidden = card.copy()
    for left, top, right, bottom in places:
        hidden[top * 20 : bottom * 20, left * 20 : right * 20] = 0.3
    return hidden


TOP_LEFT, TOP_RIGHT = (2, 2, 22, 22), (68, 2, 88, 22)
BOTTOM_LEFT, BOTTOM_RIGHT = (2, 39, 22, 58), (68, 39, 88, 58)


def test_a_whole_card_is_read_without_a_warning() -> None:
    reading = read(shown(drawn_card()))

    assert reading.stock == "LOT7-003"
    assert reading.markers == 4
    assert reading.sure
    assert reading.warnings == ()
    assert reading.residual_mm < 0.05


@pytest.mark.parametrize(
    ("places", "left"),
    [
        ([TOP_LEFT], 3),
        ([BOTTOM_RIGHT], 3),
        ([TOP_LEFT, TOP_RIGHT], 2),
        ([TOP_LEFT, BOTTOM_RIGHT], 2),
        ([TOP_LEFT, TOP_RIGHT, BOTTOM_LEFT], 1),
    ],
)
def test_fewer_markers_still_give_a_scale_marked_less_sure(
    places: list[tuple[int, int, int, int]], left: int
) -> None:
    reading = read(shown(covered(drawn_card(), *places)))

    assert reading.markers == left
    assert not reading.sure
    assert "hidden" in reading.warnings[0]
    assert reading.stock == "LOT7-003"
    assert length_errors(reading.matrix_px_to_mm, VIEW.mm_to_px()).max() < 0.4


def test_two_markers_give_a_scale_though_the_code_is_torn_away() -> None:
    card = covered(drawn_card(), TOP_LEFT, BOTTOM_LEFT, (30, 16, 60, 44))
    reading = read(shown(card))

    assert reading.markers == 2
    assert reading.stock is None
    assert length_errors(reading.matrix_px_to_mm, VIEW.mm_to_px()).max() < 0.4


def test_a_torn_code_names_no_tool() -> None:
    reading = read(shown(covered(drawn_card(), (30, 16, 47, 44))))

    assert reading.stock is None
    assert reading.sure
    assert reading.warnings == ("The card’s QR code cannot be read. Choose the tool yourself.",)


def test_a_code_of_something_else_names_no_tool() -> None:
    reading = read(shown(drawn_card("https://example.org")))

    assert reading.stock is None
    assert reading.warnings == ("The QR code on the card says something else: https://example.org",)


def test_longer_stock_numbers_are_read_too() -> None:
    reading = read(shown(drawn_card("PB:WENDHOLM-2026-0417")))

    assert reading.stock == "WENDHOLM-2026-0417"
    assert reading.sure


def test_the_card_of_another_tool_is_reported() -> None:
    reading = read(shown(drawn_card()), expected="LOT7-004")

    assert reading.stock == "LOT7-003"
    assert reading.warnings == ("The card belongs to another tool: LOT7-003, not LOT7-004.",)


def two_cards() -> NDArray[np.uint8]:
    left = View(at_px=(300, 400), distance_mm=520)
    right = View(at_px=(900, 400), distance_mm=520)
    return photograph(
        (drawn_card("PB:LOT7-003"), left.mm_to_px()), (drawn_card("PB:LOT7-004"), right.mm_to_px())
    )


def test_two_cards_of_different_tools_name_none() -> None:
    reading = read(two_cards())

    assert reading.stock is None
    assert "2 cards are in the picture: LOT7-003 and LOT7-004." in {
        *reading.warnings,
        # The order is that of their size, which is alike here.
        *(w.replace("004 and LOT7-003", "003 and LOT7-004") for w in reading.warnings),
    }


def test_of_two_cards_the_expected_tools_is_read() -> None:
    reading = read(two_cards(), expected="LOT7-004")

    assert reading.stock == "LOT7-004"
    assert reading.corners_px()[:, 0].min() > 600


def test_a_mirrored_picture_is_reported_and_still_scaled() -> None:
    mirrored = np.ascontiguousarray(shown(drawn_card())[:, ::-1])
    reading = read(mirrored)
    turn = np.array([[-1, 0, 1199], [0, 1, 0], [0, 0, 1.0]])

    assert "The picture is mirrored: left and right are swapped." in reading.warnings
    assert not reading.sure
    assert length_errors(reading.matrix_px_to_mm, turn @ VIEW.mm_to_px()).max() < 0.1


def test_more_than_fifty_degrees_is_reported() -> None:
    view = View(tilt_deg=58, distance_mm=330)
    reading = read(shown(drawn_card(), view), view)

    assert any("tilted 58°" in warning for warning in reading.warnings)
    assert not reading.sure


def test_a_card_too_small_in_the_picture_is_reported() -> None:
    view = View(distance_mm=900)
    reading = read(shown(drawn_card(), view), view)

    assert any("too small" in warning for warning in reading.warnings)


def test_a_card_cut_by_the_pictures_edge_is_reported() -> None:
    view = View(at_px=(1120, 420))
    reading = read(shown(drawn_card(), view), view)

    assert reading.warnings[0].startswith("The card is cut off by the edge of the picture")


def drawn_from(picture: NDArray[np.uint8], at: object) -> NDArray[np.uint8]:
    """Draw each pixel from where `at` (H x W x 2) says."""
    places = np.asarray(at, dtype=np.float32)
    drawn = cv2.remap(picture, places[:, :, 0], places[:, :, 1], cv2.INTER_LINEAR)
    return np.asarray(drawn, dtype=np.uint8)


@pytest.mark.parametrize("bow_mm", [0.3, 1.0, 1.5])
def test_a_bent_card_is_reported(bow_mm: float) -> None:
    picture = shown(drawn_card())
    back = np.linalg.inv(VIEW.mm_to_px())
    rows, columns = np.mgrid[0:800, 0:1200].astype(np.float64)
    flat = np.asarray(cv2.perspectiveTransform(np.dstack((columns, rows)), back), dtype=np.float64)
    # The middle bows along the card's height.
    flat[:, :, 1] += bow_mm * (1 - np.clip((flat[:, :, 0] - 45) / 45, -1.1, 1.1) ** 2)
    reading = read(drawn_from(picture, cv2.perspectiveTransform(flat, VIEW.mm_to_px())))

    assert any("bent or creased" in warning for warning in reading.warnings)
    assert not reading.sure


def test_a_sheet_rolled_about_a_slanting_line_is_reported_by_its_own_optics() -> None:
    # A pinhole camera sees a card whose middle stands up by 2 mm from a cylinder's chord.
    lift, radius = 2.0, 45.0
    view = View(tilt_deg=35)
    flat = view.mm_to_px()
    middle = ((view.size[0] - 1) / 2, (view.size[1] - 1) / 2)
    camera = np.array([[view.focal_px, 0, middle[0]], [0, view.focal_px, middle[1]], [0, 0, 1.0]])
    pose = np.linalg.inv(camera) @ flat
    upright = np.cross(pose[:, 0], pose[:, 1])
    x, y = np.meshgrid(np.linspace(0, 90, 181), np.linspace(0, 60, 121))
    along = ((x - 45) + 0.5 * (y - 30)) / np.hypot(1, 0.5)
    up = lift * (1 - (along / radius) ** 2)
    ray = np.stack((x, y, np.ones_like(x)), axis=2) @ flat.T
    lifted = ray + up[:, :, None] * (camera @ upright)
    bent_at, flat_at = (each[:, :, :2] / each[:, :, 2:] for each in (lifted, ray))
    # To draw it, each place of the picture is looked up where it would be on a flat card.
    moved = cv2.resize((bent_at - flat_at).astype(np.float32), (900, 600))
    rows, columns = np.mgrid[0:800, 0:1200].astype(np.float64)
    on_card = cv2.perspectiveTransform(np.dstack((columns, rows)), np.linalg.inv(flat)) * 10
    at = on_card.astype(np.float32)
    shift = cv2.remap(moved, at[:, :, 0], at[:, :, 1], cv2.INTER_LINEAR, None, cv2.BORDER_REPLICATE)
    source = np.dstack((columns, rows)).astype(np.float32) - shift
    picture = shown(drawn_card(), view)
    reading = read(drawn_from(picture, source), view)

    assert any("bent or creased" in warning for warning in reading.warnings)


def test_a_card_out_of_focus_is_reported() -> None:
    reading = read(np.asarray(cv2.GaussianBlur(shown(drawn_card()), (0, 0), 3.2), dtype=np.uint8))

    assert any("out of focus" in warning for warning in reading.warnings)


def test_a_shadow_across_the_card_changes_neither_number_nor_scale() -> None:
    picture = shown(drawn_card()).astype(np.float64)
    edge = cv2.GaussianBlur((np.add.outer(np.arange(800), np.arange(1200)) > 1000) * 1.0, (0, 0), 4)
    reading = read((picture * (0.25 + 0.75 * edge)[:, :, None]).astype(np.uint8))

    assert reading.stock == "LOT7-003"
    assert reading.markers == 4
    assert length_errors(reading.matrix_px_to_mm, VIEW.mm_to_px()).max() < 0.1


def test_the_patches_give_white_balance_and_exposure() -> None:
    light = (0.9, 0.6, 0.3)
    reading = read(photograph((drawn_card(), VIEW.mm_to_px()), light=light))

    assert reading.white_balance == pytest.approx((0.6 / 0.9, 1.0, 0.6 / 0.3), rel=0.03)
    assert reading.exposure_stops == pytest.approx(np.log2(0.6), abs=0.06)


def test_hidden_patches_give_no_white_balance() -> None:
    reading = read(shown(covered(drawn_card(), (25, 45, 66, 56))))

    assert reading.white_balance is None
    assert reading.exposure_stops is None


def test_without_focal_length_the_tilt_is_estimated_and_reported_where_it_is_rough() -> None:
    level = View(tilt_deg=3)
    reading = find_card(shown(drawn_card(), level))

    assert reading is not None
    assert any("tilt is an estimate" in warning for warning in reading.warnings)


def other_markers() -> NDArray[np.uint8]:
    """Show a board of the same dictionary that is no scale card."""
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    board = np.full((800, 1200), 255, np.uint8)
    for number in range(12):
        row, column = divmod(number, 4)
        drawn = cv2.aruco.generateImageMarker(dictionary, number, 180)
        board[60 + 240 * row :, 80 + 280 * column :][:180, :180] = drawn
    return np.repeat(board[:, :, None], 3, axis=2)


def test_a_board_of_other_markers_is_no_card() -> None:
    assert find_card(other_markers()) is None


@pytest.mark.parametrize("kind", ["bench", "noise", "checks", "black", "tiny"])
def test_no_card_is_seen_where_there_is_none(kind: str) -> None:
    dice = np.random.default_rng(2)
    pictures = {
        "bench": photograph(),
        "noise": dice.integers(0, 255, (800, 1200, 3), dtype=np.uint8),
        "checks": np.kron(np.indices((20, 30)).sum(axis=0) % 2, np.ones((40, 40)))[:, :, None]
        .repeat(3, axis=2)
        .astype(np.uint8)
        * 255,
        "black": np.zeros((400, 600, 3), np.uint8),
        "tiny": np.zeros((2, 3, 3), np.uint8),
    }

    assert find_card(pictures[kind]) is None


def test_a_small_kind_of_code_is_not_taken_for_a_number() -> None:
    card = drawn_card()
    modules = np.array([list(row) for row in segno.make_micro("12345").matrix])
    white = np.kron(1 - modules, np.ones((480 // len(modules), 480 // len(modules)))) > 0
    card[360:840, 660:1140] = 0.88
    card[360 : 360 + len(white), 660 : 660 + len(white)] = np.where(white, 0.88, 0.03)

    assert read(shown(card)).stock is None


@pytest.mark.parametrize("distance", [170, 420, 900])
def test_a_card_is_read_near_and_far(distance: float) -> None:
    view = View(distance_mm=distance)
    reading = read(shown(drawn_card(), view), view)

    assert reading.stock == "LOT7-003"
    assert length_errors(reading.matrix_px_to_mm, view.mm_to_px()).max() < 0.1


def test_a_tilt_that_is_rough_is_reported() -> None:
    view = View(tilt_deg=10, distance_mm=1350)
    reading = read(shown(covered(drawn_card(), TOP_LEFT, BOTTOM_LEFT), view), view)

    assert reading.tilt_error_deg > 1
    assert any(warning.startswith("The tilt may be off by") for warning in reading.warnings)

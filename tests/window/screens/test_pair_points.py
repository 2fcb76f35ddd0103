"""A pair that cannot be aligned by features: matching points, clicked or set by keys."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt

from planebench.catalog.pair_alignment import alignment_from_json, pair_alignment
from planebench.photo.align import AlignmentQuality
from planebench.window.screens.pair.pair_screen import PairScreen

LEFT = Qt.MouseButton.LeftButton
# Shares of the frame (x, y) on both photographs: the second is moved, smaller and a little tilted.
BEFORE = np.array([(0.2, 0.2), (0.8, 0.25), (0.75, 0.8), (0.25, 0.75)])
AFTER = BEFORE * (0.8, 0.85) + (0.08, 0.05) + 0.05 * BEFORE[:, :1] * BEFORE[:, 1:]


@pytest.fixture
def pair(sample):
    """Two photographs of different planes, which no features match."""
    first = sample.tools.one(sample.tools.by_stock_number("LOT7-009"))
    other = sample.tools.one(sample.tools.by_stock_number("LOT7-010")).photographs[1]
    sample.photographs.file_under((other.id,), first.id, by="hand")
    added = sample.pairs.add(first.photographs[0].id, other.id)
    pair = next(one for one in sample.tools.one(first.id).pairs if one.id == added.id)
    # Computed and cached here, where no clock runs.
    assert pair_alignment(sample, pair, lambda *_: None).quality is AlignmentQuality.NONE
    return pair


@pytest.fixture
def screen(given_sample, sample, pair, show, settled):
    tool = sample.photographs.one(pair.before).tool
    made = show(PairScreen(given_sample, tool, pair.id))
    settled()
    return made


def size(sample, photograph):
    one = sample.photographs.one(photograph)
    return np.array([one.width, one.height], dtype=float)


def place(screen, sample, pair, share, *, after):
    """Return where a point of one photograph is seen in the view, side by side."""
    shown = QPointF(*(share * size(sample, pair.before)))
    half = screen.view.room().width() if after else 0
    return screen.view.viewport.to_screen(shown) + QPointF(half, 0)


def set_all(screen, sample, pair, press):
    for before, after in zip(BEFORE, AFTER, strict=True):
        press(place(screen, sample, pair, before, after=False))
        press(place(screen, sample, pair, after, after=True))


def stored(sample, pair):
    tool = sample.photographs.one(pair.before).tool
    (now,) = (one for one in sample.tools.one(tool).pairs if one.id == pair.id)
    return alignment_from_json(now.alignment)


def test_four_points_clicked_on_each_photograph_align_the_two(qtbot, screen, sample, pair, settled):
    assert screen.alignment.quality is AlignmentQuality.NONE
    qtbot.mouseClick(screen.panel.alignment.by_points, LEFT)
    set_all(screen, sample, pair, lambda at: qtbot.mouseClick(screen.view, LEFT, pos=at.toPoint()))
    qtbot.mouseClick(screen.panel.alignment.align, LEFT)
    settled()

    carried = stored(sample, pair).carry(BEFORE * size(sample, pair.before))
    pixel = 1.5 / screen.view.viewport.zoom
    assert carried == pytest.approx(AFTER * size(sample, pair.after), abs=3 * pixel)
    assert screen.panel.alignment.summary == "Aligned by hand on 4 points"
    assert screen.panel.pins.toolTip() != "The two photographs are not aligned"


def test_points_are_set_by_the_arrows_and_enter_as_well(qtbot, screen, sample, pair, settled):
    qtbot.mouseClick(screen.panel.alignment.by_points, LEFT)

    def press(at):
        here = screen.view._crosshair.at or QPointF(screen.view.rect().center())
        for key, way in (
            (Qt.Key.Key_Right, at.x() - here.x()),
            (Qt.Key.Key_Down, at.y() - here.y()),
        ):
            back = {Qt.Key.Key_Right: Qt.Key.Key_Left, Qt.Key.Key_Down: Qt.Key.Key_Up}[key]
            for _ in range(round(abs(way) / 4)):
                qtbot.keyClick(screen.view, key if way > 0 else back)
        qtbot.keyClick(screen.view, Qt.Key.Key_Return)

    set_all(screen, sample, pair, press)
    qtbot.keyClick(screen.view, Qt.Key.Key_Return)
    settled()

    carried = stored(sample, pair).carry(BEFORE * size(sample, pair.before))
    steps = 6 / screen.view.viewport.zoom
    assert carried == pytest.approx(AFTER * size(sample, pair.after), abs=3 * steps)


def test_esc_leaves_the_points_and_the_pair_as_it_was(qtbot, screen, sample, pair, settled):
    qtbot.mouseClick(screen.panel.alignment.by_points, LEFT)
    qtbot.mouseClick(
        screen.view, LEFT, pos=place(screen, sample, pair, BEFORE[0], after=False).toPoint()
    )
    qtbot.keyClick(screen.view, Qt.Key.Key_Escape)
    settled()

    assert screen.panel.alignment.summary == "The two photographs could not be aligned"
    assert stored(sample, pair) is None


def test_what_was_aligned_by_hand_is_undone_in_one_step(qtbot, screen, sample, pair, settled):
    qtbot.mouseClick(screen.panel.alignment.by_points, LEFT)
    set_all(screen, sample, pair, lambda at: qtbot.mouseClick(screen.view, LEFT, pos=at.toPoint()))
    qtbot.mouseClick(screen.panel.alignment.align, LEFT)
    settled()
    screen._context.edits.happened.emit(sample.history.undo())
    settled()

    assert stored(sample, pair) is None
    assert screen.alignment.quality is AlignmentQuality.NONE

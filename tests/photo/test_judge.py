"""The judge on drawn surfaces: what it must answer whatever it learned."""

from __future__ import annotations

import json
from pathlib import Path

import cv2
import numpy as np
import pytest

from planebench.errors import FileError, InputError
from planebench.photo.coverage import (
    Finish,
    Judge,
    JudgeStroke,
    Strokes,
    overlay,
    strokes_from_json,
)
from planebench.photo.coverage_fitness import bared
from planebench.photo.decode import open_upright
from planebench.photo.outline import PixelOutline, Polygon, outline_from_json

MODEL = Path(__file__).parents[2] / "resources" / "judge"
SURFACE = Path(__file__).parent / "judge_surface"
RING = ((80.0, 60.0), (520.0, 60.0), (520.0, 300.0), (80.0, 300.0))
BOX = PixelOutline(polygons=(Polygon(outer=RING),))
NOTHING = Strokes()


@pytest.fixture(scope="module")
def judge() -> Judge:
    return Judge(MODEL)


@pytest.fixture(scope="module")
def black_with_bare_patch() -> np.ndarray:
    """A black surface on wood; a third of it shows bright metal."""
    rng = np.random.default_rng(5)
    picture = np.full((360, 600, 3), (150, 120, 80), dtype=np.float64)
    picture[60:300, 80:520] = (22, 22, 24)
    ragged = cv2.resize(rng.normal(size=(12, 22)), (440, 240), interpolation=cv2.INTER_CUBIC)
    bare = ragged > np.quantile(ragged, 0.67)
    picture[60:300, 80:520][bare] = (172, 170, 166)
    picture += rng.normal(scale=4, size=picture.shape)
    return np.clip(cv2.GaussianBlur(picture, (3, 3), 0), 0, 255).astype(np.uint8)


def dot(x: float, y: float) -> tuple[JudgeStroke, ...]:
    return (JudgeStroke(points=((x, y),), radius=4.0),)


def test_a_worn_plane_is_read_near_the_truth_and_two_strokes_keep_it_there(judge):
    # Picture and truth: a rendered plane of the training set, 53.3 % kept in the picture.
    image = open_upright(SURFACE / "japanned.jpg")
    outline = outline_from_json(json.loads((SURFACE / "outline.json").read_text("utf-8")))
    judging = judge.open(image, outline, Finish.JAPANNING)
    plain = judging.read()
    taught = judging.read(Strokes(kept=dot(300, 150), lost=dot(120, 220)))

    assert plain.share == pytest.approx(0.533, abs=0.05)
    assert taught.share == pytest.approx(0.533, abs=0.05)
    assert plain.low <= taught.low <= 0.533 <= taught.high <= plain.high


def test_pixels_of_the_classes_sum_to_the_outline_and_agree_with_the_map(
    judge, black_with_bare_patch
):
    judging = judge.open(black_with_bare_patch, BOX, Finish.JAPANNING)
    reading = judging.read()
    counted = np.bincount(judging.map().ravel(), minlength=5)

    assert reading.kept_px + reading.lost_px + reading.cannot_tell_px == 440 * 240
    assert counted[1:].sum() == 440 * 240
    assert counted[2] == pytest.approx(reading.lost_px, abs=0.005 * 440 * 240)


def test_a_stroke_holds_where_it_was_set(judge, black_with_bare_patch):
    judging = judge.open(black_with_bare_patch, BOX, Finish.JAPANNING)
    judging.read(Strokes(kept=dot(200, 150), lost=dot(400, 250), cannot_tell=dot(300, 100)))
    judged = judging.map()

    assert (judged[150, 200], judged[250, 400], judged[100, 300]) == (1, 2, 3)


def test_a_reading_depends_on_the_strokes_alone_not_on_those_before(judge, black_with_bare_patch):
    judging = judge.open(black_with_bare_patch, BOX, Finish.JAPANNING)
    plain = judging.read()
    judging.read(Strokes(lost=dot(200, 150)))

    assert plain == judging.read()


def test_strokes_that_contradict_make_the_interval_wide_and_are_told(judge, black_with_bare_patch):
    judging = judge.open(black_with_bare_patch, BOX, Finish.JAPANNING)
    reading = judging.read(Strokes(kept=dot(200, 150), lost=dot(200, 150)))

    assert reading.high - reading.low > 0.3
    assert "undo one of them" in reading.advice


@pytest.mark.parametrize(("tone", "why"), [(0, "black"), (255, "white"), (128, "one even tone")])
def test_a_photograph_that_shows_nothing_is_not_measurable(judge, tone, why):
    blank = np.full((360, 600, 3), tone, dtype=np.uint8)

    judging = judge.open(blank, BOX, Finish.NICKEL)
    reading = judging.read(Strokes(kept=dot(200, 150)))

    assert reading.share is None
    assert reading.why_unmeasurable.startswith("Not measurable here, because")
    assert why in reading.why_unmeasurable
    assert set(np.unique(judging.map())) == {0, 3}


def test_paint_of_a_color_never_met_is_hardly_told_until_strokes_teach_it(judge):
    # Real castings painted red were read as wholly lost; colors of the paint: made up.
    rng = np.random.default_rng(6)
    picture = np.full((360, 600, 3), (150, 150, 150), dtype=np.float64)
    picture[60:300, 80:520] = (170, 30, 25)
    picture[150:200, 200:260] = (120, 118, 115)
    red = np.clip(picture + rng.normal(scale=4, size=picture.shape), 0, 255).astype(np.uint8)

    judging = judge.open(red, BOX, Finish.JAPANNING)
    plain = judging.read()
    taught = judging.read(Strokes(kept=dot(400, 250), lost=dot(230, 175)))

    assert plain.high - plain.low > 0.8
    assert "nothing the judge has learned" in plain.advice
    assert taught.low <= 1 - 50 * 60 / (240 * 440) <= taught.high


def test_rust_asked_of_yellow_paint_is_hardly_told(judge):
    # A real mixer in yellow paint was read as three quarters rusted; the colors here: made up.
    rng = np.random.default_rng(7)
    picture = np.full((360, 600, 3), (150, 150, 150), dtype=np.float64)
    picture[60:300, 80:520] = (205, 150, 25)
    yellow = np.clip(picture + rng.normal(scale=6, size=picture.shape), 0, 255).astype(np.uint8)

    reading = judge.open(yellow, BOX, Finish.RUST).read()

    assert reading.low < 0.05
    assert reading.high - reading.low > 0.8
    assert "show it both, clean and rusted" in reading.advice


def test_black_found_nowhere_is_no_sure_loss_but_nickel_gone_may_be():
    # Real doors painted white and gray were read as a black finish wholly lost.
    doubts = [bared(share, Finish.JAPANNING) for share in (0.6, 0.75, 0.9)]

    assert doubts == pytest.approx([0, 0.5, 1])
    assert bared(0.9, Finish.NICKEL) == 0


def test_a_photograph_out_of_focus_is_not_measurable(judge, black_with_bare_patch):
    blurred = cv2.GaussianBlur(black_with_bare_patch, (0, 0), 70)

    reading = judge.open(blurred, BOX, Finish.JAPANNING).read()

    assert reading.share is None
    assert "focus" in reading.why_unmeasurable


def test_a_second_light_of_another_size_is_refused(judge, black_with_bare_patch):
    with pytest.raises(InputError, match="another size"):
        judge.open(black_with_bare_patch, BOX, Finish.JAPANNING, black_with_bare_patch[:-1])


def test_glare_in_one_light_is_seen_past_in_the_other(judge, black_with_bare_patch):
    blown = black_with_bare_patch.copy()
    blown[60:300, 80:520] = 255

    both = judge.open(blown, BOX, Finish.JAPANNING, black_with_bare_patch).read()

    assert both == judge.open(black_with_bare_patch, BOX, Finish.JAPANNING).read()


def test_the_overlay_draws_only_round_and_inside_the_outline(judge, black_with_bare_patch):
    judging = judge.open(black_with_bare_patch, BOX, Finish.JAPANNING)
    judging.read()
    drawn = overlay(black_with_bare_patch, judging.map())
    changed = (drawn != black_with_bare_patch).any(axis=2)

    assert changed[60:300, 80:520].any()
    assert not changed[:50].any()


def test_a_judge_without_its_network_says_so(tmp_path):
    with pytest.raises(FileError, match=r"first\.onnx"):
        Judge(tmp_path)


@pytest.mark.parametrize(
    "data",
    [
        [],
        {"kept": 3},
        {"kept": [{"points": []}]},
        {"lost": [{"points": [[1]], "radius": 2}]},
        {"kept": [{"points": [[1, 2]], "radius": -1}]},
    ],
)
def test_what_are_no_strokes_is_refused(data):
    with pytest.raises(InputError, match="strokes"):
        strokes_from_json(data)

"""Strokes and whole answers: never against themselves, iron in three states, even surfaces."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import cv2
import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planebench.errors import InputError
from planebench.photo.coverage import (
    Finish,
    Judge,
    JudgeStroke,
    Judging,
    State,
    Strokes,
    strokes_from_json,
)
from planebench.photo.outline import PixelOutline, Polygon

MODEL = Path(__file__).parents[2] / "resources" / "judge"
RING = ((40.0, 30.0), (260.0, 30.0), (260.0, 150.0), (40.0, 150.0))
BOX = PixelOutline(polygons=(Polygon(outer=RING),))
TOLERANCE = 1e-4  # of a share: rounding of the networks' floats


@pytest.fixture(scope="module")
def judge() -> Judge:
    return Judge(MODEL)


@pytest.fixture(scope="module")
def mixed_iron() -> np.ndarray:
    """Iron on wood: gray, brown and orange in ragged patches."""
    rng = np.random.default_rng(8)
    picture = np.full((180, 300, 3), (150, 120, 80), dtype=np.float64)
    ragged = cv2.resize(rng.normal(size=(7, 12)), (220, 120), interpolation=cv2.INTER_CUBIC)
    cuts = np.quantile(ragged, (0.4, 0.7))
    colors = np.array([(150, 150, 148), (82, 66, 55), (140, 78, 38)])
    picture[30:150, 40:260] = colors[np.digitize(ragged, cuts)]
    picture += rng.normal(scale=5, size=picture.shape)
    return np.clip(cv2.GaussianBlur(picture, (3, 3), 0), 0, 255).astype(np.uint8)


@pytest.fixture(scope="module")
def opened(judge, mixed_iron) -> dict[Finish, Judging]:
    return {
        finish: judge.open(mixed_iron, BOX, finish)
        for finish in (Finish.RUST, Finish.JAPANNING, Finish.NICKEL)
    }


def dot(x: float, y: float, radius: float = 4.0) -> tuple[JudgeStroke, ...]:
    return (JudgeStroke(points=((x, y),), radius=radius),)


some_stroke = st.builds(
    lambda x, y, dx, dy, r: JudgeStroke(points=((x, y), (x + dx, y + dy)), radius=r),
    st.floats(45, 240), st.floats(35, 140), st.floats(0, 15), st.floats(0, 8), st.floats(1, 9),
)  # fmt: skip
few = st.lists(some_stroke, max_size=3).map(tuple)


def share_of(judging: Judging, strokes: Strokes, kind: str) -> float:
    """Return the share of what this kind of stroke says."""
    reading = judging.read(strokes)
    if reading.bright is None:
        return reading.share if kind == "kept" else 1 - reading.share
    return {"kept": reading.bright, "patina": reading.patina}.get(kind, reading).share


@settings(max_examples=12, deadline=None, suppress_health_check=list(HealthCheck))
@given(said=st.tuples(few, few, few), more=some_stroke, data=st.data())
def test_a_stroke_never_moves_the_reading_against_itself(opened, said, more, data):
    kept, lost, patina = said
    finish = data.draw(st.sampled_from(sorted(opened, key=lambda one: one.value)))
    kinds = ("kept", "lost", "patina") if finish.is_iron else ("kept", "lost")
    kind = data.draw(st.sampled_from(kinds))
    whole = data.draw(st.sampled_from((None, State.KEPT, State.LOST)))
    before = Strokes(kept=kept, lost=lost, patina=patina if finish.is_iron else (), whole=whole)
    after = replace(before, **{kind: (*getattr(before, kind), more)})

    earlier = share_of(opened[finish], before, kind)
    assert share_of(opened[finish], after, kind) >= earlier - TOLERANCE


def test_bare_iron_divides_into_bright_patina_and_rust(opened):
    judging = opened[Finish.RUST]
    reading = judging.read()
    counted = np.bincount(judging.map().ravel(), minlength=5)[1:]
    pixels = (reading.kept_px, reading.lost_px, reading.cannot_tell_px, reading.patina_px)

    assert reading.bright.share + reading.patina.share + reading.share == pytest.approx(1, abs=1e-3)
    assert sum(pixels) == counted.sum() == 220 * 120
    assert counted.tolist() == pytest.approx(list(pixels), abs=0.03 * 220 * 120)
    for span in (reading.bright, reading.patina):
        assert 0 <= span.low <= span.share <= span.high <= 1


def test_a_stroke_of_patina_is_patina_on_the_map(opened):
    judging = opened[Finish.RUST]
    judging.read(Strokes(patina=dot(100, 80)))

    assert judging.map()[80, 100] == 4


def test_patina_is_not_said_of_a_finish(opened):
    with pytest.raises(InputError, match="bare iron"):
        opened[Finish.NICKEL].read(Strokes(patina=dot(100, 80)))


@pytest.mark.parametrize(
    ("whole", "shares"),
    [(State.KEPT, (1, 0, 0)), (State.PATINA, (0, 1, 0)), (State.LOST, (0, 0, 1))],
)
def test_one_answer_settles_a_whole_outline(opened, whole, shares):
    reading = opened[Finish.RUST].read(Strokes(whole=whole))

    found = (reading.bright.share, reading.patina.share, reading.share)
    assert found == pytest.approx(shares, abs=0.02)
    assert reading.high - reading.low < 0.1
    assert not reading.asks_whole


def test_a_stroke_marks_an_exception_from_a_whole_answer(opened):
    judging = opened[Finish.NICKEL]
    judging.read(Strokes(whole=State.KEPT, lost=dot(100, 80)))
    judged = judging.map()

    assert judged[80, 100] == 2
    assert (judged == 1).sum() > (judged == 2).sum()


def test_an_even_brown_surface_asks_and_an_answer_settles_it(judge):
    rng = np.random.default_rng(9)
    picture = np.full((180, 300, 3), (150, 120, 80), dtype=np.float64)
    picture[30:150, 40:260] = (96, 80, 70)
    grain = rng.normal(scale=7, size=(180, 300, 1)) + rng.normal(scale=2, size=picture.shape)
    even = np.clip(picture + grain, 0, 255).astype(np.uint8)
    judging = judge.open(even, BOX, Finish.RUST)
    plain, told = judging.read(), judging.read(Strokes(whole=State.PATINA))

    assert plain.patina.high - plain.patina.low > 0.4
    assert told.patina.low > 0.9


def test_a_class_is_not_learned_from_a_few_pixels(opened):
    judging = opened[Finish.NICKEL]
    slip, stroke = dot(100, 80, radius=2.0), dot(100, 80, radius=4.0)
    plain = judging.read().share

    assert judging.read(Strokes(lost=slip)).share == pytest.approx(plain, abs=0.005)
    assert judging.read(Strokes(lost=stroke)).share < plain


def test_strokes_of_iron_are_read_by_their_names():
    rows = [{"points": [[1, 2]], "radius": 3}]
    strokes = strokes_from_json({"bright": rows, "rust": rows, "patina": rows, "whole": "rust"})

    assert (len(strokes.kept), len(strokes.lost), len(strokes.patina)) == (1, 1, 1)
    assert strokes.whole is State.LOST

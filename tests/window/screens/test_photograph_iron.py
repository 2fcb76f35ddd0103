"""Bare iron on a photograph: bright, patina and rust, and one answer for an even surface."""

import numpy as np
import pytest
from PySide6.QtCore import Qt

from planebench.catalog.measuring import RUST
from planebench.photo.outline import outline_from_json
from planebench.window.pieces.hatching import Hatch
from planebench.window.pieces.tool_box import ToolBoxEntry
from planebench.window.screens.photograph.judging import (
    PATINA,
    JudgingRequest,
    JudgingResult,
    Verdict,
)
from planebench.window.screens.photograph.outline_reading import ReadingDetails
from planebench.window.screens.photograph.photograph_screen import PhotographScreen
from planebench.window.screens.photograph.reading_panel import ReadingPanel
from planebench.window.screens.photograph.stroke_tool import (
    OutlineStroke,
    strokes_from_json,
    strokes_to_json,
)

LEFT, SHIFT = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.ShiftModifier
DETAILS = ReadingDetails(rust=True, by_eye=None, by_eye_words="", area_text="")


@pytest.fixture
def tool(sample):
    return sample.tools.one(sample.tools.by_stock_number("LOT7-010"))


@pytest.fixture
def iron(sample, tool):
    """The outline of a photograph, said to be of bare iron."""
    photograph = next(one for one in tool.photographs if one.view == "top")
    outline = sample.photographs.outlines(photograph.id)[0]
    sample.outlines.set_surface(outline.id, outline.surface, finish=RUST)
    sample.outlines.change(outline.id, strokes={})
    return sample.photographs.outlines(photograph.id)[0]


@pytest.fixture
def screen(given_sample, iron, show, settled):
    made = show(PhotographScreen(given_sample, iron.photograph))
    made.outlines.choose(iron.id)
    settled()
    return made


def entries(screen):
    return {
        one.text(): not one.isHidden()
        for one in screen.workspace.tool_box.findChildren(ToolBoxEntry)
    }


def now(sample, iron):
    return next(one for one in sample.photographs.outlines(iron.photograph) if one.id == iron.id)


def test_the_strokes_of_iron_are_bright_patina_and_rust(screen):
    shown = entries(screen)

    assert shown["bright"]
    assert shown["patina"]
    assert shown["rust"]


def test_a_finish_has_no_stroke_of_patina(given_sample, iron, sample, show, settled):
    finish = "japanning"
    sample.outlines.set_surface(iron.id, iron.surface, finish=finish)
    screen = show(PhotographScreen(given_sample, iron.photograph))
    screen.outlines.choose(iron.id)
    settled()

    assert not entries(screen)["patina"]
    assert screen.panel.reading.whole.buttons["patina"].isHidden()


def test_one_key_says_what_all_of_the_outline_is_and_again_drops_it(
    qtbot, screen, sample, iron, settled
):
    qtbot.keyClick(screen.view, Qt.Key.Key_J, SHIFT)
    settled()
    said = now(sample, iron).strokes
    share = screen.outlines._judged.verdict.patina.share
    qtbot.keyClick(screen.view, Qt.Key.Key_J, SHIFT)
    settled()

    assert said == {"whole": "patina"}
    assert share > 0.9
    assert now(sample, iron).strokes == {}


def test_strokes_and_the_answer_for_the_whole_are_stored_and_parsed():
    stroke = OutlineStroke(kind="patina", points=((10.0, 20.0), (30.0, 40.0)), radius=5.0)

    written = strokes_to_json((stroke,), whole="lost")

    assert written["whole"] == "lost"
    assert strokes_from_json(written) == (stroke,)


def verdict(**changed):
    fields = {
        "share": 0.3, "low": 0.1, "high": 0.5, "kept_px": 20, "lost_px": 30, "patina_px": 50,
        "cannot_tell_px": 0, "causes": (), "why_not": "", "advice": "",
        "map": np.full((4, 4), PATINA, dtype=np.uint8), "window": (0, 0, 4, 4),
    }  # fmt: skip
    return Verdict(**{**fields, **changed})


def result(found):
    request = JudgingRequest(
        key="one",
        rgb=np.zeros((4, 4, 3), dtype=np.uint8),
        outline=outline_from_json({"polygons": []}),
        finish=RUST,
        strokes=(),
    )
    return JudgingResult(request=request, verdict=found, masks={}, shares=(found.share,))


def test_one_even_surface_asks_and_is_not_recorded_until_it_is_answered(qtbot):
    panel = ReadingPanel()
    qtbot.addWidget(panel)
    asking = verdict(
        low=0.0, high=1.0, asks_whole=True, advice="One even surface: rust, patina or clean?"
    )

    panel.show_judged(result(asking), DETAILS)

    note = panel.whole.question
    assert not note.isHidden()
    assert "One even surface: rust, patina or clean?" in note.accessibleName()
    words = [button.text() for button in panel.whole.buttons.values()]
    assert words == ["bright", "patina", "rust"]


def test_patina_counts_as_sound_in_what_is_recorded_of_rust():
    found = verdict()

    assert found.sound_px == 70
    assert found.all_px == 100
    assert set(np.unique(found.sound_map)) == {1}


def test_patina_has_a_hatch_of_its_own(screen):
    assert Hatch.PATINA.value == "patina"
    assert "patina" in screen.workspace._legend.accessibleDescription()

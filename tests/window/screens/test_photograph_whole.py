"""Beside a reading: the surface over all its photographs, and what none of them measured."""

from __future__ import annotations

import pytest

from planebench.window.pieces.text import Label
from planebench.window.screens.photograph.outline_reading import SurfaceSummary, describe_area
from planebench.window.screens.photograph.photograph_screen import PhotographScreen
from planebench.window.screens.photograph.reading_parts import SurfaceSummaryPanel
from tests.window.screens.unmeasured import forget_readings

BED = ((500, 560), (1180, 560), (1180, 860), (500, 860))
TOP_ONLY = (
    "Measured on the top view; not seen whole on any view: the inner faces of the cheeks and what "
    "is under the frog."
)


@pytest.fixture
def photographs(sample):
    """Return two photographs of one stage: its top, and another that is taken for its back."""
    tool = sample.tools.one(sample.tools.by_stock_number("LOT7-009"))
    forget_readings(sample, tool.id)
    first, second = (one.id for one in tool.photographs[:2])
    sample.photographs.change([second], view="back", stage=tool.photographs[0].stage)
    return first, second


@pytest.fixture
def measure(given_sample, show, settled):
    """Outline a stretch of the bed on a photograph and give what is said beside the reading."""

    def measured(photograph):
        screen = show(PhotographScreen(given_sample, photograph))
        surface = screen.outlines._model.surfaces[0]
        screen.outlines.draw(BED, (surface.id, surface.finish))
        settled()
        settled()
        return screen, screen.panel.reading.findChild(SurfaceSummaryPanel)

    return measured


def words_in(panel):
    return [one.text() for one in panel.findChildren(Label) if one.isVisibleTo(panel)]


def test_one_photograph_says_what_it_covers_and_no_second_share(measure, photographs):
    _, panel = measure(photographs[0])

    assert words_in(panel) == [TOP_ONLY]


def test_a_second_photograph_brings_the_share_over_both(measure, photographs, settled):
    first, _ = measure(photographs[0])
    first.outlines.record_reading()
    settled()
    _, panel = measure(photographs[1])
    title, share, words = words_in(panel)

    assert title == "Over 2 photographs"
    assert share.endswith(")")
    assert words.startswith("Measured on the top and back views; not seen whole on any view")
    assert words.endswith("Weighted by area in mm².")


def test_nothing_is_said_before_there_is_a_reading(qtbot):
    panel = SurfaceSummaryPanel()
    qtbot.addWidget(panel)
    panel.show_said(SurfaceSummary(title="Bed", share="", words="Measured on the top view."))
    told = panel.isVisibleTo(None) or not panel.isHidden()
    panel.show_said(None)

    assert told
    assert panel.isHidden()


def test_an_area_says_how_much_of_it_is_lost_and_in_which_plane_it_holds(measure, photographs):
    screen, _ = measure(photographs[0])
    verdict = screen.outlines._judged.verdict
    said = describe_area(12_903.2, verdict, rust=False)
    lost = 12_903.2 * (1 - verdict.share)

    assert said.startswith("12,903 mm² (20.0 sq in), about ")
    assert f"about {lost:.0f} mm² of it lost" in said.replace("\u202f", "")
    assert "in the plane of the scale" in said
    assert "No scale on this photograph" in describe_area(None, verdict, rust=False)


def test_a_scale_set_later_asks_for_the_reading_with_its_area_anew(
    measure, photographs, sample, settled
):
    screen, _ = measure(photographs[0])
    screen.outlines.record_reading()
    settled()
    written = screen.outlines.is_recorded_now
    screen._look_again(sample.photographs.set_scale(screen.photograph, None))
    settled()

    said = [one.text() for one in screen.panel.reading.findChildren(Label)]

    assert written
    assert not screen.outlines.is_recorded_now
    assert "No scale on this photograph, so no area in mm². Press S to set one." in said


def test_a_share_over_an_outline_put_in_the_bin_is_written_anew_without_it(
    measure, photographs, sample, settled
):
    first, _ = measure(photographs[0])
    first.outlines.record_reading()
    settled()
    second, _ = measure(photographs[1])
    second.outlines.record_reading()
    settled()
    written = second.outlines.is_recorded_now
    second.outlines.bin(first.outlines.chosen)
    settled()
    asked = not second.outlines.is_recorded_now
    second.outlines.record_reading()
    settled()
    tool = sample.tools.one(second._model.tool.id)

    assert written
    assert asked
    assert [one.photograph for one in tool.readings[-1].areas] == [photographs[1]]

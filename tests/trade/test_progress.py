from dataclasses import replace

import pytest

from planebench.trade.progress import RecordCounts, completeness_by_question, next_step
from planebench.trade.terms import Completeness, ToolStatus

NOTHING_KNOWN = RecordCounts(
    status=ToolStatus.AS_FOUND,
    identified=False,
    maker="",
    parts_asked=8,
    parts_said=0,
    surfaces=2,
    measured=0,
    by_eye=0,
    main_surface="japanning",
    main_measured=False,
    main_by_eye=False,
    defects=0,
    defects_inspected=False,
    evidence_with_years=0,
    disagree=False,
    later_part="",
    work=0,
    work_finished=False,
    has_price=False,
    has_sold_price=False,
    comparables=0,
    photographs=0,
    as_found=0,
    finished=0,
    missing_finished_view="",
)
ALL_KNOWN = replace(
    NOTHING_KNOWN,
    status=ToolStatus.FINISHED,
    identified=True,
    maker="Halbeck & Son",
    parts_said=8,
    measured=2,
    main_measured=True,
    defects=2,
    defects_inspected=True,
    evidence_with_years=3,
    work=2,
    work_finished=True,
    has_price=True,
    photographs=6,
    as_found=3,
    finished=3,
)


def test_a_plane_from_the_pile_answers_none_of_the_seven_questions():
    assert completeness_by_question(NOTHING_KNOWN) == (Completeness.OPEN,) * 7


def test_a_finished_record_answers_all_seven():
    assert completeness_by_question(ALL_KNOWN) == (Completeness.COMPLETE,) * 7


def test_a_finish_judged_by_eye_is_known_in_part_only():
    by_eye = replace(ALL_KNOWN, measured=0, by_eye=2, main_measured=False, main_by_eye=True)

    assert completeness_by_question(by_eye)[2] == Completeness.IN_PART


@pytest.mark.parametrize(
    ("known", "words"),
    [
        ({"photographs": 0}, "Photograph it as found"),
        ({"disagree": True, "later_part": "cutter"}, "Is the cutter original?"),
        ({"disagree": True}, "Check the dates"),
        ({"parts_said": 3}, "Check which parts came with it"),
        ({"main_measured": False, "main_by_eye": True}, "Measure the japanning"),
        ({"main_measured": False}, "Measure the japanning"),
        ({"defects": 0, "defects_inspected": False}, "Look for defects"),
        ({"evidence_with_years": 0}, "Look for evidence of its date"),
        ({"missing_finished_view": "sole"}, "Photograph the sole, finished"),
        ({"has_price": False}, "Set a price"),
        ({"status": ToolStatus.SOLD}, "Enter what it sold for"),
        ({"status": ToolStatus.ON_BENCH, "work_finished": False}, "Work on it"),
        ({"status": ToolStatus.ON_BENCH, "work_finished": True}, "Mark it finished"),
        ({"status": ToolStatus.SOLD, "disagree": True, "photographs": 0}, "Enter what it sold for"),
    ],
)
def test_the_next_thing_to_do_is_the_first_that_is_missing(known, words):
    assert next_step(replace(ALL_KNOWN, **known)).words == words


def test_nothing_needs_doing_with_a_tool_that_is_kept():
    act = next_step(
        replace(ALL_KNOWN, status=ToolStatus.NOT_FOR_SALE, missing_finished_view="sole")
    )

    assert act.words == "Nothing to do: not for sale"
    assert not act.is_act

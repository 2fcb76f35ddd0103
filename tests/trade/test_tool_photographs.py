from planebench.trade.terms import Stage, ToolStatus
from planebench.trade.tool_photographs import missing_views

EXPECTED = ("top", "left_side", "sole")


def test_before_the_work_views_as_found_are_asked_for():
    there = [(Stage.AS_FOUND, "top")]

    missing = missing_views(EXPECTED, there, ToolStatus.ON_BENCH)

    assert missing.as_found == ("left_side", "sole")
    assert missing.finished == ()


def test_after_the_work_only_finished_views_can_still_be_taken():
    there = [(Stage.AS_FOUND, "top"), (Stage.FINISHED, "sole")]

    missing = missing_views(EXPECTED, there, ToolStatus.FINISHED)

    assert missing.as_found == ()
    assert missing.finished == ("top", "left_side")

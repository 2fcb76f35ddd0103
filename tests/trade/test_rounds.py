from planebench.trade.rounds import views_missing
from planebench.trade.terms import Stage, State

EXPECTED = ("top", "left_side", "sole")


def test_before_the_work_views_as_found_are_asked_for():
    there = [(Stage.AS_FOUND, "top")]

    missing = views_missing(EXPECTED, there, State.ON_BENCH)

    assert missing.as_found == ("left_side", "sole")
    assert missing.finished == ()


def test_after_the_work_only_finished_views_can_still_be_taken():
    there = [(Stage.AS_FOUND, "top"), (Stage.FINISHED, "sole")]

    missing = views_missing(EXPECTED, there, State.FINISHED)

    assert missing.as_found == ()
    assert missing.finished == ("top", "left_side")

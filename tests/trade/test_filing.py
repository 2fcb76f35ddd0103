"""Which tool a photograph is filed under, by tables of what was photographed when."""

from __future__ import annotations

import datetime as dt

import pytest

from planebench.trade.filing import FilingDecision, PhotographToFile, clock_was_set, file_by_cards

NINE = dt.datetime(2026, 3, 14, 9, 0, tzinfo=dt.UTC)
TOOLS = ("LOT7-001", "LOT7-002")


def frame(
    key: str, minute: float | None, card: str | None = None, **more: object
) -> PhotographToFile:
    """A photograph so many minutes after nine; card "?" is one whose number was not read."""
    at = None if minute is None else NINE + dt.timedelta(minutes=minute)
    stock = None if card == "?" else card
    given: dict[str, object] = {"order": 0, "camera": "D20", **more}
    return PhotographToFile(
        key=key, name=f"{key}.jpg", taken_at=at, has_card=card is not None, stock=stock, **given
    )  # type: ignore[arg-type]  # tests name fields freely


def filed(*frames: PhotographToFile, minutes: int = 30) -> dict[str, FilingDecision]:
    return {f.key: f for f in file_by_cards(frames, tools=TOOLS, minutes=minutes)}


# Each row: what was photographed (key, minute, card), and where each belongs.
ROUNDS = [
    ([("a", 0, "LOT7-001"), ("b", 1, None), ("c", 2, None)], "a1 b1 c1"),
    ([("a", 0, "LOT7-001"), ("b", 1, None), ("c", 2, "LOT7-002"), ("d", 3, None)], "a1 b1 c2 d2"),
    ([("a", 0, None), ("b", 1, "LOT7-001")], "a- b1"),
    ([("a", 0, "LOT7-001"), ("b", 30, None), ("c", 30.1, None)], "a1 b1 c-"),
    ([("a", 0, "LOT7-001"), ("b", 1, "?"), ("c", 2, None)], "a1 b- c-"),
    ([("a", 0, "LOT7-001"), ("b", 1, "LOT9-004"), ("c", 2, None)], "a1 b- c-"),
    ([("a", 0, "lot7-001"), ("b", 1, None)], "a1 b1"),
    ([("a", 0, "LOT7-001"), ("b", None, None)], "a1 b-"),
    ([("a", None, "LOT7-002"), ("b", 5, None)], "a2 b-"),
    ([("c", 2, None), ("b", 1, "LOT7-002"), ("a", 0, "LOT7-001")], "a1 b2 c2"),
    ([("a", 0, "?"), ("b", 1, "LOT7-001"), ("c", 2, None)], "a- b1 c1"),
]


@pytest.mark.parametrize(("shots", "expected"), ROUNDS)
def test_a_photograph_follows_the_last_card_before_it(
    shots: list[tuple[str, float | None, str | None]], expected: str
) -> None:
    found = filed(*(frame(*shot, order=place) for place, shot in enumerate(shots)))

    words = [f"{key}{found[key].stock[-1] if found[key].stock else '-'}" for key in sorted(found)]
    assert " ".join(words) == expected


def test_within_one_second_files_follow_in_their_order() -> None:
    found = filed(
        frame("b", 0, None, order=1), frame("a", 0, "LOT7-001", order=0), frame("c", 0, order=2)
    )

    assert [found[key].stock for key in "abc"] == ["LOT7-001"] * 3


def test_another_cameras_card_is_only_a_suggestion() -> None:
    found = filed(frame("a", 0, "LOT7-001"), frame("b", 1, None, camera="phone"))

    assert (found["b"].stock, found["b"].suggestion) == (None, "LOT7-001")
    assert "another camera" in found["b"].why


def test_a_card_too_long_ago_is_only_a_suggestion() -> None:
    found = filed(frame("a", 0, "LOT7-001"), frame("b", 11), minutes=10)

    assert (found["b"].stock, found["b"].suggestion) == (None, "LOT7-001")
    assert found["b"].why == (
        "the card LOT7-001 in a.jpg was taken 11 min earlier; the limit is 10 min"
    )


def test_an_unknown_number_is_told() -> None:
    found = filed(frame("a", 0, "LOT9-004"))

    assert found["a"].unknown == "LOT9-004"
    assert found["a"].why == "its card says LOT9-004, but no tool here has that number"


def test_each_decision_says_why() -> None:
    found = filed(frame("a", 0, "LOT7-001"), frame("b", 0.5), frame("c", 4))

    assert found["a"].why == "its own card says LOT7-001"
    assert found["b"].why == "30 s after the card LOT7-001 in a.jpg"
    assert found["c"].why == "4 min after the card LOT7-001 in a.jpg"
    assert [found[key].by.value for key in "abc"] == ["card", "followed", "followed"]


def test_what_is_filed_already_is_left_but_its_card_is_followed() -> None:
    found = filed(frame("a", 0, "LOT7-002", settled=True), frame("b", 1))

    assert set(found) == {"b"}
    assert found["b"].stock == "LOT7-002"


@pytest.mark.parametrize(
    ("taken", "added"),
    [
        # A clock that was never set begins on a first of January (common practice, no source).
        ("2015-01-01 00:04", "2026-03-14 20:00"),
        ("2026-01-01 23:59", "2026-01-09 00:00"),
    ],
)
def test_a_clock_that_was_never_set_tells_no_evening_from_another(taken: str, added: str) -> None:
    assert not clock_was_set(at(taken), at(added))


@pytest.mark.parametrize(
    ("taken", "added"),
    [
        ("2026-01-01 23:59", "2026-01-08 23:59"),
        ("2026-01-02 00:00", "2026-03-14 20:00"),
        ("2026-03-14 09:00", "2026-03-14 20:00"),
    ],
)
def test_any_other_clock_is_believed(taken: str, added: str) -> None:
    assert clock_was_set(at(taken), at(added))


def at(words: str) -> dt.datetime:
    return dt.datetime.fromisoformat(words).replace(tzinfo=dt.UTC)

"""Dating a tool: what its signs say together, what disagrees, and what told most."""

from __future__ import annotations

import time
from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

import pytest

from planebench.errors import InputError
from planebench.trade.dating import WHOLE, DatingSettings, Evidence, date_tool

SETTINGS = DatingSettings()


def evidence(name: str, first: int | None, last: int | None, **more: object) -> Evidence:
    usual: dict[str, object] = {"part": "body", "kind": "years", "what": name, "looseness": 2.0}
    return Evidence(id=name, not_before=first, not_after=last, **(usual | more))  # type: ignore[arg-type]  # free keywords


def exact_shares(
    parts: Mapping[str, Sequence[Evidence]], years: range, settings: DatingSettings
) -> list[Fraction]:
    """Weigh by hand in exact fractions: an independent second reckoning, straight fall only."""
    belief = {year: Fraction(1) for year in years}
    for part, all_evidence in parts.items():
        said = {year: Fraction(1) for year in years}
        for group in sorted({one.witness for one in all_evidence}):
            rows = [exact_evidence(one, years) for one in all_evidence if one.witness == group]
            said = {year: said[year] * min(row[year] for row in rows) for year in years}
        if part not in {"body", WHOLE}:
            chance = Fraction(settings.not_original)
            mean = sum(said.values()) / len(years)
            said = {year: (1 - chance) * said[year] + chance * mean for year in years}
        belief = {year: belief[year] * said[year] for year in years}
    total = sum(belief.values())
    return [belief[year] / total for year in years]


def exact_evidence(one: Evidence, years: range) -> dict[int, Fraction]:
    weights = {year: exact_weight(one, year) for year in years}
    sure = Fraction(one.sure)
    doubt = (1 - sure) / sure * sum(weights.values()) / len(years)
    return {year: (weight + doubt) / (1 + doubt) for year, weight in weights.items()}


def exact_weight(one: Evidence, year: int) -> Fraction:
    before = max((one.not_before or year) - year, 0)
    after = max(year - (one.not_after or one.usual_until or year), 0)
    if before and one.never_before:
        return Fraction(0)
    return max(1 - Fraction(before + after) / (Fraction(one.looseness) + 1), Fraction(0))


EXACT = {
    "one part": {
        "body": [evidence("a", 1909, 1918, sure=0.8), evidence("b", 1913, None, never_before=True)]
    },
    "one kind twice": {
        "body": [
            evidence("a", 1909, 1918, group="mark"),
            evidence("b", 1911, 1926, group="mark", sure=0.95),
            evidence("c", 1905, 1914, sure=0.5),
        ]
    },
    "several parts": {
        "body": [evidence("a", 1913, None, never_before=True, usual_until=1933, looseness=10)],
        "knob": [evidence("b", 1902, 1918, part="knob", sure=0.8, looseness=3)],
        "cutter": [evidence("c", 1908, 1920, part="cutter", sure=0.5)],
        WHOLE: [evidence("d", 1905, 1930, part=WHOLE, sure=0.95)],
    },
}


@pytest.mark.parametrize("name", EXACT)
def test_shares_agree_with_exact_fractions(name: str) -> None:
    parts = EXACT[name]
    expected = exact_shares(parts, range(1895, 1942), SETTINGS)

    dating = date_tool(parts, (1895, 1941))

    assert not dating.assembled
    assert [float(share) for share in expected] == pytest.approx(dating.whole.shares, abs=1e-12)
    assert tuple(range(1895, 1942)) == dating.whole.years


def test_two_bells_agree_with_the_closed_form() -> None:
    """Product of two normal densities: precision-weighted mean, summed precisions (textbook)."""
    settings = replace(SETTINGS, surest=1 - 1e-12)
    bells = [
        evidence("a", 1900, 1900, give_or_take=True, looseness=8, sure=1.0),
        evidence("b", 1910, 1910, give_or_take=True, looseness=6, sure=1.0),
    ]
    precision = 1 / 8**2 + 1 / 6**2
    mean = (1900 / 8**2 + 1910 / 6**2) / precision

    whole = date_tool({"body": bells}, settings=settings).whole
    found = sum(y * s for y, s in zip(whole.years, whole.shares, strict=True))
    spread = sum((y - found) ** 2 * s for y, s in zip(whole.years, whole.shares, strict=True))

    assert mean == pytest.approx(found, abs=1e-6)
    assert 1 / precision == pytest.approx(spread, rel=1e-6)


def plane_no_23() -> dict[str, list[Evidence]]:
    """The invented smoothing plane of the demonstration."""
    return {
        "body": [
            evidence("1", 1913, None, never_before=True, usual_until=1932, looseness=6, sure=0.95),
            evidence("2", 1909, 1918, sure=0.8),
        ],
        "lever_cap": [evidence("3", 1911, 1926, part="lever_cap", sure=0.8, looseness=4)],
        "knob": [evidence("4", 1902, 1918, part="knob", sure=0.8, looseness=3)],
        "cutter": [evidence("7", 1934, 1941, part="cutter", sure=0.8, looseness=1)],
        WHOLE: [
            evidence("5", 1905, 1941, part=WHOLE, sure=0.95, looseness=1),
            evidence("6", 1912, 1918, part=WHOLE, sure=0.5, looseness=4),
        ],
    }


def test_a_plane_with_a_later_cutter_is_dated_by_its_other_parts() -> None:
    dating = date_tool(plane_no_23())

    assert dating.whole.range90 == (1913, 1918)
    assert (dating.whole.earliest, dating.whole.latest) == (1913, 1918)
    assert dating.whole.edtf == "1913/1918"
    assert dating.whole.in_words == "between about 1913 and 1918"
    assert dating.assembled
    assert dating.later_parts == ("cutter",)
    assert dating.earlier_parts == ()


def test_the_smallest_contradictions_are_pairs_with_the_earlier_evidence_first() -> None:
    dating = date_tool(plane_no_23())

    assert set(dating.whole.conflicts) == {("2", "7"), ("3", "7"), ("4", "7"), ("6", "7")}
    assert dating.parts["body"].conflicts == ()


def test_without_a_piece_of_evidence_the_tool_is_dated_as_if_it_had_not_been_seen() -> None:
    dating = date_tool(plane_no_23())

    assert dating.without("1").whole.range90 == (1910, 1918)
    assert not dating.without("7").assembled
    with pytest.raises(InputError, match="no evidence with the id 9"):
        dating.without("9")


def test_weights_are_the_share_of_belief_that_moves_without_a_piece_of_evidence() -> None:
    dating = date_tool({k: v for k, v in plane_no_23().items() if k != "cutter"})

    for name, weight in dating.whole.weights.items():
        other = dating.without(name).whole.shares
        moved = sum(abs(a - b) for a, b in zip(dating.whole.shares, other, strict=True)) / 2
        assert moved == pytest.approx(weight, abs=1e-9), name
    assert dating.most_telling[0] == "1"


def test_weights_hold_for_marks_of_one_group_too() -> None:
    marks = [
        evidence(
            "a", 1892, None, usual_until=1912, looseness=10, group="patent", never_before=True
        ),
        evidence(
            "b", 1910, None, usual_until=1930, looseness=10, group="patent", never_before=True
        ),
        evidence("c", 1905, 1925),
    ]

    dating = date_tool({"body": marks})

    for name, weight in dating.whole.weights.items():
        other = dating.without(name).whole.shares
        moved = sum(abs(a - b) for a, b in zip(dating.whole.shares, other, strict=True)) / 2
        assert moved == pytest.approx(weight, abs=1e-9), name


def test_the_same_evidence_written_down_twice_counts_once() -> None:
    once = date_tool({"body": [evidence("a", 1909, 1918, sure=0.8)]})
    twice = date_tool(
        {"body": [evidence("a", 1909, 1918, sure=0.8), evidence("b", 1909, 1918, what="A")]}
    )

    assert once.whole.shares == pytest.approx(
        date_tool(
            {"body": [evidence("a", 1909, 1918), evidence("b", 1909, 1918, what="a")]}
        ).whole.shares
    )
    assert once.whole.range90 == twice.whole.range90


def test_two_kinds_of_evidence_count_as_two() -> None:
    once = date_tool({"body": [evidence("a", 1909, 1918, sure=0.8)]})
    twice = date_tool(
        {"body": [evidence("a", 1909, 1918, sure=0.8), evidence("b", 1909, 1918, sure=0.8)]}
    )

    first, last = once.whole.range90 or (0, 0)
    nearer = twice.whole.range90 or (0, 0)

    assert nearer[1] - nearer[0] < last - first


def test_an_older_patent_beside_a_newer_one_does_not_end_the_newer() -> None:
    newer = evidence("b", 1910, None, usual_until=1930, group="patent", never_before=True)
    older = evidence("a", 1892, None, usual_until=1912, group="patent", never_before=True)

    alone = date_tool({"body": [newer]}).whole.range90
    both = date_tool({"body": [older, newer]}).whole.range90

    assert alone == both


def test_old_stock_is_used_up_after_but_never_before_a_terminus_post_quem() -> None:
    hard = [evidence("a", 1913, 1918, never_before=True, looseness=3, sure=0.95)]

    shares = dict(zip(*year_shares(hard), strict=True))

    assert shares[1912] == pytest.approx(shares[1850])
    assert shares[1918] > shares[1919] > shares[1920] > shares[1921]
    assert shares[1922] == pytest.approx(shares[1850])


def year_shares(all_evidence: list[Evidence]) -> tuple[tuple[int, ...], tuple[float, ...]]:
    whole = date_tool({"body": all_evidence}).whole
    return whole.years, whole.shares


def test_sure_alone_gives_just_that_share_to_the_years_of_the_evidence() -> None:
    """Stated rule: of a sign alone, `sure` shapes belief and the rest is as if it were unseen."""
    shares = dict(
        zip(*year_shares([evidence("a", 1900, 1909, sure=0.8, looseness=0)]), strict=True)
    )

    inside = sum(shares[year] for year in range(1900, 1910))

    assert inside == pytest.approx(0.8 + 0.2 * 10 / 201)


def test_intervals_overlap_as_in_the_example_worked_by_hand() -> None:
    """1909-1918, 1911-1926, from 1913: overlap 1913 to 1918 (reckoned by hand)."""
    all_evidence = [evidence("a", 1909, 1918), evidence("b", 1911, 1926), evidence("c", 1913, None)]

    whole = date_tool({"body": all_evidence}).whole

    assert (whole.earliest, whole.latest) == (1913, 1918)


def test_evidence_apart_by_less_than_their_looseness_do_not_contradict() -> None:
    near = [evidence("a", 1909, 1918, looseness=5), evidence("b", 1920, 1926, looseness=3)]

    whole = date_tool({"body": near}).whole

    assert whole.conflicts == ()
    assert whole.agreed
    assert (whole.earliest, whole.latest) == (1918, 1921)


def test_evidence_far_apart_leaves_no_hard_span() -> None:
    whole = date_tool({"body": [evidence("a", 1900, 1905), evidence("b", 1930, 1935)]}).whole

    assert whole.conflicts == (("a", "b"),)
    assert not whole.agreed
    assert (whole.earliest, whole.latest) == (None, None)


def test_a_piece_of_evidence_outside_production_contradicts_production() -> None:
    whole = date_tool({"body": [evidence("a", 1950, 1960)]}, (1905, 1941)).whole

    assert whole.conflicts == (("production", "a"),)
    assert whole.range90 is not None
    assert 1905 <= whole.range90[0] <= whole.range90[1] <= 1941


def test_a_give_or_take_allows_as_much() -> None:
    whole = date_tool({"body": [evidence("a", 1915, 1915, give_or_take=True, looseness=3)]}).whole

    assert (whole.earliest, whole.latest) == (1912, 1918)


@pytest.mark.parametrize(
    "all_evidence",
    [
        [],
        [evidence("a", None, None)],
        [evidence("a", 1909, 1918, sure=0.0)],
        [evidence("a", 1909, 1918, counted=False)],
    ],
    ids=["none", "no years", "not believed", "left out"],
)
def test_evidence_that_does_not_count_dates_nothing(all_evidence: list[Evidence]) -> None:
    dating = date_tool({"body": all_evidence})

    assert dating.whole.range90 is None
    assert dating.whole.in_words == "at a date not known"
    assert dating.whole.edtf == ""
    assert len(dating.evidence) == len(all_evidence)


def test_known_production_alone_is_a_range() -> None:
    whole = date_tool({}, (1905, 1941)).whole

    assert (whole.earliest, whole.latest) == (1905, 1941)
    assert whole.range90 is not None


@pytest.mark.parametrize(
    ("first", "last", "words", "edtf"),
    [(1930, None, "or later", "/.."), (None, 1850, "before about", "../")],
)
def test_an_open_side_is_said(first: int | None, last: int | None, words: str, edtf: str) -> None:
    whole = date_tool({"body": [evidence("a", first, last, sure=0.99)]}).whole

    assert words in whole.in_words
    assert edtf in whole.edtf


def test_one_year_is_said_as_one_year() -> None:
    all_evidence = [evidence(str(n), 1913, 1913, sure=0.95, looseness=0) for n in range(5)]

    whole = date_tool({"body": all_evidence}).whole

    assert whole.in_words == "about 1913"
    assert whole.edtf == "1913"


def test_evidence_outside_the_usual_years_widens_them() -> None:
    whole = date_tool({"body": [evidence("a", 1700, 1710, sure=0.95)]}).whole

    assert whole.years[0] == 1680
    assert whole.range90 is not None
    assert whole.range90[0] > 1690


def test_an_older_part_is_told_as_earlier() -> None:
    parts = {
        "body": [evidence("a", 1930, 1938, sure=0.95), evidence("b", 1928, 1940, sure=0.95)],
        "handle": [evidence("c", 1890, 1899, part="handle", sure=0.95)],
    }

    dating = date_tool(parts)

    assert dating.earlier_parts == ("handle",)


def test_a_wrong_evidence_on_a_part_with_a_fitting_one_does_not_make_it_odd() -> None:
    parts = {
        "body": [evidence("a", 1910, 1918, sure=0.95), evidence("b", 1908, 1920, sure=0.95)],
        "cutter": [
            evidence("c", 1909, 1919, part="cutter", sure=0.95),
            evidence("d", 1935, 1941, part="cutter", sure=0.8),
        ],
    }

    dating = date_tool(parts)

    assert not dating.assembled
    assert ("c", "d") in dating.parts["cutter"].conflicts


def test_the_first_part_stands_for_the_tool_where_there_is_no_body() -> None:
    parts = {
        "cutter": [evidence("a", 1900, 1905, part="cutter")],
        "knob": [evidence("b", 1901, 1906, part="knob")],
    }

    assert date_tool(parts).anchor == "cutter"


def test_evidence_must_have_ids_of_its_own() -> None:
    with pytest.raises(InputError, match="Two pieces of evidence have the id a"):
        date_tool({"body": [evidence("a", 1900, 1905), evidence("a", 1910, 1915)]})


@pytest.mark.parametrize(
    "wrong",
    [{"sure": 1.5}, {"sure": float("nan")}, {"looseness": -1.0}, {"looseness": float("inf")}],
)
def test_a_piece_of_evidence_out_of_range_is_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(InputError):
        evidence("a", 1900, 1910, **wrong)


def test_a_piece_of_evidence_that_ends_before_it_begins_is_refused_with_the_years_turned() -> None:
    with pytest.raises(InputError, match="Try 1905 to 1910"):
        evidence("a", 1910, 1905)


def test_ten_thousand_entries_is_dated_without_a_stop() -> None:
    all_evidence = [
        evidence(str(n), 1900 + n % 20, 1920 + n % 30, what=f"kind {n % 7}") for n in range(10_000)
    ]

    begun = time.process_time()
    whole = date_tool({"body": all_evidence}).whole

    assert time.process_time() - begun < 5
    assert whole.range90 is not None
    assert len(whole.conflicts) <= SETTINGS.most_conflicts


def worked_example() -> dict[str, list[Evidence]]:
    return {
        "body": [
            evidence("A", 1911, 1913, sure=0.8, looseness=1.0),
            evidence("B", 1912, None, sure=0.95, never_before=True),
        ],
        "knob": [evidence("C", 1910, 1910, part="knob", sure=0.8, looseness=0.0)],
    }


def test_the_example_in_the_write_up_comes_out_as_reckoned_by_hand() -> None:
    dating = date_tool(worked_example(), (1910, 1914))

    body = dating.parts["body"]
    assert body.shares == pytest.approx((0.0068, 0.0116, 0.3800, 0.3800, 0.2216), abs=5e-5)
    assert body.range90 == dating.whole.range90 == (1912, 1914)
    assert (body.earliest, body.latest) == (1912, 1913)
    assert dating.chances["knob"] == pytest.approx(0.62, abs=0.005)
    assert dating.earlier_parts == ("knob",)

"""A type study: read, ticked, and asked what to look at next."""

from __future__ import annotations

from math import log2
from pathlib import Path

import pytest

from planebench.catalog.reference import sample_source
from planebench.errors import InputError
from planebench.trade.type_study import compare, parse_type_study

STUDIES = sorted((sample_source() / "type_studies").glob("*.csv"))
SMALL = """# title: Small
# maker: Tarrow (invented)
# invented: yes
variant,years,note,source,cap,wheel
1,1900/1904,,invented,plain,brass
2,1905/1909,,invented,plain|two lines,brass
3,1910/1914,,invented,two lines,
4,1915/..,last,invented,two lines,steel
"""


@pytest.mark.parametrize("path", STUDIES, ids=lambda path: path.stem)
def test_the_sample_studies_are_invented_and_have_twelve_variants_or_more(path: Path) -> None:
    study = parse_type_study(path.read_text("utf-8"))

    assert study.invented
    assert len(study.variants) >= 12
    assert "invented" in study.maker


@pytest.mark.parametrize("path", STUDIES, ids=lambda path: path.stem)
def test_each_variant_fits_a_tool_that_shows_its_forms(path: Path) -> None:
    study = parse_type_study(path.read_text("utf-8"))

    for variant in study.variants:
        seen = {feature: forms[0] for feature, forms in variant.forms.items() if forms}
        comparison = compare(study, seen)
        assert variant in comparison.fitting
        assert comparison.fits[0].variant == variant or len(comparison.fitting) > 1


def test_two_studies_come_with_the_sample() -> None:
    assert len(STUDIES) == 2


def test_ticks_leave_the_variants_that_show_them() -> None:
    comparison = compare(parse_type_study(SMALL), {"cap": "plain"})

    assert [variant.name for variant in comparison.fitting] == ["1", "2"]
    assert comparison.years == (1900, 1909)


def test_the_single_evidence_that_speaks_against_a_variant_is_told() -> None:
    comparison = compare(parse_type_study(SMALL), {"cap": "plain", "wheel": "steel"})
    against = {fit.variant.name: fit.only_against for fit in comparison.fits}

    assert comparison.fitting == ()
    assert comparison.years == (None, None)
    assert against["1"] is not None
    assert (against["1"].feature, against["1"].expected) == ("wheel", ("brass",))
    assert against["4"] is not None
    assert against["4"].feature == "cap"


def test_a_form_that_is_not_known_speaks_neither_for_nor_against() -> None:
    comparison = compare(parse_type_study(SMALL), {"wheel": "steel"})
    third = next(fit for fit in comparison.fits if fit.variant.name == "3")

    assert third.fits
    assert third.agreeing == ()


def test_an_open_end_of_the_last_variant_stays_open() -> None:
    assert compare(parse_type_study(SMALL), {"wheel": "steel"}).years == (1910, None)


def test_what_to_look_at_next_is_weighed_in_bits() -> None:
    """Four variants alike, a form for two and two: one bit (Shannon, by hand), no slips."""
    text = "variant,years,note,source,a,b\n" + "".join(
        f"{n},{1900 + n},,invented,{'x' if n < 2 else 'y'},{'p' if n < 1 else 'q'}\n"
        for n in range(4)
    )

    looks = compare(parse_type_study(text), {}, slip=0.0).next_looks

    assert [look.feature for look in looks] == ["a", "b"]
    assert looks[0].bits == pytest.approx(1.0)
    assert looks[1].bits == pytest.approx(0.25 * log2(4) + 0.75 * log2(4 / 3))


def test_a_feature_already_ticked_is_not_asked_for_again() -> None:
    looks = compare(parse_type_study(SMALL), {"cap": "plain"}).next_looks

    assert [look.feature for look in looks] == ["wheel"]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "header must begin"),
        ("a,b\n", "header must begin"),
        ("variant,years,note,source\n1,1900,,x\n", "each feature needs a column"),
        ("variant,years,note,source,a,a\n", "each feature needs a column"),
        ("variant,years,note,source,a\n", "no variants"),
        ("variant,years,note,source,a\n1,1900,,x\n", "line 2: it has 4 cells"),
        ("variant,years,note,source,a\n,1900,,x,y\n", "no name"),
        ("variant,years,note,source,a\n1,long ago,,x,y\n", "line 2, years"),
        ("variant,years,note,source,a\n1,1900,,x,y\n1,1901,,x,y\n", "Two variants"),
    ],
)
def test_a_table_that_cannot_be_read_is_refused_naming_its_line(text: str, message: str) -> None:
    with pytest.raises(InputError, match=message):
        parse_type_study(text)


@pytest.mark.parametrize("seen", [{"sole": "flat"}, {"cap": "round"}])
def test_a_tick_that_the_study_does_not_know_is_refused(seen: dict[str, str]) -> None:
    with pytest.raises(InputError, match="has no"):
        compare(parse_type_study(SMALL), seen)

"""The chart's scale holds every year that is named."""

from __future__ import annotations

from planebench.sheet.content import SheetDating, SheetEvidence, YearColumns
from planebench.sheet.dating_chart import Bar, YearScale, evidence_bar, year_scale


def _evidence(first: int | None, last: int | None, loose: int = 0) -> SheetEvidence:
    return SheetEvidence(
        number=1,
        what="mark",
        words="",
        first=first,
        last=last,
        loose_before=loose,
        loose_after=loose,
    )


def test_the_scale_begins_and_ends_on_labeled_years_around_all_bars() -> None:
    dating = SheetDating(in_words="", evidence=(_evidence(1903, 1918, 2), _evidence(1934, 1941)))

    assert year_scale(dating) == YearScale(start=1900, end=1950, step=10)


def test_columns_and_band_lie_within_the_scale() -> None:
    columns = YearColumns(first=1890, weights=(0.5, 0.5))
    scale = year_scale(
        SheetDating(
            in_words="",
            evidence=(_evidence(1913, 1918),),
            bands=((1880, 1925),),
            columns=(columns,),
        )
    )

    assert scale is not None
    assert scale.start <= 1880
    assert scale.end >= 1926


def test_evidence_without_years_makes_no_scale() -> None:
    assert year_scale(SheetDating(in_words="", evidence=(_evidence(None, None),))) is None


def test_a_bar_counts_its_last_year_whole_and_its_looseness_beyond() -> None:
    scale = YearScale(start=1900, end=1950, step=10)

    assert evidence_bar(_evidence(1913, 1918, 3), scale) == Bar(
        start=1913, end=1919, loose_start=1910, loose_end=1922, open_start=False, open_end=False
    )


def test_a_bar_without_an_end_runs_to_the_edge_and_says_so() -> None:
    scale = YearScale(start=1900, end=1950, step=10)
    drawn = evidence_bar(_evidence(1913, None), scale)

    assert drawn is not None
    assert (drawn.end, drawn.open_end) == (1950, True)

"""How finish and iron divide on a sheet: first finish, new finish and bare, each with its basis."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.catalog.readings import NewReading
from planebench.sheet.bar_data import bars_data
from planebench.sheet.compose import compose
from planebench.sheet.content import Certainty, StageBar
from planebench.sheet.surface_bars import whole_percents
from planebench.trade.shares import Share
from planebench.trade.terms import Basis, Stage

Made = Callable[..., ToolId]


def share(value: str, low: str, high: str, basis: Basis = Basis.MEASURED) -> Share:
    return Share(value=Decimal(value), low=Decimal(low), high=Decimal(high), basis=basis)


def read(  # noqa: PLR0913 -- a test's own shorthand for a reading
    catalog: Catalog,
    tool: ToolId,
    stage: Stage,
    finish: Share,
    *,
    new: Share | None = None,
    rust: bool = False,
    surface: int = 0,
) -> None:
    catalog.readings.add(
        NewReading(
            tool=tool,
            surface=catalog.tools.one(tool).surfaces[surface].id,
            stage=stage,
            share=finish,
            new_finish=new,
            rust=rust,
        )
    )


def words(bar: StageBar) -> list[str]:
    return [one.words for one in bar.shares]


def test_new_finish_is_never_counted_as_first_finish(empty_shop: Catalog, new_tool: Made) -> None:
    tool = new_tool()
    read(empty_shop, tool, Stage.AS_FOUND, share("0.83", "0.78", "0.88"))
    finished, new = share("0.97", "0.95", "0.98"), share("0.14", "0.10", "0.18")
    read(empty_shop, tool, Stage.FINISHED, finished, new=new)
    found, now = compose(empty_shop, tool).finish[0].bars

    assert (found.stage, words(found)) == ("As found", ["83%", "none seen", "17%"])
    assert (now.stage, words(now)) == ("Now", ["83%", "14%", "3%"])
    # 0.83 +- the root of squares of both ranges: 0.02² + 0.04², 0.01² + 0.04².
    assert [one.interval for one in now.shares] == ["78 to 88", "10 to 18", "2 to 5"]
    assert [round(b.value) for b in now.boundaries] == [83, 97]


def test_the_range_and_the_basis_of_the_earlier_figure_are_carried_too(
    empty_shop: Catalog, new_tool: Made
) -> None:
    tool = new_tool()
    read(empty_shop, tool, Stage.AS_FOUND, share("0.8", "0.7", "0.9", Basis.BY_EYE))
    read(empty_shop, tool, Stage.FINISHED, share("0.79", "0.76", "0.82"))
    found, now = compose(empty_shop, tool).finish[0].bars

    assert words(found)[0] == "about 80%"
    assert found.shares[0].interval == "70 to 90"
    assert (found.basis, now.basis) == ("by eye, May 12", "measured, May 12")
    assert (found.certainty, now.certainty) == (Certainty.BY_EYE, Certainty.MEASURED)


def test_a_reading_on_another_basis_is_not_dropped(empty_shop: Catalog, new_tool: Made) -> None:
    tool = new_tool()
    read(empty_shop, tool, Stage.AS_FOUND, share("0.96", "0.93", "0.98"))
    read(empty_shop, tool, Stage.AS_FOUND, share("0.7", "0.6", "0.8", Basis.BY_EYE))
    bar = compose(empty_shop, tool).finish[0].bars[0]

    assert words(bar)[0] == "96%"
    assert bar.aside == "also by eye, May 12: about 70% (60 to 80)"


def test_more_new_finish_than_finish_is_shown_as_read_and_not_drawn(
    empty_shop: Catalog, new_tool: Made
) -> None:
    tool = new_tool()
    new = share("0.3", "0.25", "0.35")
    read(empty_shop, tool, Stage.FINISHED, share("0.23", "0.2", "0.26"), new=new)
    bar = compose(empty_shop, tool).finish[0].bars[-1]

    assert bar.boundaries == ()
    assert bar.not_drawn == "not drawn: makes 107%"
    assert words(bar) == ["not told apart", "30%", "77%"]


def test_new_finish_without_a_share_is_told_apart_by_nobody(
    empty_shop: Catalog, new_tool: Made
) -> None:
    tool = new_tool()
    read(empty_shop, tool, Stage.FINISHED, share("0.97", "0.95", "0.99"))
    empty_shop.bench_log.add(tool, kind="rejapan", what="New japanning", disclosed=True)
    content = compose(empty_shop, tool)
    bar = content.finish[0].bars[-1]

    assert words(bar) == ["not told apart", "not told apart", "3%"]
    assert bar.boundaries == ()
    assert ("New japanning", "on the bed and cheeks; how much was not recorded.") in [
        (line.lead, line.words) for line in content.problems
    ]


def test_new_finish_under_ten_percent_is_told(empty_shop: Catalog, new_tool: Made) -> None:
    tool = new_tool()
    new = share("0.04", "0.02", "0.06")
    read(empty_shop, tool, Stage.FINISHED, share("0.99", "0.97", "1"), new=new)
    content = compose(empty_shop, tool)

    assert words(content.finish[0].bars[-1])[1] == "4%"
    assert "over losses on 4% of the bed and cheeks." in [p.words for p in content.problems]


def test_a_surface_nobody_read_names_no_finish_and_has_no_bar(
    empty_shop: Catalog, new_tool: Made
) -> None:
    content = compose(empty_shop, new_tool())
    cap = next(one for one in content.finish if one.surface == "Lever cap")

    assert cap.note == ""
    assert [bar.boundaries for bar in cap.bars] == [()]
    assert words(cap.bars[0])[0] == "not measured"


def test_a_surface_read_only_as_found_is_not_measured_now_once_work_was_done(
    empty_shop: Catalog, new_tool: Made
) -> None:
    tool = new_tool()
    read(empty_shop, tool, Stage.AS_FOUND, share("0.8", "0.75", "0.85"))
    before = compose(empty_shop, tool).finish[0].bars
    empty_shop.bench_log.add(tool, kind="rust_bath", what="Rust taken off", disclosed=True)
    after = compose(empty_shop, tool)

    assert [bar.stage for bar in before] == ["As found"]
    assert [(bar.stage, words(bar)[0]) for bar in after.finish[0].bars] == [
        ("As found", "80%"),
        ("Now", "not measured"),
    ]
    assert "Bed and cheeks now:" in [line.lead for line in after.not_checked]


def test_rust_has_its_own_table_and_is_never_finish_left(
    empty_shop: Catalog, new_tool: Made
) -> None:
    tool = new_tool()
    read(empty_shop, tool, Stage.AS_FOUND, share("0.94", "0.9", "0.97"), rust=True)
    content = compose(empty_shop, tool)

    assert words(content.iron[0].bars[0]) == ["6%", "94%"]
    assert "94%" not in str(content.finish)


@pytest.mark.parametrize(("rusted", "times"), [("0.05", 0), ("0.06", 1)])
def test_rust_over_five_percent_is_a_problem(
    empty_shop: Catalog, new_tool: Made, rusted: str, times: int
) -> None:
    tool = new_tool()
    read(empty_shop, tool, Stage.FINISHED, share(rusted, "0.04", "0.09"), rust=True)
    leads = [line.lead for line in compose(empty_shop, tool).problems]

    assert leads.count("Rust") == times


@pytest.mark.parametrize(
    ("shares", "percents"),
    [
        (["0.835", "0.145", "0.02"], [83, 15, 2]),
        (["0.3333", "0.3333", "0.3334"], [33, 33, 34]),
        (["0.005", "0.005", "0.99"], [1, 1, 98]),
        (["1", "0", "0"], [100, 0, 0]),
    ],
)
def test_percents_add_to_100_and_the_largest_takes_the_rest(
    shares: list[str], percents: list[int]
) -> None:
    made = whole_percents([Decimal(one) for one in shares])

    assert sum(made) == 100
    assert made == percents


def test_nearly_all_is_never_written_as_all(empty_shop: Catalog, new_tool: Made) -> None:
    tool = new_tool()
    read(empty_shop, tool, Stage.AS_FOUND, share("0.998", "0.99", "1"))
    bar = compose(empty_shop, tool).finish[0].bars[0]

    assert words(bar) == ["over 99%", "none seen", "under 1%"]


def test_only_the_first_surface_now_stands_large(empty_shop: Catalog, new_tool: Made) -> None:
    tool = new_tool()
    for surface in (0, 2):
        for stage in (Stage.AS_FOUND, Stage.FINISHED):
            read(empty_shop, tool, stage, share("0.8", "0.7", "0.9"), surface=surface)
    drawn = bars_data(compose(empty_shop, tool).finish, ("first", "new", "bare"), ratings=False)
    big = [
        (one["surface"], row["stage"])
        for one in drawn
        for row in one["rows"]  # type: ignore[attr-defined]  # rows are a list of dicts
        if row["big"]
    ]

    assert big == [("Bed and cheeks", "Now")]

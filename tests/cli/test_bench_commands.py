"""Flatness, abrasives, angles, price and ledger without the window."""

from __future__ import annotations

import csv
import datetime as dt
import json
from decimal import Decimal
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.tools import NewTool
from planebench.cli.app import run
from planebench.cli.open_catalog import now
from planebench.trade.terms import ToolStatus

TWISTED = "x_mm,y_mm,z_mm\n0,0,0.05\n200,0,-0.05\n200,50,0.05\n0,50,-0.05\n"


@pytest.fixture
def readings(tmp_path: Path) -> Path:
    path = tmp_path / "sole.csv"
    path.write_text(TWISTED, "utf-8")
    return path


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """Make a catalog: three tools bought for $100 and $10.01 carriage, one worked on and sold."""
    folder = tmp_path / "shop"
    with_catalog = Catalog.make(folder, who="R. Fenn", clock=now)
    batch = with_catalog.batches.add(code="LOT1", title="Three planes").id
    with_catalog.batches.change(
        batch, bought_on=dt.date(2025, 3, 1), price=Decimal(100), carriage=Decimal("10.01")
    )
    tools = [with_catalog.tools.add(batch, NewTool(kind="block")).id for _ in range(3)]
    with_catalog.bench_log.add(
        tools[0],
        kind="other",
        what="Oil",
        cost=Decimal("4.50"),
        minutes=90,
        done_on=dt.date(2025, 4, 1),
    )
    with_catalog.tools.change(
        tools[0],
        sold_on=dt.date(2025, 5, 2),
        sold_for=Decimal(95),
        asking=Decimal(95),
    )
    with_catalog.tools.set_status([tools[0]], ToolStatus.SOLD)
    with_catalog.close()
    return folder


def answer(capsys: pytest.CaptureFixture[str], *words: str) -> dict[str, object]:
    assert run([*words, "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert isinstance(data, dict)
    return data


def test_flatness_names_its_figures_as_the_standard_does(
    readings: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = answer(capsys, "flatness", str(readings))

    assert data["mz_flatness_mm"] == pytest.approx(0.1, abs=1e-9)
    assert data["ls_flatness_mm"] == pytest.approx(0.1, abs=1e-9)
    assert (data["flt_p_mm"], data["flt_v_mm"]) == pytest.approx((0.05, 0.05))
    assert data["twist_mm"] == pytest.approx(0.2)
    assert data["shape"] == "twisted"


def test_gaps_under_a_straightedge_become_flatness_and_straightness_of_each_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A sole hollow by 0.05 mm along: the middle of each long line has 0.05 mm more gap."""
    path = tmp_path / "gaps.csv"
    rows = ["line,x_mm,y_mm,goes_mm,stops_mm"]
    rows += [
        f"{line},{x},{y},{gap - 0.005:.4f},{gap + 0.005:.4f}"
        for line, y in (("A", 5), ("B", 30), ("C", 55))
        for x, gap in ((10, 0.5), (120, 0.55), (230, 0.5))
    ]
    rows += [
        f"{line},{x},{y},0.495,0.505" for line, x in (("D", 10), ("E", 120)) for y in (5, 30, 55)
    ]
    rows += ["J,10,5,0.495,0.505", "J,120,30,0.545,0.555", "J,230,55,0.495,0.505"]
    path.write_text("\n".join(rows), "utf-8")

    data = answer(capsys, "flatness", str(path), "--tolerance", "0.04", "--mouth", "120")

    assert data["mz_flatness_mm"] == pytest.approx(0.05)
    assert data["shape"] == "hollow along"
    assert data["mouth_above_mm"] == pytest.approx(-0.05)
    assert data["verdict"] == "within"
    assert data["to_remove_mm"] == [0.0] * 9
    lines = data["lines"]
    assert isinstance(lines, dict)
    assert lines["A"]["straightness_mm"] == pytest.approx(0.05)
    assert data["doubtful_lines"] == []


def test_a_file_of_readings_that_is_not_there_is_an_error_of_its_own(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["flatness", str(tmp_path / "none.csv")]) == 1
    assert "none.csv cannot be read" in capsys.readouterr().err


def test_a_sequence_of_grits_is_checked_step_by_step(capsys: pytest.CaptureFixture[str]) -> None:
    data = answer(capsys, "grits", "P150", "1000", "3000", "--system", "jis")

    steps = data["steps"]
    assert isinstance(steps, list)
    assert [step["verdict"] for step in steps] == ["too large", "good"]
    assert data["good"] is False


def test_a_number_without_a_system_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["grits", "1000"]) == 2
    assert "several systems" in capsys.readouterr().err


def test_a_low_bed_with_the_bevel_up_cuts_at_45(capsys: pytest.CaptureFixture[str]) -> None:
    data = answer(capsys, "angles", "--bed", "20", "--bevel", "25", "--up")

    assert data["cutting_angle_deg"] == 45


def test_what_grinding_and_a_guide_do_is_worked_out_beside_the_angles(
    capsys: pytest.CaptureFixture[str],
) -> None:
    edge = ["angles", "--bed", "45", "--bevel", "25"]
    grinding = [
        "--cut",
        "50",
        "--thickness",
        "3",
        "--wheel",
        "100",
        "--usable",
        "30",
        "0.1",
        "0.02",
    ]
    guide = ["--guide", "5", "8", "10", "--projection", "19.66", "--camber", "41.3", "0.2"]

    data = answer(capsys, *edge, *grinding, *guide, "--thicker", "1")

    assert data["bevel_for_cut_deg"] == 5
    assert data["hollow_depth_mm"] == pytest.approx(0.1262, abs=1e-3)
    assert data["sharpenings_left"] == 300
    assert (data["sharpenings_fewest"], data["sharpenings_most"]) == (250, 375)
    assert data["guide_angle_deg"] == pytest.approx(25, abs=0.05)
    assert data["guide_projection_mm"] == pytest.approx(19.65, abs=0.05)
    assert data["camber_radius_mm"] == pytest.approx(1066, abs=1)
    assert data["mouth_closed_by_mm"] == pytest.approx(1.414, abs=1e-3)


def test_a_price_follows_from_the_exact_share_what_was_spent_and_the_hours(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    data = answer(
        capsys, "price", str(shop), "LOT1-001", "--rate", "20", "--fee", "10", "--margin", "25"
    )

    assert (data["share"], data["materials"], data["paid"]) == ("36.67", "4.50", "41.17")
    assert data["break_even"] == "45.74"
    assert data["break_even_with_hours"] == "79.08"
    assert data["price_for_margin"] == "63.34"
    assert data["asking"] == {"price": "95.00", "fee": "9.50", "left": "44.33", "per_hour": "29.55"}


def test_comparables_stand_by_currency_and_too_few_say_so(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    catalog = Catalog.open(shop, who="R. Fenn", clock=now)
    tool = catalog.tools.by_stock_number("LOT1-001")
    assert tool is not None
    for price in (140, 150, 155, 160, 170):
        catalog.comparables.add(
            tool, what="block plane", price=Decimal(price), currency="GBP", where="a fair"
        )
    catalog.comparables.add(tool, what="another", price=Decimal(90), currency="USD", where="a sale")
    catalog.close()

    data = answer(capsys, "price", str(shop), "LOT1-001", "--exchange", "GBP=1.25")
    comparables = data["comparables"]

    assert isinstance(comparables, list)
    pounds, dollars = sorted(comparables, key=lambda one: str(one["currency"]))
    assert (pounds["median"], pounds["median_here"]) == ("155.00", "193.75")
    assert (dollars["count"], dollars["too_few"], dollars["median"]) == (1, True, None)


def test_a_parcel_is_charged_by_its_size_where_that_is_more(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    box = ["--parcel", "12 in", "10 in", "8 in", "3 lb"]
    data = answer(capsys, "price", str(shop), "LOT1-001", *box, "--rule", "in139")

    assert data["parcel"] == {
        "charged": "7",
        "unit": "lb",
        "by_size": True,
        "length_and_girth_mm": "1219.2",
    }


def test_a_rate_of_zero_is_refused(shop: Path, capsys: pytest.CaptureFixture[str]) -> None:
    catalog = Catalog.open(shop, who="R. Fenn", clock=now)
    tool = catalog.tools.by_stock_number("LOT1-001")
    assert tool is not None
    for _ in range(5):
        catalog.comparables.add(
            tool, what="block plane", price=Decimal(90), currency="GBP", where="a fair"
        )
    catalog.close()

    assert run(["price", str(shop), "LOT1-001", "--exchange", "GBP=0"]) == 2
    assert "exchange rate" in capsys.readouterr().err


def test_an_amount_with_a_decimal_comma_is_refused_with_what_would_do(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["price", str(shop), "LOT1-001", "--rate", "12,50"]) == 2
    assert "Try 12.50" in capsys.readouterr().err


def test_a_year_of_purchases_expenses_and_sales_is_written(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "2025.csv"
    data = answer(capsys, "ledger", str(shop), "--year", "2025", "--out", str(out))
    rows = list(csv.DictReader(out.read_text("utf-8").splitlines()))

    assert [(row["kind"], row["day"], row["amount"]) for row in rows] == [
        ("purchase", "2025-03-01", "110.01"),
        ("expense", "2025-04-01", "4.50"),
        ("sale", "2025-05-02", "95.00"),
    ]
    assert rows[2]["cost"] == "41.17"
    assert data["totals"] == {"USD": {"purchase": "110.01", "expense": "4.50", "sale": "95.00"}}


def test_another_year_is_empty_and_one_to_come_is_refused(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "none.csv"

    assert answer(capsys, "ledger", str(shop), "--year", "2024", "--out", str(out))["lines"] == 0
    assert run(["ledger", str(shop), "--year", "2999", "--out", str(out)]) == 2

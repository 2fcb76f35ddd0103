"""A year's figures: only that year, currencies apart, what is incomplete said."""

from __future__ import annotations

import csv
import datetime as dt
from decimal import Decimal

from planebench.trade.ledger import LedgerKind, LedgerLine, ledger_csv, ledger_of
from planebench.trade.money import Currency

USD = Currency(code="USD", digits=2, name="US Dollar")
GBP = Currency(code="GBP", digits=2, name="Pound Sterling")


def line(
    kind: LedgerKind,
    day: str | None,
    amount: str | None,
    currency: Currency = USD,
    cost: str | None = None,
) -> LedgerLine:
    return LedgerLine(
        day=None if day is None else dt.date.fromisoformat(day),
        kind=kind,
        batch="LOT1",
        stock="",
        what="planes, a box",
        amount=None if amount is None else Decimal(amount),
        currency=currency,
        cost=None if cost is None else Decimal(cost),
    )


def test_a_year_runs_from_january_to_december_in_order_of_day() -> None:
    found = ledger_of(
        [
            line(LedgerKind.SALE, "2025-12-31", "50"),
            line(LedgerKind.SALE, "2026-01-01", "60"),
            line(LedgerKind.PURCHASE, "2025-01-01", "40"),
        ],
        2025,
    )

    assert [one.amount for one in found.lines] == [Decimal(40), Decimal(50)]


def test_currencies_have_totals_of_their_own() -> None:
    found = ledger_of(
        [line(LedgerKind.SALE, "2025-05-01", "50"), line(LedgerKind.SALE, "2025-05-02", "9", GBP)],
        2025,
    )

    assert found.totals["USD"][LedgerKind.SALE] == Decimal(50)
    assert found.totals["GBP"][LedgerKind.SALE] == Decimal(9)


def test_what_lacks_a_day_or_an_amount_comes_last_and_says_so() -> None:
    text = ledger_csv(
        ledger_of(
            [
                line(LedgerKind.SALE, None, "50", cost="20"),
                line(LedgerKind.SALE, "2025-05-01", "60"),
                line(LedgerKind.PURCHASE, "2025-05-01", None),
            ],
            2025,
        )
    )
    rows = list(csv.DictReader(text.splitlines()))

    assert [row["note"] for row in rows] == [
        "not entered: cost",
        "not entered: day",
        "not entered: amount",
    ]
    assert rows[0]["what"] == "planes, a box"

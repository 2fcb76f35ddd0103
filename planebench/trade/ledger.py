"""A year's figures: what was bought, spent and sold, as lines for a tax adviser."""

from __future__ import annotations

import csv
import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from io import StringIO

from planebench.trade.money import Currency


class LedgerKind(StrEnum):
    """What a line is."""

    PURCHASE = "purchase"
    EXPENSE = "expense"
    SALE = "sale"


HEADER = ("day", "kind", "batch", "stock", "what", "amount", "currency", "cost", "note")


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerLine:
    """One purchase, expense or sale; `amount` in `currency`, above 0 whichever way it went.

    `cost` of a sale is the tool's share of its purchase and what was spent on it, None where the
    purchase is not entered. `day` is None where it is not entered: such lines are in no year.
    """

    day: dt.date | None
    kind: LedgerKind
    batch: str
    stock: str
    what: str
    amount: Decimal | None
    currency: Currency
    cost: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ledger:
    """The lines of a year in order of day, and those without a day or an amount, set apart."""

    year: int
    lines: tuple[LedgerLine, ...]
    incomplete: tuple[LedgerLine, ...]

    @property
    def totals(self) -> Mapping[str, Mapping[LedgerKind, Decimal]]:
        """What was bought, spent and sold, by currency; currencies are never added together."""
        sums: dict[str, dict[LedgerKind, Decimal]] = {}
        for line in self.lines:
            own = sums.setdefault(line.currency.code, dict.fromkeys(LedgerKind, Decimal(0)))
            own[line.kind] += (line.amount or Decimal(0)).quantize(line.currency.smallest)
        return sums


def ledger_of(lines: Iterable[LedgerLine], year: int) -> Ledger:
    """Choose the lines of a calendar year; a line without a day or an amount is set apart."""
    known = tuple(lines)
    of_year = [one for one in known if one.amount is not None and _year(one) == year]
    return Ledger(
        year=year,
        lines=tuple(sorted(of_year, key=_place)),
        incomplete=tuple(one for one in known if one.day is None or one.amount is None),
    )


def _year(line: LedgerLine) -> int | None:
    return None if line.day is None else line.day.year


def _place(line: LedgerLine) -> tuple[dt.date, str, str, str]:
    return line.day or dt.date.min, line.kind.value, line.batch, line.stock


def ledger_csv(ledger: Ledger) -> str:
    """Return the ledger as CSV: days as ISO 8601, amounts with a decimal point, ISO 4217 codes."""
    out = StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEADER)
    for line in (*ledger.lines, *ledger.incomplete):
        writer.writerow(_cells(line))
    return out.getvalue()


def _cells(line: LedgerLine) -> Sequence[str]:
    missing = [
        name for name, value in (("day", line.day), ("amount", line.amount)) if value is None
    ]
    if line.kind is LedgerKind.SALE and line.cost is None:
        missing.append("cost")
    return (
        "" if line.day is None else line.day.isoformat(),
        line.kind.value,
        line.batch,
        line.stock,
        line.what,
        _amount(line.amount, line.currency),
        line.currency.code,
        _amount(line.cost, line.currency),
        f"not entered: {', '.join(missing)}" if missing else "",
    )


def _amount(amount: Decimal | None, currency: Currency) -> str:
    return "" if amount is None else f"{amount.quantize(currency.smallest):f}"

"""planebench ledger: write a year's purchases, expenses and sales as CSV."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.currencies import currency_of
from planebench.catalog.tools import ToolFilter
from planebench.catalog.values import Batch, Tool
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.open_catalog import add_catalog, open_for
from planebench.cli.price import tool_cost
from planebench.errors import FileError, InputError
from planebench.trade.ledger import Ledger, LedgerKind, LedgerLine, ledger_csv, ledger_of
from planebench.trade.money import format_money
from planebench.trade.terms import ToolStatus

_FIRST_YEAR = 1900


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)
    parser.add_argument("--year", type=int, required=True, metavar="Y", help="the calendar year")
    parser.add_argument(
        "--out", type=Path, required=True, metavar="FILE.csv", help="the CSV file to write"
    )


def _run(args: Namespace) -> CommandAnswer:
    with open_for(args) as catalog:
        if not _FIRST_YEAR <= args.year <= catalog.now.year:
            raise InputError(
                f"There can be no figures for {args.year}.",
                remedy=f"Use a year from {_FIRST_YEAR} to {catalog.now.year}.",
                subject="--year",
            )
        ledger = ledger_of(_ledger_lines(catalog), args.year)
    _save(args.out, ledger_csv(ledger))
    return _answer(ledger, args.out)


def _ledger_lines(catalog: Catalog) -> Iterator[LedgerLine]:
    batches = {line.batch.id: line.batch for line in catalog.batches.lines()}
    for batch in batches.values():
        yield _purchase(batch)
    for tool_id in catalog.tools.find(ToolFilter()):
        tool = catalog.tools.one(tool_id)
        yield from _lines_of_tool(catalog, tool, batches[tool.batch])


def _purchase(batch: Batch) -> LedgerLine:
    seller = f"; bought from {batch.bought_from}" if batch.bought_from else ""
    return LedgerLine(
        day=batch.bought_on,
        kind=LedgerKind.PURCHASE,
        batch=batch.code,
        stock="",
        what=f"{batch.title}{seller}",
        amount=batch.cost.paid,
        currency=currency_of(batch.currency),
    )


def _lines_of_tool(catalog: Catalog, tool: Tool, batch: Batch) -> Iterator[LedgerLine]:
    currency = currency_of(batch.currency)
    for work in tool.work:
        if work.cost:
            yield LedgerLine(
                day=work.done_on,
                kind=LedgerKind.EXPENSE,
                batch=batch.code,
                stock=tool.stock_number,
                what=work.what,
                amount=work.cost,
                currency=currency,
            )
    if tool.status is ToolStatus.SOLD:
        cost = tool_cost(catalog, tool)
        yield LedgerLine(
            day=tool.sold_on,
            kind=LedgerKind.SALE,
            batch=batch.code,
            stock=tool.stock_number,
            what=tool.line.title,
            amount=tool.sold_for,
            currency=currency,
            cost=None if cost.is_partial else cost.paid,
        )


def _save(out: Path, text: str) -> None:
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        out.write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        raise FileError(
            f"{out.name} could not be written: {error.strerror}.",
            remedy="Choose another place with --out, or free some space.",
            subject=str(out),
        ) from error


def _incomplete(count: int) -> str:
    if count == 1:
        return "One line lacks a day or an amount; it comes last."
    return f"{count} lines lack a day or an amount; they come last."


def _answer(ledger: Ledger, out: Path) -> CommandAnswer:
    lines = [f"{len(ledger.lines)} lines for {ledger.year}: {out}"]
    for code, sums in ledger.totals.items():
        words = (
            f"{kind.value}s {format_money(sums[kind], currency_of(code))}" for kind in LedgerKind
        )
        lines.append(f"{code}: {', '.join(words)}.")
    if ledger.incomplete:
        lines.append(_incomplete(len(ledger.incomplete)))
    return CommandAnswer(
        data={
            "file": str(out),
            "year": ledger.year,
            "lines": len(ledger.lines),
            "incomplete": len(ledger.incomplete),
            "partial": bool(ledger.incomplete),
            "totals": {
                code: {kind.value: f"{amount:f}" for kind, amount in sums.items()}
                for code, sums in ledger.totals.items()
            },
        },
        lines=tuple(lines),
    )


COMMAND = Command(
    name="ledger",
    summary="Write a year’s purchases, expenses and sales as CSV.",
    arguments=_arguments,
    run=_run,
)

"""planebench cards: write scale cards and tags as PDF, to print and cut out."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.reference import resources_folder
from planebench.catalog.tools import ToolFilter
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.open_catalog import add_catalog, open_for, tool_of
from planebench.errors import FileError, InputError
from planebench.sheet.card_press import CardRun, correction_for, print_cards
from planebench.sheet.content import Paper

_TAGS_PER_TOOL = 4


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)
    parser.add_argument("stock", nargs="*", help="stock numbers; all tools if left out")
    parser.add_argument("--batch", help="code of a batch: cards for all its tools")
    parser.add_argument("--out", type=Path, required=True, help="PDF file to write")
    parser.add_argument("--paper", choices=[paper.value for paper in Paper], help="paper size")
    parser.add_argument("--tags", action="store_true", help="also print four tags per tool")
    parser.add_argument(
        "--line", type=float, metavar="MM", help="measured length of the 100 mm line on your print"
    )


def _run(args: Namespace) -> CommandAnswer:
    with open_for(args) as catalog:
        stocks = _stocks(catalog, args)
        paper = Paper(args.paper or catalog.settings.read().paper)
        at = catalog.now
    run = CardRun(
        stocks=stocks,
        paper=paper,
        tags=_TAGS_PER_TOOL if args.tags else 0,
        correction=1.0 if args.line is None else correction_for(args.line),
    )
    printed = print_cards(run, resources=resources_folder(), at=at)
    _save(args.out, printed.pdf)
    return _answer(run, args.out)


def _stocks(catalog: Catalog, args: Namespace) -> tuple[str, ...]:
    """Return the stock numbers as recorded, in the order asked for."""
    named = tuple(tool_of(catalog, stock) for stock in args.stock)
    tools = named or catalog.tools.find(_wanted(catalog, args.batch))
    return tuple(catalog.tools.one(tool).stock_number for tool in tools)


def _wanted(catalog: Catalog, code: str | None) -> ToolFilter:
    if code is None:
        return ToolFilter()
    batch = catalog.batches.by_code(code)
    if batch is None:
        raise InputError(
            f"There is no batch {code} in this catalog.",
            remedy="Check the batch code.",
            subject=code,
        )
    return ToolFilter(batch=batch.id)


def _save(out: Path, pdf: bytes) -> None:
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        out.write_bytes(pdf)
    except OSError as error:
        raise FileError(
            f"{out.name} could not be written: {error.strerror}.",
            remedy="Choose another file with --out, or free up disk space.",
            subject=str(out),
        ) from error


def _answer(run: CardRun, out: Path) -> CommandAnswer:
    data: dict[str, object] = {
        "file": str(out),
        "stock": list(run.stocks),
        "paper": run.paper.value,
        "tags_each": run.tags,
        "correction": run.correction,
    }
    word = "card" if len(run.stocks) == 1 else "cards"
    check = (
        "Print at full size, then check that the line on the page measures 100 mm."
        " If it does not, give its measured length with --line and print again."
    )
    return CommandAnswer(data=data, lines=(f"{len(run.stocks)} {word}: {out}", check))


COMMAND = Command(
    name="cards",
    summary="Write scale cards to print: they give photographs a stock number and a scale.",
    arguments=_arguments,
    run=_run,
)

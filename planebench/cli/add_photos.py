"""planebench add-photos: add photographs from files and folders, or as they arrive."""

from __future__ import annotations

import json
import signal
import sys
from argparse import SUPPRESS, ArgumentParser, Namespace
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Event
from types import FrameType

from planebench.catalog.catalog import Catalog
from planebench.catalog.continuous_import import FolderReport, ImportObserver, import_continuously
from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.import_types import (
    Destination,
    FileFate,
    FileOutcome,
    ImportResult,
    Progress,
)
from planebench.catalog.photo_import import import_photographs
from planebench.catalog.tools import NewTool
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.open_catalog import add_catalog, open_for
from planebench.errors import FileError, InputError
from planebench.trade.terms import Stage

_LONGEST_MINUTES = 24 * 60
_MOST_NAMED = 6


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)
    parser.add_argument("paths", nargs="+", type=Path, metavar="PATH", help="files or folders")
    parser.add_argument("--batch", metavar="CODE", help="the batch to add them to")
    parser.add_argument(
        "--add-batch",
        action="store_true",
        help="add the batch if it is new; not needed in a catalog without batches",
    )
    parser.add_argument("--make-batch", dest="add_batch", action="store_true", help=SUPPRESS)
    parser.add_argument("--stock", metavar="NUMBER", help="the tool that all of them show")
    parser.add_argument(
        "--stage",
        choices=[stage.value for stage in Stage],
        default=Stage.AS_FOUND.value,
        help="when they were taken; as_found by default",
    )
    parser.add_argument(
        "--follow-cards",
        action="store_true",
        help="file each one by the scale card in it, or by the last card before it",
    )
    parser.add_argument(
        "--minutes",
        type=int,
        metavar="N",
        help="how many minutes after a card photographs are filed by it",
    )
    parser.add_argument(
        "--add-tools",
        metavar="KIND",
        default="",
        help="add a tool of this kind for each number on a card that no tool has yet",
    )
    parser.add_argument("--make-tools", dest="add_tools", default=SUPPRESS, help=SUPPRESS)
    parser.add_argument(
        "--watch", action="store_true", help="keep adding new photographs until interrupted"
    )


def _run(args: Namespace) -> CommandAnswer:
    with open_for(args) as catalog, _interrupted() as stop:
        to = _destination(catalog, args)
        if args.watch:
            return _watch(catalog, args, to, stop)
        result = import_photographs(
            catalog, args.paths, to=to, report=_count_on_terminal, stopped=stop.is_set
        )
    _end_of_count(result.outcomes)
    return _answer(result, args)


def _watch(catalog: Catalog, args: Namespace, to: Destination, stop: Event) -> CommandAnswer:
    imports: list[ImportResult] = []
    where = ", ".join(map(str, args.paths))
    print(f"Watching {where}. Press Ctrl+C to stop.", file=sys.stderr)
    observer = ImportObserver(seen=_FolderNotices().report, stopped=stop.is_set)
    for one in import_continuously(catalog, args.paths, to=to, observer=observer):
        imports.append(one)
        for outcome in (*one.outcomes, *one.refiled):
            words = json.dumps(_data(outcome), ensure_ascii=False) if args.json else _line(outcome)
            print(words, flush=True)
    counts = {became.value: sum(one.count(became) for one in imports) for became in FileFate}
    return CommandAnswer(
        data=counts, lines=(_in_words(counts),), exit_code=1 if counts["refused"] else 0
    )


class _FolderNotices:
    """Reports on the terminal which watched folders went away and came back, each once."""

    def __init__(self) -> None:
        self._away: dict[str, FileError] = {}

    def report(self, sight: FolderReport) -> None:
        away = {error.subject: error for error in sight.away}
        for folder in self._away.keys() - away.keys():
            print(f"{folder} is back.", file=sys.stderr)
        for folder in away.keys() - self._away.keys():
            happened = away[folder].happened
            print(f"{folder}: {happened} Waiting for it to come back.", file=sys.stderr)
        self._away = away


def _destination(catalog: Catalog, args: Namespace) -> Destination:
    minutes = catalog.settings.read().follow_minutes if args.minutes is None else args.minutes
    if not 0 <= minutes <= _LONGEST_MINUTES:
        raise InputError(
            f"Photographs cannot be filed by a card from {minutes} minutes earlier.",
            remedy=f"Use 0 to {_LONGEST_MINUTES} after --minutes.",
            subject="--minutes",
        )
    if args.stock and args.follow_cards:
        raise InputError(
            "--stock and --follow-cards cannot go together.",
            remedy="Use one or the other.",
            subject="--follow-cards",
        )
    batch = _batch(catalog, args)
    return Destination(
        batch=batch,
        tool=_tool(catalog, batch, args),
        stage=Stage(args.stage),
        follow_cards=args.follow_cards,
        minutes=minutes,
        make_tools=args.add_tools,
    )


def _batch(catalog: Catalog, args: Namespace) -> BatchId | None:
    if args.batch is None:
        if args.add_tools:
            raise InputError(
                "New tools need a batch.", remedy="Add --batch and its code.", subject="--batch"
            )
        return None
    batch = catalog.batches.by_code(args.batch)
    if batch is not None:
        return batch.id
    known = [line.batch.code for line in catalog.batches.lines()]
    if known and not args.add_batch:
        raise InputError(
            f"There is no batch {args.batch} in this catalog; it has {_some(known)}.",
            remedy="Use one of these codes, or add --add-batch to add a new batch.",
            subject="--batch",
        )
    added = catalog.batches.add(code=args.batch)
    print(added.changes.words, file=sys.stderr)
    return added.id


def _some(codes: list[str]) -> str:
    shown = ", ".join(codes[:_MOST_NAMED])
    return f"{shown} and {len(codes) - _MOST_NAMED} more" if codes[_MOST_NAMED:] else shown


def _tool(catalog: Catalog, batch: BatchId | None, args: Namespace) -> ToolId | None:
    if args.stock is None:
        return None
    tool = catalog.tools.by_stock_number(args.stock)
    if tool is None and batch is not None and args.add_tools:
        new = NewTool(kind=args.add_tools, stock_number=args.stock)
        tool = catalog.tools.add(batch, new).id
    if tool is None:
        raise InputError(
            f"There is no tool {args.stock} in this catalog.",
            remedy="Use a number as it is in the tool’s record, or add the tool with "
            "--batch and --add-tools.",
            subject="--stock",
        )
    return tool


def _answer(result: ImportResult, args: Namespace) -> CommandAnswer:
    _print_problems(result)
    counts = {became.value: result.count(became) for became in FileFate}
    lines = [_line(outcome) for outcome in result.outcomes if outcome.became != FileFate.REFUSED]
    lines += map(_line, result.refiled)
    lines += [f"No tool here has the number {stock}." for stock in result.unknown_stocks]
    return CommandAnswer(
        data={
            **counts,
            "skipped": result.skipped,
            "stopped": result.stopped,
            "unknown_stocks": list(result.unknown_stocks),
            "look_alikes": [list(group) for group in result.look_alikes],
            "files": list(map(_data, result.outcomes)),
            "refiled": list(map(_data, result.refiled)),
        },
        lines=(*lines, *_left_over(result, args), _in_words(counts)),
        exit_code=int(bool(counts["refused"]) or result.stopped),
    )


def _left_over(result: ImportResult, args: Namespace) -> Iterator[str]:
    """Yield what a person may miss: that nothing was there, or that something waits to be filed."""
    if not result.outcomes and not result.stopped:
        where = ", ".join(map(str, args.paths))
        passed = f"; {result.skipped} other files were skipped" if result.skipped else ""
        yield f"No photographs in {where}{passed}."
    waiting = sum(o.became != FileFate.REFUSED and not o.stock for o in result.outcomes)
    if waiting:
        place = "in the window" if args.follow_cards else "in the window, or with --follow-cards"
        yield f"{waiting} not filed under a tool yet. File them {place}."


def _data(outcome: FileOutcome) -> dict[str, object]:
    refused = outcome.became == FileFate.REFUSED
    return {
        "file": outcome.file,
        "became": outcome.became.value,
        "sha256": outcome.sha256 or None,
        "photograph": outcome.photograph,
        "tool": outcome.stock or None,
        "rule": outcome.rule or None,
        "why": outcome.why,
        "suggestion": outcome.suggestion or None,
        "warnings": list(outcome.warnings),
        "refused": f"{outcome.happened} {outcome.remedy}" if refused else None,
    }


def _print_problems(result: ImportResult) -> None:
    for outcome in result.outcomes:
        if outcome.became == FileFate.REFUSED:
            print(_line(outcome), file=sys.stderr)
    if result.stopped:
        print(
            "Stopped. What was added stays; run the same command again to go on.", file=sys.stderr
        )


def _in_words(counts: dict[str, int]) -> str:
    return (
        f"{counts['new']} added, {counts['already_in_catalog']} already here and not added twice, "
        f"{counts['refused']} could not be added."
    )


def _line(outcome: FileOutcome) -> str:
    if outcome.became == FileFate.REFUSED:
        return f"{outcome.file}: {outcome.happened} {outcome.remedy}"
    known = "was already here" if outcome.became == FileFate.ALREADY_IN_CATALOG else ""
    words = ", ".join(filter(None, (outcome.stock or "not filed yet", outcome.why, known)))
    words = ". ".join((words, *(f"Note: {warning}" for warning in outcome.warnings)))
    return f"{outcome.file} → {words}" if outcome.stock else f"{outcome.file}: {words}"


def _count_on_terminal(progress: Progress) -> None:
    if sys.stderr.isatty():
        of = "" if progress.total is None else f" of {progress.total}"
        left = "" if progress.seconds_left is None else f", {progress.seconds_left:.0f} s left"
        words = f"{progress.done}{of} photographs, {progress.per_second:.1f} per second{left}"
        print(f"\r{words:<78}", end="", file=sys.stderr, flush=True)


def _end_of_count(outcomes: tuple[FileOutcome, ...]) -> None:
    if outcomes and sys.stderr.isatty():
        print(file=sys.stderr)


@contextmanager
def _interrupted() -> Iterator[Event]:
    """Yield an event that is set when a person or the system asks the command to end."""
    stop = Event()

    def ask(_number: int, _frame: FrameType | None) -> None:
        stop.set()

    before = {number: signal.signal(number, ask) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield stop
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


COMMAND = Command(
    name="add-photos",
    summary="Add photographs from files and folders.",
    arguments=_arguments,
    run=_run,
)

"""planebench list: the tools of a catalog, or those that words are found in."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from planebench.catalog.tools import ToolFilter
from planebench.catalog.values import ToolLine
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.open_catalog import add_catalog, open_for
from planebench.trade.terms import TOOL_STATUS_WORDS, ToolStatus


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)
    parser.add_argument(
        "words", nargs="*", metavar="WORD", help="only tools in whose record all of these are found"
    )
    parser.add_argument(
        "--status",
        action="append",
        choices=[status.value for status in ToolStatus],
        default=[],
        help="only tools of this status; may be given several times",
    )


def _run(args: Namespace) -> CommandAnswer:
    wanted = ToolFilter(
        words=" ".join(args.words), statuses=frozenset(map(ToolStatus, args.status))
    )
    with open_for(args) as catalog:
        lines = tuple(catalog.tools.lines(catalog.tools.find(wanted)).values())
    return CommandAnswer(
        data={"tools": [_data(line) for line in lines]}, lines=tuple(map(_in_words, lines))
    )


def _data(line: ToolLine) -> dict[str, str]:
    return {
        "stock": line.stock_number,
        "kind": line.title,
        "identified": line.subtitle,
        "status": line.status.value,
        "made": line.made,
        "next_step": line.next_act.words,
    }


def _in_words(line: ToolLine) -> str:
    named = ", ".join(filter(None, (line.title, line.subtitle, line.made)))
    return f"{line.stock_number}: {named}; {TOOL_STATUS_WORDS[line.status]}"


COMMAND = Command(
    name="list",
    summary="List the tools of a catalog, or those that words are found in.",
    arguments=_arguments,
    run=_run,
)

"""Reads the command line, runs the command named there, prints its answer."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Sequence

from planebench import __version__
from planebench.cli import (
    align,
    backup,
    cards,
    check,
    coverage,
    date,
    demo,
    export,
    intake,
    new,
    restore,
    scale,
    sheet,
)
from planebench.cli.answer import Answer, Command
from planebench.errors import InputError, PlanebenchError

COMMANDS: tuple[Command, ...] = (
    align.COMMAND,
    backup.COMMAND,
    cards.COMMAND,
    check.COMMAND,
    coverage.COMMAND,
    date.COMMAND,
    demo.COMMAND,
    export.COMMAND,
    intake.COMMAND,
    new.COMMAND,
    restore.COMMAND,
    scale.COMMAND,
    sheet.COMMAND,
)


def run(argv: Sequence[str]) -> int:
    """Carry out one command line; return 0 only on success, 2 when the words or values are off."""
    args = _parser().parse_args(argv)
    command: Command = args.command
    try:
        answer = command.run(args)
    except PlanebenchError as error:
        print(f"planebench {command.name}: {error}", file=sys.stderr)
        return 2 if isinstance(error, InputError) else 1
    try:
        _print(answer, as_json=args.json)
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read has heard enough; Python's own flush at the end must not complain either.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return answer.exit_code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="planebench", description="A catalog for people who restore and sell old hand planes."
    )
    parser.add_argument("--version", action="version", version=f"planebench {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for command in COMMANDS:
        sub = commands.add_parser(command.name, help=command.summary, description=command.summary)
        command.arguments(sub)
        sub.add_argument("--json", action="store_true", help="answer as JSON on standard output")
        sub.set_defaults(command=command)
    return parser


def _print(answer: Answer, *, as_json: bool) -> None:
    if as_json:
        print(json.dumps(answer.data, ensure_ascii=False))
        return
    for line in answer.lines:
        print(line)

"""Reads the command line, runs the command named there, prints its answer."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Sequence
from difflib import get_close_matches
from pathlib import Path

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
        print(f"planebench {command.name}: {_with_whole_path(error)}", file=sys.stderr)
        return 2 if isinstance(error, InputError) else 1
    try:
        _print(answer, as_json=args.json)
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read has heard enough; Python's own flush at the end must not complain either.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return answer.exit_code


def refuse(word: str) -> int:
    """Say that a word is neither a command nor a catalog's folder; return 2."""
    close = get_close_matches(word, [command.name for command in COMMANDS], n=1)
    meant = f" Did you mean {close[0]}?" if close else ""
    print(_parser().format_usage(), end="", file=sys.stderr)
    print(
        f"planebench: “{word}” is neither a command nor the folder of a catalog.{meant} "
        "planebench --help lists the commands.",
        file=sys.stderr,
    )
    return 2


def _with_whole_path(error: PlanebenchError) -> str:
    """Name a file or folder as it was found, where the sentence has its last part alone."""
    told, name = str(error), Path(error.subject).name
    whole = os.sep in error.subject and error.subject not in told and name
    return told.replace(name, error.subject, 1) if whole else told


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="planebench",
        description="A catalog for people who restore and sell old hand planes.",
        epilog="planebench alone opens the window; planebench FOLDER opens it on that catalog.",
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

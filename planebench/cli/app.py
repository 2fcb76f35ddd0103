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
    add_photos,
    align,
    angles,
    backup,
    cards,
    check,
    coverage,
    date,
    demo,
    edit_history,
    export,
    flatness,
    grits,
    ledger,
    new,
    price,
    restore,
    scale,
    sheet,
    tool_list,
    verify,
)
from planebench.cli.command import Command, CommandAnswer
from planebench.errors import InputError, PlanebenchError

COMMANDS: tuple[Command, ...] = (
    add_photos.COMMAND,
    align.COMMAND,
    angles.COMMAND,
    backup.COMMAND,
    cards.COMMAND,
    check.COMMAND,
    coverage.COMMAND,
    date.COMMAND,
    demo.COMMAND,
    export.COMMAND,
    flatness.COMMAND,
    grits.COMMAND,
    edit_history.HISTORY,
    ledger.COMMAND,
    tool_list.COMMAND,
    new.COMMAND,
    price.COMMAND,
    edit_history.REDO,
    restore.COMMAND,
    scale.COMMAND,
    sheet.COMMAND,
    edit_history.UNDO,
    verify.COMMAND,
)

FORMER_NAMES = {"intake": "add-photos"}
"""Names that commands had before; scripts that use them go on working."""


def run(argv: Sequence[str]) -> int:
    """Run one command line; return 0 only on success, 2 when the words or values are wrong."""
    words = [FORMER_NAMES.get(argv[0], argv[0]), *argv[1:]] if argv else []
    args = _parser().parse_args(words)
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
        # The reader has closed the pipe; Python's own flush at the end must not complain either.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return answer.exit_code


def refuse(word: str) -> int:
    """Say that a word is neither a command nor a catalog's folder; return 2."""
    close = get_close_matches(word, [command.name for command in COMMANDS], n=1)
    meant = f" Did you mean {close[0]}?" if close else ""
    print(_parser().format_usage(), end="", file=sys.stderr)
    print(
        f"planebench: “{word}” is not a command or a catalog’s folder.{meant} "
        "Run planebench --help to list the commands.",
        file=sys.stderr,
    )
    return 2


def _with_whole_path(error: PlanebenchError) -> str:
    """Return the error with a file's whole path where the sentence has only its name."""
    text, name = str(error), Path(error.subject).name
    whole = os.sep in error.subject and error.subject not in text and name
    return text.replace(name, error.subject, 1) if whole else text


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="planebench",
        description="A catalog for people who restore and sell old hand planes.",
        epilog="planebench alone opens the window; planebench FOLDER opens that catalog in it.",
    )
    parser.add_argument("--version", action="version", version=f"planebench {__version__}")
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for command in COMMANDS:
        sub = commands.add_parser(command.name, help=command.summary, description=command.summary)
        command.arguments(sub)
        sub.add_argument(
            "--json", action="store_true", help="write the answer as JSON to standard output"
        )
        sub.set_defaults(command=command)
    return parser


def _print(answer: CommandAnswer, *, as_json: bool) -> None:
    if as_json:
        print(json.dumps(answer.data, ensure_ascii=False))
        return
    for line in answer.lines:
        print(line)

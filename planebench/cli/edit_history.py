"""planebench history, undo, redo: what was changed, and taking it back or doing it again."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from planebench.catalog.history import PastEdit
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.open_catalog import add_catalog, open_for, tool_of

_USUAL_LINES = 50


def _history_arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)
    parser.add_argument("--stock", help="only changes of the tool with this stock number")
    parser.add_argument(
        "--limit", type=int, default=_USUAL_LINES, help=f"so many at most (usually {_USUAL_LINES})"
    )


def _history(args: Namespace) -> CommandAnswer:
    with open_for(args) as catalog:
        tool = None if args.stock is None else tool_of(catalog, args.stock)
        edits = catalog.history.lines(tool=tool, limit=max(1, args.limit))
    return CommandAnswer(
        data={"changes": [_data(edit) for edit in edits]}, lines=tuple(map(_in_words, edits))
    )


def _data(edit: PastEdit) -> dict[str, object]:
    return {
        "at": edit.at.isoformat(timespec="seconds"),
        "who": edit.who,
        "change": edit.words,
        "undone": edit.undone,
    }


def _in_words(edit: PastEdit) -> str:
    undone = " (undone)" if edit.undone else ""
    return f"{edit.at.astimezone():%Y-%m-%d %H:%M} {edit.who}: {edit.words}{undone}"


def _undo(args: Namespace) -> CommandAnswer:
    with open_for(args) as catalog:
        words = catalog.history.undo().words
    return _step(words, "There is nothing to undo.")


def _redo(args: Namespace) -> CommandAnswer:
    with open_for(args) as catalog:
        words = catalog.history.redo().words
    return _step(words, "There is nothing to redo.")


def _step(words: str, nothing: str) -> CommandAnswer:
    return CommandAnswer(
        data={"done": words}, lines=(words or nothing,), exit_code=0 if words else 1
    )


HISTORY = Command(
    name="history",
    summary="List the changes of a catalog, newest first.",
    arguments=_history_arguments,
    run=_history,
)
UNDO = Command(
    name="undo", summary="Undo the last change of a catalog.", arguments=add_catalog, run=_undo
)
REDO = Command(
    name="redo", summary="Redo the change undone last.", arguments=add_catalog, run=_redo
)

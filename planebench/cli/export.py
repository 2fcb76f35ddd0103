"""planebench export: copy photographs for a buyer, with what they show written into them."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from planebench.catalog.exporting import ExportResult, export
from planebench.catalog.tools import ToolFilter
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.open_catalog import add_catalog, open_for, tool_of


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)
    parser.add_argument("stock", nargs="*", help="stock numbers; leave out for every tool")
    parser.add_argument("--out", type=Path, required=True, help="the folder to write into")


def _run(args: Namespace) -> CommandAnswer:
    with open_for(args) as catalog:
        tools = [tool_of(catalog, stock) for stock in args.stock]
        return _answer(export(catalog, tools or catalog.tools.find(ToolFilter()), args.out))


def _answer(exported: ExportResult) -> CommandAnswer:
    lines = [f"{one.stock}: {one.file}" for one in exported.copies]
    lines += [f"{one.stock}: {one.name} was not copied. {one.error}" for one in exported.failed]
    data: dict[str, object] = {
        "copies": [
            {
                "stock": one.stock,
                "photograph": one.photograph,
                "file": str(one.file),
                "reencoded": one.reencoded,
            }
            for one in exported.copies
        ],
        "failed": [
            {
                "stock": one.stock,
                "name": one.name,
                "happened": one.error.happened,
                "remedy": one.error.remedy,
            }
            for one in exported.failed
        ],
    }
    return CommandAnswer(data=data, lines=tuple(lines), exit_code=1 if exported.failed else 0)


COMMAND = Command(
    name="export",
    summary="Copy photographs for a buyer, with what they show written into them.",
    arguments=_arguments,
    run=_run,
)

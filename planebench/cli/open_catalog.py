"""What commands share: opening a catalog, who is at work, tools by stock number, and the clock."""

from __future__ import annotations

import datetime as dt
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.catalog.program_settings import ProgramSettingsFile
from planebench.errors import InputError


def add_catalog(parser: ArgumentParser) -> None:
    """Add the argument for the catalog's folder."""
    parser.add_argument("catalog", type=Path, metavar="CATALOG", help="the catalog’s folder")


@contextmanager
def open_for(args: Namespace) -> Iterator[Catalog]:
    """Open the catalog named on the command line and close it again."""
    catalog = Catalog.open(args.catalog, who=person(), clock=now)
    try:
        yield catalog
    finally:
        catalog.close()


def tool_of(catalog: Catalog, stock: str) -> ToolId:
    """Return the tool of a stock number. Raises InputError where there is none."""
    tool = catalog.tools.by_stock_number(stock)
    if tool is None:
        raise InputError(
            f"There is no tool {stock} in this catalog.",
            remedy="Use a stock number as it is in the tool’s record.",
            subject=stock,
        )
    return tool


def person() -> str:
    """Return the name that is written in the history."""
    return ProgramSettingsFile().read().name


def now() -> dt.datetime:
    """Return the time, in this machine's zone, so that names of backups read as the wall clock."""
    return dt.datetime.now().astimezone()  # noqa: TID251 -- a command is the edge: here alone it is read

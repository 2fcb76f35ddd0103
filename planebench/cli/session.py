"""How a command opens a catalog: whose it is, and the one place where commands read the clock."""

from __future__ import annotations

import datetime as dt
from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.preferences import PreferenceFile


def add_catalog(parser: ArgumentParser) -> None:
    """Ask for the catalog's folder."""
    parser.add_argument("catalog", type=Path, metavar="CATALOG", help="the catalog's folder")


@contextmanager
def open_for(args: Namespace) -> Iterator[Catalog]:
    """Open the catalog named on the command line and close it again."""
    catalog = Catalog.open(args.catalog, who=who(), clock=now)
    try:
        yield catalog
    finally:
        catalog.close()


def who() -> str:
    """Give the name that is written in the history."""
    return PreferenceFile().read().name


def now() -> dt.datetime:
    """Give the time, in this machine's zone, so that names of backups read as the wall clock."""
    return dt.datetime.now().astimezone()  # noqa: TID251 -- a command is the edge: here alone it is read

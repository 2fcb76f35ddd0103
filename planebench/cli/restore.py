"""planebench restore: makes a catalog from a backup."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from planebench.catalog.restoring import restore
from planebench.cli.answer import Answer, Command
from planebench.cli.backup import answer_of
from planebench.cli.told import tell


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "backup",
        type=Path,
        metavar="BACKUP",
        help="the folder of a backup, or a dated database in a catalog’s backups",
    )
    parser.add_argument(
        "new_catalog", type=Path, metavar="NEWCATALOG", help="a folder that is not there yet"
    )


def _run(args: Namespace) -> Answer:
    written = restore(args.backup, args.new_catalog)
    tell(written.findings)
    return answer_of(written, key="catalog", words="Restored")


COMMAND = Command(
    name="restore",
    summary="Make a catalog from a backup.",
    arguments=_arguments,
    run=_run,
)

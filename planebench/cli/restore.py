"""planebench restore: make a catalog from a backup."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from planebench.catalog.restoring import restore
from planebench.cli.backup import answer_of
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.findings_output import print_findings


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "backup",
        type=Path,
        metavar="BACKUP",
        help="a backup’s folder, or a dated database among a catalog’s backups",
    )
    parser.add_argument(
        "new_catalog",
        type=Path,
        metavar="NEWCATALOG",
        help="the folder to make; it must not exist yet",
    )


def _run(args: Namespace) -> CommandAnswer:
    written = restore(args.backup, args.new_catalog)
    print_findings(written.findings)
    return answer_of(written, key="catalog", words="Restored")


COMMAND = Command(
    name="restore",
    summary="Make a catalog from a backup.",
    arguments=_arguments,
    run=_run,
)

"""planebench backup: write a whole catalog into its own folder."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from planebench.catalog.backups import BackupReport, backup
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.findings_output import findings_as_data, print_findings
from planebench.cli.open_catalog import add_catalog, open_for


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)
    parser.add_argument(
        "--to",
        type=Path,
        metavar="DIR",
        help="the folder to write into; by default the catalog’s own backups",
    )


def _run(args: Namespace) -> CommandAnswer:
    with open_for(args) as catalog:
        written = backup(catalog, args.to)
    print_findings(written.findings)
    return answer_of(written, key="backup", words="Backup")


def answer_of(written: BackupReport, *, key: str, words: str) -> CommandAnswer:
    """Return what was written; it is a failure where anything could not be copied."""
    size = f"{written.files} files, {written.size / 1e6:,.1f} MB"
    return CommandAnswer(
        data={
            key: str(written.folder),
            "files": written.files,
            "bytes": written.size,
            "findings": findings_as_data(written.findings),
        },
        lines=(f"{words}: {written.folder} ({size})",),
        exit_code=1 if written.findings else 0,
    )


COMMAND = Command(
    name="backup",
    summary="Back up a whole catalog into its own folder.",
    arguments=_arguments,
    run=_run,
)

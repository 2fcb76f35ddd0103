"""planebench backup: writes a whole catalog into a folder of its own."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from planebench.catalog.backups import BackupReport, backup
from planebench.cli.answer import Answer, Command
from planebench.cli.session import add_catalog, open_for
from planebench.cli.told import findings_as_data, tell


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)
    parser.add_argument(
        "--to", type=Path, metavar="DIR", help="where to; by default the catalog’s own backups"
    )


def _run(args: Namespace) -> Answer:
    with open_for(args) as catalog:
        written = backup(catalog, args.to)
    tell(written.findings)
    return answer_of(written, key="backup", words="Backup")


def answer_of(written: BackupReport, *, key: str, words: str) -> Answer:
    """Say what was written; what could not be had makes it no success."""
    size = f"{written.files} files, {written.size / 1e6:,.1f} MB"
    return Answer(
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
    summary="Write a whole catalog into a folder of its own.",
    arguments=_arguments,
    run=_run,
)

"""planebench verify: check whether a condition sheet is as it was issued."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.open_catalog import open_for
from planebench.errors import FileError, InputError
from planebench.sheet.verify import (
    Verification,
    format_verification,
    read_sheet_file,
    verify_fingerprint,
    verify_pdf,
)


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument(
        "sheet", metavar="FILE|FINGERPRINT", help="the sheet’s PDF, or its fingerprint"
    )
    parser.add_argument("--catalog", type=Path, help="the catalog that issued it")


def _run(args: Namespace) -> CommandAnswer:
    if args.catalog is None:
        return _answer(_verify(args.sheet, None))
    with open_for(args) as catalog:
        return _answer(_verify(args.sheet, catalog))


def _verify(sheet: str, catalog: Catalog | None) -> tuple[Verification, ...]:
    path = Path(sheet)
    if path.is_file():
        return verify_pdf(read_sheet_file(path), catalog)
    if path.suffix.casefold() == ".pdf":
        raise FileError(
            f"There is no file {path.name}.", remedy="Check its name and folder.", subject=sheet
        )
    if catalog is None:
        raise InputError(
            "A fingerprint alone can only be checked by the catalog that issued the sheet.",
            remedy="Name that catalog with --catalog, or check the sheet’s PDF.",
            subject=sheet,
        )
    return (verify_fingerprint(sheet, catalog),)


def _answer(found: tuple[Verification, ...]) -> CommandAnswer:
    good = all(one.is_good for one in found)
    return CommandAnswer(
        data={
            "as_issued": good,
            "sheets": [
                {
                    "verdict": one.verdict.value,
                    "number": one.number,
                    "stock": one.stock,
                    "issued": one.issued,
                    "fingerprint": one.fingerprint,
                }
                for one in found
            ],
        },
        lines=tuple(format_verification(one) for one in found),
        exit_code=0 if good else 1,
    )


COMMAND = Command(
    name="verify",
    summary="Check whether a condition sheet is as it was issued.",
    arguments=_arguments,
    run=_run,
)

"""planebench sheet: write condition sheets as PDF, one file per tool or one for all."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import ToolId
from planebench.catalog.reference import resources_folder
from planebench.catalog.tools import ToolFilter
from planebench.cli.command import Command, CommandAnswer
from planebench.cli.open_catalog import add_catalog, open_for, tool_of
from planebench.errors import FileError, PlanebenchError
from planebench.sheet.compose import choices_from, compose
from planebench.sheet.content import Paper, SheetChoices, SheetContent
from planebench.sheet.file_names import safe_file_name
from planebench.sheet.fingerprint import fingerprint
from planebench.sheet.issuing import issue
from planebench.sheet.pdf import SheetPress
from planebench.sheet.web_page import web_page

_TOGETHER = "condition-sheets.pdf"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    """What to write: from which catalog, with which choices, to which folder."""

    catalog: Catalog
    press: SheetPress
    choices: SheetChoices
    out: Path
    issuing: bool
    accept_missing: bool
    web: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Made:
    """One tool's sheet and the files written for it.

    `trouble` says why a file could not be written; an issued sheet stays issued all the same.
    """

    content: SheetContent
    files: tuple[Path, ...]
    trouble: PlanebenchError | None = None

    @property
    def data(self) -> dict[str, object]:
        heading = self.content.heading
        return {
            "stock": heading.stock,
            "number": heading.number,
            "issued": bool(heading.issued),
            "fingerprint": fingerprint(self.content) if heading.issued else None,
            "files": [str(file) for file in self.files],
        }


def _arguments(parser: ArgumentParser) -> None:
    add_catalog(parser)
    parser.add_argument("stock", nargs="*", help="stock numbers; all tools if left out")
    parser.add_argument("--out", type=Path, required=True, help="folder to write to")
    parser.add_argument("--paper", choices=[paper.value for paper in Paper], help="paper size")
    parser.add_argument(
        "--issue", action="store_true", help="issue the sheets instead of writing drafts"
    )
    parser.add_argument(
        "--accept-missing",
        action="store_true",
        help="issue sheets although something is missing, which they then say",
    )
    parser.add_argument(
        "--together", action="store_true", help="also write one PDF with all sheets"
    )
    parser.add_argument("--web", action="store_true", help="also write a web page of each sheet")


def _run(args: Namespace) -> CommandAnswer:
    with open_for(args) as catalog:
        return _write(catalog, args)


def _write(catalog: Catalog, args: Namespace) -> CommandAnswer:
    tools = [tool_of(catalog, stock) for stock in args.stock]
    tools = tools or list(catalog.tools.find(ToolFilter()))
    choices = choices_from(catalog.settings.read())
    if args.paper is not None:
        choices = replace(choices, paper=Paper(args.paper))
    job = _Job(
        catalog=catalog,
        press=SheetPress(resources_folder()),
        choices=choices,
        out=_folder(args.out),
        issuing=args.issue,
        accept_missing=args.accept_missing,
        web=args.web,
    )
    made, failed = _each(job, tools)
    together = _together(job, made) if args.together and made else None
    return _answer(made, failed, together)


def _folder(out: Path) -> Path:
    try:
        out.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _not_written(out, error) from error
    return out


def _each(job: _Job, tools: list[ToolId]) -> tuple[list[_Made], list[tuple[str, PlanebenchError]]]:
    """Write sheet after sheet; failures are collected and the rest goes on."""
    made: list[_Made] = []
    failed: list[tuple[str, PlanebenchError]] = []
    for tool in tools:
        try:
            made.append(_one(job, tool))
        except PlanebenchError as error:
            failed.append((job.catalog.tools.one(tool).stock_number, error))
    return made, failed


def _one(job: _Job, tool: ToolId) -> _Made:
    if job.issuing:
        issued = issue(job.catalog, job.press, tool, job.choices, accept_missing=job.accept_missing)
        content, pdf = issued.content, issued.pdf
    else:
        content = compose(job.catalog, tool, job.choices)
        pdf = job.press.print([content], at=job.catalog.now).pdf
    files: list[Path] = []
    try:
        name = safe_file_name(content.heading.stock)
        files.append(_saved(job.out / f"{name}.pdf", pdf))
        if job.web:
            files.append(_saved(job.out / f"{name}.html", web_page(content).encode("utf-8")))
    except FileError as error:
        if not job.issuing:
            raise
        return _Made(content=content, files=tuple(files), trouble=error)
    return _Made(content=content, files=tuple(files))


def _together(job: _Job, made: list[_Made]) -> Path:
    pdf = job.press.print([one.content for one in made], at=job.catalog.now).pdf
    return _saved(job.out / _TOGETHER, pdf)


def _saved(file: Path, data: bytes) -> Path:
    try:
        file.write_bytes(data)
    except OSError as error:
        raise _not_written(file, error) from error
    return file


def _not_written(path: Path, error: OSError) -> FileError:
    return FileError(
        f"{path.name} could not be written: {error.strerror}.",
        remedy="Choose another folder with --out, or free up disk space.",
        subject=str(path),
    )


def _answer(
    made: list[_Made], failed: list[tuple[str, PlanebenchError]], together: Path | None
) -> CommandAnswer:
    data: dict[str, object] = {
        "sheets": [one.data for one in made],
        "failed": [_failure(stock, error) for stock, error in failed],
        "together": None if together is None else str(together),
    }
    troubled = bool(failed) or any(one.trouble is not None for one in made)
    return CommandAnswer(
        data=data, lines=tuple(_lines(made, failed, together)), exit_code=1 if troubled else 0
    )


def _lines(
    made: list[_Made], failed: list[tuple[str, PlanebenchError]], together: Path | None
) -> Iterator[str]:
    yield from (_line(one) for one in made)
    yield from (f"{stock}: not made. {error}" for stock, error in failed)
    if together is not None:
        yield f"All sheets: {together}"


def _failure(stock: str, error: PlanebenchError) -> dict[str, str]:
    return {"stock": stock, "happened": error.happened, "remedy": error.remedy}


def _line(one: _Made) -> str:
    heading = one.content.heading
    if one.trouble is None:
        return f"{heading.stock}: {one.files[0]}"
    return (
        f"{heading.stock}: sheet {heading.number} is issued, but not all was saved. {one.trouble}"
    )


COMMAND = Command(
    name="sheet",
    summary="Write condition sheets as PDF.",
    arguments=_arguments,
    run=_run,
)

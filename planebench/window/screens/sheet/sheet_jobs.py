"""Jobs that issue or draft sheets one after another and write their files."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from planebench.catalog.changes import Changes
from planebench.catalog.ids import ToolId
from planebench.errors import FileError, PlanebenchError
from planebench.sheet.content import SheetChoices, SheetContent
from planebench.sheet.file_names import safe_file_name
from planebench.window.jobs import Job, Stopped
from planebench.window.printing import write_file
from planebench.window.screens.sheet.sheet_preview import SheetDesk


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetOrder:
    """Which tools get a sheet, with which choices, issued or as drafts.

    `accept_missing` issues although something is missing, which the sheet then says.
    """

    tools: tuple[ToolId, ...]
    choices: SheetChoices
    issuing: bool
    accept_missing: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetFailure:
    """A sheet that could not be made; the others were."""

    stock: str
    error: PlanebenchError


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetsMade:
    """The outcome of an order; `stopped` when a person ended it early.

    `files` are those written; `file_trouble` says why one could not be. What was issued stays.
    """

    order: SheetOrder
    contents: tuple[SheetContent, ...] = ()
    pdfs: tuple[bytes, ...] = ()
    failures: tuple[SheetFailure, ...] = ()
    changes: Changes | None = None
    stopped: bool = False
    files: tuple[Path, ...] = ()
    file_trouble: PlanebenchError | None = None


def make(desk: SheetDesk, order: SheetOrder, job: Job) -> SheetsMade:
    """Make sheet after sheet; failures are collected and the rest goes on."""
    contents: list[SheetContent] = []
    pdfs: list[bytes] = []
    failures: list[SheetFailure] = []
    changes: Changes | None = None
    for number, tool in enumerate(order.tools):
        if _stopped(job, number, order):
            break
        try:
            content, pdf, touched = _one(desk, order, tool)
        except PlanebenchError as error:
            failures.append(
                SheetFailure(stock=desk.catalog.tools.one(tool).stock_number, error=error)
            )
            continue
        contents.append(content)
        pdfs.append(pdf)
        changes = _joined(changes, touched)
    return SheetsMade(
        order=order,
        contents=tuple(contents),
        pdfs=tuple(pdfs),
        failures=tuple(failures),
        changes=changes,
        stopped=len(contents) + len(failures) < len(order.tools),
    )


def check_place(folder: Path) -> None:
    """Raise FileError if a folder is not writable, before a sheet number is used up."""
    probe = write_file(folder / ".planebench-probe", b"")
    try:
        probe.unlink()
    except OSError as error:
        raise FileError(
            f"Files in {folder.name} cannot be deleted: {error.strerror}.",
            remedy="Choose another folder.",
            subject=str(folder),
        ) from error


def one_file(desk: SheetDesk, made: SheetsMade, path: Path) -> tuple[Path, ...]:
    """Write all sheets as one PDF and return its path. Raise FileError or SheetError."""
    if not made.pdfs:
        return ()
    alone = len(made.pdfs) == 1
    pdf = made.pdfs[0] if alone else desk.together(made.contents)
    return (write_file(path, pdf),)


def file_each(made: SheetsMade, folder: Path) -> tuple[Path, ...]:
    """Write one PDF per tool, never over an existing file. Raise FileError."""
    return tuple(
        write_file(free_name(folder / _name_of(content)), pdf)
        for content, pdf in zip(made.contents, made.pdfs, strict=True)
    )


def file_name(stock: str, number: int | None) -> str:
    """Return a file name: the stock number, and the sheet's number unless it is a draft."""
    what = "draft sheet" if number is None else f"sheet {number:04}"
    return f"{safe_file_name(stock)} {what}.pdf"


def _name_of(content: SheetContent) -> str:
    number = int(content.heading.number) if content.heading.number else None
    return file_name(content.heading.stock, number)


def free_name(path: Path) -> Path:
    """Return a path where no file exists yet, numbering the name if needed."""
    numbered = (path.with_stem(f"{path.stem} ({number})") for number in range(2, 10_000))
    return next((one for one in _chained(path, numbered) if not one.exists()), path)


def into_files(
    desk: SheetDesk, order: SheetOrder, write: Callable[[SheetsMade], tuple[Path, ...]], job: Job
) -> SheetsMade:
    """Make the sheets, then write them; a failed write does not undo issuing."""
    made = make(desk, order, job)
    files: tuple[Path, ...] = ()
    trouble: PlanebenchError | None = None
    try:
        files = write(made)
    except PlanebenchError as error:
        trouble = error
    return SheetsMade(
        order=order,
        contents=made.contents,
        pdfs=made.pdfs,
        failures=made.failures,
        changes=made.changes,
        stopped=made.stopped,
        files=files,
        file_trouble=trouble,
    )


def _one(
    desk: SheetDesk, order: SheetOrder, tool: ToolId
) -> tuple[SheetContent, bytes, Changes | None]:
    if order.issuing:
        issued = desk.issue(tool, order.choices, accept_missing=order.accept_missing)
        return issued.content, issued.pdf, issued.changes
    draft = desk.draft(tool, order.choices)
    return draft.content, draft.pdf, None


def _stopped(job: Job, number: int, order: SheetOrder) -> bool:
    """Report progress; return True once stopped, so that what was issued is still reported."""
    try:
        job.step(number, len(order.tools))
    except Stopped:
        return True
    return False


def _joined(before: Changes | None, touched: Changes | None) -> Changes | None:
    if before is None or touched is None:
        return touched or before
    return before | touched


def _chained(first: Path, rest: Iterable[Path]) -> Iterable[Path]:
    yield first
    yield from rest

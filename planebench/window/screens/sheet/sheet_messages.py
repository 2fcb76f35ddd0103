"""Messages of the sheet screen: its title, and the outcome of issuing or saving."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from planebench.errors import FileError, PlanebenchError, SheetError
from planebench.sheet.verify import Verification, format_verification
from planebench.window.notices import Notices, Offer
from planebench.window.pieces.screen import ScreenTitle
from planebench.window.screens.sheet.sheet_jobs import SheetFailure, SheetsMade
from planebench.window.screens.sheet.sheet_preview import Preview

_FEW = ("no pages", "one page", "two pages", "three pages", "four pages", "five pages")


def title_of(preview: Preview) -> ScreenTitle:
    """Return the title of the draft and its page count."""
    request, heading = preview.request, preview.content.heading
    count = len(preview.pages)
    pages = _FEW[count] if count < len(_FEW) else f"{count} pages"
    several = len(request.tools) > 1
    where = f"{heading.stock}, tool {request.at + 1} of {len(request.tools)}, " if several else ""
    return ScreenTitle(
        text="Condition sheet, draft",
        up=preview.place,
        remark=where + pages,
    )


def report(notices: Notices, made: SheetsMade, show: Callable[[Path], object]) -> None:
    """Report what was issued, saved, stopped and what failed.

    Offers to open what was saved with `show`.
    """
    done = _done(made)
    if done and not (made.failures or made.file_trouble):
        notices.advise(done, offer=_offer(made, show))
    if made.file_trouble is not None:
        notices.trouble(_not_written(done, made.file_trouble))
    if made.failures:
        notices.trouble(_not_made(done, made.failures))


def _offer(made: SheetsMade, show: Callable[[Path], object]) -> Offer | None:
    if not made.files:
        return None
    if len(made.files) == 1:
        return Offer(words="Open", action=lambda: show(made.files[0]))
    return Offer(words="Open folder", action=lambda: show(made.files[0].parent))


def file_missing(path: Path) -> FileError:
    """Return the error for a sheet whose file is gone from the catalog's folder."""
    return FileError(
        f"{path.name} is missing from the catalog’s sheets folder.",
        remedy="Restore it from a backup. What the sheet said is still in the catalog.",
        subject=str(path),
    )


def report_check(notices: Notices, path: Path, found: Sequence[Verification]) -> None:
    """Say whether each sheet in a PDF is as it was issued."""
    words = " ".join(map(format_verification, found))
    if all(one.is_good for one in found):
        notices.advise(words, subject=str(path))
    else:
        notices.trouble(
            SheetError(
                words,
                remedy="Ask for the file again, and compare it with the one in the catalog.",
                subject=path.name,
            )
        )


def no_viewer(notices: Notices, path: Path) -> None:
    """Say that no program on this computer opens PDF files."""
    notices.advise(
        "No program on this computer opens PDF files.",
        remedy=f"The file is {path}.",
        subject=str(path),
    )


def _not_written(done: str, error: PlanebenchError) -> FileError:
    """Return an error with what was done and which file could not be written."""
    return FileError(f"{done} {error.happened}".strip(), remedy=error.remedy, subject=error.subject)


def _not_made(done: str, failures: Sequence[SheetFailure]) -> SheetError:
    """Return an error with what was done, which sheets failed, and the first reason."""
    first, count = failures[0], len(failures)
    what = "One sheet" if count == 1 else f"{count} sheets"
    stocks = ", ".join(failure.stock for failure in failures)
    return SheetError(
        f"{done} {what} could not be made ({stocks}): {first.error.happened}".strip(),
        remedy=first.error.remedy,
        subject=first.error.subject or first.stock,
    )


def _done(made: SheetsMade) -> str:
    parts = [_issued(made), _saved(made), _stopped(made)]
    return " ".join(part for part in parts if part)


def _issued(made: SheetsMade) -> str:
    if not made.order.issuing or not made.contents:
        return ""
    numbers = [content.heading.number for content in made.contents]
    if len(numbers) == 1:
        return f"Sheet {numbers[0]} is issued."
    return f"Sheets {numbers[0]} to {numbers[-1]} are issued."


def _saved(made: SheetsMade) -> str:
    if not made.files:
        return ""
    if len(made.files) == 1:
        return f"Saved as {made.files[0]}."
    return f"{len(made.files)} files saved in {made.files[0].parent}."


def _stopped(made: SheetsMade) -> str:
    if not made.stopped:
        return ""
    whole = len(made.order.tools)
    return f"Stopped after {len(made.contents)} of {whole}; the rest were not started."

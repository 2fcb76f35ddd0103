"""What the screen says: its title, and what came of an order."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from planebench.errors import FileError, PlanebenchError, SheetError
from planebench.window.notices import Notices, Offer
from planebench.window.pieces.screen import ScreenTitle
from planebench.window.screens.sheet.sheet_jobs import SheetFailure, SheetsMade
from planebench.window.screens.sheet.sheet_preview import Preview

_FEW = ("no pages", "one page", "two pages", "three pages", "four pages", "five pages")


def title_of(preview: Preview) -> ScreenTitle:
    """Name the sheet that is seen, and how many pages it has."""
    wish, heading = preview.wish, preview.content.heading
    count = len(preview.pages)
    pages = _FEW[count] if count < len(_FEW) else f"{count} pages"
    several = len(wish.tools) > 1
    where = f"{heading.stock}, tool {wish.at + 1} of {len(wish.tools)}, " if several else ""
    return ScreenTitle(
        text=f"Condition sheet {heading.number}, not issued yet",
        up=preview.place,
        remark=where + pages,
    )


def report(notices: Notices, made: SheetsMade, show: Callable[[Path], object]) -> None:
    """Say what was issued, what was written where, what was stopped, and what failed.

    What was written is offered to be seen with `show`.
    """
    told = _done(made)
    if told and not (made.failures or made.file_trouble):
        notices.advise(told, offer=_offer(made, show))
    if made.file_trouble is not None:
        notices.trouble(_not_written(told, made.file_trouble))
    if made.failures:
        notices.trouble(_not_made(told, made.failures))


def _offer(made: SheetsMade, show: Callable[[Path], object]) -> Offer | None:
    if not made.files:
        return None
    if len(made.files) == 1:
        return Offer(words="Open it", act=lambda: show(made.files[0]))
    return Offer(words="Open the folder", act=lambda: show(made.files[0].parent))


def file_missing(path: Path) -> FileError:
    """Say that a sheet's file is not where it was put."""
    return FileError(
        f"{path.name} is not in the catalog’s sheets folder any more.",
        remedy="Bring it back from a backup; what the sheet said is still kept in the catalog.",
        subject=str(path),
    )


def no_viewer(notices: Notices, path: Path) -> None:
    """Say that the system has nothing that shows a PDF."""
    notices.advise(
        "No program on this machine is set to show PDF files.",
        remedy=f"The file is {path}.",
        subject=str(path),
    )


def _not_written(told: str, error: PlanebenchError) -> FileError:
    """Say what was done, then which file could not be written."""
    return FileError(f"{told} {error.happened}".strip(), remedy=error.remedy, subject=error.subject)


def _not_made(told: str, failures: Sequence[SheetFailure]) -> SheetError:
    """Say what was done, then which sheets failed, and the first one's reason."""
    first, count = failures[0], len(failures)
    what = "One sheet" if count == 1 else f"{count} sheets"
    stocks = ", ".join(failure.stock for failure in failures)
    return SheetError(
        f"{told} {what} could not be made ({stocks}): {first.error.happened}".strip(),
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
        return f"Sheet {numbers[0]} is issued and kept."
    return f"Sheets {numbers[0]} to {numbers[-1]} are issued and kept."


def _saved(made: SheetsMade) -> str:
    if not made.files:
        return ""
    if len(made.files) == 1:
        return f"Saved as {made.files[0]}."
    return f"{len(made.files)} files were saved in {made.files[0].parent}."


def _stopped(made: SheetsMade) -> str:
    if not made.stopped:
        return ""
    whole = len(made.order.tools)
    return f"Stopped after {len(made.contents)} of {whole}; the others were not begun."

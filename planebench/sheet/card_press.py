"""Scale cards to cut out, and tags for containers of small parts, as PDF.

Every PDF passes Typst's own checks for PDF/UA-1 (ISO 14289-1) and PDF/A-2a (ISO 19005-2).
"""

from __future__ import annotations

import json
import shutil
import tempfile
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import typst

from planebench.errors import InputError, SheetError
from planebench.sheet.card_drawing import card_svg, qr_svg
from planebench.sheet.content import Paper
from planebench.sheet.missing_glyphs import clean_text
from planebench.sheet.pdf import Printed

LINE_MM = 100.0
# Beyond 5% the page was scaled to fit the paper; a correction factor would hide that.
_MOST_OFF = 0.05
_TEMPLATES = ("cards.typ", "style.typ")


@dataclass(frozen=True, slots=True, kw_only=True)
class CardRun:
    """One print run: which cards, on what paper, how many tags per tool, for what printer.

    Without `cards` only tags are printed. `correction` is the factor, 0.95 to 1.05, by which
    lengths are stretched for this printer; see correction_for.
    """

    stocks: tuple[str, ...]
    paper: Paper = Paper.LETTER
    cards: bool = True
    tags: int = 0
    correction: float = 1.0


def correction_for(measured_mm: float, *, printed_with: float = 1.0) -> float:
    """Return the correction for a printer whose 100 mm line measures `measured_mm`.

    `printed_with` is the correction with which that line was printed. Raise InputError for over
    5% off.
    """
    correction = printed_with * LINE_MM / measured_mm if measured_mm > 0 else 0.0
    if abs(correction - 1) > _MOST_OFF:
        raise InputError(
            f"The 100 mm line measures {measured_mm:g} mm: the page was not printed at full size.",
            remedy="Print at full size (100%, not “fit to page”), then measure again.",
            subject="measured line",
        )
    return correction


def print_cards(
    run: CardRun, *, resources: Path, at: datetime, dots_per_inch: int | None = None
) -> Printed:
    """Return cards, then tags if any, as a PDF dated `at`; with `dots_per_inch` also page images.

    `resources` is the folder that holds sheet_templates/ and fonts/. Raise InputError for a stock
    number too long for a QR code, SheetError if there is nothing to print or Typst fails.
    """
    if not run.stocks:
        raise SheetError("No tool is selected.", remedy="Select at least one tool.")
    if not (run.cards or run.tags):
        raise SheetError("Neither cards nor tags are selected.", remedy="Select one or both.")
    with tempfile.TemporaryDirectory(prefix="planebench-cards-") as folder:
        root = Path(folder)
        for name in _TEMPLATES:
            shutil.copy(resources / "sheet_templates" / name, root / name)
        (root / "data.json").write_text(json.dumps(_data(run, root)), "utf-8")
        return _set(root, resources / "fonts", at, dots_per_inch)


def _data(run: CardRun, root: Path) -> dict[str, object]:
    tools = []
    for number, stock in enumerate(run.stocks):
        card, code = f"card{number}.svg", f"code{number}.svg"
        (root / card).write_text(card_svg(stock), "utf-8")
        (root / code).write_text(qr_svg(stock), "utf-8")
        tools.append({"stock": clean_text(stock), "card": card, "code": code})
    return {
        "paper": "us-letter" if run.paper is Paper.LETTER else "a4",
        "factor": run.correction,
        "cards": run.cards,
        "tags": run.tags,
        "tools": tools,
        "title": _title(run),
    }


def _title(run: CardRun) -> str:
    first, last, count = clean_text(run.stocks[0]), clean_text(run.stocks[-1]), len(run.stocks)
    if not run.cards:
        return f"Tags {first}" if count == 1 else f"Tags of {count} tools, {first} to {last}"
    return f"Scale card {first}" if count == 1 else f"{count} scale cards, {first} to {last}"


def _set(root: Path, fonts: Path, at: datetime, dots: int | None) -> Printed:
    compiler = typst.Compiler(
        str(root / "cards.typ"), root=str(root), font_paths=[str(fonts)], ignore_system_fonts=True
    )
    stamp = int(at.timestamp())
    try:
        made = compiler.compile(format="pdf", pdf_standards=["ua-1", "a-2a"], timestamp=stamp)
        pages = None if dots is None else compiler.compile(format="png", ppi=dots)
    except typst.TypstError as error:
        raise SheetError(
            f"The cards could not be made: {error}.",
            remedy="Use plain letters and digits in stock numbers, then print again.",
        ) from error
    return Printed(pdf=_one(made), pages=_all(pages))


def _one(made: bytes | list[bytes] | None) -> bytes:
    return b"".join(_all(made))


def _all(made: bytes | list[bytes] | None) -> tuple[bytes, ...]:
    """Return Typst's output as a tuple; Typst returns a single page bare."""
    return tuple(made) if isinstance(made, list) else (made,) if made else ()

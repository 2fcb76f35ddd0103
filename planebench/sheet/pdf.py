"""Typesets sheet content with Typst as a tagged, archival PDF and as page images.

Every PDF passes Typst's own checks for PDF/UA-1 (ISO 14289-1) and PDF/A-3a (ISO 19005-3).
"""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import typst

from planebench.errors import SheetError
from planebench.sheet.content import SheetContent
from planebench.sheet.missing_glyphs import GlyphCoverage, clean_text, describe_missing
from planebench.sheet.print_images import PrintImageCache
from planebench.sheet.template_data import Data, Files, sheet_data

_SIDES = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A PDF and, if asked for, a PNG of each of its pages."""

    pdf: bytes
    pages: tuple[bytes, ...] = ()


class SheetPress:
    """Typesets sheets. `resources` is the folder that holds sheet_templates/ and fonts/.

    Keeps prepared photographs in memory so that previews are quick. Not thread-safe.
    """

    def __init__(self, resources: Path, *, system_fonts: bool = True) -> None:
        self._templates = resources / "sheet_templates"
        self._fonts = resources / "fonts"
        self._coverage = GlyphCoverage(self._fonts, system_fonts=system_fonts)
        self._images = PrintImageCache()

    def print(
        self, contents: Sequence[SheetContent], *, at: datetime, dots_per_inch: int | None = None
    ) -> Printed:
        """Return one or several sheets as one PDF dated `at`, each starting on its own page.

        With `dots_per_inch` also return page images. Raise SheetError if there is nothing to
        print, a photograph cannot be read, or Typst fails.
        """
        if not contents:
            raise SheetError("No tool is selected.", remedy="Select at least one tool.", subject="")
        with tempfile.TemporaryDirectory(prefix="planebench-sheet-") as folder:
            root = Path(folder) / "sheet"
            shutil.copytree(self._templates, root)
            system = self._lay_out(root, contents)
            return self._set(root, at, dots_per_inch, system_fonts=system)

    def _lay_out(self, root: Path, contents: Sequence[SheetContent]) -> bool:
        """Write the templates' data; shrink photographs where that saves a page beyond two.

        Two pages are the two sides of one sheet of paper. Return whether fonts of the system are
        needed.
        """
        system = self._write(root, contents, frozenset())
        pages = self._page_counts(root, system_fonts=system)
        crowded = frozenset(i for i, count in enumerate(pages) if count > _SIDES)
        if not crowded:
            return system
        self._write(root, contents, crowded)
        tight = self._page_counts(root, system_fonts=system)
        helped = frozenset(i for i in crowded if tight[i] < pages[i])
        return self._write(root, contents, helped)

    def _write(self, root: Path, contents: Sequence[SheetContent], tight: frozenset[int]) -> bool:
        files = Files(images=self._images, written={})
        sheets = [
            sheet_data(one, f"sheet{number}", files, tight=number in tight)
            for number, one in enumerate(contents)
        ]
        for name, content in files.written.items():
            (root / name).write_bytes(content)
        data = _clean({"sheets": sheets, **_about(contents)})
        missing, system = self._coverage.missing(_texts(data))
        text = json.dumps(_describe(data, missing), ensure_ascii=False)
        (root / "data.json").write_text(text, "utf-8")
        return system

    def _page_counts(self, root: Path, *, system_fonts: bool) -> list[int]:
        """Return how many pages each sheet takes."""
        try:
            compiler = self._compiler(root, system_fonts=system_fonts)
            counts = compiler.query("<sheet-pages>", field="value")
        except typst.TypstError as error:
            raise _refused(error) from error
        return [int(count) for count in json.loads(counts)]

    def _compiler(self, root: Path, *, system_fonts: bool) -> typst.Compiler:
        return typst.Compiler(
            str(root / "sheet.typ"),
            root=str(root),
            font_paths=[str(self._fonts)],
            ignore_system_fonts=not system_fonts,
        )

    def _set(self, root: Path, at: datetime, dots: int | None, *, system_fonts: bool) -> Printed:
        try:
            return _compiled(self._compiler(root, system_fonts=system_fonts), at, dots)
        except typst.TypstError as error:
            raise _refused(error) from error


def _compiled(compiler: typst.Compiler, at: datetime, dots: int | None) -> Printed:
    stamp = int(at.timestamp())
    made = compiler.compile(format="pdf", pdf_standards=["ua-1", "a-3a"], timestamp=stamp)
    pages = () if dots is None else _all(compiler.compile(format="png", ppi=dots))
    return Printed(pdf=_all(made)[0], pages=pages)


def _all(made: bytes | list[bytes] | None) -> tuple[bytes, ...]:
    """Return Typst's output as a tuple; Typst returns a single page bare."""
    return tuple(made) if isinstance(made, list) else (made or b"",)


def _about(contents: Sequence[SheetContent]) -> Data:
    """Return the PDF's title, author and description."""
    first = contents[0]
    if len(contents) > 1:
        title = f"Condition sheets of {len(contents)} tools"
    elif first.heading.issued:
        title = f"Condition sheet {first.heading.number}: {first.title}"
    else:
        title = f"Draft of a condition sheet: {first.title}"
    author = first.heading.seller
    return {
        "title": title,
        "author": [author] if author else [],
        "description": "; ".join(one.heading.stock for one in contents),
    }


def _clean(value: object) -> object:
    """Return the data with every string cleaned."""
    if isinstance(value, str):
        return clean_text(value)
    if isinstance(value, dict):
        return {key: _clean(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_clean(part) for part in value]
    return value


def _describe(value: object, missing: frozenset[str]) -> object:
    """Return the data with missing clusters described in every string."""
    if isinstance(value, str):
        return describe_missing(value, missing)
    if isinstance(value, dict):
        return {key: _describe(part, missing) for key, part in value.items()}
    if isinstance(value, list):
        return [_describe(part, missing) for part in value]
    return value


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict | list):
        for part in value.values() if isinstance(value, dict) else value:
            yield from _texts(part)


def _refused(error: typst.TypstError) -> SheetError:
    return SheetError(
        f"The sheet could not be made: {error}.",
        remedy="Nothing in the record changed. Please report this message.",
    )

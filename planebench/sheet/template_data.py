"""Turns a sheet's content into what the templates read: values, sizes in points, file names."""

from __future__ import annotations

import io
from dataclasses import asdict, dataclass

import segno

from planebench.sheet.bar_data import bars_data, swatches
from planebench.sheet.content import Address, ListLine, Paper, SheetContent, SheetSection, SheetWork
from planebench.sheet.dating_data import dating_data
from planebench.sheet.dimension_rows import dimension_rows, units_in_order
from planebench.sheet.fingerprint import (
    canonical_json,
    fingerprint,
    fingerprint_groups,
    format_fingerprint,
)
from planebench.sheet.photograph_data import defects_data, pictures_data
from planebench.sheet.photograph_layout import PAGES
from planebench.sheet.print_images import PrintImageCache
from planebench.sheet.vector_drawings import drawing_rows, hatch_key, parts_drawing

Data = dict[str, object]

_TITLE_SIZES = ((44, 18.75), (70, 16), (130, 13))
_SMALLEST_TITLE = 11
_MOST_PROBLEMS = 8
_MOST_NOT_CHECKED = 6
"""So that both lists and the defects below them fit on the first page."""

_INK = "#22262B"


@dataclass(slots=True)
class Files:
    """Files that the templates name, by name, and the cache that prepares photographs."""

    images: PrintImageCache
    written: dict[str, bytes]


def sheet_data(content: SheetContent, key: str, files: Files, *, tight: bool = False) -> Data:
    """Return one sheet's values for the templates; photographs and codes go into `files`.

    `key` tells this sheet from others in the same print; `tight` asks for smaller photographs.
    Raise SheetError for a photograph that cannot be read.
    """
    show = {section.value: section in content.choices.sections for section in SheetSection}
    issued = content.heading.issued != ""
    digest = fingerprint(content) if issued else ""
    width = PAGES[content.choices.paper].text_width
    return {
        "key": key,
        "show": show,
        "paper": _paper(content.choices.paper),
        "heading": _heading(content),
        "draft": not issued,
        "to_settle": list(content.to_settle),
        "title": content.title,
        "title_size": _title_size(content.title),
        "summary": content.summary,
        "price": content.price or ("" if issued else "no price yet"),
        "pictures": pictures_data(content, files.images, files.written, tight=tight),
        "finish": bars_data(content.finish, ("first", "new", "bare"), ratings=_ratings(content)),
        "finish_columns": swatches(content.finish_columns, ("first", "new", "bare")),
        "iron": bars_data(content.iron, ("clean", "rust"), ratings=_ratings(content)),
        "iron_columns": swatches(("Without rust", "Rust"), ("clean", "rust")),
        **_lists(content),
        **defects_data(content, files.images, files.written),
        "drawing_rows": drawing_rows(content.drawings, width),
        "hatches": hatch_key(content.drawings),
        "dating": dating_data(content.dating),
        "parts": parts_drawing(content.parts),
        "units": units_in_order(content),
        "measurements": dimension_rows(content.measurements, content),
        "cutter": dimension_rows(content.cutter, content),
        "cutter_note": content.cutter_note,
        **_work(content),
        "cautions": [asdict(line) for line in content.cautions],
        "promise": content.promise,
        "address": _address(content.address),
        "check": _check(content, digest, files) if issued else None,
        "foot": _foot(content),
        "foot_right": _foot_right(content, digest),
        "attachment": _attachment(content, key, files) if issued else None,
    }


def _ratings(content: SheetContent) -> bool:
    return content.choices.standard_ratings


def _paper(paper: Paper) -> Data:
    page = PAGES[paper]
    rule = "in" if paper is Paper.LETTER else "cm"
    return asdict(page) | {"text_width": page.text_width, "rule": rule}


def _heading(content: SheetContent) -> Data:
    heading = content.heading
    parts: tuple[str, ...]
    if heading.issued:
        parts = (f"Condition sheet {heading.number}", f"issued {heading.issued}", heading.seller)
    else:
        parts = (f"Condition sheet · draft of {heading.drafted}, not issued, no number",)
    return {"line": " · ".join(filter(None, parts)), "stock": heading.stock}


def _title_size(title: str) -> float:
    return next((size for length, size in _TITLE_SIZES if len(title) <= length), _SMALLEST_TITLE)


def _foot(content: SheetContent) -> str:
    unit = "inch" if content.choices.paper is Paper.LETTER else "centimeter"
    return (
        "Smaller figures: the 90% range; by eye, the range judged likely. "
        f"Printed at full size, the rule at the top is true to the {unit}."
    )


def _foot_right(content: SheetContent, digest: str) -> str:
    if not digest:
        return "draft, no fingerprint"
    return f"sheet {content.heading.number} · {format_fingerprint(digest)}"


def _lists(content: SheetContent) -> Data:
    """Cut both lists to what fits; the rest is listed further down, so that nothing is left out."""
    problems, more_problems = _cut(content.problems, _MOST_PROBLEMS)
    unchecked, more_unchecked = _cut(content.not_checked, _MOST_NOT_CHECKED)
    return {
        "problems": problems,
        "not_checked": unchecked,
        "more_problems": more_problems,
        "more_not_checked": more_unchecked,
        "inspection": " ".join(filter(None, (content.inspection, content.photographs.count))),
    }


def _cut(lines: tuple[ListLine, ...], most: int) -> tuple[list[Data], list[Data]]:
    if len(lines) <= most:
        return [asdict(line) for line in lines], []
    kept, rest = lines[: most - 1], lines[most - 1 :]
    more = ListLine(lead=f"and {len(rest)} more,", words="below.")
    return [asdict(line) for line in (*kept, more)], [asdict(line) for line in rest]


def _address(address: Address) -> list[list[Data]]:
    """Return lines of runs; the workshop's name is bold, the person stands behind it."""
    first: list[Data] = []
    if address.name:
        first.append({"words": address.name, "bold": True})
    if address.person:
        comma = ", " if first else ""
        first.append({"words": comma + address.person, "bold": False})
    lines: list[list[Data]] = [[{"words": line, "bold": False}] for line in address.lines]
    return [first, *lines] if first else lines


def _work(content: SheetContent) -> Data:
    return {
        "work_changes": [_entry(one) for one in content.work if one.changes_tool],
        "work_care": [_entry(one) for one in content.work if not one.changes_tool],
        "work_not_recorded": content.work_not_recorded,
    }


def _entry(one: SheetWork) -> Data:
    return {"day": one.day, "what": one.what, "materials": one.materials}


def _check(content: SheetContent, digest: str, files: Files) -> Data:
    heading = content.heading
    return {
        "number": heading.number,
        "issued": heading.issued,
        "replaces": content.replaces,
        "groups": list(fingerprint_groups(digest)),
        "code": _code(content, digest, files),
        "alternative": f"Code with the number of this sheet, {heading.number}, the stock number "
        f"{heading.stock}, the day and the fingerprint printed beside it.",
    }


def code_text(content: SheetContent, digest: str) -> str:
    """Return what the code carries: PBSHEET:number:stock:day:fingerprint, in capitals."""
    heading = content.heading
    return f"PBSHEET:{heading.number}:{heading.stock}:{heading.issued_on}:{digest}".upper()


def _code(content: SheetContent, digest: str, files: Files) -> str:
    """Write the code as SVG (ISO/IEC 18004, level M) with its quiet zone of 4 modules."""
    out = io.BytesIO()
    code = segno.make(code_text(content, digest), error="m", micro=False)
    code.save(out, kind="svg", border=4, dark=_INK, scale=4)
    name = f"code-{len(files.written)}.svg"
    files.written[name] = out.getvalue()
    return name


def _attachment(content: SheetContent, key: str, files: Files) -> str:
    name = f"{key}.json"
    files.written[name] = canonical_json(content)
    return name

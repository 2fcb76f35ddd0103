"""Turns what a sheet says into what its templates read: values, sizes in points, file names."""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Sequence
from dataclasses import asdict, dataclass

import segno

from planebench.sheet.balloons import place_balloons
from planebench.sheet.content import (
    Address,
    Paper,
    SheetContent,
    SheetDating,
    SheetDimension,
    SheetEvidence,
    SheetPhotograph,
    SheetSection,
)
from planebench.sheet.dating_chart import YearScale, chart_key, evidence_bar, year_scale
from planebench.sheet.fingerprint import fingerprint, format_fingerprint
from planebench.sheet.photograph_layout import PAGES, lay_out_first_page, size_further
from planebench.sheet.print_images import PrintImageCache, aspect
from planebench.sheet.vector_drawings import drawing_rows, hatch_key, parts_drawing
from planebench.trade.days import format_day
from planebench.trade.units import LengthUnit

Data = dict[str, object]

_TITLE_SIZES = ((44, 24), (70, 19), (130, 15))
_SMALLEST_TITLE = 12
_MOST_WORK_IN_A_COLUMN = 8


@dataclass(slots=True)
class Files:
    """Files that the templates name, by name, and the desk that prepares photographs."""

    desk: PrintImageCache
    written: dict[str, bytes]


def sheet_data(content: SheetContent, key: str, files: Files, *, tight: bool = False) -> Data:
    """Lay out one sheet's values for the templates; photographs and codes go into `files`.

    `key` tells this sheet from the others of one print; `tight` asks for smaller photographs on
    the first page. Raises SheetError for a photograph that
    cannot be read.
    """
    show = {section.value: section in content.choices.sections for section in SheetSection}
    issued = content.heading.issued != ""
    digest = fingerprint(content)
    return {
        **_plain_parts(content),
        "key": key,
        "show": show,
        "paper": _paper(content.choices.paper),
        "heading": {"line": _heading_line(content), "stock": content.heading.stock},
        "title_size": _title_size(content.title),
        "pictures": _pictures(content, files, tight=tight),
        "drawing_rows": drawing_rows(content.drawings, PAGES[content.choices.paper].text_width),
        "hatches": hatch_key(content.drawings),
        "dating": _dating(content.dating),
        "parts": parts_drawing(content.parts),
        "measure_units": _units(content),
        "measurements": [_measurement(m, content) for m in content.measurements],
        "address": _address(content.address),
        **_work(content),
        "foot": _foot(content),
        "mark": format_fingerprint(digest) if issued else "draft, not issued",
        "code": _code(content, digest, files) if issued else None,
        "code_alternative": f"Code with the stock number {content.heading.stock}, "
        f"this sheet’s number and its fingerprint {format_fingerprint(digest)}.",
    }


def _plain_parts(content: SheetContent) -> Data:
    """Hand over what needs no laying out. Ratings are dropped here unless they were asked for."""
    ratings = content.choices.standard_ratings
    finish = [asdict(r) | ({} if ratings else {"rating": ""}) for r in content.finish]
    return {
        "title": content.title,
        "summary": content.summary,
        "price": content.price,
        "figures": [asdict(f) for f in content.figures],
        "know_first": list(content.know_first),
        "unknown": list(content.unknown),
        "defects": [asdict(d) for d in content.defects],
        "no_defects": content.no_defects,
        "finish": finish,
        "cautions": [asdict(c) for c in content.cautions],
        "promise": content.promise,
        "replaces": content.replaces,
    }


def _paper(paper: Paper) -> Data:
    page = PAGES[paper]
    rule = "in" if paper is Paper.LETTER else "cm"
    return asdict(page) | {"text_width": page.text_width, "rule": rule}


def _heading_line(content: SheetContent) -> str:
    heading = content.heading
    issued = f"issued {heading.issued}" if heading.issued else "draft, not issued"
    sheet = f"Condition sheet {heading.number}".rstrip()
    return " · ".join(part for part in (sheet, issued, heading.seller) if part)


def _title_size(title: str) -> int:
    return next((size for length, size in _TITLE_SIZES if len(title) <= length), _SMALLEST_TITLE)


def _foot(content: SheetContent) -> str:
    unit = "inch" if content.choices.paper is Paper.LETTER else "centimeter"
    return (
        "Percent of the finish area still there; in brackets the 90% interval, by eye a range. "
        f"At full size the rule is true to the {unit}."
    )


def _pictures(content: SheetContent, files: Files, *, tight: bool) -> Data:
    width = PAGES[content.choices.paper].text_width
    first, more = _asked_photographs(content)
    placing = lay_out_first_page([aspect(one) for one in first], width, tight=tight)
    sizes = size_further([aspect(one) for one in more], width)
    return {
        "beside": placing.beside,
        "slots": [_slot(p, s, files) for p, s in zip(first, placing.sizes, strict=True)],
        "more": [_slot(p, s, files) for p, s in zip(more, sizes, strict=True)],
        "missing": content.photographs.missing or ("" if first else "Not photographed."),
    }


def _asked_photographs(
    content: SheetContent,
) -> tuple[list[SheetPhotograph], tuple[SheetPhotograph, ...]]:
    """Return the photographs of the first page, then the further ones, as far as asked for."""
    asked, taken = content.choices.sections, content.photographs
    others = SheetSection.OTHER_PHOTOGRAPHS in asked
    found = taken.found if SheetSection.BEFORE_AFTER in asked else None
    first = (taken.main, found, taken.other if others else None)
    return [one for one in first if one is not None], taken.more if others else ()


def _slot(photograph: SheetPhotograph, size: tuple[float, float], files: Files) -> Data:
    number = len(files.written)
    name = f"photograph-{number}.jpg"
    files.written[name] = files.desk.jpeg(photograph, size[0])
    placed = place_balloons(photograph.pins, photograph.crop, size)
    return {
        "file": name,
        "width": size[0],
        "height": size[1],
        "caption": photograph.caption,
        "alternative": photograph.alternative + _told_numbers([b.number for b in placed]),
        "balloons": [
            {"number": b.number, "x": b.spot[0], "y": b.spot[1], "at_x": b.at[0], "at_y": b.at[1]}
            for b in placed
        ],
    }


def _told_numbers(numbers: Sequence[int]) -> str:
    if not numbers:
        return ""
    return f" Numbered on it: {', '.join(str(number) for number in sorted(set(numbers)))}."


def _dating(dating: SheetDating) -> Data:
    scale = year_scale(dating)
    key = "" if scale is None else chart_key(dating)
    return {
        "in_words": dating.in_words,
        "reasons": list(dating.reasons),
        "disagreements": list(dating.disagreements),
        "signs": [
            asdict(evidence) | {"bar": _bar(evidence, scale)} for evidence in dating.evidence
        ],
        "chart": None if scale is None else _chart(dating, scale),
        "small": " ".join(part for part in (key, dating.sources) if part),
    }


def _bar(evidence: SheetEvidence, scale: YearScale | None) -> Data | None:
    drawn = None if scale is None else evidence_bar(evidence, scale)
    return None if drawn is None else asdict(drawn)


def _chart(dating: SheetDating, scale: YearScale) -> Data:
    weights = [weight for columns in dating.columns for weight in columns.weights]
    return asdict(scale) | {
        "bands": [list(band) for band in dating.bands],
        "columns": [asdict(columns) for columns in dating.columns],
        "heaviest": max(weights, default=0.0) or 1.0,
    }


def _inches_first(content: SheetContent) -> bool:
    return content.choices.first_unit is LengthUnit.INCH


def _units(content: SheetContent) -> list[str]:
    return ["inches", "mm"] if _inches_first(content) else ["mm", "inches"]


def _measurement(measurement: SheetDimension, content: SheetContent) -> Data:
    both = [measurement.inches, measurement.millimeters]
    first, second = both if _inches_first(content) else reversed(both)
    known = bool(measurement.words or first or second)
    across = measurement.words if known else "not measured"
    return {"of": measurement.of, "first": first, "second": second} | {
        "across": across,
        "known": known,
    }


def _address(address: Address) -> list[list[Data]]:
    """Return lines of runs; the seller's name is bold, the person stands behind it."""
    first: list[Data] = []
    if address.name:
        first.append({"words": address.name, "bold": True})
    if address.person:
        comma = ", " if first else ""
        first.append({"words": comma + address.person, "bold": False})
    lines: list[list[Data]] = [[{"words": line, "bold": False}] for line in address.lines]
    return [first, *lines] if first else lines


def _work(content: SheetContent) -> Data:
    """Write days without their year when all fall in one, which then stands in the head."""
    days = [entry.day for entry in content.work if entry.day is not None]
    years = {day.year for day in days}
    short = len(years) == 1
    return {
        "long_work": len(content.work) > _MOST_WORK_IN_A_COLUMN,
        "work_head": str(days[0].year) if short else "Date",
        "work": [
            {"day": _day(entry.day, short=short), "what": entry.what, "told": entry.told}
            for entry in content.work
        ],
    }


def _day(day: dt.date | None, *, short: bool) -> str:
    if day is None:
        return "no date"
    return format_day(day).removesuffix(f" {day.year}") if short else format_day(day)


def _code(content: SheetContent, digest: str, files: Files) -> str:
    """Write the code as an SVG: the stock number first, so that a card reader files it too."""
    heading = content.heading
    text = f"PB:{heading.stock}\nsheet {heading.number}\n{format_fingerprint(digest)}"
    out = io.BytesIO()
    segno.make(text, error="m").save(out, kind="svg", border=0, dark="#22262B", scale=4)
    name = f"code-{len(files.written)}.svg"
    files.written[name] = out.getvalue()
    return name

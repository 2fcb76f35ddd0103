"""What a sheet says of defects, parts, lengths, work and the seller."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from decimal import Decimal
from functools import cache

from planebench.catalog.reference import name_of, open_list, resources_folder
from planebench.catalog.values import Defect, Dimension, Part, Work
from planebench.sheet.content import (
    Address,
    KeyFigure,
    PartDrawing,
    PartGroup,
    PartShape,
    Ring,
    SheetDefect,
    SheetDimension,
    SheetParts,
    SheetWork,
)
from planebench.sheet.phrases import lower_first, sentence
from planebench.sheet.sheet_source import SheetSource
from planebench.trade.days import format_day
from planebench.trade.terms import BASIS_WORDS, SOLID_BASES, PartStatus
from planebench.trade.units import LengthUnit, format_inches, format_millimeters

_GROUPS = (
    ("Seen", PartStatus.PRESENT),
    ("Missing", PartStatus.MISSING),
    ("Replaced", PartStatus.REPLACED),
    ("Not original to it", PartStatus.NOT_ORIGINAL),
    ("Not seen", PartStatus.NOT_SEEN),
)
_WARNS = frozenset({PartStatus.MISSING, PartStatus.REPLACED, PartStatus.NOT_ORIGINAL})
_SEEN = {
    PartStatus.PRESENT: PartDrawing.SEEN,
    PartStatus.MISSING: PartDrawing.MISSING,
    PartStatus.REPLACED: PartDrawing.NOT_ORIGINAL,
    PartStatus.NOT_ORIGINAL: PartDrawing.NOT_ORIGINAL,
    PartStatus.NOT_SEEN: PartDrawing.NOT_SEEN,
}
_ASKED = ("sole_length", "sole_width", "cutter_width", "mouth_opening")
"""What every sheet says, measured or not: what a buyer of a plane asks first.

Common practice, no source.
"""


def defects_of(source: SheetSource) -> tuple[SheetDefect, ...]:
    """Return the defects that a buyer is told of, under the numbers on the photographs."""
    told = sorted((d for d in source.tool.defects if d.disclosed), key=lambda d: d.number)
    return tuple(
        SheetDefect(
            number=defect.number,
            what=_what(defect),
            where=_where(source, defect),
            size=defect.size or _no_size(defect),
            basis=BASIS_WORDS[defect.size_basis] if defect.size else "seen",
        )
        for defect in told
    )


def no_defects_words(source: SheetSource) -> str:
    """Say why the table of defects is empty."""
    if not source.tool.defects_inspected and not source.tool.defects:
        return "Not inspected for defects; expect some."
    return "None recorded."


def asked_parts(source: SheetSource) -> tuple[Part, ...]:
    """Return the parts that this plane has or should have had; optional ones only when seen."""
    return tuple(part for part in source.tool.parts if not part.unasked)


def parts_of(source: SheetSource) -> SheetParts:
    """Sort the parts by what is known of them, and ink the side drawing of the kind."""
    asked = asked_parts(source)
    groups = (_group(asked, label, status) for label, status in _GROUPS)
    status = {part.code: _SEEN[part.status] for part in asked}
    drawing = source.kind.drawing if source.kind is not None else "other"
    shapes = tuple(
        PartShape(name=code, ring=ring, seen=status[code])
        for code, ring in _side_drawing(drawing)
        if code in status
    )
    return SheetParts(groups=tuple(group for group in groups if group.names), shapes=shapes)


def _group(parts: Sequence[Part], label: str, status: PartStatus) -> PartGroup:
    names = [_part_words(part) for part in parts if part.status is status]
    return PartGroup(label=label, names=", ".join(names), warns=status in _WARNS)


def measurements_of(source: SheetSource) -> tuple[SheetDimension, ...]:
    """Return what was measured in the order of the list, and what is asked for but was not."""
    order = list(open_list("dimensions"))
    known = {one.what for one in source.tool.dimensions}
    taken = [(one.what, _measurement(one)) for one in source.tool.dimensions]
    lacking = [
        (what, SheetDimension(of=_measure_name(what))) for what in _ASKED if what not in known
    ]
    both = sorted(taken + lacking, key=lambda pair: _place(order, pair[0]))
    return tuple(line for _, line in both)


def not_measured(source: SheetSource) -> tuple[str, ...]:
    """Name what is asked for but was not measured."""
    known = {one.what for one in source.tool.dimensions}
    return tuple(
        lower_first(_measure_name(what)).replace(", ", " ") for what in _ASKED if what not in known
    )


def length_figure(source: SheetSource) -> KeyFigure | None:
    """Return the sole's length as a key figure, in the unit chosen first."""
    one = next((m for m in source.tool.dimensions if m.what == "sole_length"), None)
    if one is None:
        return None
    inches, metric = format_inches(one.value), format_millimeters(one.value)
    inches_first = source.choices.first_unit is LengthUnit.INCH
    first, second = (inches, metric) if inches_first else (metric, inches)
    about = "about " if one.basis not in SOLID_BASES else ""
    margin = f", ± {format_millimeters(one.plus_minus)}" if one.plus_minus else ""
    return KeyFigure(
        value=about + first,
        interval=second,
        of="Length of the sole",
        basis=BASIS_WORDS[one.basis] + margin,
    )


def work_of(source: SheetSource) -> tuple[SheetWork, ...]:
    """Return the bench log in order of days; entries without a day first."""
    entries = sorted(source.tool.work, key=lambda w: (w.done_on is not None, str(w.done_on)))
    return tuple(
        SheetWork(
            day=entry.done_on,
            what=f"{_named(entry)}{sentence(_with_materials(entry.what, entry.materials))}",
            told=entry.disclosed,
        )
        for entry in entries
    )


def address_of(source: SheetSource) -> Address:
    """Return the seller as set for the catalog."""
    settings = source.settings
    lines = [line.strip() for line in settings.address.splitlines() if line.strip()]
    contact = [line.strip() for line in settings.contact.splitlines() if line.strip()]
    return Address(name=settings.workshop, person=settings.person, lines=(*lines, *contact))


def replaces_words(source: SheetSource) -> str:
    """Say which sheet of the same tool this one takes the place of."""
    if not source.earlier:
        return "Replaces no earlier sheet."
    last = source.earlier[0]
    return f"Replaces sheet {last.number:04} of {format_day(last.issued_at.date())}."


def _named(entry: Work) -> str:
    """Name the treatment before what was written of it, where the buyer must know and it is not."""
    name = name_of("treatments", entry.kind)
    unnamed = entry.kind != "other" and name.casefold() not in entry.what.casefold()
    return f"{sentence(name)} " if entry.disclosed and unnamed else ""


def _what(defect: Defect) -> str:
    name = name_of("defects", defect.kind)
    severity = defect.severity.replace("_", " ")
    return f"{name}, {severity}" if severity and severity not in name else name


def _where(source: SheetSource, defect: Defect) -> str:
    part = source.part_name(defect.part)
    place = ", ".join(words for words in (part, defect.place) if words) or "place not recorded"
    return f"{place}. {sentence(defect.note)}" if defect.note else place


def _no_size(defect: Defect) -> str:
    row = open_list("defects").get(defect.kind)
    sized = row is None or bool(row.more.get("sized", True))
    return "not measured" if sized else "no size given"


def _part_words(part: Part) -> str:
    noted = part.note and part.status is not PartStatus.PRESENT
    return (
        f"{lower_first(part.name)} ({lower_first(part.note.rstrip('.'))})"
        if noted
        else lower_first(part.name)
    )


@cache
def _side_drawing(name: str) -> tuple[tuple[str, Ring], ...]:
    """Read the side drawing of a kind; one that is not there is no drawing."""
    path = resources_folder() / "drawings" / f"{name}.toml"
    if not path.is_file():
        return ()
    table = tomllib.loads(path.read_text("utf-8"))
    return tuple(
        (str(shape["part"]), tuple((float(x), float(y)) for x, y in shape["ring"]))
        for shape in table["shapes"]
    )


def _measure_name(what: str) -> str:
    return name_of("dimensions", what)


def _place(order: Sequence[str], what: str) -> int:
    return order.index(what) if what in order else len(order)


def _measurement(one: Dimension) -> SheetDimension:
    row = open_list("dimensions").get(one.what)
    unit = str(row.more.get("unit", "mm")) if row is not None else "mm"
    about = "about " if one.basis not in SOLID_BASES else ""
    name = _measure_name(one.what)
    if unit == "deg":
        return SheetDimension(of=name, words=f"{about}{_plain(one.value)}°{_margin(one, '°')}")
    if unit == "g":
        return SheetDimension(of=name, words=f"{about}{_plain(one.value)} g{_margin(one, ' g')}")
    return SheetDimension(
        of=name,
        inches=about + format_inches(one.value).removesuffix(" in"),
        millimeters=about + format_millimeters(one.value).removesuffix(" mm") + _margin(one),
    )


def _margin(one: Dimension, unit: str = "") -> str:
    return "" if one.plus_minus is None else f" ± {_plain(one.plus_minus)}{unit}"


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"


def _with_materials(what: str, materials: str) -> str:
    return f"{what.rstrip('.')}: {lower_first(materials)}" if materials else what

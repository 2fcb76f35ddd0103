"""Defects as the sheet shows them: numbered, with size, basis, close-up and what was done since."""

from __future__ import annotations

import numpy as np

from planebench.catalog.photo_scales import scale_of
from planebench.catalog.reference import name_of, open_list
from planebench.catalog.values import Defect, Photograph, Pin, Work
from planebench.sheet.content import CloseUp, Crop, SheetDefect, SheetPhotograph
from planebench.sheet.defect_sizes import format_size
from planebench.sheet.phrases import lower_first, sentence
from planebench.sheet.sheet_source import SheetSource
from planebench.trade.terms import BASIS_WORDS, LATEST_FIRST, Stage
from planebench.trade.wording import join_words

_RUST_REMOVAL = frozenset(
    {"rust_bath", "electrolysis", "wire_wheel", "blasting", "scrape", "polish"}
)
_JOINING = frozenset({"weld_braze", "wood_repair", "replace_part"})
_TRUING = frozenset({"straighten", "lap", "flatten"})
_NEW_FINISH = frozenset({"rejapan", "touch_up", "replate", "refinish_wood"})
_MENDED_BY: dict[str, frozenset[str]] = {
    "rust": _RUST_REMOVAL,
    "corrosion_under_finish": _RUST_REMOVAL | _NEW_FINISH,
    "pitting": _TRUING | {"regrind"},
    "crack": _JOINING,
    "break": _JOINING,
    "split": _JOINING,
    "check": _JOINING,
    "chip": _JOINING | {"regrind", "lap"},
    "dent": _JOINING,
    "bend": _TRUING | {"replace_part"},
    "warp": _TRUING,
    "finish_loss": _NEW_FINISH,
    "plating_loss": _NEW_FINISH,
    "missing_part": frozenset({"replace_part"}),
    "stripped_thread": frozenset({"drill_tap", "replace_part"}),
    "stain": _RUST_REMOVAL | {"clean", "refinish_wood"},
}
"""Which treatments of a part may have mended a defect of it. Common practice, no source."""

_CLOSE_UP = 0.12
"""A close-up shows this part of the photograph's width around the pin: the spot with what
surrounds it. On a photograph that a 25 cm plane fills, that is about 3 cm; wider hides chips."""

_SHAPE = 4 / 3
_BARS_MM = (1, 2, 5, 10, 20, 50)
_LONGEST_BAR = 0.4


def defects_on_sheet(source: SheetSource) -> tuple[Defect, ...]:
    """Return the defects that the sheet lists, by number."""
    told = (defect for defect in source.tool.defects if defect.disclosed)
    return tuple(sorted(told, key=lambda defect: defect.number))


def defects_of(source: SheetSource) -> tuple[SheetDefect, ...]:
    """Return the defects with the numbers they have on the photographs."""
    return tuple(_defect(source, defect) for defect in defects_on_sheet(source))


def defects_left_off(source: SheetSource) -> str:
    """Name the defects that the seller keeps off the sheet, with the reason; empty for none."""
    kept = sorted((d for d in source.tool.defects if not d.disclosed), key=lambda d: d.number)
    if not kept:
        return ""
    said = [f"{d.number}, {d.why_not_disclosed or 'no reason recorded'}" for d in kept]
    verb = "1 defect is" if len(kept) == 1 else f"{len(kept)} defects are"
    return f"{verb} not shown: {'; '.join(said)}."


def defect_name(defect: Defect) -> str:
    """Return a defect's name with its severity: "Pitting, slight"."""
    name = name_of("defects", defect.kind)
    severity = defect.severity.replace("_", " ")
    return f"{name}, {severity}" if severity and severity not in name else name


def _defect(source: SheetSource, defect: Defect) -> SheetDefect:
    return SheetDefect(
        number=defect.number,
        what=defect_name(defect),
        where=_where(source, defect),
        size=format_size(defect.size, source.choices.first_unit) or (_no_size(defect),),
        basis=BASIS_WORDS[defect.size_basis] if defect.size else "",
        since=_since(source, defect),
        close_up=_close_up(source, defect),
    )


def _where(source: SheetSource, defect: Defect) -> str:
    part = source.part_name(defect.part)
    place = ", ".join(words for words in (part, defect.place) if words) or "place not recorded"
    return f"{place}. {sentence(defect.note)}" if defect.note else place


def _no_size(defect: Defect) -> str:
    row = open_list("defects").get(defect.kind)
    sized = row is None or bool(row.more.get("sized", True))
    return "not measured" if sized else ""


def _since(source: SheetSource, defect: Defect) -> str:
    """Return the work done since on the same part, which may have changed what was recorded."""
    if any(one.stage is Stage.FINISHED for one in _photographs(source, defect)):
        return ""
    names = dict.fromkeys(
        lower_first(name_of("treatments", work.kind)) for work in _mending(source, defect)
    )
    return f"As found; worked on since: {join_words(list(names))}." if names else ""


def _mending(source: SheetSource, defect: Defect) -> list[Work]:
    kinds = _MENDED_BY.get(defect.kind, frozenset())
    same = (work for work in source.tool.work if work.part == defect.part)
    return [work for work in same if work.kind in kinds] if defect.part is not None else []


def _pins(source: SheetSource, defect: Defect) -> list[Pin]:
    return [pin for pin in source.tool.pins if pin.defect == defect.id]


def _photographs(source: SheetSource, defect: Defect) -> list[Photograph]:
    found = (source.photograph(pin.photograph) for pin in _pins(source, defect))
    return [one for one in found if one is not None]


def _close_up(source: SheetSource, defect: Defect) -> CloseUp | None:
    """Cut the latest photograph that carries the defect's pin around that pin."""
    pinned = [
        (taken, pin)
        for pin in _pins(source, defect)
        if (taken := source.photograph(pin.photograph)) is not None
    ]
    if not pinned:
        return None
    taken, pin = min(pinned, key=lambda pair: LATEST_FIRST.index(pair[0].stage))
    crop = _around(pin, taken)
    words = f"{defect_name(defect)}, {source.part_name(defect.part) or 'tool'}"
    stage = "as found" if taken.stage is Stage.AS_FOUND else "now"
    photograph = SheetPhotograph(
        file=source.files[taken.id],
        sha256=taken.sha256,
        caption="" if taken.stage is not Stage.AS_FOUND else "as found",
        alternative=f"Close-up of defect {defect.number}, {stage}: {words}.",
        crop=crop,
    )
    bar = _scale_bar(taken, pin, crop)
    if bar is None:
        return CloseUp(photograph=photograph)
    return CloseUp(photograph=photograph, bar_mm=bar[0], bar_share=bar[1])


def _around(pin: Pin, taken: Photograph) -> Crop:
    """Return a crop of fixed shape centered on a pin, moved in from the photograph's edges."""
    wide = _CLOSE_UP
    high = min(1.0, wide * taken.width / _SHAPE / taken.height)
    left = min(max(pin.x - wide / 2, 0.0), 1 - wide)
    top = min(max(pin.y - high / 2, 0.0), 1 - high)
    return Crop(left=left, top=top, right=left + wide, bottom=top + high)


def _scale_bar(taken: Photograph, pin: Pin, crop: Crop) -> tuple[int, float] | None:
    """Return a round length in mm and its part of the crop's width, None without a scale."""
    plane = scale_of(taken.scale)
    if plane is None:
        return None
    width_px = (crop.right - crop.left) * taken.width
    middle = (pin.x * taken.width, pin.y * taken.height)
    ends = plane.to_mm(np.array([[middle[0] - 5, middle[1]], [middle[0] + 5, middle[1]]]))
    mm_per_px = float(((ends[1] - ends[0]) ** 2).sum() ** 0.5) / 10
    width_mm = width_px * mm_per_px
    fitting = [bar for bar in _BARS_MM if bar <= width_mm * _LONGEST_BAR]
    return None if not fitting else (fitting[-1], round(fitting[-1] / width_mm, 4))

"""Which photographs a sheet shows, with their captions and numbered pins."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from planebench.catalog.ids import PhotographId
from planebench.catalog.reference import name_of
from planebench.catalog.values import Defect, Photograph, Pin
from planebench.sheet.content import (
    Crop,
    ListLine,
    Point,
    SheetPhotograph,
    SheetPhotographs,
    SheetPin,
    SheetSection,
)
from planebench.sheet.phrases import capitalize_first, lower_first, sentence
from planebench.sheet.sheet_source import SheetSource
from planebench.trade.terms import STAGE_WORDS, Stage
from planebench.trade.wording import join_words

_ORDER = {Stage.FINISHED: 0, Stage.AS_FOUND: 1, Stage.DURING: 2}
_FROM = {"top": "from above", "sole": "the sole", "front": "from the front", "back": "from behind"}
_ON_FIRST_PAGE = 3
_CLOSE_UPS = frozenset({"", "detail", "marks", "mouth", "cutter"})
"""Views that no one expects to be taken again after the work."""
_LEAST_KEPT = 0.45
"""The scale card is cropped away only if this much of the photograph is left.

Much below half, the crop would cut into the tool as often as it removes the card.
"""
_MOST_BALLOONS = 12
"""More numbers than this hide the tool; the other defects have close-ups."""


def photographs_of(source: SheetSource) -> SheetPhotographs:
    """Return the large photograph, its pair as found, one other view, and the rest."""
    taken = _in_order(source)
    if not taken:
        return SheetPhotographs(missing="No photographs.")
    main = _main(source, taken)
    found = _found(source, taken, main)
    left = [one for one in taken if one not in (main, found)]
    other = _other(source, left, main)
    rest = [one for one in left if one is not other]
    more = tuple(_shown(source, one, _caption(source, one)) for one in _more(source, rest))
    return SheetPhotographs(
        main=_shown(source, main, _main_caption(source, main)),
        found=_shown_found(source, found, main),
        other=None if other is None else _shown(source, other, _caption(source, other)),
        more=more,
        count=_count(source, 1 + _shown_beside(source, found, other, len(more))),
    )


def _shown_found(
    source: SheetSource, found: Photograph | None, main: Photograph
) -> SheetPhotograph | None:
    if found is None:
        return None
    return _shown(source, found, _found_caption(source, found, main))


def _shown_beside(
    source: SheetSource, found: Photograph | None, other: Photograph | None, more: int
) -> int:
    """Return how many photographs stand beside the main one, by what the person left off."""
    asked = source.choices.sections
    pair = found is not None and SheetSection.BEFORE_AFTER in asked
    others = (other is not None) + more if SheetSection.OTHER_PHOTOGRAPHS in asked else 0
    return pair + others


def _count(source: SheetSource, shown: int) -> str:
    whole = len(source.tool.photographs)
    if shown < whole:
        return f"{shown} of {whole} photographs are shown; ask the seller for the rest."
    few = {1: "The only photograph is shown.", 2: "Both photographs are shown."}
    return few.get(whole, f"All {whole} photographs are shown.")


def _more(source: SheetSource, left: Sequence[Photograph]) -> list[Photograph]:
    """Return the further photographs, as many as the settings allow, those with pins first."""
    most = max(0, source.settings.photographs_on_sheet - _ON_FIRST_PAGE)
    pinned = _pinned(source)
    return sorted(left, key=lambda one: one.id not in pinned)[:most]


def _pinned(source: SheetSource) -> set[PhotographId]:
    """Return the photographs that carry a defect on the sheet."""
    told = {defect.id for defect in source.tool.defects if defect.disclosed}
    return {pin.photograph for pin in source.tool.pins if pin.defect in told}


def views_not_photographed(source: SheetSource) -> Iterator[ListLine]:
    """Yield the views that a buyer expects but were not photographed, at all or since the work."""
    taken = source.tool.photographs
    if not taken:
        yield ListLine(lead="No photographs.")
        return
    if source.may_have_changed:
        yield from _views_not_taken_since(source)
    wanted = source.kind.views if source.kind is not None else ()
    shown = {one.view for one in taken}
    lacking = [name_of("views", view) for view in wanted if view not in shown]
    if lacking:
        yield ListLine(lead="Not photographed:", words=f"{join_words(lacking)}.")


def _views_not_taken_since(source: SheetSource) -> Iterator[ListLine]:
    later = _views(source, (Stage.DURING, Stage.FINISHED))
    missed = sorted(_views(source, (Stage.AS_FOUND,)) - later - _CLOSE_UPS)
    names = [name_of("views", view) for view in missed]
    if not later:
        yield ListLine(lead="After the work:", words="not photographed.")
    elif names:
        words = "not photographed after the work."
        yield ListLine(lead=f"{capitalize_first(join_words(names))}:", words=words)


def _views(source: SheetSource, stages: Sequence[Stage]) -> set[str]:
    return {one.view for one in source.tool.photographs if one.stage in stages}


def _in_order(source: SheetSource) -> list[Photograph]:
    """Sort by stage, the latest first; within it pinned ones first, then the kind's own order."""
    views = list(source.kind.views) if source.kind is not None else []
    pinned = _pinned(source)

    def place(one: Photograph) -> tuple[int, bool, int, int]:
        view = views.index(one.view) if one.view in views else len(views)
        return (_ORDER[one.stage], one.id not in pinned, view, one.position)

    return sorted(source.tool.photographs, key=place)


def _main(source: SheetSource, taken: Sequence[Photograph]) -> Photograph:
    """Return the later half of a linked pair, from above if possible; else the best single one."""
    after = [pair.after for pair in source.tool.pairs if pair.on_sheet]
    latest = [one for one in taken if one.stage == taken[0].stage]
    return min(latest, key=lambda one: (one.id not in after, one.view != "top"))


def _found(source: SheetSource, taken: Sequence[Photograph], main: Photograph) -> Photograph | None:
    """Return the other half of the main one's pair, else the same view as found, else any."""
    if main.stage is Stage.AS_FOUND:
        return None
    before = {pair.before for pair in source.tool.pairs if pair.on_sheet and pair.after == main.id}
    found = [one for one in taken if one.stage is Stage.AS_FOUND or one.id in before]
    return min(found, key=lambda one: (one.id not in before, one.view != main.view), default=None)


def _other(source: SheetSource, left: Sequence[Photograph], main: Photograph) -> Photograph | None:
    """Return one with pins if there is one; else the sole, which a buyer asks for next."""
    pinned = _pinned(source)
    return min(
        left,
        key=lambda one: (one.id not in pinned, one.view != "sole", one.view == main.view),
        default=None,
    )


def _shown(source: SheetSource, taken: Photograph, caption: str) -> SheetPhotograph:
    here = _marks_on(source, taken)
    pins = tuple(
        SheetPin(number=defect.number, x=pin.x, y=pin.y, balloon=(pin.balloon_x, pin.balloon_y))
        for defect, pin in here
    )
    marked = "; ".join(_marked(source, defect) for defect, _ in here)
    said = (
        f"{source.tool.line.title}: {sentence(_view(taken))}",
        sentence(_stage(source, taken)),
        sentence(taken.caption),
        f"Marked on it: {marked}." if marked else "",
    )
    return SheetPhotograph(
        file=source.files[taken.id],
        sha256=taken.sha256,
        caption=caption,
        alternative=" ".join(filter(None, said)),
        crop=_beside_card(taken, pins),
        pins=pins,
    )


def _marks_on(source: SheetSource, taken: Photograph) -> list[tuple[Defect, Pin]]:
    """Return the defects marked on a photograph with their pins, by number, the first twelve."""
    defects = {defect.id: defect for defect in source.tool.defects if defect.disclosed}
    here = [
        (defects[pin.defect], pin)
        for pin in source.tool.pins
        if pin.photograph == taken.id and pin.defect in defects
    ]
    return sorted(here, key=lambda pair: pair[0].number)[:_MOST_BALLOONS]


def _marked(source: SheetSource, defect: Defect) -> str:
    """Return what a number marks, for someone who cannot see it: "2: pitting, cheek, 9 x 4 mm"."""
    part = lower_first(source.part_name(defect.part))
    words = (name_of("defects", defect.kind).lower(), part, defect.place, defect.size)
    return f"{defect.number}: {', '.join(filter(None, words))}"


def _main_caption(source: SheetSource, main: Photograph) -> str:
    numbers = "The numbers are the defects below." if main.id in _pinned(source) else ""
    return " ".join(filter(None, (_caption(source, main), numbers)))


def _found_caption(source: SheetSource, found: Photograph, main: Photograph) -> str:
    """Say "the same view" only of a linked pair: two photographs named alike may differ."""
    linked = any((p.before, p.after) == (found.id, main.id) for p in source.tool.pairs)
    view = "the same view" if linked else _view(found)
    return _sentences(_stage(source, found), view, found.caption)


def _caption(source: SheetSource, taken: Photograph) -> str:
    return _sentences(_stage(source, taken), _view(taken), taken.caption)


def _sentences(stage: str, view: str, caption: str) -> str:
    first = sentence(", ".join(part for part in (stage, view) if part))
    return f"{first} {sentence(caption)}".strip()


def _stage(source: SheetSource, taken: Photograph) -> str:
    day = f", {source.day(taken.taken_at.date())}" if taken.taken_at is not None else ""
    return capitalize_first(STAGE_WORDS[taken.stage]) + day


def _view(taken: Photograph) -> str:
    if not taken.view:
        return ""
    return _FROM.get(taken.view, name_of("views", taken.view))


def _beside_card(taken: Photograph, pins: Sequence[SheetPin]) -> Crop:
    """Crop the scale card away if a large part beside it holds all pins."""
    corners = _card_corners(taken)
    if not corners:
        return Crop()
    xs = [min(max(x / taken.width, 0.0), 1.0) for x, _ in corners]
    ys = [min(max(y / taken.height, 0.0), 1.0) for _, y in corners]
    sides = _sides(min(xs), min(ys), max(xs), max(ys))
    return max((crop for crop in sides if _holds(crop, pins)), key=_area, default=Crop())


def _sides(left: float, top: float, right: float, bottom: float) -> list[Crop]:
    """Return the parts above, below, left and right of a box that are large enough to print."""
    beside = (
        (top, {"bottom": top}),
        (1 - bottom, {"top": bottom}),
        (left, {"right": left}),
        (1 - right, {"left": right}),
    )
    return [Crop(**edges) for share, edges in beside if share > _LEAST_KEPT]


def _card_corners(taken: Photograph) -> list[Point]:
    """Return the corners of the card (90 x 60 mm) in pixels; empty without a card.

    The scale's `matrix_px_to_mm` maps pixels to millimeters on the card, whose corner is at 0, 0.
    """
    scale = taken.scale or {}
    matrix = scale.get("matrix_px_to_mm") if scale.get("kind") == "card" else None
    try:
        back = np.linalg.inv(np.asarray(matrix, dtype=np.float64))
    except (ValueError, TypeError, np.linalg.LinAlgError):
        return []
    if back.shape != (3, 3):
        return []
    card = np.array([[0, 0, 1], [90, 0, 1], [90, 60, 1], [0, 60, 1]], dtype=np.float64)
    placed = card @ back.T
    return [(float(x / w), float(y / w)) for x, y, w in placed]


def _holds(crop: Crop, pins: Sequence[SheetPin]) -> bool:
    return all(
        crop.left <= pin.x <= crop.right and crop.top <= pin.y <= crop.bottom for pin in pins
    )


def _area(crop: Crop) -> float:
    return (crop.right - crop.left) * (crop.bottom - crop.top)

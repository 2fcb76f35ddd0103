"""Which photographs a sheet shows, with what words under them and which numbers on them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planebench.catalog.reference import name_of
from planebench.catalog.values import Photograph
from planebench.sheet.content import Crop, Point, SheetPhotograph, SheetPhotographs, SheetPin
from planebench.sheet.phrases import capitalize_first, sentence
from planebench.sheet.sheet_source import SheetSource
from planebench.trade.days import format_day
from planebench.trade.terms import STAGE_WORDS, Stage
from planebench.trade.wording import join_words

_ORDER = {Stage.FINISHED: 0, Stage.AS_FOUND: 1, Stage.DURING: 2}
_FROM = {"top": "from above", "sole": "the sole", "front": "from the front", "back": "from behind"}
_ON_FIRST_PAGE = 3
_LEAST_KEPT = 0.45
"""A crop beside the scale card is taken only when this much of the photograph is left."""


def photographs_of(source: SheetSource) -> SheetPhotographs:
    """Choose the photograph shown large, its pair as found, one other view, and the rest."""
    taken = _in_order(source)
    if not taken:
        return SheetPhotographs(missing="Not photographed.")
    main = _main(source, taken)
    found = _found(source, taken, main)
    left = [one for one in taken if one not in (main, found)]
    other = _other(left, main)
    return SheetPhotographs(
        main=_shown(source, main, _main_caption(source, main)),
        found=None if found is None else _shown(source, found, _found_caption(found, main)),
        other=None if other is None else _shown(source, other, _other_caption(other, taken)),
        more=_more(source, [one for one in left if one is not other]),
    )


def _more(source: SheetSource, left: Sequence[Photograph]) -> tuple[SheetPhotograph, ...]:
    """Return the further photographs, as many as the catalog's settings allow on a sheet."""
    most = max(0, source.settings.photographs_on_sheet - _ON_FIRST_PAGE)
    return tuple(_shown(source, one, _caption(one)) for one in left[:most])


def views_not_photographed(source: SheetSource) -> str:
    """Say which of the views that a buyer expects were not photographed; empty for none."""
    if not source.tool.photographs:
        return "It was not photographed."
    wanted = source.kind.views if source.kind is not None else ()
    shown = {one.view for one in source.tool.photographs}
    lacking = [name_of("views", view) for view in wanted if view not in shown]
    return f"Not photographed: {join_words(lacking)}." if lacking else ""


def _in_order(source: SheetSource) -> list[Photograph]:
    """Sort: pinned ones of each stage first, then by view as the kind lists them."""
    views = list(source.kind.views) if source.kind is not None else []
    pinned = {pin.photograph for pin in source.tool.pins if pin.defect is not None}

    def place(one: Photograph) -> tuple[int, bool, int, int]:
        view = views.index(one.view) if one.view in views else len(views)
        return (_ORDER[one.stage], one.id not in pinned, view, one.position)

    return sorted(source.tool.photographs, key=place)


def _main(source: SheetSource, taken: Sequence[Photograph]) -> Photograph:
    """Choose the finished half of a pair, from above if there is one; else the best single one."""
    after = [pair.after for pair in source.tool.pairs if pair.on_sheet]
    latest = [one for one in taken if one.stage == taken[0].stage]
    return min(latest, key=lambda one: (one.view != "top", one.id not in after))


def _found(source: SheetSource, taken: Sequence[Photograph], main: Photograph) -> Photograph | None:
    """Choose the other half of the main one's pair, else the same view as found, else any."""
    if main.stage is Stage.AS_FOUND:
        return None
    before = {pair.before for pair in source.tool.pairs if pair.on_sheet and pair.after == main.id}
    found = [one for one in taken if one.stage is Stage.AS_FOUND or one.id in before]
    return min(found, key=lambda one: (one.id not in before, one.view != main.view), default=None)


def _other(left: Sequence[Photograph], main: Photograph) -> Photograph | None:
    """Prefer the sole, for it is what a buyer asks for next; then any other view."""
    return min(left, key=lambda one: (one.view != "sole", one.view == main.view), default=None)


def _shown(source: SheetSource, taken: Photograph, caption: str) -> SheetPhotograph:
    numbers = {defect.id: defect.number for defect in source.tool.defects if defect.disclosed}
    pins = tuple(
        SheetPin(
            number=numbers[pin.defect], x=pin.x, y=pin.y, balloon=(pin.balloon_x, pin.balloon_y)
        )
        for pin in source.tool.pins
        if pin.photograph == taken.id and pin.defect in numbers
    )
    return SheetPhotograph(
        file=source.files[taken.id],
        sha256=taken.sha256,
        caption=caption,
        alternative=f"{source.tool.line.title}: {sentence(_view(taken))} {sentence(_stage(taken))}"
        + (f" {sentence(taken.caption)}" if taken.caption else ""),
        crop=_beside_card(taken, pins),
        pins=pins,
    )


def _main_caption(source: SheetSource, main: Photograph) -> str:
    told = {defect.id for defect in source.tool.defects if defect.disclosed}
    pinned = any(pin.photograph == main.id and pin.defect in told for pin in source.tool.pins)
    numbers = "The numbers are the defects below." if pinned else ""
    return " ".join(part for part in (_caption(main), numbers) if part)


def _found_caption(found: Photograph, main: Photograph) -> str:
    view = "the same view" if found.view and found.view == main.view else _view(found)
    return _sentences(_stage(found), view, found.caption)


def _other_caption(other: Photograph, taken: Sequence[Photograph]) -> str:
    finished = [one for one in taken if one.stage is Stage.FINISHED]
    words = _caption(other)
    if finished and other.view and all(one.view != other.view for one in finished):
        return f"{words} The finished {name_of('views', other.view)} was not photographed."
    return words


def _caption(taken: Photograph) -> str:
    return _sentences(_stage(taken), _view(taken), taken.caption)


def _sentences(stage: str, view: str, caption: str) -> str:
    first = sentence(", ".join(part for part in (stage, view) if part))
    return f"{first} {sentence(caption)}".strip()


def _stage(taken: Photograph) -> str:
    day = f", {format_day(taken.taken_at.date())}" if taken.taken_at is not None else ""
    return capitalize_first(STAGE_WORDS[taken.stage]) + day


def _view(taken: Photograph) -> str:
    if not taken.view:
        return ""
    return _FROM.get(taken.view, name_of("views", taken.view))


def _beside_card(taken: Photograph, pins: Sequence[SheetPin]) -> Crop:
    """Leave the scale card out of the print where a large part beside it holds all pins."""
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
    """Find the card (90 x 60 mm) by the photograph's scale, in pixels; empty without one.

    The scale's `matrix_px_to_mm` brings pixels to millimeters on the card, its corner at 0, 0.
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

"""Photographs and close-ups as the templates read them: files, sizes, balloons, scale bars."""

from __future__ import annotations

from planebench.sheet.balloons import place_balloons
from planebench.sheet.content import SheetContent, SheetDefect, SheetPhotograph, SheetSection
from planebench.sheet.photograph_layout import PAGES, lay_out_first_page, size_further
from planebench.sheet.print_images import PrintImageCache, aspect, sharp_width

Data = dict[str, object]
Written = dict[str, bytes]

CLOSE_UPS_ACROSS = 5
_GAP = 9.0
_CLOSE_UP_SHAPE = 4 / 3


def pictures_data(
    content: SheetContent, images: PrintImageCache, written: Written, *, tight: bool
) -> Data:
    """Return the photographs that were asked for, sized for the page."""
    width = PAGES[content.choices.paper].text_width
    first, more = _asked(content)
    layout = lay_out_first_page([aspect(one) for one in first], width, tight=tight)
    sizes = size_further([aspect(one) for one in more], width)
    return {
        "beside": layout.beside,
        "slots": [_slot(p, s, images, written) for p, s in zip(first, layout.sizes, strict=True)],
        "more": [_slot(p, s, images, written) for p, s in zip(more, sizes, strict=True)],
        "missing": content.photographs.missing or ("" if first else "No photographs."),
    }


def defects_data(content: SheetContent, images: PrintImageCache, written: Written) -> Data:
    """Return a card for each defect: its close-up, and what, where, how large, on what basis."""
    width = PAGES[content.choices.paper].text_width
    card = (width - (CLOSE_UPS_ACROSS - 1) * _GAP) / CLOSE_UPS_ACROSS
    return {
        "defects": [_card(one, card, images, written) for one in content.defects],
        "defects_left_off": content.defects_left_off,
        "cards_across": CLOSE_UPS_ACROSS,
        "card_width": card,
        "card_height": card / _CLOSE_UP_SHAPE,
        "any_scale": any(
            one.close_up is not None and one.close_up.bar_mm is not None for one in content.defects
        ),
        "any_close_up": any(one.close_up is not None for one in content.defects),
    }


def _asked(content: SheetContent) -> tuple[list[SheetPhotograph], tuple[SheetPhotograph, ...]]:
    """Return the photographs of the first page, then the further ones, as far as asked for."""
    asked, taken = content.choices.sections, content.photographs
    others = SheetSection.OTHER_PHOTOGRAPHS in asked
    found = taken.found if SheetSection.BEFORE_AFTER in asked else None
    first = (taken.main, found, taken.other if others else None)
    return [one for one in first if one is not None], taken.more if others else ()


def _slot(
    photograph: SheetPhotograph,
    size: tuple[float, float],
    images: PrintImageCache,
    written: Written,
) -> Data:
    # A small photograph is printed smaller rather than blown up.
    shrink = min(1.0, sharp_width(photograph) / size[0])
    width, height = size[0] * shrink, size[1] * shrink
    placed = place_balloons(photograph.pins, photograph.crop, (width, height))
    return {
        "file": _write(photograph, width, images, written),
        "width": width,
        "height": height,
        "caption": photograph.caption,
        "alternative": photograph.alternative,
        "balloons": [
            {"number": b.number, "x": b.spot[0], "y": b.spot[1], "at_x": b.at[0], "at_y": b.at[1]}
            for b in placed
        ],
    }


def _card(one: SheetDefect, width: float, images: PrintImageCache, written: Written) -> Data:
    card: Data = {
        "number": one.number,
        "what": one.what,
        "where": one.where,
        "size": [line for line in one.size if line],
        "basis": one.basis,
        "since": one.since,
    }
    if one.close_up is None:
        return card | {"file": None, "caption": ""}
    return card | {
        "file": _write(one.close_up.photograph, width, images, written),
        "alternative": one.close_up.photograph.alternative,
        "caption": one.close_up.photograph.caption,
        "bar_mm": one.close_up.bar_mm,
        "bar_width": round((one.close_up.bar_share or 0.0) * width, 2),
    }


def _write(
    photograph: SheetPhotograph, width: float, images: PrintImageCache, written: Written
) -> str:
    name = f"photograph-{len(written)}.jpg"
    written[name] = images.jpeg(photograph, width)
    return name

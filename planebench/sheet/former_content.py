"""Reads content issued in the first form, which has no `form` key, as facts that still compare.

The first form counted new finish as finish left and kept evidence under "signs", so only what both
forms can say is compared: finish of either sort against bare, not first against new.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from planebench.catalog.values import Json
from planebench.sheet.content import SheetContent

_WARNED = frozenset({"Missing", "Replaced", "Not original to it"})
_NUMBER = re.compile(r"\d+(?:\.\d+)?")

Facts = dict[str, object]


def former_facts(issued: Json) -> Facts:
    """Return what a sheet of the first form says, by the words for a change of it."""
    dating = _mapping(issued.get("dating"))
    return {
        "what it is": issued.get("title"),
        "price": issued.get("price"),
        "photographs": frozenset(_texts(issued.get("photographs"), "sha256")),
        "finish": {
            str(line.get("part")): round(float(str(line.get("value"))))
            for line in _rows(issued.get("finish"))
            if line.get("value") is not None and not str(line.get("part")).endswith(", rust")
        },
        "defects": [(row.get("number"), row.get("what")) for row in _rows(issued.get("defects"))],
        "when it was made": [
            row.get("what") for row in _rows(dating.get("evidence", dating.get("signs")))
        ],
        "parts": frozenset(
            name
            for group in _rows(_mapping(issued.get("parts")).get("groups"))
            if group.get("label") in _WARNED
            for name in _names(str(group.get("names")))
        ),
        "measurements": {
            str(row.get("of")): _first_number(str(row.get("millimeters") or row.get("words") or ""))
            for row in _rows(issued.get("measurements"))
        },
        "work done": [row.get("told") for row in _rows(issued.get("work"))].count(True),
        "guarantee": issued.get("promise"),
        "seller": _mapping(issued.get("address")).get("name"),
    }


def present_facts(now: SheetContent) -> Facts:
    """Return the same facts of content as it is composed now."""
    return {
        "what it is": now.title,
        "price": now.price,
        "photographs": frozenset(
            taken.sha256
            for taken in (
                now.photographs.main,
                now.photographs.found,
                now.photographs.other,
                *now.photographs.more,
            )
            if taken is not None
        ),
        "finish": {
            surface.surface: 100 - bare
            for surface in now.finish
            if (bare := _bare_percent(surface.bars)) is not None
        },
        "defects": [(one.number, one.what) for one in now.defects],
        "when it was made": [one.what for one in now.dating.evidence],
        "parts": frozenset(
            name for group in now.parts.groups if group.warns for name in _names(group.names)
        ),
        "measurements": {
            one.of: _first_number(one.millimeters or one.words)
            for one in (*now.measurements, *now.cutter)
        },
        "work done": sum(one.changes_tool for one in now.work),
        "guarantee": now.promise,
        "seller": now.address.name,
    }


def _bare_percent(bars: Sequence[object]) -> int | None:
    percents = (getattr(bar, "shares", ())[-1:] for bar in reversed(bars))
    known = (share[0].percent for share in percents if share)
    return next((percent for percent in known if percent is not None), None)


def _names(names: str) -> Iterator[str]:
    for name in re.sub(r"\([^)]*\)", "", names).split(","):
        yield name.strip()


def _first_number(words: str) -> str:
    found = _NUMBER.search(words)
    return found[0] if found else ""


def _texts(value: object, key: str) -> Iterator[str]:
    """Yield every text under a key, however deep."""
    if isinstance(value, Mapping):
        for name, part in value.items():
            if name == key:
                yield str(part)
            else:
                yield from _texts(part, key)
    elif isinstance(value, list):
        for part in value:
            yield from _texts(part, key)


def _rows(value: object) -> list[Mapping[str, object]]:
    return [row for row in value if isinstance(row, Mapping)] if isinstance(value, list) else []


def _mapping(value: object) -> Mapping[str, object]:
    return value if isinstance(value, Mapping) else {}

"""Reads content issued in the first form, which has no `form` key, as facts that still compare.

The first form counted new finish as finish left and kept evidence under "signs", so only what both
forms can say is compared: finish of either sort against bare, not first against new.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from planebench.catalog.values import Json
from planebench.sheet.content import SheetContent, StageBar
from planebench.sheet.fingerprint import content_json

_WARNED = frozenset({"Missing", "Replaced", "Not original to it"})
_NUMBER = re.compile(r"\d+(?:\.\d+)?")

Facts = dict[str, object]


def former_facts(issued: Json) -> Facts:
    """Return what a sheet of the first form says, by the words for a change of it."""
    return {
        "what it is": issued.get("title"),
        "price": issued.get("price"),
        "photographs": frozenset(_texts(issued.get("photographs"), "sha256")),
        "finish": dict(_former_finish(issued)),
        "defects": [(row.get("number"), row.get("what")) for row in _rows(issued.get("defects"))],
        "when it was made": _former_evidence(issued),
        "parts": frozenset(_former_foreign_parts(issued)),
        "measurements": dict(_former_dimensions(issued)),
        "work done": [row.get("told") for row in _rows(issued.get("work"))].count(True),
        "guarantee": issued.get("promise"),
        "seller": _mapping(issued.get("address")).get("name"),
    }


def present_facts(now: SheetContent) -> Facts:
    """Return the same facts of content as it is composed now."""
    return {
        "what it is": now.title,
        "price": now.price,
        "photographs": frozenset(_texts(content_json(now)["photographs"], "sha256")),
        "finish": dict(_present_finish(now)),
        "defects": [(one.number, one.what) for one in now.defects],
        "when it was made": [one.what for one in now.dating.evidence],
        "parts": frozenset(_present_foreign_parts(now)),
        "measurements": {
            one.of: _first_number(one.millimeters or one.words)
            for one in (*now.measurements, *now.cutter)
        },
        "work done": sum(one.changes_tool for one in now.work),
        "guarantee": now.promise,
        "seller": now.address.name,
    }


def _present_finish(now: SheetContent) -> Iterator[tuple[str, int]]:
    for one in now.finish:
        bare = _bare_percent(one.bars)
        if bare is not None:
            yield one.surface, 100 - bare


def _present_foreign_parts(now: SheetContent) -> Iterator[str]:
    for group in now.parts.groups:
        if group.warns:
            yield from _names(group.names)


def _former_finish(issued: Json) -> Iterator[tuple[str, int]]:
    for line in _rows(issued.get("finish")):
        part, value = str(line.get("part")), line.get("value")
        if value is not None and not part.endswith(", rust"):
            yield part, round(float(str(value)))


def _former_evidence(issued: Json) -> list[object]:
    dating = _mapping(issued.get("dating"))
    return [row.get("what") for row in _rows(dating.get("evidence", dating.get("signs")))]


def _former_foreign_parts(issued: Json) -> Iterator[str]:
    for group in _rows(_mapping(issued.get("parts")).get("groups")):
        if group.get("label") in _WARNED:
            yield from _names(str(group.get("names")))


def _former_dimensions(issued: Json) -> Iterator[tuple[str, str]]:
    for row in _rows(issued.get("measurements")):
        words = str(row.get("millimeters") or row.get("words") or "")
        yield str(row.get("of")), _first_number(words)


def _bare_percent(bars: Sequence[StageBar]) -> int | None:
    """Return the bare share of the latest bar that has one."""
    percents = (bar.shares[-1].percent for bar in reversed(bars))
    return next((percent for percent in percents if percent is not None), None)


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

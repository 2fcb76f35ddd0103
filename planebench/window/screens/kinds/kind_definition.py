"""A user's kind of plane in the form of resources/kinds, from what was typed."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import count

from planebench.catalog.reference import Kind, KindSurface

_LAST_ORDER = 900


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedPart:
    """A part as typed; `code` is empty for a new one."""

    name: str
    finish: str
    small: bool = False
    optional: bool = False
    code: str = ""


def typed_of(kind: Kind) -> tuple[TypedPart, ...]:
    """Return the parts of a kind as they would be typed."""
    return tuple(
        TypedPart(
            name=part.name,
            finish=part.finish,
            small=part.small,
            optional=part.optional,
            code=part.code,
        )
        for part in kind.parts
    )


def code_for(name: str, taken: Collection[str]) -> str:
    """Return a free code for a name: lower-case letters, digits and underscores."""
    plain = re.sub(r"[^a-z0-9]+", "_", name.casefold()).strip("_") or "own"
    if plain not in taken:
        return plain
    return next(code for n in count(2) if (code := f"{plain}_{n}") not in taken)


def definition_of(
    kind: Kind, *, code: str, name: str, parts: Sequence[TypedPart]
) -> dict[str, object]:
    """Return a user's kind; it keeps the surfaces of `kind` that still have parts."""
    rows: list[dict[str, object]] = []
    for part in parts:
        taken = [str(row["code"]) for row in rows]
        rows.append(
            {
                "code": part.code or code_for(part.name, taken),
                "name": part.name,
                "finish": part.finish,
                "small": part.small,
                "optional": part.optional,
            }
        )
    codes = {str(row["code"]) for row in rows}
    return {
        "code": code,
        "name": name,
        "order": kind.order if kind.own else _LAST_ORDER,
        "drawing": kind.drawing,
        "views": list(kind.views),
        "hint": kind.hint,
        "source": "the user of this catalog",
        "parts": rows,
        "surfaces": _rows_of(kind.surfaces, codes),
        "bare": _rows_of(kind.bare, codes),
    }


def _rows_of(surfaces: Sequence[KindSurface], parts: Collection[str]) -> list[dict[str, object]]:
    """Return the surfaces that lie on any of these parts."""
    return [
        {
            "code": one.code,
            "name": one.name,
            "finish": one.finish,
            "parts": list(one.parts),
            "views": list(one.views),
            "hidden": one.hidden,
        }
        for one in surfaces
        if not set(parts).isdisjoint(one.parts)
    ]

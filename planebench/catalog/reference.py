"""Reads the reference data in resources/: kinds of plane, lists, and where its files are."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from planebench.errors import InputError

BARE = "bare_metal"
"""The finish of what never had one; its share is not asked."""


def resources_folder() -> Path:
    """Return the folder of resources: next to the package in a checkout, inside it if installed."""
    package = Path(__file__).resolve().parents[1]
    inside = package / "resources"
    return inside if inside.is_dir() else package.parent / "resources"


def sample_source() -> Path:
    """Return the folder with the source files of the sample catalog."""
    package = Path(__file__).resolve().parents[1]
    inside = package / "sample_catalog"
    return inside if inside.is_dir() else package.parent / "sample_catalog"


@dataclass(frozen=True, slots=True, kw_only=True)
class KindPart:
    """A part that planes of a kind have, with the finish it usually had."""

    code: str
    name: str
    finish: str
    small: bool = False
    optional: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class KindSurface:
    """A surface judged as one, and the codes of the parts it is on.

    `views` together show it; none if planes of the kind differ in that. `hidden` says in words what
    no usual view shows completely.
    """

    code: str
    name: str
    finish: str
    parts: tuple[str, ...]
    views: tuple[str, ...] = ()
    hidden: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of plane: its parts in order, its surfaces (the main one first), its views.

    `also` are other trade names that find it. `bare` are metal surfaces that never had a finish:
    they can rust, and nothing else is asked of them.
    """

    code: str
    name: str
    order: int
    drawing: str
    parts: tuple[KindPart, ...]
    surfaces: tuple[KindSurface, ...]
    views: tuple[str, ...]
    hint: str
    source: str
    own: bool = False
    bare: tuple[KindSurface, ...] = ()
    also: tuple[str, ...] = ()

    def surface(self, code: str) -> KindSurface | None:
        """Return the surface with this code, finished or bare, None without one."""
        return next((one for one in (*self.surfaces, *self.bare) if one.code == code), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class ListRow:
    """A row of an open list; `more` holds the keys that only this list has."""

    code: str
    name: str
    source: str
    hint: str = ""
    more: Mapping[str, object] = field(default_factory=dict)


def kind_from(table: Mapping[str, object], *, own: bool = False) -> Kind:
    """Return a kind from its TOML table; raise InputError naming what is missing."""
    try:
        return Kind(
            code=str(table["code"]),
            name=str(table["name"]),
            order=int(str(table.get("order", 1000))),
            drawing=str(table.get("drawing", "other")),
            parts=tuple(_part(row) for row in _rows(table, "parts")),
            surfaces=tuple(_surface(row) for row in _rows(table, "surfaces")),
            views=tuple(_texts(table.get("views", ()))),
            hint=str(table.get("hint", "")),
            source=str(table["source"]),
            own=own,
            bare=tuple(_surface(row) for row in _rows(table, "bare")),
            also=tuple(_texts(table.get("also", ()))),
        )
    except (KeyError, ValueError, TypeError) as error:
        raise InputError(
            f"The kind of plane “{table.get('name', '?')}” cannot be read: {error}.",
            remedy="Give it a code, a name, a source, and parts each with a code and a name.",
            subject="kind of plane",
        ) from error


@cache
def built_in_kinds() -> Mapping[str, Kind]:
    """Return the kinds that come with the program by code, in their order."""
    files = sorted((resources_folder() / "kinds").glob("*.toml"))
    kinds = [kind_from(tomllib.loads(file.read_text("utf-8"))) for file in files]
    return {kind.code: kind for kind in sorted(kinds, key=lambda kind: (kind.order, kind.name))}


@cache
def open_list(name: str) -> Mapping[str, ListRow]:
    """Return a list of resources/lists by code, in file order or by the `order` key."""
    table = tomllib.loads((resources_folder() / "lists" / f"{name}.toml").read_text("utf-8"))
    rows = [_list_row(row) for row in _rows(table, "rows")]
    rows.sort(key=lambda row: int(str(row.more.get("order", 0))))
    return {row.code: row for row in rows}


def name_of(list_name: str, code: str) -> str:
    """Return the name of a code in a list; a user's own code is shown as it is."""
    row = open_list(list_name).get(code)
    return code.replace("_", " ") if row is None else row.name


def _list_row(row: Mapping[str, object]) -> ListRow:
    known = {"code", "name", "source", "hint"}
    return ListRow(
        code=str(row["code"]),
        name=str(row["name"]),
        source=str(row["source"]),
        hint=str(row.get("hint", "")),
        more={key: value for key, value in row.items() if key not in known},
    )


def _rows(table: Mapping[str, object], key: str) -> list[Mapping[str, object]]:
    rows = table.get(key, [])
    return [row for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []


def _texts(value: object) -> list[str]:
    return [str(item) for item in value] if isinstance(value, list | tuple) else []


def _part(row: Mapping[str, object]) -> KindPart:
    return KindPart(
        code=str(row["code"]),
        name=str(row["name"]),
        finish=str(row.get("finish", BARE)),
        small=bool(row.get("small", False)),
        optional=bool(row.get("optional", False)),
    )


def _surface(row: Mapping[str, object]) -> KindSurface:
    return KindSurface(
        code=str(row["code"]),
        name=str(row["name"]),
        finish=str(row.get("finish", BARE)),
        parts=tuple(_texts(row.get("parts", ()))),
        views=tuple(_texts(row.get("views", ()))),
        hidden=str(row.get("hidden", "")),
    )

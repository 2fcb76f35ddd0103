"""Suggestions for fields that find one of a list: kinds of plane, and the program's own lists."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planebench.catalog.reference import Kind, ListRow, open_list
from planebench.window.pieces.suggestion_field import Suggestion

CodedSuggestion = tuple[str, Suggestion]


def list_suggestions(name: str) -> tuple[CodedSuggestion, ...]:
    """Return a list of resources/lists as codes and suggestions, found by its `also` words too."""
    rows = open_list(name).values()
    return tuple((row.code, Suggestion(text=row.name, also=_texts(row, "also"))) for row in rows)


def kind_suggestions(kinds: Mapping[str, Kind]) -> tuple[CodedSuggestion, ...]:
    """Return the kinds of plane as codes and suggestions: the user's own first, then by family.

    A kind is found by its name, by other names of the trade, and by words of its family.
    """
    grouped = dict(_by_family(kinds))
    rest = [kind for kind in kinds.values() if kind.code not in grouped]
    own = {kind.code: _suggestion(kind, "My own" * kind.own, ()) for kind in rest}
    return (*own.items(), *grouped.items())


def _by_family(kinds: Mapping[str, Kind]) -> Iterator[CodedSuggestion]:
    for family in open_list("kind_families").values():
        for code in _texts(family, "kinds"):
            kind = kinds.get(code)
            if kind is not None and not kind.own:
                yield code, _suggestion(kind, family.name, _texts(family, "also"))


def _suggestion(kind: Kind, group: str, group_also: tuple[str, ...]) -> Suggestion:
    return Suggestion(text=kind.name, group=group, also=kind.also, group_also=group_also)


def _texts(row: ListRow, key: str) -> tuple[str, ...]:
    value = row.more.get(key, ())
    return tuple(map(str, value)) if isinstance(value, list) else ()

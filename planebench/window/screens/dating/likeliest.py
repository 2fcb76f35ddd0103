"""Which type study a tool is compared with at first."""

from __future__ import annotations

from collections.abc import Sequence

from planebench.catalog.own_tables import KnownStudy
from planebench.catalog.values import Tool
from planebench.trade.type_study import TypeStudy


def likeliest_study(studies: Sequence[KnownStudy], tool: Tool, kind: str) -> str:
    """Return the id of the study of the tool's own model, else of its kind, else the first.

    `kind` is the name of the tool's kind; a study is of that kind by the words of its title. A
    number alone tells little, for makers gave the same numbers to planes of other kinds.
    """

    def nearness(known: KnownStudy) -> tuple[bool, int, bool, bool]:
        model, maker = _is_of_model(known.study, tool), is_of_maker(known.study, tool)
        return (model and maker, _words_in_common(known.study, kind), model, maker)

    return max(studies, key=nearness).id if studies else ""


def is_of_maker(study: TypeStudy, tool: Tool) -> bool:
    """Tell whether a study is of the maker that the tool is written down as by."""
    return bool(tool.maker) and tool.maker.casefold() in study.maker.casefold()


def _is_of_model(study: TypeStudy, tool: Tool) -> bool:
    models = [model.strip().casefold() for model in study.model.split(",")]
    return bool(tool.model) and tool.model.casefold() in models


def _words_in_common(study: TypeStudy, kind: str) -> int:
    title = study.title.casefold()
    return sum(word in title for word in kind.casefold().split())

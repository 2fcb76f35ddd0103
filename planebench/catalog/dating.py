"""Dates a tool from the signs in its record, by the rules of the trade."""

from __future__ import annotations

from planebench.catalog.values import DatingSign, Part, Tool
from planebench.trade.dating import WHOLE, Dated, Dating, Sign, date_tool
from planebench.trade.terms import PartStatus

NOT_DATED = "not dated"
_SAID = frozenset({PartStatus.NOT_ORIGINAL, PartStatus.REPLACED})


def date_of(tool: Tool) -> Dating | None:
    """Date a tool; None while no sign with years is entered and counted."""
    signs = [sign_of(sign, tool.parts) for sign in tool.signs]
    if not any(sign.counts for sign in signs):
        return None
    names = list(dict.fromkeys(sign.part for sign in signs))
    return date_tool({name: [sign for sign in signs if sign.part == name] for name in names})


def sign_of(sign: DatingSign, parts: tuple[Part, ...]) -> Sign:
    """Give a recorded sign as the engine takes it; the part goes by its code."""
    code = next((part.code for part in parts if part.id == sign.part), WHOLE)
    low, high = sign.not_before, sign.not_after
    usable = low is None or high is None or low <= high
    return Sign(
        id=sign.id,
        part=code,
        kind=sign.kind,
        what=sign.seen,
        not_before=low if usable else None,
        not_after=high if usable else None,
        never_before=bool(sign.mark.get("never_before", False)),
        sure=float(sign.sure),
        looseness=float(sign.looseness),
        counted=sign.counted,
        read_as=sign.years,
        source=sign.source,
        status=sign.source_status,
        basis=sign.basis.value,
    )


def odd_parts_not_said(tool: Tool, dating: Dating) -> tuple[Part, ...]:
    """Give the parts of another date than the tool that nobody has yet called not original."""
    odd = {part.part for part in dating.odd_parts}
    return tuple(part for part in tool.parts if part.code in odd and part.status not in _SAID)


def disagrees(tool: Tool, dating: Dating) -> bool:
    """Tell whether something about the dates still wants an answer."""
    return bool(odd_parts_not_said(tool, dating)) or not dating.whole.agreed


def years_in_short(dated: Dated) -> tuple[str, str]:
    """Give a range for a list row and what it is: ("1913 to 1918", "90 % range")."""
    if dated.range90 is None or (dated.open_start and dated.open_end):
        return NOT_DATED, ""
    first, last = dated.range90
    if dated.open_end:
        return f"{first} or later", "one side open"
    if dated.open_start:
        return f"{last} or earlier", "one side open"
    return (f"{first}" if first == last else f"{first} to {last}"), "90 % range"

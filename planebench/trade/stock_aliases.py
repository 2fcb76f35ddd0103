"""Which tools are meant by scale cards that carry the numbers of another batch."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence


def suggest_aliases(
    unknown: Sequence[str], known: Collection[str], *, batch: str = ""
) -> Mapping[str, str]:
    """Return the tool's stock number for each unknown number on a card; empty without a clear one.

    Cards printed for one batch and used for another differ in the batch code alone: LOT7-001 is
    then LOT1-001, and so on. All must fit tools of one batch; `batch` is preferred where several
    do.
    """
    prefixes = {_split(stock)[0] for stock in known if _split(stock)[1]}
    fitting = {prefix: _with_prefix(unknown, prefix, known) for prefix in sorted(prefixes)}
    fitting = {prefix: found for prefix, found in fitting.items() if found}
    if batch in fitting:
        return fitting[batch]
    return next(iter(fitting.values())) if len(fitting) == 1 else {}


def _with_prefix(unknown: Sequence[str], prefix: str, known: Collection[str]) -> dict[str, str]:
    """Return the numbers with another batch code, or nothing unless all of them are known."""
    found = {stock: f"{prefix}-{_split(stock)[1]}" for stock in unknown if _split(stock)[1]}
    whole = len(found) == len(unknown) and set(found.values()) <= set(known)
    return found if whole else {}


def _split(stock: str) -> tuple[str, str]:
    """Return the batch code and the rest of a stock number: ("LOT7", "001")."""
    code, _, number = stock.rpartition("-")
    return code, number if code else ""

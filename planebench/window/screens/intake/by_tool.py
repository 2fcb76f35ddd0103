"""What came to which tool in an intake, counted as it goes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.intake_values import Became, FileOutcome
from planebench.window.screens.intake.brought import Brought

WAITING = "Not filed yet"
WAIT_FOR_YOU = "wait here until you say which tool they show"
WAIT_FOR_ALL = "filed by their cards once all are in"


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolCount:
    """A tool's row: stock number, what it is, how many came, the latest one, a remark."""

    stock: str
    title: str
    photographs: int
    latest: PhotographId | None
    remark: str = ""


@dataclass(slots=True)
class ByTool:
    """Counts photographs by tool; those not filed come last, with a remark of their own."""

    titles: Mapping[ToolId, str] = field(default_factory=dict)
    waiting: str = WAIT_FOR_YOU
    _count: dict[str, int] = field(default_factory=dict)
    _latest: dict[str, FileOutcome] = field(default_factory=dict)

    def add(self, outcome: FileOutcome) -> None:
        """Count one photograph that was taken in."""
        if outcome.photograph is None:
            return
        stock = outcome.stock
        self._count[stock] = self._count.get(stock, 0) + 1
        self._latest.pop(stock, None)
        self._latest[stock] = outcome

    @property
    def rows(self) -> tuple[ToolCount, ...]:
        """The tools, the one that got a photograph last first; the unfiled last."""
        stocks = [stock for stock in reversed(self._latest) if stock]
        if "" in self._latest:
            stocks.append("")
        return tuple(self._row(stock) for stock in stocks)

    def _row(self, stock: str) -> ToolCount:
        outcome = self._latest[stock]
        title = self.titles.get(outcome.tool, stock) if outcome.tool is not None else WAITING
        remark = outcome.why if stock else self.waiting
        return ToolCount(
            stock=stock,
            title=title,
            photographs=self._count[stock],
            latest=outcome.photograph,
            remark=remark,
        )


def in_its_own_direction(name: str) -> str:
    """Keep a file's name, in any script, from turning the words round it (Unicode UAX #9)."""
    return f"\u2068{name}\u2069"


def rules_told(brought: Brought) -> str:
    """Say what filed the photographs of an intake, what looks alike, and what cards to mind."""
    outcomes, groups = brought.outcomes, len(brought.look_alikes)
    doubtful = sum(bool(outcome.warnings) for outcome in (*outcomes, *brought.anew))
    said = [_by_rule(outcomes), _anew(len(brought.anew))]
    if groups:
        said.append(_many(groups, "group of photographs shows", "groups of photographs show"))
        said[-1] += " nearly the same."
    if doubtful:
        said.append(_many(doubtful, "card is", "cards are"))
        said[-1] += " to be looked at again: see what filed each photograph."
    return " ".join(words for words in said if words)


def _anew(count: int) -> str:
    if not count:
        return ""
    return _many(count, "photograph that was here is", "photographs that were here are") + (
        " placed elsewhere by a card that came in now: see what filed each photograph."
    )


def _many(count: int, one: str, several: str) -> str:
    return f"{count} {one if count == 1 else several}"


def _by_rule(outcomes: Sequence[FileOutcome]) -> str:
    rules = Counter(outcome.rule for outcome in outcomes if outcome.became == Became.NEW)
    by_card, followed = rules["card"], rules["followed"]
    words = []
    if by_card:
        words.append(f"{by_card} filed by the card in the picture")
    if followed:
        words.append(f"{followed} by the card seen before them")
    return ", ".join(words) + "." if words else ""

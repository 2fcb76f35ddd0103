"""What came to which tool in an intake, counted as it goes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.import_values import FileFate, FileOutcome
from planebench.window.screens.intake.brought import Brought

WAITING = "Not filed yet"
WAIT_FOR_YOU = "wait until you say which tool they show"
_WAITS_FOR_YOU = "waits until you say which tool it shows"
WAIT_FOR_ALL = "filed by their cards once all are in"


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolCount:
    """A tool's row: stock number, what it is, how many came, the latest one, a remark.

    `here` counts those that were here already, apart from the `photographs` that are new.
    """

    stock: str
    title: str
    photographs: int
    latest: PhotographId | None
    remark: str = ""
    here: int = 0

    @property
    def told(self) -> str:
        """Say how many came."""
        new = f"{self.photographs} taken in" if self.photographs or not self.here else ""
        here = f"{self.here} here already" if self.here else ""
        return ", ".join(words for words in (new, here) if words)


@dataclass(slots=True)
class ByTool:
    """Counts photographs by tool; those not filed come last, with a remark of their own."""

    titles: Mapping[ToolId, str] = field(default_factory=dict)
    waiting: str = WAIT_FOR_YOU
    _new: dict[str, set[PhotographId]] = field(default_factory=dict)
    _here: dict[str, set[PhotographId]] = field(default_factory=dict)
    _latest: dict[str, FileOutcome] = field(default_factory=dict)

    def add(self, outcome: FileOutcome) -> None:
        """Count one photograph that was taken in, once however many files hold it."""
        if outcome.photograph is None:
            return
        stock = outcome.stock
        counts = self._new if outcome.became == FileFate.NEW else self._here
        counts.setdefault(stock, set()).add(outcome.photograph)
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
        new = self._new.get(stock, set())
        here = self._here.get(stock, set()) - new
        alone = len(new) + len(here) == 1 and self.waiting == WAIT_FOR_YOU
        return ToolCount(
            stock=stock,
            title=title,
            photographs=len(new),
            latest=outcome.photograph,
            remark=_why(outcome) if stock else _WAITS_FOR_YOU if alone else self.waiting,
            here=len(here),
        )


def _why(outcome: FileOutcome) -> str:
    return outcome.why or ("filed by hand" if outcome.rule == "hand" else "")


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
    rules = Counter(outcome.rule for outcome in outcomes if outcome.became == FileFate.NEW)
    by_card, followed = rules["card"], rules["followed"]
    words = []
    if by_card:
        words.append(f"{by_card} by the card in the picture")
    if followed:
        words.append(f"{followed} by the card seen before {'it' if followed == 1 else 'them'}")
    return f"Filed: {', '.join(words)}." if words else ""

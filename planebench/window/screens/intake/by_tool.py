"""What came to which tool in an intake, counted as it goes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.intake_values import FileOutcome

WAITING = "Not filed yet"


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
    """Counts photographs by tool; those not filed come last."""

    titles: Mapping[ToolId, str] = field(default_factory=dict)
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
        remark = outcome.why if stock else "wait here until you say which tool they show"
        return ToolCount(
            stock=stock,
            title=title,
            photographs=self._count[stock],
            latest=outcome.photograph,
            remark=remark,
        )


def rules_told(outcomes: Sequence[FileOutcome]) -> str:
    """Say what filed the photographs of an intake."""
    by_card = sum(outcome.rule == "card" for outcome in outcomes)
    followed = sum(outcome.rule == "followed" for outcome in outcomes)
    words = []
    if by_card:
        words.append(f"{by_card} filed by the card in the picture")
    if followed:
        words.append(f"{followed} by the card seen before them")
    return ", ".join(words) + "." if words else ""

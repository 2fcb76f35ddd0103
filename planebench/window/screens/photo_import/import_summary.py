"""What an import has brought so far: the latest outcome of each file."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from planebench.catalog.ids import PhotographId
from planebench.catalog.import_filing import Filed
from planebench.catalog.import_followup import ImportStanding
from planebench.catalog.import_types import FileFate, FileOutcome, ImportResult


@dataclass(slots=True)
class ImportSummary:
    """All that was imported so far.

    `runs` name the edits of each batch of files and of tools added for it, oldest first;
    `look_alikes` groups what shows nearly the same; `anew` are photographs of earlier imports that
    a card filed elsewhere; `written` are those of the `unknown` numbers that a tool has by now,
    `aliases` the tools that they may stand for.
    """

    runs: list[str] = field(default_factory=list)
    look_alikes: tuple[tuple[PhotographId, ...], ...] = ()
    skipped: int = 0
    stopped: bool = False
    written: frozenset[str] = frozenset()
    aliases: Mapping[str, str] = field(default_factory=dict)
    _files: dict[tuple[str, str], FileOutcome] = field(default_factory=dict)
    _anew: dict[PhotographId, FileOutcome] = field(default_factory=dict)
    _unknown: dict[str, None] = field(default_factory=dict)
    _settled: set[str] = field(default_factory=set)
    _now: dict[PhotographId, ImportStanding | None] = field(default_factory=dict)

    def add(self, result: ImportResult) -> None:
        """Add a batch of files; a file refused earlier and imported now is no longer refused."""
        if result.changes.photographs:
            # A batch of files that changed nothing leaves nothing to undo.
            self.runs.append(result.run)
        self.skipped += result.skipped
        self.stopped = result.stopped
        self._take(result.outcomes, result.refiled, result.unknown_stocks)
        self.look_alikes = result.look_alikes

    def file(self, filed: Filed, run: str, *, settled: Collection[str] = ()) -> None:
        """Take the filing after tools were added for unknown numbers, as a run of edits.

        `settled` are unknown numbers of which it is known now what they stand for.
        """
        self.runs.append(run)
        self._settled.update(settled)
        self._take(filed.outcomes, filed.refiled, filed.unknown_stocks)

    def stand(
        self, asked: Collection[PhotographId], now: Mapping[PhotographId, ImportStanding]
    ) -> None:
        """Take where photographs are filed now; those missing from `now` are gone."""
        self._now |= {photograph: now.get(photograph) for photograph in asked}

    @property
    def photographs(self) -> frozenset[PhotographId]:
        """All imported photographs, including those undone since."""
        told = (*self._files.values(), *self._anew.values())
        return frozenset(o.photograph for o in told if o.photograph is not None)

    @property
    def began(self) -> bool:
        """Whether any file was processed."""
        return bool(self._files)

    @property
    def outcomes(self) -> tuple[FileOutcome, ...]:
        """The present outcome of each file, in order of import."""
        return tuple(self._as_now(self._files.values()))

    @property
    def anew(self) -> tuple[FileOutcome, ...]:
        """Photographs of earlier imports that a card filed elsewhere."""
        return tuple(self._as_now(self._anew.values()))

    @property
    def refused(self) -> tuple[FileOutcome, ...]:
        """Files that could not be imported."""
        return tuple(o for o in self._files.values() if o.became == FileFate.REFUSED)

    @property
    def counts(self) -> tuple[int, int, int]:
        """How many are new, already here, refused."""
        became = Counter(outcome.became for outcome in self.outcomes)
        return became[FileFate.NEW], became[FileFate.ALREADY_IN_CATALOG], became[FileFate.REFUSED]

    @property
    def waiting(self) -> int:
        """How many are imported and not filed under a tool."""
        told = (*self.outcomes, *self.anew)
        return len({o.photograph for o in told if o.photograph is not None and not o.stock})

    @property
    def gone(self) -> int:
        """How many were undone or deleted since."""
        return len({photograph for photograph, now in self._now.items() if now is None})

    @property
    def unknown(self) -> tuple[str, ...]:
        """Stock numbers on cards that no tool had, while photographs wait."""
        if not self.waiting:
            return ()
        filed = {outcome.stock.casefold() for outcome in self.outcomes}
        open_ = (stock for stock in self._unknown if stock not in self._settled)
        return tuple(stock for stock in open_ if stock.casefold() not in filed)

    @property
    def suggested(self) -> dict[PhotographId, str]:
        """The stock number suggested for each photograph."""
        return {
            outcome.photograph: outcome.suggestion
            for outcome in self.outcomes
            if outcome.photograph is not None and outcome.suggestion
        }

    def _take(
        self,
        outcomes: Iterable[FileOutcome],
        anew: Iterable[FileOutcome],
        unknown: Iterable[str],
    ) -> None:
        outcomes, anew = tuple(outcomes), tuple(anew)
        for outcome in (*outcomes, *anew):
            # The new outcome is newer than what the catalog answered before.
            if outcome.photograph in self._now:
                self._now[outcome.photograph] = _standing(outcome)
        for outcome in outcomes:
            self._put(outcome)
        batch_imported = {outcome.photograph: key for key, outcome in self._files.items()}
        for outcome in anew:
            self._file_anew(outcome, batch_imported.get(outcome.photograph))
        self._unknown |= dict.fromkeys(unknown)

    def _put(self, outcome: FileOutcome) -> None:
        if outcome.sha256:
            self._files.pop((outcome.file, ""), None)
        key = (outcome.file, outcome.sha256)
        before = self._files.get(key)
        if before is not None and before.photograph == outcome.photograph:
            # A file that was touched counts once, whatever its second outcome says.
            outcome = replace(outcome, became=before.became)
        self._files[key] = outcome

    def _file_anew(self, outcome: FileOutcome, key: tuple[str, str] | None) -> None:
        if outcome.photograph is None:
            return
        if key is None:
            self._anew[outcome.photograph] = outcome
        else:
            batch_imported = self._files[key]
            self._files[key] = replace(
                outcome, file=batch_imported.file, became=batch_imported.became
            )

    def _as_now(self, outcomes: Iterable[FileOutcome]) -> Iterator[FileOutcome]:
        """Yield the outcomes that still exist, each as filed now."""
        for outcome in outcomes:
            if outcome.photograph is None or outcome.photograph not in self._now:
                yield outcome
                continue
            now = self._now[outcome.photograph]
            if now is not None:
                yield _filed(outcome, now)


def _standing(told: FileOutcome) -> ImportStanding:
    return ImportStanding(tool=told.tool, stock=told.stock, rule=told.rule, why=told.why)


def _filed(outcome: FileOutcome, now: ImportStanding) -> FileOutcome:
    if (outcome.tool, outcome.stock) == (now.tool, now.stock):
        return outcome
    why = now.why or ("filed by hand" if now.tool is not None else "")
    return replace(outcome, tool=now.tool, stock=now.stock, rule=now.rule, why=why)

"""Abrasives in micrometers: grades of each system, conversion, and sequences step by step."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from math import exp, log

from planebench.errors import InputError

TOO_LARGE = 4.0
"""Ratio of grain sizes above which a step leaves scratches that take too long to remove. The usual
stone sets step by 2.5 to 3.9 (1000, 4000, 8000 by JIS); common practice, no source."""

TOO_SMALL = 1.4
"""Ratio below which a step changes little: neighboring grades of FEPA P are 1.1 to 1.3 apart, and
common practice skips every second one; no source."""

SCRATCH_SHARE = 0.5
"""Depth of a scratch as a share of the grain's size. An assumption, for lack of a measured value;
it cancels out of every comparison of one grade with another."""


class GritSystem(StrEnum):
    """Whose numbers a grade counts in."""

    FEPA_P = "fepa_p"
    FEPA_F = "fepa_f"
    CAMI = "cami"
    JIS = "jis"
    STEEL_WOOL = "steel_wool"
    MICRON = "micron"


SYSTEM_WORDS: Mapping[GritSystem, str] = {
    GritSystem.FEPA_P: "FEPA P (sandpaper with a P)",
    GritSystem.FEPA_F: "FEPA F (loose grain, oilstones)",
    GritSystem.CAMI: "CAMI (American sandpaper without a P)",
    GritSystem.JIS: "JIS (waterstones)",
    GritSystem.STEEL_WOOL: "steel wool",
    GritSystem.MICRON: "micrometers (lapping film, diamond)",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class GritRow:
    """A grade of a system and the size of its grains in micrometers."""

    system: GritSystem
    grade: str
    um: float
    source: str
    from_memory: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class GritTable:
    """All grades known, coarse to fine within each system."""

    rows: tuple[GritRow, ...]

    def of(self, system: GritSystem) -> tuple[GritRow, ...]:
        """Return the rows of one system, the coarsest first."""
        own = (row for row in self.rows if row.system is system)
        return tuple(sorted(own, key=lambda row: -row.um))


@dataclass(frozen=True, slots=True, kw_only=True)
class Grit:
    """An abrasive as named: its system, grade, and grain size in micrometers.

    `in_table` is False where the size lies between two grades of the table (interpolated on
    logarithms of number and size). `from_memory` says so of the rows it rests on.
    """

    system: GritSystem
    grade: str
    um: float
    in_table: bool = True
    from_memory: bool = False

    @property
    def name(self) -> str:
        """The grade as the trade writes it: P220, F220, JIS 1000, 15 µm."""
        if self.system is GritSystem.MICRON:
            return f"{self.um:g} µm"
        prefix = {GritSystem.CAMI: "CAMI ", GritSystem.JIS: "JIS ", GritSystem.STEEL_WOOL: "#"}
        return f"{prefix.get(self.system, '')}{self.grade}"

    @property
    def scratch_um(self) -> float:
        """About how deep its scratches are, in micrometers; see SCRATCH_SHARE."""
        return SCRATCH_SHARE * self.um


class StepVerdict(StrEnum):
    """What the ratio of two grain sizes says of a step."""

    GOOD = "good"
    TOO_LARGE = "too large"
    TOO_SMALL = "too small"
    BACKWARD = "backward"


@dataclass(frozen=True, slots=True, kw_only=True)
class GritStep:
    """One step of a sequence: `ratio` of grain sizes, and depth of scratches left to remove."""

    coarser: Grit
    finer: Grit
    ratio: float
    to_remove_um: float
    verdict: StepVerdict


_FILM = re.compile(r"(\d{1,4}(?:\.\d{1,2})?)\s*(?:µm|μm|um|microns?|micrometers?|mic)\.?")
_NAMED = re.compile(
    r"(?P<system>p|f|cami|ansi|jis|j|steel wool|wool|grade)?\s*#?\s*(?P<number>\d{1,5})\s*(?:grit)?"
)
_PREFIXES = {
    "p": GritSystem.FEPA_P,
    "f": GritSystem.FEPA_F,
    "cami": GritSystem.CAMI,
    "ansi": GritSystem.CAMI,
    "jis": GritSystem.JIS,
    "j": GritSystem.JIS,
    "steel wool": GritSystem.STEEL_WOOL,
    "wool": GritSystem.STEEL_WOOL,
    "grade": GritSystem.STEEL_WOOL,
}
_WOOL = re.compile(r"0{2,4}")


def parse_grit(text: str, table: GritTable, *, system: GritSystem | None = None) -> Grit:
    """Read an abrasive: P220, F220, JIS 1000, 0000, 15 µm; a bare number counts in `system`.

    Raises InputError for what names none, for a bare number where no system is set, and for a
    grade outside its system's table.
    """
    plain = " ".join(text.casefold().replace(",", ".").split())
    if film := _FILM.fullmatch(plain):
        return _film(float(film[1]), text)
    found = _NAMED.fullmatch(plain)
    if found is None:
        raise _refusal(text, "cannot be read as an abrasive", "P220, JIS 1000 or 15 µm")
    counted = _system_of(found, system)
    if counted is None:
        remedy = "P220 for sandpaper, JIS 1000 for a waterstone, or choose a system"
        raise _refusal(text, "could be meant in several systems", remedy)
    if counted is GritSystem.MICRON:
        return _film(float(found["number"]), text)
    return _graded(counted, found["number"], table, text)


def _system_of(found: re.Match[str], default: GritSystem | None) -> GritSystem | None:
    if _WOOL.fullmatch(found["number"]):
        return GritSystem.STEEL_WOOL
    return _PREFIXES.get(found["system"] or "", default)


def convert(grit: Grit, system: GritSystem, table: GritTable) -> Grit:
    """Return the grade of another system whose grains are nearest in size, by ratio."""
    if system is GritSystem.MICRON:
        return Grit(system=system, grade=f"{grit.um:g}", um=grit.um, from_memory=grit.from_memory)
    nearest = min(table.of(system), key=lambda row: abs(log(row.um / grit.um)))
    return _of_row(nearest)


def check_sequence(grits: Sequence[Grit]) -> tuple[GritStep, ...]:
    """Check a planned or done sequence step by step, in the order given."""
    return tuple(_step(coarser, finer) for coarser, finer in pairwise(grits))


def suggest_sequence(first: Grit, last: Grit, owned: Sequence[Grit]) -> tuple[Grit, ...]:
    """Return the shortest way from `first` to `last` by abrasives the user owns.

    Of ways with equally many steps, the most even one. A step stays too large only where nothing
    owned lies between.
    """
    inner = {grit.um: grit for grit in owned if first.um > grit.um > last.um}
    stops = [first, *(inner[um] for um in sorted(inner, reverse=True)), last]
    best: list[tuple[float, tuple[int, ...]]] = [(0.0, (0,))]
    for place in range(1, len(stops)):
        best.append(
            min(
                (cost + _cost(stops[start], stops[place]), (*way, place))
                for start, (cost, way) in enumerate(best)
            )
        )
    return tuple(stops[place] for place in best[-1][1])


def _step(coarser: Grit, finer: Grit) -> GritStep:
    ratio = coarser.um / finer.um
    return GritStep(
        coarser=coarser,
        finer=finer,
        ratio=ratio,
        to_remove_um=max(coarser.scratch_um - finer.scratch_um, 0.0),
        verdict=_verdict(ratio),
    )


def _verdict(ratio: float) -> StepVerdict:
    if ratio <= 1.0:
        return StepVerdict.BACKWARD
    if ratio > TOO_LARGE:
        return StepVerdict.TOO_LARGE
    return StepVerdict.TOO_SMALL if ratio < TOO_SMALL else StepVerdict.GOOD


def _cost(coarser: Grit, finer: Grit) -> float:
    """Return the cost of a step: one each, a little for unevenness, much above the limit."""
    ratio = coarser.um / finer.um
    over = max(log(ratio / TOO_LARGE), 0.0)
    # Less than a whole step together, so that evenness never adds a step.
    return 1.0 + 0.01 * log(ratio) ** 2 + 1000.0 * over


def _film(um: float, text: str) -> Grit:
    if um <= 0:
        raise _refusal(text, "has no grain size", "15 µm")
    return Grit(system=GritSystem.MICRON, grade=f"{um:g}", um=um)


def _graded(system: GritSystem, number: str, table: GritTable, text: str) -> Grit:
    rows = table.of(system)
    prefix = {GritSystem.FEPA_P: "P", GritSystem.FEPA_F: "F"}.get(system, "")
    exact = next((row for row in rows if row.grade == f"{prefix}{number}"), None)
    if exact is not None:
        return _of_row(exact)
    if system is GritSystem.STEEL_WOOL:
        grades = ", ".join(row.grade for row in reversed(rows))
        raise _refusal(text, "is not a grade of steel wool", grades)
    return _interpolated(rows, int(number), f"{prefix}{number}", text)


def _interpolated(rows: Sequence[GritRow], wanted: int, grade: str, text: str) -> Grit:
    pairs = ((a, b) for a, b in pairwise(rows) if _number(a) < wanted < _number(b))
    around = next(pairs, None)
    if around is None:
        reach = f"{rows[0].grade} to {rows[-1].grade}"
        raise _refusal(text, f"is outside {SYSTEM_WORDS[rows[0].system]}", reach)
    return _between(*around, wanted, grade)


def _between(coarser: GritRow, finer: GritRow, number: int, grade: str) -> Grit:
    share = log(number / _number(coarser)) / log(_number(finer) / _number(coarser))
    return Grit(
        system=coarser.system,
        grade=grade,
        um=exp((1 - share) * log(coarser.um) + share * log(finer.um)),
        in_table=False,
        from_memory=coarser.from_memory or finer.from_memory,
    )


def _of_row(row: GritRow) -> Grit:
    return Grit(system=row.system, grade=row.grade, um=row.um, from_memory=row.from_memory)


def _number(row: GritRow) -> int:
    return int(row.grade.lstrip("PF"))


def _refusal(text: str, reason: str, example: str) -> InputError:
    shown = text.strip()[:40]
    return InputError(f"“{shown}” {reason}.", remedy=f"Try {example}.", subject="abrasive")

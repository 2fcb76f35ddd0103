"""A share read off an outline, with its 90% interval, the causes of its width, and advice."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from planebench.photo.coverage_strokes import Strokes


class Finish(Enum):
    """What is judged: a finish that is kept or lost, or bare iron ("rust")."""

    JAPANNING = "japanning"
    NICKEL = "nickel"
    LACQUER = "lacquer"
    RUST = "rust"

    @property
    def learned(self) -> int:
        """Its number for the network; lacquer, never learned, is taken for japanning."""
        return {"japanning": 0, "lacquer": 0, "nickel": 1, "rust": 2}[self.value]

    @property
    def is_black(self) -> bool:
        """Whether it is a dark gloss over metal, not metal itself."""
        return self in {Finish.JAPANNING, Finish.LACQUER}

    @property
    def is_iron(self) -> bool:
        """Whether it is bare iron: bright, patina or rust instead of kept or lost."""
        return self is Finish.RUST


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A share, 0 to 1, in its 90% interval."""

    share: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Causes:
    """Half-widths of the 90% interval by cause, in shares (0 to 1)."""

    cannot_tell: float
    outline: float
    judging: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverageReading:
    """Share kept (on bare iron: rusted), 0 to 1, in its 90% interval, and the pixels behind it.

    On bare iron `bright` and `patina` say the rest; `kept_px` counts bright and `lost_px` rust.
    Where nothing can be measured the share and its interval are None and `why_unmeasurable` is a
    sentence. `advice` is one sentence: what would narrow the interval. `asks_whole` says that the
    outline looks all of one kind and that one photograph cannot say which: the interval is then
    0 to 1 until a stroke or an answer for the whole outline settles it, and `advice` asks for it.
    """

    share: float | None
    low: float | None
    high: float | None
    kept_px: int
    lost_px: int
    cannot_tell_px: int
    causes: Causes
    why_unmeasurable: str | None
    advice: str
    patina_px: int = 0
    bright: Span | None = None
    patina: Span | None = None
    asks_whole: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """What widens an interval beyond what the networks say, and what advice is given on.

    `unsure` is the share of the area that can't be told; `moved` is how far the share goes when
    the outline does; `clash` (0 to 1) is how far strokes contradict each other; `spoilt` (0 to 1)
    how far the picture is out of focus, blown or black; `strange` (0 to 1) how far it looks like
    nothing the judge has met.
    """

    unsure: float
    moved: float
    clash: float
    spoilt: float
    strange: float


_MOSTLY = 0.5
_STROKES_ENOUGH = 4


def question_for(finish: Finish) -> str:
    """Ask what an even surface is."""
    if finish.is_iron:
        return "One even surface: rust, patina or clean?"
    return "One even surface: all kept or all lost?"


def advice(causes: Causes, doubt: Doubt, finish: Finish, strokes: Strokes) -> str:
    """Say in one sentence what would narrow the interval most."""
    if doubt.clash > 0:
        return "Strokes that say different things overlap: undo one of them."
    if doubt.strange > _MOSTLY:
        both = "clean and rusted" if finish.is_iron else "kept and lost"
        return f"This looks like nothing the judge has learned: show it both, {both}, with strokes."
    return _advice_on(causes, finish, strokes)


def _advice_on(causes: Causes, finish: Finish, strokes: Strokes) -> str:
    """Say what would narrow the largest of the three causes."""
    largest = max(causes.cannot_tell, causes.outline, causes.judging)
    if largest == causes.outline:
        return "Draw the outline closer to the edge, or take the photograph from nearer."
    if largest == causes.cannot_tell:
        return "A second photograph under another light would show what glare or shadow hides."
    if strokes.whole is None and strokes.teaching < _STROKES_ENOUGH:
        return "Paint over a wrong spot; similar areas are corrected too."
    word = "rust" if finish.is_iron else "loss"
    return f"More strokes where {word} is still judged wrong would narrow it further."


def unmeasurable(why: str, area: int) -> CoverageReading:
    """Return a reading that says why there is none."""
    return CoverageReading(
        share=None,
        low=None,
        high=None,
        kept_px=0,
        lost_px=0,
        cannot_tell_px=area,
        causes=Causes(cannot_tell=0.5, outline=0.0, judging=0.0),
        why_unmeasurable=f"Not measurable here, because {why}.",
        advice="Take another photograph of this surface, evenly lit and in focus.",
    )

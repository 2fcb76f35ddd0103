"""How surfaces divide: first finish, new finish and bare, or iron with and without rust."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from planebench.catalog.measuring import measured_extent
from planebench.catalog.reference import name_of
from planebench.catalog.values import Reading, Surface
from planebench.sheet.content import BarShare, Boundary, Certainty, StageBar, SurfaceBars
from planebench.sheet.phrases import join_sentences
from planebench.sheet.sheet_source import SheetSource
from planebench.trade.measured_extent import format_extent
from planebench.trade.ratings import rate_share
from planebench.trade.shares import Share, format_interval, format_percent
from planebench.trade.terms import BASIS_WORDS, SOLID_BASES, STAGE_WORDS, Stage

REFINISHING = frozenset({"touch_up", "rejapan", "replate", "refinish_wood"})
"""Codes of treatments that lay new finish."""

_NONE_SEEN = BarShare(words="none seen", percent=0)
_NOT_MEASURED = BarShare(words="not measured")
_NOT_TOLD_APART = BarShare(words="not told apart")


@dataclass(frozen=True, slots=True, kw_only=True)
class Division:
    """A surface divided into first finish, new finish and bare; the three add to 1.

    `new` is None if no new finish was seen.
    """

    first: Share
    new: Share | None
    bare: Share


def finish_bars(source: SheetSource) -> tuple[SurfaceBars, ...]:
    """Return every finished surface, measured or not, the main one first."""
    return tuple(_finish(source, surface) for surface in source.tool.finished_surfaces)


def iron_bars(source: SheetSource) -> tuple[SurfaceBars, ...]:
    """Return every surface whose rust was read, as found and now."""
    bars = (_iron(source, surface) for surface in source.tool.surfaces)
    return tuple(one for one in bars if one is not None)


def divide(reading: Reading) -> Division | None:
    """Divide a reading of finish; None if more new finish was read than there is finish.

    A reading counts new finish as finish present, so first = present - new. The two are read
    apart, so their ranges combine in quadrature (JCGM 100:2008, 5.1.2, uncorrelated inputs).
    """
    share, new = reading.share, reading.new_finish
    if new is None or new.value == 0:
        return Division(first=share, new=None, bare=share.rest)
    value = share.value - new.value
    if value < 0:
        return None
    down = _root_of_squares(share.value - share.low, new.high - new.value)
    up = _root_of_squares(share.high - share.value, new.value - new.low)
    first = Share(
        value=value,
        low=max(Decimal(0), value - down),
        high=min(Decimal(1), value + up),
        basis=share.basis,
    )
    return Division(first=first, new=new, bare=share.rest)


def new_finish_unknown(source: SheetSource, surface: Surface, reading: Reading) -> bool:
    """Return whether new finish was laid on a surface, but its share was not recorded."""
    if reading.stage is Stage.AS_FOUND or reading.new_finish is not None:
        return False
    parts = {part.id for part in source.tool.parts if part.code in surface.parts}
    return any(
        work.kind in REFINISHING and (work.part is None or work.part in parts)
        for work in source.tool.work
    )


def about(share: Share) -> str:
    """Return a share in words: "83%", or "about 70%" if it was not measured."""
    return ("about " if share.is_approximate else "") + format_percent(share)


def interval(share: Share) -> str:
    """Return a share's range without brackets: "78 to 88"."""
    return format_interval(share).strip("()")


def _finish(source: SheetSource, surface: Surface) -> SurfaceBars:
    found = source.tool.reading(surface.id, Stage.AS_FOUND)
    now = source.later_reading(surface)
    is_read = found is not None or now is not None
    # A kind's usual finish is no observation: it is named only where somebody read the surface.
    note = name_of("finishes", surface.finish) if is_read else ""
    bars = [_finish_bar(source, surface, one) for one in (found, now) if one is not None]
    latest = now or found
    return SurfaceBars(
        surface=surface.name,
        note=note,
        bars=_with_gaps(source, bars, columns=3, found=found is not None, now=now is not None),
        covered="" if latest is None else _covered(source, latest),
        rating="" if latest is None else _rating(source, surface.finish, latest.share.rest),
    )


def _finish_bar(source: SheetSource, surface: Surface, reading: Reading) -> StageBar:
    basis, aside = basis_words(source, reading), _aside(source, reading)
    division = divide(reading)
    if division is None or new_finish_unknown(source, surface, reading):
        return _undivided(source, reading, division)
    shares = (division.first, division.new, division.bare)
    percents = whole_percents([share.value if share else Decimal(0) for share in shares])
    boundaries = [_boundary(division.first)]
    if division.new is not None:
        boundaries.append(_boundary(reading.share))
    return StageBar(
        stage=_stage(reading),
        certainty=certainty(reading.share),
        basis=basis,
        shares=tuple(
            _NONE_SEEN if share is None else _bar_share(share, percent)
            for share, percent in zip(shares, percents, strict=True)
        ),
        boundaries=tuple(boundaries),
        aside=aside,
    )


def _undivided(source: SheetSource, reading: Reading, division: Division | None) -> StageBar:
    """Return the reading in words where its shares cannot be drawn."""
    bare = _bar_share(reading.share.rest, None)
    if division is not None:
        shares = (_NOT_TOLD_APART, _NOT_TOLD_APART, bare)
        said = f"not drawn: {about(reading.share)} is first and new finish together"
    else:
        new = reading.new_finish or reading.share
        total = round((new.value + reading.share.rest.value) * 100)
        shares = (_NOT_TOLD_APART, _bar_share(new, None), bare)
        said = f"not drawn: makes {total}%"
    return StageBar(
        stage=_stage(reading),
        certainty=Certainty.UNKNOWN,
        basis=basis_words(source, reading),
        shares=shares,
        not_drawn=said,
        aside=_aside(source, reading),
    )


def _iron(source: SheetSource, surface: Surface) -> SurfaceBars | None:
    found = source.tool.reading(surface.id, Stage.AS_FOUND, rust=True)
    now = source.later_reading(surface, rust=True)
    latest = now or found
    if latest is None:
        return None
    bars = [_rust_bar(source, one) for one in (found, now) if one is not None]
    return SurfaceBars(
        surface=surface.name,
        note="",
        bars=_with_gaps(source, bars, columns=2, found=True, now=now is not None),
        covered=_covered(source, latest),
        rating=_rating(source, "rust", latest.share),
    )


def _rust_bar(source: SheetSource, reading: Reading) -> StageBar:
    rust = reading.share
    shares = (rust.rest, rust)
    percents = whole_percents([share.value for share in shares])
    return StageBar(
        stage=_stage(reading),
        certainty=certainty(rust),
        basis=basis_words(source, reading),
        shares=tuple(_bar_share(*pair) for pair in zip(shares, percents, strict=True)),
        boundaries=(_boundary(rust.rest),),
        aside=_aside(source, reading),
    )


def _with_gaps(
    source: SheetSource, bars: Sequence[StageBar], *, columns: int, found: bool, now: bool
) -> tuple[StageBar, ...]:
    """Add a row that says "not measured" for as found, or for now if it may have changed since."""
    if not bars:
        return (_gap("Now" if source.may_have_changed else "As found", columns),)
    rows = list(bars)
    if not found:
        rows.insert(0, _gap("As found", columns))
    if not now and source.may_have_changed:
        rows.append(_gap("Now", columns))
    return tuple(rows)


def _gap(stage: str, columns: int) -> StageBar:
    blank = (BarShare(words=""),) * (columns - 1)
    return StageBar(
        stage=stage, certainty=Certainty.UNKNOWN, basis="", shares=(_NOT_MEASURED, *blank)
    )


def _stage(reading: Reading) -> str:
    words = {Stage.AS_FOUND: "As found", Stage.FINISHED: "Now"}
    return words.get(reading.stage, STAGE_WORDS[reading.stage].capitalize())


def certainty(share: Share) -> Certainty:
    """Return how a share's boundary is drawn."""
    return Certainty.MEASURED if share.basis in SOLID_BASES else Certainty.BY_EYE


def basis_words(source: SheetSource, reading: Reading) -> str:
    """Return the basis and the day: "measured, Mar 23"."""
    return f"{BASIS_WORDS[reading.share.basis]}, {source.short_day(reading.read_at.date())}"


def _aside(source: SheetSource, reading: Reading) -> str:
    """Return other readings of the same stage on another basis, so that none is dropped."""
    alike = [
        one
        for one in source.tool.readings
        if (one.surface, one.stage, one.finish) == (reading.surface, reading.stage, reading.finish)
        and one.share.basis != reading.share.basis
    ]
    latest = {one.share.basis: one for one in sorted(alike, key=lambda one: one.read_at)}
    return join_sentences(
        f"also {basis_words(source, one)}: {about(one.share)} ({interval(one.share)})"
        + (
            f", of it {about(one.new_finish)} new"
            if one.new_finish and one.new_finish.value
            else ""
        )
        for one in latest.values()
    )


def _covered(source: SheetSource, reading: Reading) -> str:
    """Return what a measured share was read on, and what it says nothing about."""
    of = (reading.surface, reading.stage)
    extent = measured_extent(source.tool, source.kind, reading.areas, of)
    return "" if extent is None else format_extent(extent)


def _rating(source: SheetSource, finish: str, lost: Share) -> str:
    """Return the standards' grades of the lost or rusted share, if asked for.

    Grades of tables that were not checked against the standard are left off.
    """
    if source.rating_tables is None:
        return ""
    rated = rate_share(finish, lost, source.rating_tables)
    return "; ".join(f"{one.at.standard}: {one.said}" for one in rated if not one.at.from_memory)


def _bar_share(share: Share, percent: int | None) -> BarShare:
    words = about(share)
    if percent is not None and "under" not in words and "over" not in words:
        words = f"{'about ' if share.is_approximate else ''}{percent}%"
    return BarShare(words=words, interval=interval(share), percent=percent)


def _boundary(share: Share) -> Boundary:
    return Boundary(value=_percent(share.value), low=_percent(share.low), high=_percent(share.high))


def _percent(share: Decimal) -> float:
    return float(round(share * 100, 1))


def whole_percents(shares: Sequence[Decimal]) -> list[int]:
    """Round shares to whole percents that add to 100; the largest takes the rest."""
    rounded = [int((one * 100).quantize(Decimal(1), rounding=ROUND_HALF_UP)) for one in shares]
    largest = max(range(len(shares)), key=lambda n: shares[n])
    rounded[largest] += 100 - sum(rounded)
    return rounded


def _root_of_squares(*parts: Decimal) -> Decimal:
    total: Decimal = sum((part * part for part in parts), Decimal(0))
    return total.sqrt().quantize(Decimal("0.0001"))


def rust_now(source: SheetSource) -> Iterable[tuple[Surface, Reading]]:
    """Yield each surface whose rust was read, with the reading that counts now."""
    for surface in source.tool.surfaces:
        reading = source.reading_now(surface, rust=True)
        if reading is not None:
            yield surface, reading

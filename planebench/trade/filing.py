"""Which tool a photograph shows: by the card in it, or by the last card seen before it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum


class FiledBy(StrEnum):
    """What decided where a photograph belongs; WAITS when nothing did."""

    CARD = "card"
    FOLLOWED = "followed"
    WAITS = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotographToFile:
    """A photograph as filing sees it; `taken_at` is zone-aware, `order` its place among the files.

    `has_card` is set for a scale card of any kind, `stock` only when its number could be read.
    One that is `settled` is filed already: only its card counts for those after it.
    """

    key: str
    name: str
    order: int
    taken_at: dt.datetime | None
    camera: str = ""
    has_card: bool = False
    stock: str | None = None
    settled: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class FilingDecision:
    """Where a photograph belongs and why; `stock` is None while it waits.

    `suggestion` is a stock number that it may belong to. `unknown` is a number on its card that no
    tool has.
    """

    key: str
    stock: str | None
    by: FiledBy
    why: str
    suggestion: str | None = None
    unknown: str | None = None


# A camera whose clock was never set, or lost its battery, begins on a first of January (common
# practice, no source). One that was just photographed on that day is believed.
_NEW_YEARS_WORK = dt.timedelta(days=7)


def clock_was_set(taken_at: dt.datetime, added_at: dt.datetime) -> bool:
    """Return whether a camera's time can be compared with that of other evenings.

    Both are in the person's own zone. Within one import even a clock that was never set gives the
    order.
    """
    first_of_january = (taken_at.month, taken_at.day) == (1, 1)
    return not first_of_january or added_at - taken_at <= _NEW_YEARS_WORK


def file_by_cards(
    frames: Sequence[PhotographToFile], *, tools: Collection[str], minutes: int
) -> tuple[FilingDecision, ...]:
    """File photographs in the order in which they were taken; `tools` are the stock numbers known.

    One with a card belongs to the tool of that card. One without follows the last card seen before
    it, at most `minutes` after it, if that card was read, is of a tool, and was photographed with
    the same camera, for another's clock may differ. All others wait. Upper and lower case of stock
    numbers are alike.
    """
    known = {stock.casefold(): stock for stock in tools}
    found = (*_in_time(_by_time(frames), known, minutes), *_without_time(frames, known))
    settled = {frame.key for frame in frames if frame.settled}
    return tuple(filing for filing in found if filing.key not in settled)


def _by_time(frames: Sequence[PhotographToFile]) -> list[PhotographToFile]:
    timed = [frame for frame in frames if frame.taken_at is not None]
    return sorted(timed, key=lambda frame: (frame.taken_at, frame.order))


def _in_time(
    frames: Sequence[PhotographToFile], known: dict[str, str], minutes: int
) -> Iterator[FilingDecision]:
    card: PhotographToFile | None = None
    for frame in frames:
        if frame.has_card:
            card = frame
            yield _by_its_card(frame, known)
        else:
            yield _after(card, frame, known, minutes)


def _without_time(
    frames: Sequence[PhotographToFile], known: dict[str, str]
) -> Iterator[FilingDecision]:
    for frame in frames:
        if frame.taken_at is not None:
            continue
        if frame.has_card:
            yield _by_its_card(frame, known)
        else:
            yield _waits(frame, "the camera recorded no time, so it cannot be matched to a card")


def _by_its_card(frame: PhotographToFile, known: dict[str, str]) -> FilingDecision:
    if frame.stock is None:
        return _waits(
            frame,
            "its card cannot be read for certain: the code is hidden or not from here, or "
            "there are several cards in the picture",
        )
    stock = known.get(frame.stock.casefold())
    if stock is None:
        return FilingDecision(
            key=frame.key,
            stock=None,
            by=FiledBy.WAITS,
            why=f"its card says {frame.stock}, but no tool here has that number",
            unknown=frame.stock,
        )
    return FilingDecision(
        key=frame.key, stock=stock, by=FiledBy.CARD, why=f"its own card says {frame.stock}"
    )


def _after(
    card: PhotographToFile | None, frame: PhotographToFile, known: dict[str, str], minutes: int
) -> FilingDecision:
    if card is None:
        return _waits(frame, "no card in it and none before it")
    stock = known.get((card.stock or "").casefold())
    if stock is None:
        says = (
            "could not be read"
            if card.stock is None
            else f"is {card.stock}, which no tool here has"
        )
        return _waits(frame, f"the number on the last card before it, in {card.name}, {says}")
    gap = _gap(card, frame)
    seen = f"the card {stock} in {card.name}"
    if gap > dt.timedelta(minutes=minutes):
        return _waits(
            frame, f"{seen} was taken {_span(gap)} earlier; the limit is {minutes} min", stock
        )
    if card.camera != frame.camera:
        return _waits(frame, f"{seen} was taken with another camera", stock)
    return FilingDecision(
        key=frame.key, stock=stock, by=FiledBy.FOLLOWED, why=f"{_span(gap)} after {seen}"
    )


def _gap(card: PhotographToFile, frame: PhotographToFile) -> dt.timedelta:
    if card.taken_at is None or frame.taken_at is None:
        raise ValueError("only photographs with a time follow each other")
    return frame.taken_at - card.taken_at


def _waits(frame: PhotographToFile, why: str, suggestion: str | None = None) -> FilingDecision:
    return FilingDecision(
        key=frame.key, stock=None, by=FiledBy.WAITS, why=why, suggestion=suggestion
    )


def _span(gap: dt.timedelta) -> str:
    seconds = int(gap.total_seconds())
    if seconds < 60:  # noqa: PLR2004 -- a minute has 60 seconds
        return f"{seconds} s"
    minutes = seconds // 60
    return f"{minutes} min" if minutes < 120 else f"{minutes // 60} h"  # noqa: PLR2004 -- two hours

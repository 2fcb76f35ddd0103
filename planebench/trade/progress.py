"""How far a tool's record is: the seven questions, and what to do next.

The order is the one in which a hand goes over a plane: 1 what it is, 2 what is missing, 3 finish,
4 defects, 5 dating, 6 work, 7 price.
"""

from __future__ import annotations

from dataclasses import dataclass

from planebench.trade.terms import Completeness, ToolStatus

SECTIONS = (
    "What it is",
    "What is missing",
    "Finish left",
    "Defects",
    "Dating",
    "Work done",
    "Price",
)
# Once it is offered or gone, what is still to be measured waits behind the sale.
_GONE = frozenset({ToolStatus.OFFERED, ToolStatus.SOLD, ToolStatus.KEPT})
_FOR_SALE = frozenset({ToolStatus.FINISHED, ToolStatus.OFFERED})
_READY = frozenset({ToolStatus.FINISHED, ToolStatus.OFFERED, ToolStatus.SOLD, ToolStatus.KEPT})


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordFacts:
    """What has been entered of a tool, counted.

    `later_part` names a part that is of another date than the rest and not yet said to be so;
    `main_surface` is the first finished surface, "" when the kind has none.
    """

    status: ToolStatus
    identified: bool
    maker: str
    parts_asked: int
    parts_said: int
    surfaces: int
    measured: int
    by_eye: int
    main_surface: str
    main_measured: bool
    main_by_eye: bool
    defects: int
    defects_looked_at: bool
    evidence_with_years: int
    disagree: bool
    later_part: str
    work: int
    work_finished: bool
    has_price: bool
    has_sold_price: bool
    comparables: int
    photographs: int
    as_found: int
    finished: int
    missing_finished_view: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Next:
    """What is missing next; `is_act` False when nothing needs doing; `section` 1 to 7, 0 none."""

    words: str
    detail: str
    section: int
    is_act: bool = True


def completeness_by_question(facts: RecordFacts) -> tuple[Completeness, ...]:
    """Tell how far each of the seven questions is answered."""
    return (
        _graded(done=facts.identified, begun=bool(facts.maker)),
        _graded(done=facts.parts_said >= facts.parts_asked, begun=facts.parts_said > 0),
        _graded(done=_finish_known(facts), begun=facts.measured + facts.by_eye > 0),
        _graded(done=facts.defects_looked_at, begun=facts.defects > 0),
        _dating(facts),
        _graded(done=facts.work_finished or facts.status in _READY, begun=facts.work > 0),
        _graded(done=_price_known(facts), begun=facts.comparables > 0 or facts.has_price),
    )


def next_step(facts: RecordFacts) -> Next:
    """Tell the one thing to do next with a tool."""
    if facts.photographs == 0:
        return Next(words="Photograph it as found", detail="no photograph yet", section=1)
    for ask in (_about_itself, _about_finish, _about_date, _about_sale):
        answer = ask(facts)
        if answer is not None:
            return answer
    return _nothing(facts)


def _graded(*, done: bool, begun: bool) -> Completeness:
    if done:
        return Completeness.COMPLETE
    return Completeness.IN_PART if begun else Completeness.OPEN


def _finish_known(facts: RecordFacts) -> bool:
    all_read = facts.measured + facts.by_eye >= facts.surfaces
    return all_read and (facts.main_measured or not facts.main_surface)


def _dating(facts: RecordFacts) -> Completeness:
    if facts.disagree:
        return Completeness.DISAGREES
    return _graded(done=facts.evidence_with_years > 1, begun=facts.evidence_with_years > 0)


def _price_known(facts: RecordFacts) -> bool:
    if facts.status == ToolStatus.SOLD:
        return facts.has_sold_price
    return facts.has_price or facts.status == ToolStatus.KEPT


def _about_itself(facts: RecordFacts) -> Next | None:
    if facts.disagree and facts.later_part:
        part = facts.later_part
        return Next(
            words=f"Say what the {part} is", detail="its date is not that of the rest", section=5
        )
    if facts.disagree:
        return Next(words="Look at the dates again", detail="the signs do not agree", section=5)
    if facts.parts_said < facts.parts_asked:
        left = facts.parts_asked - facts.parts_said
        detail = "nothing said yet" if not facts.parts_said else f"{left} not seen yet"
        return Next(words="Say which parts came with it", detail=detail, section=2)
    return None


def _about_finish(facts: RecordFacts) -> Next | None:
    if not facts.main_surface or facts.main_measured or facts.status in _GONE:
        return None
    surface = facts.main_surface
    if facts.main_by_eye:
        return Next(words=f"Measure the {surface}", detail="by eye so far", section=3)
    return Next(words=f"Say how much {surface} is left", detail="not measured", section=3)


def _about_date(facts: RecordFacts) -> Next | None:
    if facts.status in _GONE:
        return None
    if not facts.defects_looked_at and facts.defects == 0:
        return Next(words="Look for defects", detail="none written down", section=4)
    if facts.evidence_with_years == 0:
        return Next(
            words="Look for a sign of its date", detail="no sign of date entered yet", section=5
        )
    return None


def _about_sale(facts: RecordFacts) -> Next | None:
    if facts.status == ToolStatus.SOLD and not facts.has_sold_price:
        return Next(words="Enter what it sold for", detail="price not entered", section=7)
    if facts.status in _FOR_SALE and facts.missing_finished_view:
        view = facts.missing_finished_view
        return Next(
            words=f"Photograph the {view}, finished",
            detail="before is there, after is not",
            section=1,
        )
    if facts.status == ToolStatus.FINISHED and not facts.has_price:
        count = facts.comparables
        detail = f"{count} comparables to look at" if count else "no comparables yet"
        return Next(words="Set a price", detail=detail, section=7)
    return None


def _nothing(facts: RecordFacts) -> Next:
    if facts.status in {ToolStatus.AS_FOUND, ToolStatus.ON_BENCH}:
        return Next(words="Work on it", detail="the record is up to date", section=6)
    details = {
        ToolStatus.OFFERED: "offered",
        ToolStatus.SOLD: "sold",
        ToolStatus.KEPT: "kept, not for sale",
        ToolStatus.FINISHED: "ready to be offered",
    }
    return Next(words=f"Nothing: {details[facts.status]}", detail="", section=0, is_act=False)

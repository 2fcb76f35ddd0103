"""How complete a tool's record is: the seven questions, and the next step.

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
_GONE = frozenset({ToolStatus.OFFERED, ToolStatus.SOLD, ToolStatus.NOT_FOR_SALE})
_FOR_SALE = frozenset({ToolStatus.FINISHED, ToolStatus.OFFERED})
_READY = frozenset(
    {ToolStatus.FINISHED, ToolStatus.OFFERED, ToolStatus.SOLD, ToolStatus.NOT_FOR_SALE}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordCounts:
    """What has been entered of a tool, counted.

    `later_part` names a part that is of another date than the rest and not yet explained;
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
    defects_inspected: bool
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
class NextStep:
    """What to do next: `is_act` False when nothing needs doing; `section` 1 to 7, 0 for none."""

    words: str
    detail: str
    section: int
    is_act: bool = True


def completeness_by_question(counts: RecordCounts) -> tuple[Completeness, ...]:
    """Return how far each of the seven questions is answered."""
    return (
        _graded(done=counts.identified, begun=bool(counts.maker)),
        _graded(done=counts.parts_said >= counts.parts_asked, begun=counts.parts_said > 0),
        _graded(done=_finish_known(counts), begun=counts.measured + counts.by_eye > 0),
        _graded(done=counts.defects_inspected, begun=counts.defects > 0),
        _dating(counts),
        _graded(done=counts.work_finished or counts.status in _READY, begun=counts.work > 0),
        _graded(done=_price_known(counts), begun=counts.comparables > 0 or counts.has_price),
    )


def next_step(counts: RecordCounts) -> NextStep:
    """Return the one thing to do next with a tool; of a sold one only its price is asked."""
    if counts.status == ToolStatus.SOLD:
        return _about_sale(counts) or _nothing(counts)
    if counts.photographs == 0:
        return NextStep(words="Photograph it as found", detail="no photograph yet", section=1)
    for ask in (_about_itself, _about_finish, _about_date, _about_sale):
        answer = ask(counts)
        if answer is not None:
            return answer
    return _nothing(counts)


def _graded(*, done: bool, begun: bool) -> Completeness:
    if done:
        return Completeness.COMPLETE
    return Completeness.IN_PART if begun else Completeness.OPEN


def _finish_known(counts: RecordCounts) -> bool:
    all_read = counts.measured + counts.by_eye >= counts.surfaces
    return all_read and (counts.main_measured or not counts.main_surface)


def _dating(counts: RecordCounts) -> Completeness:
    if counts.disagree:
        return Completeness.DISAGREES
    return _graded(done=counts.evidence_with_years > 1, begun=counts.evidence_with_years > 0)


def _price_known(counts: RecordCounts) -> bool:
    if counts.status == ToolStatus.SOLD:
        return counts.has_sold_price
    return counts.has_price or counts.status == ToolStatus.NOT_FOR_SALE


def _about_itself(counts: RecordCounts) -> NextStep | None:
    if counts.disagree and counts.later_part:
        part = counts.later_part
        return NextStep(
            words=f"Is the {part} original?", detail="its date does not match the rest", section=5
        )
    if counts.disagree:
        return NextStep(words="Check the dates", detail="the evidence disagrees", section=5)
    if counts.parts_said < counts.parts_asked:
        left = counts.parts_asked - counts.parts_said
        detail = "none checked yet" if not counts.parts_said else f"{left} not checked yet"
        return NextStep(words="Check which parts came with it", detail=detail, section=2)
    return None


def _about_finish(counts: RecordCounts) -> NextStep | None:
    if not counts.main_surface or counts.main_measured or counts.status in _GONE:
        return None
    surface = counts.main_surface
    if counts.main_by_eye:
        return NextStep(words=f"Measure the {surface}", detail="by eye so far", section=3)
    return NextStep(words=f"Measure the {surface}", detail="not measured", section=3)


def _about_date(counts: RecordCounts) -> NextStep | None:
    if counts.status in _GONE:
        return None
    if not counts.defects_inspected and counts.defects == 0:
        return NextStep(words="Look for defects", detail="none recorded", section=4)
    if counts.evidence_with_years == 0:
        return NextStep(words="Look for evidence of its date", detail="none entered yet", section=5)
    return None


def _about_sale(counts: RecordCounts) -> NextStep | None:
    if counts.status == ToolStatus.SOLD and not counts.has_sold_price:
        return NextStep(words="Enter what it sold for", detail="price not entered", section=7)
    if counts.status in _FOR_SALE and counts.missing_finished_view:
        view = counts.missing_finished_view
        return NextStep(
            words=f"Photograph the {view}, finished",
            detail="photographed before the work, not after",
            section=1,
        )
    if counts.status == ToolStatus.FINISHED and not counts.has_price:
        count = counts.comparables
        detail = f"{count} comparables to go by" if count else "no comparables yet"
        return NextStep(words="Set a price", detail=detail, section=7)
    return None


def _nothing(counts: RecordCounts) -> NextStep:
    if counts.status in {ToolStatus.AS_FOUND, ToolStatus.ON_BENCH} and counts.work_finished:
        return NextStep(words="Mark it finished", detail="the work is finished", section=6)
    if counts.status in {ToolStatus.AS_FOUND, ToolStatus.ON_BENCH}:
        return NextStep(words="Work on it", detail="the record is up to date", section=6)
    details = {
        ToolStatus.OFFERED: "offered",
        ToolStatus.SOLD: "sold",
        ToolStatus.NOT_FOR_SALE: "not for sale",
        ToolStatus.FINISHED: "ready to be offered",
    }
    return NextStep(
        words=f"Nothing to do: {details[counts.status]}", detail="", section=0, is_act=False
    )

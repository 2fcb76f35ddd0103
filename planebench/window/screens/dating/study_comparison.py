"""A tool beside a type study in words, and what is written down of it as a sign."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal

from planebench.catalog.entries import EvidenceFields
from planebench.catalog.evidence_entry import fields_from, parse_evidence
from planebench.catalog.own_tables import KnownStudy
from planebench.catalog.values import EvidenceEntry, Tool
from planebench.trade.dating_span import PRODUCTION
from planebench.trade.evidence_input import EvidenceInput
from planebench.trade.evidence_parsing import EvidenceTables
from planebench.trade.terms import Basis
from planebench.trade.type_study import Comparison, TypeStudy
from planebench.trade.wording import join_words
from planebench.window.screens.dating.dating_model import years_in_words


def likeliest_study(studies: Sequence[KnownStudy], tool: Tool, kind: str) -> str:
    """Return the id of the study of the tool's own model, else of its kind, else the first.

    `kind` is the name of the tool's kind; a study is of that kind by the words of its title. A
    number alone tells little, for makers gave the same numbers to planes of other kinds.
    """

    def nearness(known: KnownStudy) -> tuple[bool, int, bool, bool]:
        model, maker = _is_of_model(known.study, tool), is_of_maker(known.study, tool)
        return (model and maker, _words_in_common(known.study, kind), model, maker)

    return max(studies, key=nearness).id if studies else ""


def is_of_maker(study: TypeStudy, tool: Tool) -> bool:
    """Tell whether a study is of the maker that the tool is written down as by."""
    return bool(tool.maker) and tool.maker.casefold() in study.maker.casefold()


def _is_of_model(study: TypeStudy, tool: Tool) -> bool:
    models = [model.strip().casefold() for model in study.model.split(",")]
    return bool(tool.model) and tool.model.casefold() in models


def _words_in_common(study: TypeStudy, kind: str) -> int:
    title = study.title.casefold()
    return sum(word in title for word in kind.casefold().split())


_STUDY, _FORMS = "study", "forms"
_LITTLE = 0.005
_MOST_FORMS = 4
_OTHER_MAKER_SURE = Decimal("0.5")
"""Even odds: makers copied each other's forms, years apart (common practice, no source)."""


def fitting_words(found: Comparison) -> tuple[str, str]:
    """Say which variants fit, in a title and a sentence under it."""
    if not found.seen:
        count = len(found.study.variants)
        return f"{count} variants", "Say what the tool shows, and those that do not fit fall back."
    fitting = found.fitting
    if not fitting:
        return "No variant fits", "Each has something against it; those with the least come first."
    names = join_words([variant.name for variant in fitting])
    word = "Variant" if len(fitting) == 1 else "Variants"
    verb = "fits" if len(fitting) == 1 else "fit"
    by = f"by {len(found.seen)} of its {len(found.study.features)} features"
    return f"{word} {names} {verb}", f"made {years_in_words(*found.years)}, {by}"


def next_words(found: Comparison) -> str:
    """Say which sign to look at next, empty where none would tell more."""
    looks = [look for look in found.next_looks if look.bits > _LITTLE]
    if not looks:
        return "" if found.seen else "Nothing tells its variants apart."
    forms = join_words(list(looks[0].forms), "or") if len(looks[0].forms) <= _MOST_FORMS else ""
    which = f": {forms}" if forms else ""
    if len(found.fitting) == 1:
        return f"To make sure of it, look at the {looks[0].feature} next{which}."
    return f"Look at the {looks[0].feature} next{which}. It would separate the most."


def seen_before(tool: Tool, study: TypeStudy) -> dict[str, str]:
    """Return the forms that were written down of a tool by this study the last time."""
    evidence = evidence_by(tool, study)
    forms = None if evidence is None else evidence.mark[_FORMS]
    if not isinstance(forms, dict):
        return {}
    return {
        feature: form
        for feature, form in forms.items()
        if feature in study.features and form in study.forms_of(feature)
    }


def evidence_by(tool: Tool, study: TypeStudy) -> EvidenceEntry | None:
    """Return the sign that was last written down of a tool by this study."""
    all_evidence = (
        evidence for evidence in reversed(tool.evidence) if evidence.mark.get(_STUDY) == study.title
    )
    return next(
        (evidence for evidence in all_evidence if isinstance(evidence.mark.get(_FORMS), dict)), None
    )


def says_the_same(evidence: EvidenceEntry, found: Comparison) -> bool:
    """Tell whether a sign was written down of just these forms and years."""
    same_years = evidence.mark.get("value") == _edtf(found.years)
    return same_years and evidence.mark.get(_FORMS) == dict(found.seen)


def production_by(tool: Tool, study: TypeStudy) -> EvidenceEntry | None:
    """Return the counted sign that bounds the date by this study's years of making."""
    all_evidence = (
        evidence for evidence in tool.evidence if evidence.kind == PRODUCTION and evidence.counted
    )
    return next((evidence for evidence in all_evidence if evidence.source == study.title), None)


def maker_doubt(tool: Tool, study: TypeStudy) -> str:
    """Say that a study is of a maker that the tool is not known to be by; empty where it is."""
    if not study.maker or is_of_maker(study, tool):
        return ""
    if not tool.maker:
        return f"This study is of planes by {study.maker}; the maker of this one is not known."
    return f"This study is of planes by {study.maker}; this one is written down as by {tool.maker}."


def study_evidence(found: Comparison, tool: Tool, tables: EvidenceTables) -> EvidenceFields:
    """Return the sign that the fitting variants make of a tool.

    It is less sure where the study is of a maker that the tool is not known to be by. Raises
    InputError where the variants have no years.
    """
    names = join_words([variant.name for variant in found.fitting])
    word = "variant" if len(found.fitting) == 1 else "variants"
    seen = EvidenceInput(
        kind="type_study",
        mark={"value": _edtf(found.years)},
        seen=f"Fits {word} {names} of the type study",
        sure=_OTHER_MAKER_SURE if maker_doubt(tool, found.study) else None,
        basis=Basis.BY_EYE,
        source=f"{found.study.title}: {word} {names}",
    )
    fields = fields_from(parse_evidence(seen, tables).fields)
    kept = {**fields["mark"], _STUDY: found.study.title, _FORMS: dict(found.seen)}
    return EvidenceFields(**{**fields, "mark": kept, "source_status": _status(found.study)})


def production_evidence(study: TypeStudy, tables: EvidenceTables) -> EvidenceFields:
    """Return the years in which a study says its model was made, from its first to its last."""
    seen = EvidenceInput(
        kind=PRODUCTION,
        mark={"value": _edtf(_years_of_making(study))},
        seen=f"{study.model or study.title}, first to last variant",
        looseness=0,
        source=study.title,
    )
    fields = fields_from(parse_evidence(seen, tables).fields)
    return EvidenceFields(**{**fields, "source_status": _status(study)})


def _years_of_making(study: TypeStudy) -> tuple[int | None, int | None]:
    """Return the first and the last year of all variants; a side is open if it is for one of them."""
    firsts = [variant.years.not_before for variant in study.variants]
    lasts = [variant.years.not_after for variant in study.variants]
    return _over_all(firsts, min), _over_all(lasts, max)


def _over_all(years: Sequence[int | None], extreme: Callable[[list[int]], int]) -> int | None:
    known = [year for year in years if year is not None]
    return extreme(known) if len(known) == len(years) else None


def forms_chosen(held: Mapping[str, str]) -> dict[str, str]:
    """Return the features looked at, those not looked at left out."""
    return {feature: form for feature, form in held.items() if form}


def _status(study: TypeStudy) -> str:
    return "invented" if study.invented else ""


def _edtf(years: tuple[int | None, int | None]) -> str:
    low, high = years
    if low is None and high is None:
        return ""
    if low == high:
        return f"{low}"
    return f"{'..' if low is None else low}/{'..' if high is None else high}"

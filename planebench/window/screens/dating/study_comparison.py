"""A tool compared with a type study: wording, the likeliest study, and evidence from it."""

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
from planebench.window.screens.dating.dating_model import join_names, years_in_words


def likeliest_study(studies: Sequence[KnownStudy], tool: Tool, kind: str) -> str:
    """Return the id of the study of the tool's own model, else of its kind, else the first.

    `kind` is the name of the tool's kind, looked for in the title of a study. A model number
    alone says little, since makers used the same numbers for planes of other kinds.
    """

    def nearness(known: KnownStudy) -> tuple[bool, int, bool, bool]:
        model, maker = _is_of_model(known.study, tool), is_of_maker(known.study, tool)
        return (model and maker, _words_in_common(known.study, kind), model, maker)

    return max(studies, key=nearness).id if studies else ""


def is_of_maker(study: TypeStudy, tool: Tool) -> bool:
    """Return whether a study is of the maker recorded for the tool."""
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
"""Even odds: makers copied each other's forms years later (common practice, no source)."""


def fitting_words(found: Comparison) -> tuple[str, str]:
    """Return which variants fit: a title and a sentence."""
    if not found.seen:
        count = len(found.study.variants)
        return (
            f"{count} variants",
            "Choose what the tool shows; variants that do not fit move down.",
        )
    fitting = found.fitting
    if not fitting:
        return "No variant fits", "Every variant has a mismatch; those with the fewest come first."
    names = join_names([variant.name for variant in fitting])
    word = "Variant" if len(fitting) == 1 else "Variants"
    verb = "fits" if len(fitting) == 1 else "fit"
    by = f"by {len(found.seen)} of its {len(found.study.features)} features"
    return f"{word} {names} {verb}", f"made {years_in_words(*found.years)}, {by}"


def next_words(found: Comparison) -> str:
    """Return which feature to look at next, empty where none would help."""
    looks = [look for look in found.next_looks if look.bits > _LITTLE]
    if not looks:
        return "" if found.seen else "No feature tells the variants apart."
    forms = join_names(list(looks[0].forms), "or") if len(looks[0].forms) <= _MOST_FORMS else ""
    which = f": {forms}" if forms else ""
    if len(found.fitting) == 1:
        return f"To confirm, check the {looks[0].feature} next{which}."
    return f"Check the {looks[0].feature} next{which}. It narrows the choice most."


def seen_before(tool: Tool, study: TypeStudy) -> dict[str, str]:
    """Return the forms last recorded for a tool by this study."""
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
    """Return the evidence last recorded for a tool by this study."""
    entries = (
        evidence for evidence in reversed(tool.evidence) if evidence.mark.get(_STUDY) == study.title
    )
    return next(
        (evidence for evidence in entries if isinstance(evidence.mark.get(_FORMS), dict)), None
    )


def says_the_same(evidence: EvidenceEntry, found: Comparison) -> bool:
    """Return whether evidence records exactly these forms and years."""
    same_years = evidence.mark.get("value") == _edtf(found.years)
    return same_years and evidence.mark.get(_FORMS) == dict(found.seen)


def production_by(tool: Tool, study: TypeStudy) -> EvidenceEntry | None:
    """Return the counted evidence that limits the date to this study's years made."""
    entries = (
        evidence for evidence in tool.evidence if evidence.kind == PRODUCTION and evidence.counted
    )
    return next((evidence for evidence in entries if evidence.source == study.title), None)


def maker_doubt(tool: Tool, study: TypeStudy) -> str:
    """Return a warning if the study is of another maker than the tool, else an empty text."""
    if not study.maker or is_of_maker(study, tool):
        return ""
    if not tool.maker:
        return f"This study covers planes by {study.maker}; the maker of this tool is not known."
    return f"This study covers planes by {study.maker}; this tool is recorded as {tool.maker}."


def study_evidence(found: Comparison, tool: Tool, tables: EvidenceTables) -> EvidenceFields:
    """Return evidence from the fitting variants.

    It is less sure where the study is of another or an unknown maker. Raises InputError where
    the variants have no years.
    """
    names = join_names([variant.name for variant in found.fitting])
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
    """Return evidence of the years in which a study says its model was made."""
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
    """Return first and last year of all variants; open if one variant is open."""
    firsts = [variant.years.not_before for variant in study.variants]
    lasts = [variant.years.not_after for variant in study.variants]
    return _over_all(firsts, min), _over_all(lasts, max)


def _over_all(years: Sequence[int | None], extreme: Callable[[list[int]], int]) -> int | None:
    known = [year for year in years if year is not None]
    return extreme(known) if len(known) == len(years) else None


def forms_chosen(held: Mapping[str, str]) -> dict[str, str]:
    """Return the checked features, unchecked ones left out."""
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

"""Compares a tool with a type study: the known variants of a model, their years and their features.

The table is CSV: lines `# title:`, `# maker:`, `# model:`, `# source:` (and `# invented: yes`),
then a header `variant,years,note,source` followed by one column per feature, then one row per
variant. A cell names the form that the variant shows; several forms are separated by `|`; empty is
not known.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf, isfinite

import numpy as np
from numpy.typing import NDArray

from planebench.errors import InputError
from planebench.trade.years import YearSpan, parse_years

FIXED = ("variant", "years", "note", "source")
_SLIP = 0.05
"""Chance that a form is seen wrongly, or that the table is wrong (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """One variant: its years and, by feature, the forms that it can show (none: not known)."""

    name: str
    years: YearSpan
    forms: Mapping[str, tuple[str, ...]]
    note: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TypeStudy:
    """The known variants of a model, in order, and the features that tell them apart."""

    title: str
    maker: str
    model: str
    source: str
    invented: bool
    features: tuple[str, ...]
    variants: tuple[Variant, ...]

    def forms_of(self, feature: str) -> tuple[str, ...]:
        """Return the forms that a feature can take, in the order in which they appear."""
        seen = (form for v in self.variants for form in v.forms.get(feature, ()))
        return tuple(dict.fromkeys(seen))


@dataclass(frozen=True, slots=True, kw_only=True)
class Contradiction:
    """Evidence against a variant: what was seen, and what the variant shows."""

    feature: str
    seen: str
    expected: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantFit:
    """How well the tool fits a variant: `share` of belief, 0 to 1, and what speaks against it."""

    variant: Variant
    share: float
    agreeing: tuple[str, ...]
    against: tuple[Contradiction, ...]

    @property
    def fits(self) -> bool:
        """Whether nothing that was seen speaks against it."""
        return not self.against

    @property
    def only_against(self) -> Contradiction | None:
        """The single contradiction, None where there is none or there are more."""
        return self.against[0] if len(self.against) == 1 else None


@dataclass(frozen=True, slots=True, kw_only=True)
class NextLook:
    """A feature not looked at yet, its forms, and what a look is worth on average, in bits."""

    feature: str
    forms: tuple[str, ...]
    bits: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """The tool beside a type study: fits, the likeliest first, and what to look at next."""

    study: TypeStudy
    seen: Mapping[str, str]
    fits: tuple[VariantFit, ...]
    next_looks: tuple[NextLook, ...]

    @property
    def fitting(self) -> tuple[Variant, ...]:
        """The variants against which nothing speaks, in the order of the study."""
        names = {fit.variant.name for fit in self.fits if fit.fits}
        return tuple(v for v in self.study.variants if v.name in names)

    @property
    def years(self) -> tuple[int | None, int | None]:
        """First and last year of the fitting variants; None where open or where none fits."""
        spans = [variant.years for variant in self.fitting]
        firsts = [-inf if span.not_before is None else span.not_before for span in spans]
        lasts = [inf if span.not_after is None else span.not_after for span in spans]
        return _finite(min(firsts, default=-inf)), _finite(max(lasts, default=inf))


def _finite(year: float) -> int | None:
    return int(year) if isfinite(year) else None


def parse_type_study(text: str) -> TypeStudy:
    """Read a type study from its CSV. Raises InputError naming the line and what is wrong."""
    lines = text.lstrip("\ufeff").splitlines()
    header = _header(lines)
    start = next((at for at, line in enumerate(lines) if _is_row(line)), len(lines))
    rows = list(csv.reader(lines[start:]))
    features = _features(rows[0] if rows else [], start + 1)
    filled = [
        (n, row) for n, row in enumerate(rows[1:], start=start + 2) if any(map(str.strip, row))
    ]
    variants = tuple(_variant(row, features, line) for line, row in filled)
    _check_variants(variants)
    return TypeStudy(
        title=header.get("title", "Type study"),
        maker=header.get("maker", ""),
        model=header.get("model", ""),
        source=header.get("source", ""),
        invented=header.get("invented", "no").lower() == "yes",
        features=features,
        variants=variants,
    )


def _features(header: Sequence[str], line: int) -> tuple[str, ...]:
    names = tuple(cell.strip() for cell in header)
    if names[: len(FIXED)] != FIXED:
        raise _wrong(line, f"the header must begin with {','.join(FIXED)}")
    features = names[len(FIXED) :]
    if not features or "" in features or len(set(features)) < len(features):
        raise _wrong(line, "each feature needs a column with its own name")
    return features


def compare(study: TypeStudy, seen: Mapping[str, str], *, slip: float = _SLIP) -> Comparison:
    """Compare what the tool shows (feature to form) with every variant.

    Variants are equally likely beforehand; a form seen that a variant does not show costs it the
    chance `slip`. Raises InputError for a feature or a form that the study does not know.
    """
    _refuse_unknown(study, seen)
    chances = np.ones(len(study.variants))
    for feature, form in seen.items():
        chances *= _chances(study, feature, slip)[:, study.forms_of(feature).index(form)]
    shares = chances / chances.sum()
    fits = [_fit(v, seen, float(share)) for v, share in zip(study.variants, shares, strict=True)]
    looks = [
        NextLook(
            feature=feature,
            forms=study.forms_of(feature),
            bits=_gain(shares, _chances(study, feature, slip)),
        )
        for feature in study.features
        if feature not in seen and study.forms_of(feature)
    ]
    return Comparison(
        study=study,
        seen=dict(seen),
        fits=tuple(sorted(fits, key=lambda fit: (len(fit.against), -fit.share))),
        next_looks=tuple(sorted(looks, key=lambda look: -look.bits)),
    )


def _chances(study: TypeStudy, feature: str, slip: float) -> NDArray[np.float64]:
    """Chance (V, F) that a variant shows a form; evenly spread where it is not known."""
    forms = study.forms_of(feature)
    rows = np.zeros((len(study.variants), len(forms)))
    for row, variant in zip(rows, study.variants, strict=True):
        shown = [forms.index(form) for form in variant.forms.get(feature, ())]
        others = len(forms) - len(shown)
        if not shown or not others:
            row[:] = 1 / len(forms)
            continue
        row[:] = slip / others
        row[shown] = (1 - slip) / len(shown)
    return rows


def _gain(shares: NDArray[np.float64], chances: NDArray[np.float64]) -> float:
    """Expected information gain in bits: the mutual information of variant and form (Shannon)."""
    joint = shares[:, None] * chances
    apart = shares[:, None] * joint.sum(axis=0)
    held = joint > 0
    return max(float((joint[held] * np.log2(joint[held] / apart[held])).sum()), 0.0)


def _fit(variant: Variant, seen: Mapping[str, str], share: float) -> VariantFit:
    known = {feature: variant.forms.get(feature, ()) for feature in seen}
    return VariantFit(
        variant=variant,
        share=share,
        agreeing=tuple(feature for feature, form in seen.items() if form in known[feature]),
        against=tuple(
            Contradiction(feature=feature, seen=form, expected=known[feature])
            for feature, form in seen.items()
            if known[feature] and form not in known[feature]
        ),
    )


def _header(lines: Sequence[str]) -> dict[str, str]:
    pairs = (line[1:].partition(":") for line in lines if line.startswith("#"))
    return {name.strip().lower(): value.strip() for name, _, value in pairs}


def _is_row(line: str) -> bool:
    return bool(line.strip()) and not line.startswith("#")


def _variant(row: Sequence[str], features: Sequence[str], line: int) -> Variant:
    if len(row) != len(FIXED) + len(features):
        raise _wrong(line, f"it has {len(row)} cells, the header {len(FIXED) + len(features)}")
    name, years, note, source = (cell.strip() for cell in row[:4])
    if not name:
        raise _wrong(line, "the variant has no name")
    return Variant(
        name=name,
        years=parse_years(years, field=f"line {line}, years"),
        forms={
            feature: tuple(form.strip() for form in cell.split("|") if form.strip())
            for feature, cell in zip(features, row[4:], strict=True)
        },
        note=note,
        source=source,
    )


def _check_variants(variants: Sequence[Variant]) -> None:
    names = [variant.name for variant in variants]
    twins = sorted({name for name in names if names.count(name) > 1})
    if twins:
        raise InputError(
            f"Two variants are called {twins[0]}.",
            remedy="Give each variant its own name.",
            subject=twins[0],
        )
    if not variants:
        raise InputError(
            "The type study has no variants.", remedy="Add one row per variant.", subject="variants"
        )


def _refuse_unknown(study: TypeStudy, seen: Mapping[str, str]) -> None:
    for feature, form in seen.items():
        if feature not in study.features:
            known, asked = study.features, feature
        elif form not in study.forms_of(feature):
            known, asked = study.forms_of(feature), form
        else:
            continue
        raise InputError(
            f"The type study has no “{asked}”.",
            remedy=f"It has {', '.join(known)}.",
            subject=feature,
        )


def _wrong(line: int, reason: str) -> InputError:
    return InputError(
        f"The type study cannot be read at line {line}: {reason}.",
        remedy=f"Begin with {','.join(FIXED)}, then one column per feature.",
        subject=f"line {line}",
    )

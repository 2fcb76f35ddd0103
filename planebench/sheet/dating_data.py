"""The dating section as the templates read it: words, and bars placed on the scale of years."""

from __future__ import annotations

from dataclasses import asdict

from planebench.sheet.content import SheetDating, SheetEvidence
from planebench.sheet.dating_chart import YearScale, chart_key, evidence_bar, year_scale

Data = dict[str, object]


def dating_data(dating: SheetDating) -> Data:
    """Return the section's words and, where evidence names years, its chart."""
    scale = year_scale(dating)
    key = "" if scale is None else chart_key(dating)
    return {
        "in_words": dating.in_words,
        "reasons": list(dating.reasons),
        "disagreements": list(dating.disagreements),
        "evidence": [asdict(one) | {"bar": _bar(one, scale)} for one in dating.evidence],
        "chart": None if scale is None else _chart(dating, scale),
        "small": " ".join(part for part in (dating.sources, key) if part),
    }


def _bar(evidence: SheetEvidence, scale: YearScale | None) -> Data | None:
    drawn = None if scale is None else evidence_bar(evidence, scale)
    return None if drawn is None else asdict(drawn)


def _chart(dating: SheetDating, scale: YearScale) -> Data:
    weights = [weight for columns in dating.columns for weight in columns.weights]
    return asdict(scale) | {
        "bands": [list(band) for band in dating.bands],
        "columns": [asdict(columns) for columns in dating.columns],
        "heaviest": max(weights, default=0.0) or 1.0,
    }

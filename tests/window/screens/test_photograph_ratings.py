"""The standards' grades beside a reading are those of the tables."""

from __future__ import annotations

from decimal import Decimal

from planebench.trade.shares import Share
from planebench.trade.terms import Basis
from planebench.window.screens.photograph.reading_panel import format_ratings


def share(value, low, high):
    ends = (Decimal(one) for one in (value, low, high))
    value, low, high = ends
    return Share(value=value, low=low, high=high, basis=Basis.MEASURED)


def test_a_share_kept_is_rated_by_what_is_lost():
    said = format_ratings("nickel", share("0.96", "0.96", "0.96"))

    # ISO 10289:1999, table 1: over 2.5 to 5 % of the area is rating 4.
    assert "ISO 10289: 4/-" in said


def test_a_rusted_share_is_rated_as_it_is():
    said = format_ratings("rust", share("0.08", "0.08", "0.08"))

    # ISO 4628-3: Ri 4 is about 8 % of the area; ASTM D610: 4 is 3 to 10 %.
    assert "ISO 4628-3: Ri 4" in said
    assert "ASTM D610: 4" in said


def test_a_finish_without_a_standard_is_not_rated():
    assert format_ratings("oil", share("0.5", "0.4", "0.6")) == ""

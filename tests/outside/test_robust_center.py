"""The robust center and range of prices against SciPy's median absolute deviation."""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest
from scipy.stats import median_abs_deviation, norm

from planebench.trade.comparables import price_center
from planebench.trade.money import Currency

USD = Currency(code="USD", digits=2, name="US Dollar")


@pytest.mark.parametrize("seed", range(20))
def test_center_and_range_are_median_and_scaled_deviation_of_scipy(seed: int) -> None:
    rng = np.random.default_rng(seed)
    prices = np.round(rng.lognormal(5, 0.4, int(rng.integers(5, 40))), 2)
    half = norm.ppf(0.95) * median_abs_deviation(prices, scale="normal")

    found = price_center([Decimal(str(price)) for price in prices], USD)

    assert found is not None
    assert float(found.median) == pytest.approx(np.median(prices), abs=0.006)
    assert float(found.high) == pytest.approx(np.median(prices) + half, rel=1e-3)
    assert float(found.low) == pytest.approx(max(np.median(prices) - half, 0), rel=2e-3, abs=0.05)

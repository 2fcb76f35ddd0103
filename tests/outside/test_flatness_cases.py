"""Flatness against worked cases, closed forms and a linear program (SciPy) as second method."""

from __future__ import annotations

import csv
import json
from math import sqrt
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import linprog

from planebench.trade.flatness import SolePoints, measure_flatness

DATA = Path(__file__).parent / "data" / "flatness_worked_examples.csv"
ROWS = list(csv.DictReader(line for line in DATA.read_text("utf-8").splitlines() if line[0] != "#"))
TO_SIX_PLACES = 5e-7
"""The table is rounded to six places."""


def minimum_zone_by_linear_program(points: SolePoints) -> float:
    """Least vertical distance between two parallel planes that hold all points, then upright."""
    count = len(points)
    plane = np.column_stack((points[:, :2], np.ones(count)))
    rows = np.block([[-plane, -np.ones((count, 1))], [plane, -np.ones((count, 1))]])
    bounds = np.concatenate((-points[:, 2], points[:, 2]))
    found = linprog([0, 0, 0, 1], rows, bounds, bounds=[(None, None)] * 3 + [(0, None)])
    return float(2 * found.x[3] / sqrt(1 + found.x[0] ** 2 + found.x[1] ** 2))


def near_flat(rng: np.random.Generator, count: int) -> SolePoints:
    """Readings on a sole of 250 x 60 mm that is uneven by a few hundredths and tilted."""
    x, y = rng.uniform(0, 250, count), rng.uniform(0, 60, count)
    z = rng.normal(0, 0.03, count) + rng.normal(0, 1e-4) * x + rng.normal(0, 1e-4) * y
    return np.column_stack((x, y, z))


@pytest.mark.parametrize("row", ROWS, ids=[row["case"][:2] for row in ROWS])
def test_worked_cases_come_out_to_the_last_place_of_the_table(row: dict[str, str]) -> None:
    found = measure_flatness(np.array(json.loads(row["points_xyz"])))

    assert found.mz_mm == pytest.approx(float(row["FLTt_MZ_exact"]), abs=TO_SIX_PLACES)
    assert found.ls_mm == pytest.approx(float(row["FLTt_LS"]), abs=TO_SIX_PLACES)
    assert found.peak_mm == pytest.approx(float(row["FLTp_LS"]), abs=TO_SIX_PLACES)
    assert found.valley_mm == pytest.approx(float(row["FLTv_LS"]), abs=TO_SIX_PLACES)
    assert found.rms_mm == pytest.approx(float(row["FLTq_LS"]), abs=TO_SIX_PLACES)


def test_cases_with_a_closed_form_come_out_to_a_millionth_of_a_micron() -> None:
    twist = np.array([[0, 0, 0.05], [200, 0, -0.05], [200, 50, 0.05], [0, 50, -0.05]])
    corner = 1 / sqrt(8)
    tetrahedron = corner * np.array([[1, 1, 1], [1, -1, -1], [-1, 1, -1], [-1, -1, 1.0]])

    assert measure_flatness(twist).mz_mm == pytest.approx(0.1, abs=1e-9)
    assert measure_flatness(tetrahedron).mz_mm == pytest.approx(1 / sqrt(2), abs=1e-9)


def test_faces_alone_would_make_a_twisted_sole_twice_as_uneven() -> None:
    row = ROWS[0]

    assert float(row["face_vertex_only"]) == 2 * float(row["FLTt_MZ_exact"])
    assert measure_flatness(np.array(json.loads(row["points_xyz"]))).mz_mm == pytest.approx(0.1)


@pytest.mark.parametrize("seed", range(60))
def test_the_zone_is_that_of_a_linear_program(seed: int) -> None:
    rng = np.random.default_rng(seed)
    points = near_flat(rng, int(rng.integers(4, 60)))

    assert measure_flatness(points).mz_mm == pytest.approx(
        minimum_zone_by_linear_program(points), abs=1e-6
    )


def test_a_fine_grid_over_a_belly_where_every_reading_is_a_corner_of_the_hull() -> None:
    x, y = (a.ravel() for a in np.meshgrid(np.linspace(-1, 1, 20), np.linspace(-1, 1, 20)))
    points = np.column_stack((120 * x, 30 * y, 0.1 * (1 - x**2) * (1 - y**2 / 2)))

    assert measure_flatness(points).mz_mm == pytest.approx(
        minimum_zone_by_linear_program(points), abs=1e-6
    )

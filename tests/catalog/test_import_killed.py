"""An intake that is killed loses nothing it told of, and goes on where it was."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.catalog.killed_import import (
    acknowledged_until_killed,
    goes_on_to_the_end,
    holds_after_the_kill,
)
from tests.catalog.shots import shot

FILES = 40


@pytest.fixture
def card(tmp_path: Path) -> Path:
    for number in range(FILES):
        shot(tmp_path / "card" / f"{number:03}.jpg", seed=number, size=(1500, 1000))
    return tmp_path / "card"


def test_killed_at_random_moments_nothing_is_lost_and_going_on_completes(
    empty_folder: Path, card: Path, tmp_path: Path
) -> None:
    cache = tmp_path / "cache"
    kills = 10
    for kill in range(kills):
        after = random.uniform(0, 0.15 + 0.05 * kill)  # noqa: S311 -- moments, not secrets
        told, _ = acknowledged_until_killed(empty_folder, card, cache, after=after)
        holds_after_the_kill(empty_folder, cache, told)

    goes_on_to_the_end(empty_folder, card, cache, files=FILES)

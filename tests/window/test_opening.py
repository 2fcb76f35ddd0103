"""How the window stands when the program starts."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QSize

from planebench.catalog.program_settings import ProgramSettings
from planebench.window.program import opening_size


@pytest.mark.parametrize(
    ("room", "how"),
    [
        (QSize(1366, 768), "filled"),
        (QSize(1440, 900), "filled"),
        (QSize(1600, 930), "filled"),
        (QSize(1920, 1040), "free"),
    ],
)
def test_the_window_and_its_title_bar_lie_within_the_screen(room: QSize, how: str) -> None:
    size, fills = opening_size(room, ProgramSettings())

    assert ("filled" if fills else "free") == how
    assert size.width() < room.width()
    assert size.height() + 40 <= room.height()


def test_the_window_has_its_last_size_where_that_fits() -> None:
    small, large = (ProgramSettings(window=size) for size in ((1100, 700), (3000, 2000)))

    assert opening_size(QSize(1920, 1040), small) == (QSize(1100, 700), False)
    assert opening_size(QSize(1920, 1040), large)[0].height() <= 1000
    assert opening_size(QSize(1920, 1040), replace(small, maximized=True))[1]

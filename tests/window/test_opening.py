"""How the window stands when the program starts."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QSize

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
    size, fills = opening_size(room)

    assert ("filled" if fills else "free") == how
    assert size.width() < room.width()
    assert size.height() + 40 <= room.height()

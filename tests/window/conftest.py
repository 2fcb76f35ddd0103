"""What the tests of the window share."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QApplication

from planebench.window.jobs import JobDesk
from planebench.window.theme import Theme, ThemeChoice


@pytest.fixture(scope="session")
def dressed(qapp: QApplication) -> Theme:
    """Dress the application once."""
    return Theme(qapp, ThemeChoice.LIGHT)


@pytest.fixture
def theme(dressed: Theme) -> Iterator[Theme]:
    """Return the theme, light; whatever a test chooses is put back."""
    dressed.choose(ThemeChoice.LIGHT)
    yield dressed
    dressed.choose(ThemeChoice.LIGHT)


@pytest.fixture
def desk(qapp: QApplication) -> Iterator[JobDesk]:
    """Return a job desk, closed afterwards."""
    made = JobDesk()
    yield made
    assert made.close()


@pytest.fixture
def halves() -> QImage:
    """Return a picture of 400 by 300, red at the left and blue at the right."""
    image = QImage(400, 300, QImage.Format.Format_RGB32)
    image.fill(QColor("#0000FF"))
    for y in range(300):
        for x in range(200):
            image.setPixelColor(x, y, QColor("#FF0000"))
    return image


@pytest.fixture(scope="session")
def resources() -> Path:
    """Return the folder of what comes with the program."""
    return Path(__file__).parents[2] / "resources"

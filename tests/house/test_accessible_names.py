"""Every screen on the sample: each control that takes the keyboard says what it is."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from planebench.catalog.catalog import Catalog
from planebench.catalog.tools import Wanted
from planebench.catalog.values import Tool
from planebench.window import places, ways
from planebench.window.edits import Edits
from planebench.window.given import Given
from planebench.window.jobs import JobDesk
from planebench.window.notices import Notices
from planebench.window.pieces.place import Place
from planebench.window.screens.first_start.widget import FirstStart
from planebench.window.screens.trouble.widget import Trouble
from planebench.window.theme import Theme, ThemeChoice


def fullest(catalog: Catalog) -> Tool:
    """Give the tool of which most is written down."""
    tools = [catalog.tools.one(tool) for tool in catalog.tools.find(Wanted())]
    return max(tools, key=lambda t: (len(t.pairs), len(t.defects), len(t.photographs)))


WAYS: dict[type[ways.Way], Callable[[Tool], ways.Way]] = {
    ways.ToBatches: lambda _tool: ways.ToBatches(),
    ways.ToBatch: lambda tool: ways.ToBatch(batch=tool.batch),
    ways.ToTool: lambda tool: ways.ToTool(tool=tool.id),
    ways.ToPhotograph: lambda tool: ways.ToPhotograph(photograph=tool.photographs[0].id),
    ways.ToPair: lambda tool: ways.ToPair(tool=tool.id),
    ways.ToDating: lambda tool: ways.ToDating(tool=tool.id),
    ways.ToSheet: lambda tool: ways.ToSheet(tools=(tool.id,)),
    ways.ToIntake: lambda tool: ways.ToIntake(batch=tool.batch),
    ways.ToCards: lambda tool: ways.ToCards(tools=(tool.id,)),
    ways.ToHistory: lambda _tool: ways.ToHistory(),
    ways.ToBin: lambda _tool: ways.ToBin(),
    ways.ToSettings: lambda _tool: ways.ToSettings(),
    ways.ToKinds: lambda _tool: ways.ToKinds(),
    ways.ToBackups: lambda _tool: ways.ToBackups(),
    ways.ToViewsMissing: lambda tool: ways.ToViewsMissing(batch=tool.batch),
}


@pytest.fixture
def given(qapp: QApplication, sample: Catalog) -> Iterator[Given]:
    theme, desk = Theme(qapp, ThemeChoice.LIGHT), JobDesk()
    yield Given(catalog=sample, jobs=desk, edits=Edits(), notices=Notices())
    assert desk.close()
    for part in (theme._ring, theme):
        part.deleteLater()


@pytest.fixture
def show(qtbot: QtBot, given: Given) -> Callable[[Place], Place]:
    def shown(place: Place) -> Place:
        qtbot.addWidget(place)
        place.resize(1280, 700)
        place.show()
        qtbot.waitUntil(lambda: not given.jobs.open_jobs, timeout=30_000)
        qtbot.wait(20)
        qtbot.waitUntil(lambda: not given.jobs.open_jobs, timeout=30_000)
        return place

    return shown


def nameless(place: Place) -> list[str]:
    """Name the class and place of each control that takes the keyboard without saying its name."""
    controls = [*place.findChildren(QWidget), *place.acts]
    return [
        " in ".join(type(each).__name__ for each in (control, *above(control)))
        for control in controls
        if control.focusPolicy() != Qt.FocusPolicy.NoFocus
        and not control.isHidden()
        and not control.objectName().startswith("qt_")
        and not said(control)
    ]


def above(widget: QWidget) -> Iterator[QWidget]:
    parent = widget.parentWidget()
    while parent is not None:
        yield parent
        parent = parent.parentWidget()


def said(widget: QWidget) -> str:
    """Give the name that a screen reader is given."""
    return QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name).strip()


def test_every_way_is_looked_at() -> None:
    assert WAYS.keys() == places._MAKERS.keys()


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
def test_every_control_of_a_screen_has_a_name_and_the_screen_a_title_and_keys(
    given: Given, show: Callable[[Place], Place], way: type[ways.Way]
) -> None:
    place = show(places.place_for(given, WAYS[way](fullest(given.catalog))))

    assert nameless(place) == []
    assert place.title.text
    assert place.keys
    assert all(key and what for key, what in place.keys)


@pytest.mark.parametrize(
    "make", [FirstStart, lambda: Trouble(happened="The disk is full.", remedy="Free some space.")]
)
def test_every_control_of_a_screen_without_a_catalog_has_a_name(
    show: Callable[[Place], Place], make: Callable[[], Place]
) -> None:
    assert nameless(show(make())) == []

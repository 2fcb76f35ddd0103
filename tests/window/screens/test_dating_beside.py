"""Beside the chart of dating: what is shown there keeps its size whatever the window's height."""

from collections.abc import Callable

from PySide6.QtWidgets import QApplication

from planebench.window import routes
from planebench.window.context import ScreenContext
from planebench.window.pieces.screen import Screen
from planebench.window.screen_table import screen_for
from planebench.window.screens.dating.dating_screen import DatingScreen

Show = Callable[[Screen], Screen]
Settled = Callable[[], None]


def test_the_photograph_is_as_high_with_a_scroll_bar_beside_it_as_without_one(
    given_sample: ScreenContext, show: Show, settled: Settled
) -> None:
    tool = given_sample.catalog.tools.by_stock_number("LOT7-003")
    assert tool is not None
    screen = show(screen_for(given_sample, routes.DatingRoute(tool=tool)))
    assert isinstance(screen, DatingScreen)
    settled()

    heights = set()
    for high in range(500, 1000, 4):
        screen.window().resize(1600, high)
        QApplication.processEvents()
        heights.add(screen.panel.photograph.view.height())

    assert len(heights) == 1

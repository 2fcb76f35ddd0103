"""Places that were left while work goes on in them, until one comes back or they are done with."""

from __future__ import annotations

from collections.abc import Callable

from planebench.window.pieces.screen import Screen
from planebench.window.routes import Route


class SuspendedScreens:
    """Holds screens that are left; `leave` takes one out of the window for good.

    Of those where the work has ended one stays, the last: who comes back sees how it ended.
    """

    def __init__(self, leave: Callable[[Screen], object]) -> None:
        self._leave = leave
        self._places: list[Screen] = []

    def keep(self, screen: Screen) -> None:
        """Keep a screen that is busy."""
        self._places.append(screen)
        self._thin_out()

    def serving(self, route: Route) -> Screen | None:
        """Return the screen that a route leads to, the latest first, and keep it no more."""
        for screen in reversed(self._places):
            if screen.serves(route):
                self._places.remove(screen)
                return screen
        return None

    def give_up(self) -> None:
        """Leave all of them, those that are busy once their work has ended."""
        for screen in self._places:
            if screen.busy:
                screen.went_idle.connect(lambda left=screen: self._leave(left))
            else:
                self._leave(screen)
        self._places.clear()

    def _thin_out(self) -> None:
        for screen in [kept for kept in self._places if not kept.busy][:-1]:
            self._places.remove(screen)
            self._leave(screen)

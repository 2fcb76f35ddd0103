"""Screens that were left while work runs in them, kept to come back to."""

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
        self._screens: list[Screen] = []

    def keep(self, screen: Screen) -> None:
        """Keep a screen that is busy."""
        self._screens.append(screen)
        self._thin_out()

    def serving(self, route: Route) -> Screen | None:
        """Return the kept screen that serves a route, the latest first, and forget it."""
        for screen in reversed(self._screens):
            if screen.serves(route):
                self._screens.remove(screen)
                return screen
        return None

    def give_up(self) -> None:
        """Remove all of them, those that are busy once their work has ended."""
        for screen in self._screens:
            if screen.busy:
                screen.went_idle.connect(lambda left=screen: self._leave(left))
            else:
                self._leave(screen)
        self._screens.clear()

    def _thin_out(self) -> None:
        for screen in [kept for kept in self._screens if not kept.busy][:-1]:
            self._screens.remove(screen)
            self._leave(screen)

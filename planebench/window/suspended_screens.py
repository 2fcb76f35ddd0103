"""Places that were left while work goes on in them, until one comes back or they are done with."""

from __future__ import annotations

from collections.abc import Callable

from planebench.window.pieces.screen import Screen
from planebench.window.routes import Route


class SuspendedScreens:
    """Holds places that are left; `leave` takes one out of the window for good.

    Of those where the work has ended one stays, the last: who comes back sees how it ended.
    """

    def __init__(self, leave: Callable[[Screen], object]) -> None:
        self._leave = leave
        self._places: list[Screen] = []

    def keep(self, place: Screen) -> None:
        """Keep a place that is busy."""
        self._places.append(place)
        self._thin_out()

    def answering(self, way: Route) -> Screen | None:
        """Return the place that a way leads to, the latest first, and keep it no more."""
        for place in reversed(self._places):
            if place.answers(way):
                self._places.remove(place)
                return place
        return None

    def give_up(self) -> None:
        """Leave all of them, those that are busy once their work has ended."""
        for place in self._places:
            if place.busy:
                place.rested.connect(lambda left=place: self._leave(left))
            else:
                self._leave(place)
        self._places.clear()

    def _thin_out(self) -> None:
        for place in [kept for kept in self._places if not kept.busy][:-1]:
            self._places.remove(place)
            self._leave(place)

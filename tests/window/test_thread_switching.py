"""Python's garbage is collected on the window's thread alone."""

from __future__ import annotations

import gc
import threading
import weakref

import pytest

from planebench.window.thread_switching import WindowThreadCollector


class Cycle:
    """Something that only a collection ends, and that tells the thread it ended on."""

    def __init__(self, ended_on: list[int]) -> None:
        self.itself = self
        weakref.finalize(self, lambda: ended_on.append(threading.get_ident()))


@pytest.fixture
def often(qapp):
    """A collector with everything over its threshold at once."""
    before = gc.get_threshold()
    gc.set_threshold(1, 1, 1)
    collector = WindowThreadCollector(qapp)
    yield collector
    gc.set_threshold(*before)
    collector.deleteLater()


def test_work_on_another_thread_never_ends_what_a_cycle_held(qtbot, often):
    ended_on: list[int] = []

    def work() -> None:
        for _ in range(5_000):
            Cycle(ended_on)

    worker = threading.Thread(target=work)
    worker.start()
    worker.join()
    qtbot.waitUntil(lambda: len(ended_on) == 5_000, timeout=10_000)

    assert set(ended_on) == {threading.get_ident()}

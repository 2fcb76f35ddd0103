"""What all tests share: no screen is needed, and no warning goes by unseen."""

from __future__ import annotations

import gc
import itertools
import logging
import os
import sys
from collections.abc import Iterator

import pytest

pytest_plugins = ["tests.catalog_fixtures"]
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
_GUI_FIXTURES = {"qtbot", "qapp", "theme"}
_ENDED = pytest.StashKey[int]()
# A full collection takes a tenth of a second; tests of the window leave little behind.
_COLLECT_ALL_EVERY = 40
_TESTS_RUN = itertools.count(1)


def pytest_configure(config: pytest.Config) -> None:
    # The offscreen platform says this of windows that are shown; it is not about the program.
    config.addinivalue_line("qt_log_ignore", "This plugin does not support")


def pytest_collection_finish() -> None:
    """Collect on the main thread alone, as the program does: Qt must not lose objects elsewhere."""
    gc.collect()
    gc.freeze()
    gc.disable()


def pytest_runtest_teardown() -> None:
    gc.disable()
    gc.collect(1 if next(_TESTS_RUN) % _COLLECT_ALL_EVERY else 2)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if _GUI_FIXTURES & set(getattr(item, "fixturenames", ())):
            item.add_marker(pytest.mark.gui)


@pytest.fixture(autouse=True)
def no_warning_is_logged(caplog: pytest.LogCaptureFixture) -> Iterator[None]:
    """Fail on each log message at warning or above; a test that expects one clears `caplog`."""
    yield
    loud = [
        f"{record.name}: {record.getMessage()}"
        for when in ("setup", "call")
        for record in caplog.get_records(when)
        if record.levelno >= logging.WARNING
    ]
    assert not loud, loud


def pytest_sessionfinish(session: pytest.Session, exitstatus: int) -> None:
    session.config.stash[_ENDED] = int(exitstatus)


@pytest.hookimpl(trylast=True)
def pytest_unconfigure(config: pytest.Config) -> None:
    """Leave at once when all is reported: Python's own end lets go of Qt's objects in any order."""
    ended = config.stash.get(_ENDED, None)
    if ended is not None:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(ended)

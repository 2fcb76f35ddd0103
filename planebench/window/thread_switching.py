"""Keeps the window's thread from waiting for other threads of this program."""

from __future__ import annotations

import gc
import sys

# As long as a thread may hold the interpreter while the window's waits for it; by itself Python
# gives it five times as much, and a few such waits in a row are felt.
_TURN_SECONDS = 0.001
# Collecting stops all threads. What is made in so many steps is looked through each time.
_COLLECT_AFTER = (20_000, 20, 50)


def keep_pace() -> None:
    """Let threads take short turns and collect seldom; called once all modules are loaded.

    What lives by now lives to the end, so the collector need not look through it again.
    """
    sys.setswitchinterval(_TURN_SECONDS)
    gc.collect()
    gc.freeze()
    gc.set_threshold(*_COLLECT_AFTER)

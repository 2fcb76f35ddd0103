"""What was changed, told to every screen."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal


class EditSignal(QObject):
    """One place where each edit is told.

    Signals: `happened(Changes)` with what the catalog says it touched; each screen decides
    alone whether to look again.
    """

    happened = Signal(object)

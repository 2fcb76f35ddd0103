"""What every screen is given."""

from __future__ import annotations

from dataclasses import dataclass

from planebench.catalog.catalog import Catalog
from planebench.window.edit_signal import EditSignal
from planebench.window.jobs import JobDesk
from planebench.window.notices import Notices


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenContext:
    """The open catalog, the desk for slow work, what was changed, and what is to be told."""

    catalog: Catalog
    jobs: JobDesk
    edits: EditSignal
    notices: Notices

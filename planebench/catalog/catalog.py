"""The catalog: one folder, opened once, handed down; its books hold the verbs."""

from __future__ import annotations

import datetime as dt
from functools import cached_property
from pathlib import Path

from sqlalchemy import select

from planebench.catalog import opening
from planebench.catalog.batches import BatchRepository
from planebench.catalog.bin import Bin
from planebench.catalog.changes import Changes
from planebench.catalog.dated_backups import back_up_if_due
from planebench.catalog.drafts import Drafts
from planebench.catalog.entries import (
    ComparableRepository,
    DefectRepository,
    DimensionRepository,
    EvidenceRepository,
    PartRepository,
    SurfaceRepository,
    WorkRepository,
)
from planebench.catalog.history import History
from planebench.catalog.issued_sheets import SheetRepository
from planebench.catalog.kinds import KindRepository
from planebench.catalog.originals import Originals
from planebench.catalog.own_tables import OwnTableRepository
from planebench.catalog.photographs import PairRepository, PhotographRepository, PinRepository
from planebench.catalog.picture_cache import PictureCache
from planebench.catalog.program_settings import picture_cache
from planebench.catalog.readings import OutlineRepository, ReadingRepository
from planebench.catalog.recovery import reconcile
from planebench.catalog.settings import SettingsRepository
from planebench.catalog.store import Clock, Store
from planebench.catalog.summary import summarize
from planebench.catalog.summary_update import fill_summaries
from planebench.catalog.tables import CatalogInfoRow
from planebench.catalog.tools import ToolRepository
from planebench.errors import CatalogError, PlanebenchError


class Catalog:
    """An open catalog. Attributes are its books, one a subject; `folder` is where it stands.

    Every verb that edits is one transaction and returns Changes (or Added with the new id).
    `backup_trouble` says why the dated copy of the database could not be written at opening.
    """

    backup_error: CatalogError | None = None

    def __init__(
        self, opened: opening.Opened, *, who: str, clock: Clock, cache: Path | None = None
    ) -> None:
        self.folder = opened.folder
        self._opened = opened
        store = self.store = Store(opened, who=who, clock=clock, summarize=summarize)
        self.originals = Originals(opened.folder / "photos")
        self.pictures = PictureCache(self.originals, cache or picture_cache())
        self.batches = BatchRepository(store)
        self.tools = ToolRepository(store)
        self.parts = PartRepository(store)
        self.surfaces = SurfaceRepository(store)
        self.readings = ReadingRepository(store)
        self.outlines = OutlineRepository(store)
        self.defects = DefectRepository(store)
        self.evidence = EvidenceRepository(store)
        self.dimensions = DimensionRepository(store)
        self.bench_log = WorkRepository(store)
        self.comparables = ComparableRepository(store)
        self.photographs = PhotographRepository(store)
        self.pins = PinRepository(store)
        self.pairs = PairRepository(store)
        self.sheets = SheetRepository(store)
        self.kinds = KindRepository(store)
        self.own_tables = OwnTableRepository(store)
        self.settings = SettingsRepository(store)
        self.history = History(store)
        self.bin = Bin(store)

    @cached_property
    def drafts(self) -> Drafts:
        """Entries that were begun but not added."""
        return Drafts(self.folder / "drafts.json")

    @classmethod
    def make(cls, folder: Path, *, who: str, clock: Clock, cache: Path | None = None) -> Catalog:
        """Make an empty catalog and open it; raise CatalogError when it cannot be."""
        opening.make(folder, name=folder.name, at=clock())
        return cls.open(folder, who=who, clock=clock, cache=cache)

    @classmethod
    def open(cls, folder: Path, *, who: str, clock: Clock, cache: Path | None = None) -> Catalog:
        """Open a catalog; raise CatalogError, CatalogNewerError or CatalogBusyError.

        `cache` holds small copies of photographs; by default this system's own place for such.
        """
        opened = opening.open_catalog(folder, at=clock())
        try:
            catalog = cls(opened, who=who, clock=clock, cache=cache)
            catalog._put_in_order()
        except PlanebenchError:
            opening.close(opened)
            raise
        return catalog

    def _put_in_order(self) -> None:
        """Do what is due at opening: forget dead runs, fill summaries, mend, back up."""
        if self._opened.lock.is_alone:
            self.store.runs.clear()
        fill_summaries(self.store)
        if not self._opened.closed_cleanly:
            reconcile(self.store, self.originals)
        try:
            back_up_if_due(self.store)
        except CatalogError as error:
            self.backup_error = error

    @property
    def name(self) -> str:
        """The catalog's name in words."""
        with self.store.read() as session:
            return session.scalars(select(CatalogInfoRow.name)).one()

    @property
    def now(self) -> dt.datetime:
        """The time by the clock that was handed in."""
        return self.store.clock()

    def changes_from_outside(self) -> Changes | None:
        """Return what other programs changed since this was last asked, None for nothing.

        For a window to ask every second and show anew what is among it. What was returned counts
        as seen; until then an edit of the same fields raises EditClashError.
        """
        return self.store.outside.take()

    def close(self) -> None:
        """Close it; the database is one file again."""
        opening.close(self._opened)

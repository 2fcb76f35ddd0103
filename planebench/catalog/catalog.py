"""The catalog: one folder, opened once, handed down; its books hold the verbs."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from sqlalchemy import select

from planebench.catalog import opening, sqlite
from planebench.catalog.batches import Batches
from planebench.catalog.bin import Bin
from planebench.catalog.dated_backups import keep_up
from planebench.catalog.entries import (
    BenchLog,
    Comparables,
    DefectBook,
    EvidenceBook,
    Measurements,
    PartBook,
    Surfaces,
)
from planebench.catalog.history import History
from planebench.catalog.issued import IssuedSheets
from planebench.catalog.kinds import Kinds
from planebench.catalog.originals import Originals
from planebench.catalog.own_tables import OwnTables
from planebench.catalog.photographs import Pairs, PhotographBook, Pins
from planebench.catalog.picture_cache import PictureCache
from planebench.catalog.preferences import picture_cache
from planebench.catalog.readings import Outlines, Readings
from planebench.catalog.repair import reconcile
from planebench.catalog.settings import Settings
from planebench.catalog.store import Clock, Store
from planebench.catalog.summary import summarize
from planebench.catalog.tables import CatalogInfoRow
from planebench.catalog.tools import Tools
from planebench.errors import CatalogError


class Catalog:
    """An open catalog. Attributes are its books, one a subject; `folder` is where it stands.

    Every verb that edits is one transaction and returns Changes (or Added with the new id).
    `backup_trouble` says why the dated copy of the database could not be written at opening.
    """

    backup_trouble: CatalogError | None = None

    def __init__(
        self, opened: opening.Opened, *, who: str, clock: Clock, cache: Path | None = None
    ) -> None:
        self.folder = opened.folder
        self._opened = opened
        store = self.store = Store(opened, who=who, clock=clock, summarize=summarize)
        self.vault = Originals(opened.folder / "photos")
        self.pictures = PictureCache(self.vault, cache or picture_cache())
        self.batches = Batches(store)
        self.tools = Tools(store)
        self.parts = PartBook(store)
        self.surfaces = Surfaces(store)
        self.readings = Readings(store)
        self.outlines = Outlines(store)
        self.defects = DefectBook(store)
        self.evidence = EvidenceBook(store)
        self.measurements = Measurements(store)
        self.bench_log = BenchLog(store)
        self.comparables = Comparables(store)
        self.photographs = PhotographBook(store)
        self.pins = Pins(store)
        self.pairs = Pairs(store)
        self.sheets = IssuedSheets(store)
        self.kinds = Kinds(store)
        self.own_tables = OwnTables(store)
        self.settings = Settings(store)
        self.history = History(store)
        self.bin = Bin(store)

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
        catalog = cls(opened, who=who, clock=clock, cache=cache)
        if not opened.closed_well:
            reconcile(catalog.store, catalog.vault)
        try:
            keep_up(catalog.store)
        except CatalogError as error:
            catalog.backup_trouble = error
        return catalog

    @property
    def name(self) -> str:
        """The catalog's name in words."""
        with self.store.read() as session:
            return session.scalars(select(CatalogInfoRow.name)).one()

    @property
    def now(self) -> dt.datetime:
        """The time by the clock that was handed in."""
        return self.store.clock()

    def outside_changes(self) -> int:
        """Return a number that changes when another program has written in this catalog."""
        return sqlite.outside_changes(self.store.engine)

    def close(self) -> None:
        """Close it; the database is one file again."""
        opening.close(self._opened)

"""What every screen is given."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from planebench.catalog.catalog import Catalog
from planebench.catalog.reference import Kind
from planebench.catalog.settings import CatalogSettings
from planebench.window.edit_signal import EditSignal
from planebench.window.jobs import JobDesk
from planebench.window.notices import Notices


@dataclass(frozen=True, slots=True, kw_only=True)
class CatalogBasics:
    """The kinds of plane by code and the settings, as they were read last on a job."""

    kinds: Mapping[str, Kind]
    settings: CatalogSettings


def read_basics(catalog: Catalog) -> CatalogBasics:
    """Return the kinds and settings of a catalog; reads the database, so call it on a job."""
    return CatalogBasics(kinds=catalog.kinds.all(), settings=catalog.settings.read())


def with_basics(catalog: Catalog) -> tuple[Catalog, CatalogBasics, str]:
    """Return a catalog just opened with its basics and its name; for a job as well."""
    return catalog, read_basics(catalog), catalog.name


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenContext:
    """The open catalog, the job desk, the signal of edits, and the messages to the person.

    `known` is what a screen needs before its first reading job; without it the catalog is asked
    at once, as where a screen is built alone.
    """

    catalog: Catalog
    jobs: JobDesk
    edits: EditSignal
    notices: Notices
    known: CatalogBasics | None = None

    @property
    def basics(self) -> CatalogBasics:
        """The kinds and settings, without asking the database on the window's thread."""
        return self.known or read_basics(self.catalog)

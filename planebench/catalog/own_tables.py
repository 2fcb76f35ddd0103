"""Tables that a user added: type studies and tables of known features, as they came."""

from __future__ import annotations

from dataclasses import dataclass, replace

from sqlalchemy import select

from planebench.catalog.changes import Changes
from planebench.catalog.dating_tables import dating_tables
from planebench.catalog.ids import OwnTableId, new_id
from planebench.catalog.own_features import parse_known_features
from planebench.catalog.repository import Added, Repository
from planebench.catalog.tables import OwnTableRow
from planebench.errors import InputError
from planebench.trade.evidence_parsing import EvidenceTables
from planebench.trade.type_study import TypeStudy, parse_type_study

TYPE_STUDY, KNOWN_FEATURES = "type_study", "known_features"


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnTable:
    """A table of the user's own; `text` is its CSV as it came."""

    id: OwnTableId
    purpose: str
    name: str
    source: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownStudy:
    """A type study of the catalog, under the id of its table."""

    id: OwnTableId
    study: TypeStudy


class OwnTableRepository(Repository):
    """Tables of the user's own, by purpose."""

    def list(self, purpose: str) -> tuple[OwnTable, ...]:
        """List the tables of one purpose, by name."""
        asked = select(OwnTableRow).where(
            OwnTableRow.purpose == purpose, OwnTableRow.binned_at.is_(None)
        )
        with self._store.read() as session:
            tables = [_table(row) for row in session.scalars(asked)]
        return tuple(sorted(tables, key=lambda table: table.name.casefold()))

    def add(self, purpose: str, text: str, *, name: str = "") -> Added[OwnTableId]:
        """Add a table from its CSV; one of the same name and purpose is replaced.

        Raises InputError naming the row and the column that cannot be used.
        """
        title, source = _READERS[purpose](text)
        title = name or title
        with self._store.edit(f"Table added: {title}") as edit:
            asked = select(OwnTableRow).where(
                OwnTableRow.purpose == purpose,
                OwnTableRow.name == title,
                OwnTableRow.binned_at.is_(None),
            )
            row = edit.session.scalars(asked).first()
            if row is None:
                row = OwnTableRow(id=new_id(), purpose=purpose, name=title, content={})
                edit.session.add(row)
            row.source = source
            row.content = {"text": text}
        return Added(id=OwnTableId(row.id), changes=edit.changes)

    def bin(self, table: OwnTableId) -> Changes:
        """Delete a table, into the bin; evidence entered from it stays."""
        return self._bin(OwnTableRow, table, "Table deleted")

    def type_studies(self) -> tuple[KnownStudy, ...]:
        """Return the type studies of the catalog, by title."""
        return tuple(
            KnownStudy(id=table.id, study=parse_type_study(table.text))
            for table in self.list(TYPE_STUDY)
        )

    def evidence_tables(self) -> EvidenceTables:
        """Return the tables for dating, the user's own known features among them.

        A user's row with the id of a built-in row replaces it.
        """
        tables, clues = dating_tables(), dict(dating_tables().clues)
        for table in self.list(KNOWN_FEATURES):
            clues |= parse_known_features(table.text)
        return replace(tables, clues=clues)


def _table(row: OwnTableRow) -> OwnTable:
    return OwnTable(
        id=OwnTableId(row.id),
        purpose=row.purpose,
        name=row.name,
        source=row.source,
        text=str(row.content.get("text", "")),
    )


def _of_study(text: str) -> tuple[str, str]:
    study = parse_type_study(text)
    if not study.title:
        raise InputError(
            "The type study has no title.", remedy="Add one after “# title:”.", subject="title"
        )
    return study.title, study.source


def _of_features(text: str) -> tuple[str, str]:
    features = parse_known_features(text)
    if not features:
        raise InputError(
            "The table has no rows.", remedy="Add one row per known feature.", subject="rows"
        )
    sources = dict.fromkeys(feature.source for feature in features.values())
    return "My own dates", next(iter(sources))


_READERS = {TYPE_STUDY: _of_study, KNOWN_FEATURES: _of_features}

"""Records what an import has read: one writer, small transactions, one run."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from planebench.catalog.changes import Changes
from planebench.catalog.ids import PhotographId, ToolId, new_id
from planebench.catalog.import_reader import ReadFile, doubts_of, moment_of, of_another
from planebench.catalog.import_types import Destination, FileFate, FileOutcome
from planebench.catalog.import_walk import printable
from planebench.catalog.originals import Originals
from planebench.catalog.store import Edit, Store
from planebench.catalog.tables import OriginalRow, PhotographRow, ToolRow
from planebench.errors import CatalogError, PlanebenchError

BY_HAND = "hand"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Here:
    """A photograph of the catalog that shows the picture already."""

    id: str
    tool: str | None
    stock: str
    rule: str
    why: str
    warnings: tuple[str, ...]


class Recorder:
    """Records files read by one import; `run` names its edits, `changes` gathers what they touched.

    `recorded` counts the photographs that are new.
    """

    def __init__(self, store: Store, originals: Originals, to: Destination) -> None:
        self.run = new_id()
        self.changes = Changes()
        self.recorded = 0
        self._store = store
        self._originals = originals
        self._to = to

    def record(self, files: Sequence[ReadFile]) -> tuple[FileOutcome, ...]:
        """Write files as one edit; what is here already stays as it is.

        When the disk refuses the edit nothing of it is kept, and each file's outcome says so.
        """
        try:
            with self._store.edit("photographs", run=self.run) as edit:
                outcomes = tuple(self._one(edit, file) for file in _with_what_is_here(edit, files))
                new = sum(outcome.became == FileFate.NEW for outcome in outcomes)
                edit.words = imported_words(self.recorded + new)
        except CatalogError as error:
            self._drop_unrecorded(files)
            return tuple(refused(printable(file.path), error) for file in files)
        self.recorded += new
        self.changes |= edit.changes
        return outcomes

    def _one(self, edit: Edit, both: tuple[ReadFile, _Here | None]) -> FileOutcome:
        file, here = both
        if here is None:
            return self._new(edit, file)
        return FileOutcome(
            file=printable(file.path),
            became=FileFate.ALREADY_IN_CATALOG,
            sha256=file.sha256,
            photograph=PhotographId(here.id),
            tool=None if here.tool is None else ToolId(here.tool),
            stock=here.stock,
            rule=here.rule,
            why=here.why,
            warnings=here.warnings,
        )

    def _new(self, edit: Edit, file: ReadFile) -> FileOutcome:
        stored = _stored(edit, self._originals, file)
        row = PhotographRow(
            id=new_id(),
            sha256=file.sha256,
            batch_id=self._to.batch,
            stage=self._to.stage,
            original_name=shown_name(file),
            taken_at=stored.taken_at,
            added_at=edit.at,
            scale=None if file.card is None else file.card.scale,
        )
        stock = self._file_by_hand(edit, row)
        edit.session.add(row)
        # The next photograph's place is counted from this one.
        edit.session.flush()
        return FileOutcome(
            file=printable(file.path),
            became=FileFate.NEW,
            sha256=file.sha256,
            photograph=PhotographId(row.id),
            tool=self._to.tool,
            stock=stock,
            rule=row.filed_by,
            why=row.filed_reason,
            warnings=doubts_of(row.scale) + (of_another(row.scale, stock) if stock else ()),
        )

    def _file_by_hand(self, edit: Edit, row: PhotographRow) -> str:
        """File a photograph under the tool that was named, if any; return its stock number."""
        if self._to.tool is None:
            row.filed_by = row.filed_reason = ""
            return ""
        tool = edit.session.get_one(ToolRow, self._to.tool)
        row.tool_id, row.batch_id = tool.id, tool.batch_id
        row.position = next_position(edit.session, tool.id)
        row.filed_by, row.filed_reason = BY_HAND, "added for this tool"
        return tool.stock_number

    def _drop_unrecorded(self, files: Iterable[ReadFile]) -> None:
        """Take files out of the originals that no record knows, so that nothing is left over."""
        fresh = {file.sha256: file.suffix for file in files if not file.already_in_catalog}
        with self._store.read() as session:
            asked = select(OriginalRow.sha256).where(OriginalRow.sha256.in_(fresh))
            for known in session.scalars(asked):
                del fresh[known]
        for sha256, suffix in fresh.items():
            self._originals.drop(sha256, suffix)


def known_hashes(store: Store) -> set[str]:
    """Return the hashes of all photographs outside the bin."""
    with store.read() as session:
        asked = select(PhotographRow.sha256).where(PhotographRow.binned_at.is_(None))
        return set(session.scalars(asked))


def refused(file: str, error: PlanebenchError) -> FileOutcome:
    """Return the outcome of a file that was not imported, with the reason."""
    return FileOutcome(
        file=file, became=FileFate.REFUSED, happened=error.happened, remedy=error.remedy
    )


def imported_words(count: int) -> str:
    """Return what an import is called in the history."""
    return f"{count} photograph{'' if count == 1 else 's'} added"


def next_position(session: Session, tool_id: str) -> int:
    """Return the place after the last photograph of a tool."""
    last = session.execute(
        select(func.max(PhotographRow.position)).where(PhotographRow.tool_id == tool_id)
    ).scalar()
    return 0 if last is None else last + 1


def shown_name(file: ReadFile) -> str:
    """Return the file's own name as text that can be stored."""
    return printable(file.path).replace("\\", "/").rsplit("/", 1)[-1]


def _with_what_is_here(
    edit: Edit, files: Sequence[ReadFile]
) -> Iterable[tuple[ReadFile, _Here | None]]:
    here = _here(edit.session, [file.sha256 for file in files])
    times = Counter(file.sha256 for file in files)
    for file in files:
        found = here.get(file.sha256)
        yield file, found
        if found is None and times[file.sha256] > 1:
            # The same picture stands twice in this very step.
            here |= _here(edit.session, [file.sha256])


def _here(session: Session, hashes: Sequence[str]) -> dict[str, _Here]:
    asked = (
        select(PhotographRow, ToolRow.stock_number)
        .outerjoin(ToolRow, ToolRow.id == PhotographRow.tool_id)
        .where(PhotographRow.sha256.in_(hashes), PhotographRow.binned_at.is_(None))
    )
    return {
        row.sha256: _Here(
            id=row.id,
            tool=row.tool_id,
            stock=stock or "",
            rule=row.filed_by,
            why=row.filed_reason,
            warnings=doubts_of(row.scale),
        )
        for row, stock in session.execute(asked)
    }


def _stored(edit: Edit, originals: Originals, file: ReadFile) -> OriginalRow:
    """Return the row of a file in the originals, made when it is new."""
    row = edit.session.get(OriginalRow, file.sha256)
    if row is None:
        if file.facts is None:
            raise ValueError(f"{file.sha256} was neither recorded nor read")
        row = OriginalRow(
            sha256=file.sha256,
            suffix=file.suffix,
            size=file.facts.size_bytes,
            format=file.facts.format,
            width=file.facts.width,
            height=file.facts.height,
            taken_at=moment_of(file.facts),
            camera=file.facts.exif.camera,
            stored_at=edit.at,
        )
        edit.session.add(row)
    elif file.suffix not in {"", row.suffix}:
        # The same bytes under another name of a camera's format.
        originals.drop(file.sha256, file.suffix)
    if row.perceptual_hash is None:
        row.perceptual_hash, row.sharpness = file.perceptual_hash, file.sharpness
    return row

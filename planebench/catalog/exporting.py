"""Copies of photographs for a buyer, each saying in itself what it shows; originals stay."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from contextlib import suppress
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from planebench.catalog.catalog import Catalog
from planebench.catalog.ids import PhotographId, ToolId
from planebench.catalog.reference import name_of
from planebench.catalog.settings import CatalogSettings
from planebench.catalog.values import Photograph, Tool
from planebench.errors import FileError
from planebench.photo.iptc_metadata import IptcMetadata, TaggedCopy, with_metadata
from planebench.trade.terms import STAGE_WORDS

_LONGEST_NAME = 80
_TOLD_IN_NAMES = "-_. "
Step = Callable[[int, int], object]


@dataclass(frozen=True, slots=True, kw_only=True)
class ExportedPhotograph:
    """One copy; `coded_anew` where the original's format cannot carry words for all programs."""

    stock: str
    photograph: PhotographId
    file: Path
    reencoded: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ExportFailure:
    """A photograph that could not be copied, and why."""

    stock: str
    name: str
    error: FileError


@dataclass(frozen=True, slots=True, kw_only=True)
class ExportResult:
    """What came of it, in order of tools and photographs."""

    folder: Path
    copies: tuple[ExportedPhotograph, ...]
    failed: tuple[ExportFailure, ...]


def export(
    catalog: Catalog, tools: Collection[ToolId], folder: Path, *, report: Step | None = None
) -> ExportResult:
    """Copy the photographs of tools into a folder, named "LOT7-003 top finished.jpg".

    `report` gets (done, total) and may raise to stop. A file that is there already is never
    written over. Raises FileError when the folder cannot be written; what is wrong with a single
    photograph stands in the result and the rest goes on.
    """
    _make(folder)
    settings = catalog.settings.read()
    asked = [(tool, one) for tool in map(catalog.tools.one, tools) for one in tool.photographs]
    copies: list[ExportedPhotograph] = []
    failed: list[ExportFailure] = []
    for done, (tool, photograph) in enumerate(asked, start=1):
        try:
            copies.append(_copy(catalog, tool, photograph, (folder, settings)))
        except FileError as error:
            failed.append(
                ExportFailure(stock=tool.stock_number, name=photograph.original_name, error=error)
            )
        if report is not None:
            report(done, len(asked))
    return ExportResult(folder=folder, copies=tuple(copies), failed=tuple(failed))


def label_of(tool: Tool, photograph: Photograph, settings: CatalogSettings) -> IptcMetadata:
    """Say what a photograph shows, and whose it is."""
    view = name_of("views", photograph.view) if photograph.view else ""
    seen = ", ".join(filter(None, (view.lower(), STAGE_WORDS[photograph.stage])))
    named = ", ".join(filter(None, (tool.line.title, _made_by(tool))))
    owner = settings.workshop or settings.person
    year = (photograph.taken_at or photograph.added_at).year
    alternative = f"{named}: {seen}."
    return IptcMetadata(
        job=tool.stock_number,
        title=f"{tool.stock_number} {_view_and_stage(photograph)}",
        description=photograph.caption or f"{tool.stock_number}. {alternative}",
        alt_text=f"{alternative} {photograph.caption}".strip(),
        rights=f"© {year} {owner}" if owner else "",
        creator=owner,
    )


def _made_by(tool: Tool) -> str:
    return " ".join(filter(None, (tool.maker, tool.model, tool.size)))


def _view_and_stage(photograph: Photograph) -> str:
    view = name_of("views", photograph.view).lower() if photograph.view else "photograph"
    return f"{view} {STAGE_WORDS[photograph.stage]}"


def _copy(
    catalog: Catalog, tool: Tool, photograph: Photograph, to: tuple[Path, CatalogSettings]
) -> ExportedPhotograph:
    folder, settings = to
    data = catalog.originals.read(photograph.sha256, photograph.suffix)
    label = label_of(tool, photograph, settings)
    copy = with_metadata(data, label, name=photograph.original_name)
    return ExportedPhotograph(
        stock=tool.stock_number,
        photograph=photograph.id,
        file=_written(folder, _file_name(label.title), copy),
        reencoded=copy.reencoded,
    )


def _written(folder: Path, name: str, copy: TaggedCopy) -> Path:
    """Write a copy under the first name that is free, or that holds the same bytes already."""
    for file in _names(folder, name, copy.suffix):
        try:
            with file.open("xb") as stream:
                stream.write(copy.data)
        except FileExistsError:
            if _is_same(file, copy.data):
                return file
            continue
        except OSError as error:
            with suppress(OSError):
                file.unlink(missing_ok=True)
            raise _refused(file, error) from error
        return file
    raise AssertionError("names do not end")


def _names(folder: Path, name: str, suffix: str) -> Iterator[Path]:
    yield folder / f"{name}{suffix}"
    for number in count(2):
        yield folder / f"{name} {number}{suffix}"


def _is_same(file: Path, data: bytes) -> bool:
    try:
        return file.stat().st_size == len(data) and file.read_bytes() == data
    except OSError:
        return False


def _file_name(title: str) -> str:
    """Return a title as every file system takes it."""
    kept = "".join(
        evidence if evidence.isalnum() or evidence in _TOLD_IN_NAMES else "-" for evidence in title
    )
    return kept[:_LONGEST_NAME].strip(". ") or "photograph"


def _make(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise _refused(folder, error) from error


def _refused(path: Path, error: OSError) -> FileError:
    return FileError(
        f"{path.name} could not be written: {error.strerror}.",
        remedy="Choose another folder, or free some space on its disk.",
        subject=str(path),
    )

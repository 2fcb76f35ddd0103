"""Builds a folder beside its place and puts it there once it is whole and on the disk."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from planebench.catalog.files import (
    FOLDER_MODE,
    flush_folder,
    is_left_over,
    make_folder,
    part_of,
)
from planebench.errors import CatalogError


@contextmanager
def built_beside(target: Path) -> Iterator[Path]:
    """Yield a new folder to fill; when the block ends it is flushed and becomes `target`.

    `target` is not there yet, or is an empty folder. When the block raises, or the program dies,
    nothing stands under its name. What programs that died left beside it is removed. Raises
    CatalogError for a place that is taken, OSError when the disk cannot be written.
    """
    refuse_occupied(target)
    make_folder(target.parent)
    sweep(target.parent, of=target.name)
    part = part_of(target)
    part.mkdir(mode=FOLDER_MODE)
    try:
        yield part
        _flush_folders(part)
        with suppress(FileNotFoundError):
            target.rmdir()
        part.rename(target)
        flush_folder(target.parent)
    finally:
        shutil.rmtree(part, ignore_errors=True)


def refuse_occupied(folder: Path) -> None:
    """Raise CatalogError unless a folder is empty or not there."""
    if folder.is_symlink() or (folder.exists() and not _is_empty_folder(folder)):
        raise CatalogError(
            f"{folder.name} already exists and is not an empty folder.",
            remedy="Choose another name. Nothing was changed.",
            subject=str(folder),
        )


def sweep(folder: Path, *, of: str = "") -> None:
    """Remove half-written files and folders of programs that died, whose names begin with `of`."""
    with suppress(OSError):
        for path in folder.iterdir():
            if not path.name.startswith(of) or not is_left_over(path):
                continue
            if path.is_dir() and not path.is_symlink():
                shutil.rmtree(path, ignore_errors=True)
            else:
                with suppress(OSError):
                    path.unlink()


def _is_empty_folder(folder: Path) -> bool:
    return folder.is_dir() and not any(folder.iterdir())


def _flush_folders(top: Path) -> None:
    for folder, _, _ in os.walk(top):
        flush_folder(Path(folder))

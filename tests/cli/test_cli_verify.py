"""planebench verify: tells by file or fingerprint whether a sheet is as issued."""

from __future__ import annotations

import datetime as dt
from argparse import ArgumentParser, Namespace
from pathlib import Path

import pytest

from planebench.catalog.catalog import Catalog
from planebench.catalog.reference import resources_folder
from planebench.catalog.tools import NewTool
from planebench.cli.verify import COMMAND
from planebench.errors import FileError, InputError
from planebench.sheet.issuing import issue
from planebench.sheet.pdf import SheetPress

AT = dt.datetime(2026, 5, 12, 10, 0, tzinfo=dt.UTC)


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """Return a catalog's folder and the file of the sheet that it issued."""
    folder = tmp_path_factory.mktemp("shop") / "shop"
    catalog = Catalog.make(folder, who="R. Fenn", clock=lambda: AT)
    catalog.batches.add(code="LOT7", title="Clearance")
    batch = catalog.batches.by_code("LOT7")
    assert batch is not None
    tool = catalog.tools.add(batch.id, NewTool(kind="block")).id
    press = SheetPress(resources_folder(), system_fonts=False)
    issue(catalog, press, tool, accept_missing=True)
    path = catalog.sheets.path(catalog.sheets.of_tool(tool)[0])
    catalog.close()
    return folder, path


def asked(*words: str) -> Namespace:
    parser = ArgumentParser()
    COMMAND.arguments(parser)
    return parser.parse_args(words)


def test_a_file_as_issued_ends_with_0_and_says_so(issued: tuple[Path, Path]) -> None:
    folder, path = issued
    answer = COMMAND.run(asked(str(path), "--catalog", str(folder)))

    assert answer.exit_code == 0
    assert answer.lines[0].startswith(
        "Sheet 0001 of LOT7-001, issued May 12, 2026: This is the sheet as it was issued."
    )


def test_a_file_with_one_byte_more_ends_with_1(issued: tuple[Path, Path], tmp_path: Path) -> None:
    folder, path = issued
    other = tmp_path / "other.pdf"
    other.write_bytes(path.read_bytes() + b"\n")
    answer = COMMAND.run(asked(str(other), "--catalog", str(folder)))

    assert answer.exit_code == 1
    assert answer.data["sheets"][0]["verdict"] == "other_file"  # type: ignore[index]  # JSON


def test_a_fingerprint_needs_the_catalog_that_issued_it(issued: tuple[Path, Path]) -> None:
    folder, _ = issued

    with pytest.raises(InputError):
        COMMAND.run(asked("0" * 64))
    assert COMMAND.run(asked("0" * 64, "--catalog", str(folder))).exit_code == 1


def test_a_file_that_is_not_there_is_named() -> None:
    with pytest.raises(FileError):
        COMMAND.run(asked("gone.pdf"))

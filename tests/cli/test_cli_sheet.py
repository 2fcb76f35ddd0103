"""planebench sheet: files come out, and the exit code tells whether all did."""

from __future__ import annotations

import io
import json
from argparse import ArgumentParser, Namespace
from pathlib import Path

import pytest
from pypdf import PdfReader

from planebench.catalog.catalog import Catalog
from planebench.catalog.tools import NewTool
from planebench.cli.sheet import COMMAND
from planebench.errors import InputError
from planebench.trade.terms import Stage
from tests.sheet.conftest import AT, take_in
from tests.sheet.examples import FINISHED


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A closed catalog of two tools: one bare, one with a photograph."""
    folder = tmp_path / "shop"
    catalog = Catalog.make(folder, who="R. Fenn", clock=lambda: AT)
    batch = catalog.batches.add(code="LOT7").id
    for number in ("LOT7-001", "LOT7-002"):
        catalog.tools.add(batch, NewTool(kind="block", stock_number=number))
    second = catalog.tools.by_stock_number("LOT7-002")
    assert second is not None
    take_in(catalog, FINISHED, second, Stage.FINISHED)
    catalog.close()
    return folder


def _asked(*words: str) -> Namespace:
    parser = ArgumentParser()
    COMMAND.arguments(parser)
    return parser.parse_args(words)


def _words(file: Path) -> str:
    reader = PdfReader(io.BytesIO(file.read_bytes()))
    return " ".join(page.extract_text() for page in reader.pages)


def test_without_a_stock_number_every_tool_gets_its_file(shop: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    answer = COMMAND.run(_asked(str(shop), "--out", str(out)))

    assert answer.exit_code == 0
    assert sorted(file.name for file in out.iterdir()) == ["LOT7-001.pdf", "LOT7-002.pdf"]
    assert "not issued, no number LOT7-001" in _words(out / "LOT7-001.pdf")
    assert "not issued, no number LOT7-002" in _words(out / "LOT7-002.pdf")
    json.dumps(answer.data)


def test_one_tool_on_a4_with_its_web_page(shop: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    COMMAND.run(_asked(str(shop), "LOT7-002", "--out", str(out), "--paper", "a4", "--web"))
    page = PdfReader(io.BytesIO((out / "LOT7-002.pdf").read_bytes())).pages[0]

    assert float(page.mediabox.width) == pytest.approx(595.28, abs=0.02)
    assert (out / "LOT7-002.html").read_text("utf-8").startswith("<!DOCTYPE html>")
    assert not (out / "LOT7-001.pdf").exists()


def test_a_batch_can_be_one_file_as_well(shop: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    answer = COMMAND.run(_asked(str(shop), "--out", str(out), "--together"))

    assert answer.data["together"] == str(out / "condition-sheets.pdf")
    assert "LOT7-001" in _words(out / "condition-sheets.pdf")
    assert "LOT7-002" in _words(out / "condition-sheets.pdf")


def test_issuing_keeps_the_sheet_in_the_catalog(shop: Path, tmp_path: Path) -> None:
    answer = COMMAND.run(
        _asked(str(shop), "LOT7-001", "--out", str(tmp_path), "--issue", "--accept-missing")
    )
    catalog = Catalog.open(shop, who="R. Fenn", clock=lambda: AT)
    tool = catalog.tools.by_stock_number("LOT7-001")
    assert tool is not None
    kept = catalog.sheets.of_tool(tool)
    catalog.close()

    assert [sheet.number for sheet in kept] == [1]
    assert answer.data["sheets"] == [
        {
            "stock": "LOT7-001",
            "number": "0001",
            "issued": True,
            "fingerprint": kept[0].fingerprint,
            "files": [str(tmp_path / "LOT7-001.pdf")],
        }
    ]


def test_a_tool_whose_photograph_is_gone_is_told_and_the_others_are_made(
    shop: Path, tmp_path: Path
) -> None:
    for file in (shop / "photos").rglob("*.jpg"):
        file.unlink()
    out = tmp_path / "out"
    answer = COMMAND.run(_asked(str(shop), "--out", str(out)))

    assert answer.exit_code == 1
    assert (out / "LOT7-001.pdf").exists()
    assert not (out / "LOT7-002.pdf").exists()
    assert any(line.startswith("LOT7-002: not made.") for line in answer.lines)


def test_a_stock_number_that_is_not_there_is_named(shop: Path, tmp_path: Path) -> None:
    with pytest.raises(InputError) as refused:
        COMMAND.run(_asked(str(shop), "LOT7-999", "--out", str(tmp_path)))

    assert refused.value.subject == "LOT7-999"


def test_a_copy_that_cannot_be_saved_does_not_unmake_the_issued_sheet(
    shop: Path, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    (out / "LOT7-001.pdf").mkdir(parents=True)
    answer = COMMAND.run(
        _asked(str(shop), "LOT7-001", "--out", str(out), "--issue", "--accept-missing")
    )

    assert answer.exit_code == 1
    assert answer.lines[0].startswith("LOT7-001: sheet 0001 is issued, but not all was saved.")
    assert answer.data["sheets"][0]["issued"]  # type: ignore[index]  # a list in JSON


def test_a_sheet_with_something_missing_is_not_issued_unasked(shop: Path, tmp_path: Path) -> None:
    answer = COMMAND.run(_asked(str(shop), "LOT7-001", "--out", str(tmp_path), "--issue"))

    assert answer.exit_code == 1
    assert "cannot be issued yet. Missing: photographs." in answer.lines[0]

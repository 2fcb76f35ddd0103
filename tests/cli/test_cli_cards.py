"""planebench cards writes a PDF for the tools asked for, and names what it does not know."""

from __future__ import annotations

import io
import json
from argparse import ArgumentParser, Namespace
from pathlib import Path

import pytest
from pypdf import PdfReader

from planebench.catalog.catalog import Catalog
from planebench.catalog.tools import NewTool
from planebench.cli.cards import COMMAND
from planebench.errors import FileError, InputError
from tests.sheet.conftest import AT


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A closed catalog of two batches with two tools and one."""
    folder = tmp_path / "shop"
    catalog = Catalog.make(folder, who="R. Fenn", clock=lambda: AT)
    for code, numbers in (("LOT7", ("LOT7-001", "LOT7-002")), ("LOT8", ("LOT8-001",))):
        batch = catalog.batches.add(code=code).id
        for number in numbers:
            catalog.tools.add(batch, NewTool(kind="block", stock_number=number))
    catalog.close()
    return folder


def asked(*words: str) -> Namespace:
    parser = ArgumentParser()
    COMMAND.arguments(parser)
    return parser.parse_args(words)


def pages(file: Path) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(file.read_bytes())).pages]


def test_without_stock_numbers_every_tool_gets_a_card(shop: Path, tmp_path: Path) -> None:
    out = tmp_path / "print" / "cards.pdf"
    answer = COMMAND.run(asked(str(shop), "--out", str(out)))
    (page,) = pages(out)

    assert answer.data["stock"] == ["LOT7-001", "LOT7-002", "LOT8-001"]
    assert all(number in page for number in ("LOT7-001", "LOT7-002", "LOT8-001"))
    json.dumps(answer.data)


def test_a_batch_or_single_tools_may_be_chosen_with_tags(shop: Path, tmp_path: Path) -> None:
    out = tmp_path / "cards.pdf"
    batch = COMMAND.run(asked(str(shop), "--batch", "LOT8", "--out", str(out)))
    single = COMMAND.run(asked(str(shop), "lot7-002", "--tags", "--paper", "a4", "--out", str(out)))

    assert batch.data["stock"] == ["LOT8-001"]
    assert single.data["stock"] == ["LOT7-002"]
    assert pages(out)[1].count("LOT7-002") == 4


def test_the_measured_line_corrects_the_print(shop: Path, tmp_path: Path) -> None:
    out = tmp_path / "cards.pdf"
    answer = COMMAND.run(asked(str(shop), "--line", "98.8", "--out", str(out)))

    assert answer.data["correction"] == pytest.approx(100 / 98.8)
    assert "lengths × 1.0121" in pages(out)[0]


@pytest.mark.parametrize("words", [["LOT9-001"], ["--batch", "LOT9"], ["--line", "80"]])
def test_what_is_not_known_or_cannot_be_meant_is_named(
    shop: Path, tmp_path: Path, words: list[str]
) -> None:
    with pytest.raises(InputError) as told:
        COMMAND.run(asked(str(shop), *words, "--out", str(tmp_path / "cards.pdf")))

    assert told.value.remedy
    assert not (tmp_path / "cards.pdf").exists()


def test_a_place_that_cannot_be_written_is_named(shop: Path, tmp_path: Path) -> None:
    with pytest.raises(FileError, match="could not be written"):
        COMMAND.run(asked(str(shop), "--out", str(tmp_path)))

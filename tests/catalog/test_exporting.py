"""Copies for a buyer: named, labeled, never the original, never over another file."""

from __future__ import annotations

from pathlib import Path

import pytest

from planebench.catalog.exporting import export
from planebench.catalog.import_types import Destination
from planebench.catalog.photo_import import import_photographs
from planebench.cli.app import run
from planebench.trade.terms import Stage
from tests.catalog.shots import shot


@pytest.fixture
def pictured(empty_catalog, tool_id, tmp_path):
    """A tool with two photographs of its top and one of no named view."""
    catalog = empty_catalog
    paths = [shot(tmp_path / "camera" / f"{n}.jpg", seed=n) for n in range(3)]
    import_photographs(catalog, paths, to=Destination(tool=tool_id, stage=Stage.FINISHED))
    first, second, _ = (one.id for one in catalog.tools.one(tool_id).photographs)
    catalog.photographs.change([first, second], view="top")
    return tool_id


def test_copies_are_named_by_stock_number_view_and_stage(empty_catalog, pictured, tmp_path):
    out = tmp_path / "for the buyer"
    copies = export(empty_catalog, [pictured], out).copies

    assert [copy.file.name for copy in copies] == [
        "LOT7-001 top finished.jpg",
        "LOT7-001 top finished 2.jpg",
        "LOT7-001 photograph finished.jpg",
    ]
    assert sorted(out.iterdir()) == sorted(copy.file for copy in copies)


def test_copying_twice_leaves_one_of_each_and_another_file_is_not_written_over(
    empty_catalog, pictured, tmp_path
):
    (tmp_path / "LOT7-001 photograph finished.jpg").write_text("mine")
    once = export(empty_catalog, [pictured], tmp_path)
    again = export(empty_catalog, [pictured], tmp_path)

    assert [copy.file for copy in once.copies] == [copy.file for copy in again.copies]
    assert (tmp_path / "LOT7-001 photograph finished.jpg").read_text() == "mine"


def test_originals_stay_as_they_are(empty_catalog, pictured, tmp_path):
    before = {path: path.read_bytes() for path in empty_catalog.originals.files()}

    export(empty_catalog, [pictured], tmp_path / "out")

    assert {path: path.read_bytes() for path in empty_catalog.originals.files()} == before


def test_an_original_that_is_gone_is_told_and_the_rest_is_copied(empty_catalog, pictured, tmp_path):
    next(empty_catalog.originals.files()).unlink()

    exported = export(empty_catalog, [pictured], tmp_path / "out")

    assert len(exported.copies) == 2
    (gone,) = exported.failed
    assert "missing from the catalog" in gone.error.happened


def test_the_command_copies_and_says_where(empty_catalog, pictured, tmp_path, capsys):
    empty_catalog.close()
    ended = run(["export", str(empty_catalog.folder), "lot7-001", "--out", str(tmp_path / "out")])

    assert ended == 0
    assert "LOT7-001 top finished 2.jpg" in capsys.readouterr().out
    assert len(list(Path(tmp_path / "out").iterdir())) == 3

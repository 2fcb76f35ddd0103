"""A word mistyped on the command line is told, and changes nothing."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from planebench.__main__ import is_folder_name
from planebench.catalog.catalog import Catalog
from planebench.cli.app import run
from planebench.cli.open_catalog import now


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """Return the folder of a new catalog without a purchase."""
    folder = tmp_path / "shop"
    assert run(["new", str(folder)]) == 0
    return folder


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    path = tmp_path / "one.png"
    Image.new("RGB", (64, 48), "tan").save(path)
    return path


def codes(shop: Path) -> list[str]:
    catalog = Catalog.open(shop, who="R. Fenn", clock=now)
    try:
        return [line.batch.code for line in catalog.batches.lines()]
    finally:
        catalog.close()


@pytest.mark.parametrize(
    "words", [["frobnicate"], ["shet", "shop"], ["shet", "shop", "--out", "x"]]
)
def test_an_unknown_command_says_so_and_ends(tmp_path: Path, words: list[str]) -> None:
    told = subprocess.run(
        [sys.executable, "-m", "planebench", *words],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
        cwd=tmp_path,
        env={"PYTHONPATH": str(Path(__file__).parents[2]), "PATH": ""},
    )

    assert (told.returncode, told.stdout) == (2, "")
    assert told.stderr.startswith("usage: planebench")
    assert "is not a command or a catalog’s folder" in told.stderr
    assert ("Did you mean sheet?" in told.stderr) == (words[0] == "shet")


def test_a_folder_given_alone_is_a_place_to_open(tmp_path: Path) -> None:
    there = {
        word: is_folder_name(word) for word in (str(tmp_path), "./not there", "~/bench", "shet")
    }

    assert there == {str(tmp_path): True, "./not there": True, "~/bench": True, "shet": False}


def test_the_first_batch_of_a_catalog_is_written_down_by_the_intake(
    shop: Path, picture: Path
) -> None:
    assert run(["add-photos", str(shop), str(picture), "--batch", "LOT7"]) == 0
    assert codes(shop) == ["LOT7"]


def test_a_mistyped_batch_is_refused_with_the_batches_that_there_are(
    shop: Path, picture: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(["add-photos", str(shop), str(picture), "--batch", "LOT7"])
    capsys.readouterr()

    assert run(["add-photos", str(shop), str(picture), "--batch", "LOTT7"]) == 2
    error = capsys.readouterr().err
    assert "There is no batch LOTT7 in this catalog; it has LOT7." in error
    assert "--add-batch" in error
    assert codes(shop) == ["LOT7"]


def test_a_new_batch_is_written_down_where_that_is_asked_for(shop: Path, picture: Path) -> None:
    run(["add-photos", str(shop), str(picture), "--batch", "LOT7"])

    assert run(["add-photos", str(shop), str(picture), "--batch", "LOT8", "--add-batch"]) == 0
    assert sorted(codes(shop)) == ["LOT7", "LOT8"]


def test_a_folder_without_photographs_is_told(
    shop: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    capsys.readouterr()

    assert run(["add-photos", str(shop), str(empty)]) == 0
    assert f"No photographs in {empty}." in capsys.readouterr().out


def test_each_line_of_an_intake_says_what_became_of_the_file(
    shop: Path, picture: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    run(["add-photos", str(shop), str(picture)])
    first, *_, after = capsys.readouterr().out.splitlines()[:2]

    run(["add-photos", str(shop), str(picture)])
    again = capsys.readouterr().out.splitlines()[0]

    assert first == f"{picture}: not filed yet"
    assert after == (
        "1 not filed under a tool yet. File them in the window, or with --follow-cards."
    )
    assert again == f"{picture}: not filed yet, was already here"


def test_a_refusal_names_the_whole_path(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "not one"
    folder.mkdir()

    assert run(["check", str(folder)]) == 1
    assert f"{folder} is not a catalog" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("command", "form"),
    [("coverage", '{"polygons":'), ("date", '{"parts":')],
)
def test_the_help_of_a_command_shows_the_form_of_its_file(
    capsys: pytest.CaptureFixture[str], command: str, form: str
) -> None:
    with pytest.raises(SystemExit):
        run([command, "--help"])

    assert form in capsys.readouterr().out


def test_a_command_goes_on_working_under_its_former_name(
    shop: Path, picture: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["intake", str(shop), str(picture), "--batch", "LOT7", "--make-batch"]) == 0
    assert "1 added" in capsys.readouterr().out

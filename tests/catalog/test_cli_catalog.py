"""The commands that make, fill, check, back up and restore a catalog, as a person types them."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from planebench.cli.app import run
from tests.catalog.shots import rested, shot

RUN = "import sys; from planebench.cli.app import run; sys.exit(run(sys.argv[1:]))"


@pytest.fixture(autouse=True)
def own_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep this account's choices and copies of pictures out of the test, and the other way."""
    for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME", "LOCALAPPDATA", "APPDATA", "HOME"):
        monkeypatch.setenv(name, str(tmp_path / "own"))


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    assert run(["new", str(tmp_path / "shop")]) == 0
    return tmp_path / "shop"


@pytest.fixture
def card(tmp_path: Path) -> Path:
    for number in range(3):
        shot(tmp_path / "card" / f"PL-{number}.jpg", seed=number)
    return tmp_path / "card"


def answer(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, dict, str]:
    capsys.readouterr()
    code = run([*map(str, words), "--json"])
    told = capsys.readouterr()
    return code, json.loads(told.out or "{}"), told.err


def test_new_does_not_settle_where_something_is(
    shop: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, data, error = answer(capsys, "new", shop)

    assert (code, data) == (1, {})
    assert "already exists" in error


def test_import_tells_of_each_file(
    shop: Path, card: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, data, _ = answer(
        capsys, "intake", shop, card, "--batch", "LOT7", "--stock", "LOT7-001",
        "--make-tools", "block", "--stage", "finished",
    )  # fmt: skip

    assert code == 0
    assert (data["new"], data["already_in_catalog"], data["refused"]) == (3, 0, 0)
    told = [(Path(file["file"]).name, file["tool"], file["rule"]) for file in data["files"]]
    assert told == [(f"PL-{number}.jpg", "LOT7-001", "hand") for number in range(3)]
    assert all(len(file["sha256"]) == 64 and file["refused"] is None for file in data["files"])


def test_a_refused_file_is_no_success_but_the_rest_is_in(
    shop: Path, card: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (card / "notes.jpg").write_text("two knobs", "utf-8")
    rested(card / "notes.jpg")
    code, data, error = answer(capsys, "intake", shop, card)

    assert code == 1
    assert (data["new"], data["refused"]) == (3, 1)
    (refused,) = (file["refused"] for file in data["files"] if file["refused"])
    assert refused == "This is a text file, not a photograph. Leave it out, or rename it."
    assert "notes.jpg: This is a text" in error
    assert answer(capsys, "check", shop)[1]["sound"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--stock", "LOT9-001"], "There is no tool LOT9-001"),
        (["--minutes", "-1"], "cannot be filed by a card"),
        (["--make-tools", "block"], "New tools need a batch"),
        (["--stock", "LOT7-001", "--follow-cards"], "cannot go together"),
    ],
)
def test_words_that_cannot_be_meant_are_told(
    shop: Path, card: Path, capsys: pytest.CaptureFixture[str], words: list[str], told: str
) -> None:
    code, data, error = answer(capsys, "intake", shop, card, *words)

    assert (code, data) == (2, {})
    assert told in error


def test_check_fails_on_a_changed_original(
    shop: Path, card: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(["intake", str(shop), str(card)])
    next((shop / "photos").rglob("*.jpg")).write_bytes(b"x")
    code, data, error = answer(capsys, "check", shop)

    assert (code, data["sound"], len(data["findings"])) == (1, False, 1)
    assert "was changed after it was added" in error


def test_a_backup_is_restored_sound(
    shop: Path, card: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(["intake", str(shop), str(card)])
    made = answer(capsys, "backup", shop, "--to", tmp_path / "usb")[1]
    code, _, _ = answer(capsys, "restore", made["backup"], tmp_path / "again")
    again = answer(capsys, "restore", made["backup"], tmp_path / "again")
    sound = answer(capsys, "check", tmp_path / "again")[1]

    assert code == 0
    assert again[0] == 1
    assert sound == {"sound": True, "photographs": 3, "findings": []}


@pytest.mark.skipif(os.name != "posix", reason="another system sends no such signal")
def test_a_watched_folder_is_taken_in_as_photographs_come(shop: Path, card: Path) -> None:
    command = [sys.executable, "-c", RUN, "intake", str(shop), str(card), "--watch", "--json"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        first = [json.loads(process.stdout.readline()) for _ in range(3)]
        shot(card / "PL-3.jpg", seed=3)
        later = json.loads(process.stdout.readline())
        process.send_signal(signal.SIGINT)
        last = json.loads(process.stdout.read())

    assert [file["became"] for file in first] == ["new"] * 3
    assert Path(later["file"]).name == "PL-3.jpg"
    assert last == {"new": 4, "already_in_catalog": 0, "refused": 0}
    assert process.returncode == 0


@pytest.mark.skipif(os.name != "posix", reason="another system sends no such signal")
def test_a_watched_folder_that_is_not_there_is_waited_for(shop: Path, tmp_path: Path) -> None:
    folder = tmp_path / "not yet"
    command = [sys.executable, "-c", RUN, "intake", str(shop), str(folder), "--watch"]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdout=pipe, stderr=pipe, text=True) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        began = process.stderr.readline()
        waiting = process.stderr.readline()
        shot(folder / "1.jpg", seed=1)
        back = process.stderr.readline()
        came = process.stdout.readline()
        process.send_signal(signal.SIGINT)
        process.communicate()

    assert began == f"Watching {folder}. Press Ctrl+C to stop.\n"
    assert waiting == f"{folder}: There is no such file or folder. Waiting for it to come back.\n"
    assert back == f"{folder} is back.\n"
    assert came == f"{folder / '1.jpg'}: not filed yet\n"
    assert process.returncode == 0


@pytest.mark.skipif(os.name != "posix", reason="another system sends no such signal")
def test_an_interrupted_intake_keeps_what_is_in(shop: Path, tmp_path: Path) -> None:
    for number in range(60):
        shot(tmp_path / "many" / f"{number}.jpg", seed=number, size=(2400, 1600))
    command = [sys.executable, "-c", RUN, "intake", str(shop), str(tmp_path / "many"), "--json"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        photos = shop / "photos"
        while not any(photos.iterdir()):
            time.sleep(0.01)
        process.send_signal(signal.SIGINT)
        out, _ = process.communicate()

    told = json.loads(out)
    assert process.returncode == 1
    assert told["stopped"]
    assert 0 < told["new"] < 60
    assert run(["check", str(shop)]) == 0

"""The demo command, run as a person would run it."""

import json
from pathlib import Path

import pytest

from planebench.catalog.sample import SAMPLE_NAME
from planebench.cli import demo
from planebench.cli.app import run


@pytest.fixture(autouse=True)
def own_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the places of this machine's user out of the tests."""
    for name in ("HOME", "XDG_CACHE_HOME", "XDG_CONFIG_HOME", "XDG_DOCUMENTS_DIR"):
        monkeypatch.setenv(name, str(tmp_path / name.lower()))


def test_it_builds_the_sample_where_asked_and_says_where(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "My sample"

    code = run(["demo", "--into", str(folder), "--json"])

    assert code == 0
    told = json.loads(capsys.readouterr().out)
    assert told == {"catalog": str(folder), "made": True, "tools": 10}
    assert (folder / "catalog.db").is_file()


def test_it_refuses_a_folder_that_holds_something(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "letter.txt").write_text("Dear sister", encoding="utf-8")

    code = run(["demo", "--into", str(tmp_path)])

    assert code == 1
    assert "not an empty folder" in capsys.readouterr().err


def test_the_usual_sample_is_made_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    made = tmp_path / SAMPLE_NAME
    made.mkdir()
    (made / "catalog.db").write_bytes(b"")
    monkeypatch.setattr(demo, "usual_place", lambda: tmp_path)

    code = run(["demo", "--json"])

    assert code == 0
    assert json.loads(capsys.readouterr().out) == {"catalog": str(made), "made": False}

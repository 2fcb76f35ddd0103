"""planebench scale says what a photograph's card says, and that there is none."""

from __future__ import annotations

import json
from pathlib import Path

import cv2
import pytest

from planebench.cli.app import run
from tests.photo.card_scene import View, drawn_card, photograph


def kept(tmp_path: Path, *, card: bool) -> str:
    cards = [(drawn_card(), View().mm_to_px())] if card else []
    path = tmp_path / "PL-0001.png"
    cv2.imwrite(str(path), photograph(*cards)[:, :, ::-1])
    return str(path)


def test_a_card_is_told_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code = run(["scale", kept(tmp_path, card=True), "--json"])
    told = json.loads(capsys.readouterr().out)

    assert code == 0
    assert told["card"] is True
    assert told["stock"] == "LOT7-003"
    assert told["markers"] == 4
    assert [len(row) for row in told["matrix_px_to_mm"]] == [3, 3, 3]
    assert {"mm_per_px", "residual_mm", "tilt_deg", "white_balance", "warnings"} <= set(told)


def test_no_card_is_an_answer_and_not_a_failure(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code = run(["scale", kept(tmp_path, card=False), "--json"])

    assert code == 0
    assert json.loads(capsys.readouterr().out) == {"card": False}


def test_a_photograph_that_cannot_be_read_fails_with_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "notes.jpg"
    path.write_text("Sole flat to 0.05 mm.")
    code = run(["scale", str(path)])

    assert code == 1
    assert "This is a text file, not a photograph." in capsys.readouterr().err


def test_another_tools_card_is_told_in_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(["scale", kept(tmp_path, card=True), "--stock", "LOT7-009"])

    assert "The card belongs to another tool: LOT7-003, not LOT7-009." in capsys.readouterr().out

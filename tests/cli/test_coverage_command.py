"""planebench coverage answers with a share in its interval, a map and ratings, or says why not."""

from __future__ import annotations

import json
from argparse import ArgumentParser
from pathlib import Path

import cv2
import numpy as np
import pytest
from PIL import Image

from planebench.cli.command import CommandAnswer
from planebench.cli.coverage import COMMAND
from planebench.errors import FileError, InputError
from planebench.photo.decode import open_upright

SURFACE = Path(__file__).parents[1] / "photo" / "judge_surface"
PHOTO, OUTLINE = SURFACE / "japanned.jpg", SURFACE / "outline.json"


def answer(*words: str | Path) -> CommandAnswer:
    parser = ArgumentParser()
    COMMAND.arguments(parser)
    return COMMAND.run(parser.parse_args([str(word) for word in words]))


def written(path: Path, data: object) -> Path:
    path.write_text(json.dumps(data), encoding="utf-8")
    return path


def test_two_strokes_bring_the_share_near_the_truth_and_the_map_agrees(tmp_path):
    # Picture and truth: a rendered plane of the training set, 53.3 % kept in the picture.
    strokes = written(
        tmp_path / "strokes.json",
        {
            "kept": [{"points": [[300, 150]], "radius": 4}],
            "lost": [{"points": [[120, 220]], "radius": 4}],
        },
    )
    judged, drawn = tmp_path / "map.png", tmp_path / "drawn.png"
    given = answer(
        PHOTO, "--outline", OUTLINE, "--strokes", strokes, "--finish", "japanning",
        "--map", judged, "--overlay", drawn,
    )  # fmt: skip
    counted = np.bincount(cv2.imread(str(judged), cv2.IMREAD_UNCHANGED).ravel(), minlength=4)

    assert given.data["share"] == pytest.approx(0.533, abs=0.05)
    assert given.data["low"] <= 0.533 <= given.data["high"]
    assert list(given.data["ratings"]) == ["ISO 4628-5"]
    assert counted[1:].tolist() == [
        given.data[key] for key in ("kept_px", "lost_px", "cannot_tell_px")
    ]
    assert open_upright(drawn).shape == open_upright(PHOTO).shape


def test_a_black_photograph_has_no_share_but_a_reason(tmp_path):
    Image.new("RGB", (943, 364)).save(tmp_path / "black.png")

    given = answer(tmp_path / "black.png", "--outline", OUTLINE, "--finish", "nickel")

    assert given.data["share"] is None
    assert given.data["why"] == "Not measurable here, because the photograph is black there."
    assert given.data["ratings"] == {}


def test_a_second_light_of_another_size_is_refused(tmp_path):
    Image.new("RGB", (100, 364)).save(tmp_path / "other.png")

    with pytest.raises(InputError, match="another size"):
        answer(
            PHOTO, "--outline", OUTLINE, "--finish", "nickel",
            "--second-light", tmp_path / "other.png",
        )  # fmt: skip


def test_an_outline_that_is_no_json_is_named(tmp_path):
    broken = tmp_path / "broken.json"
    broken.write_text("{", encoding="utf-8")

    with pytest.raises(FileError, match=r"broken\.json"):
        answer(PHOTO, "--outline", broken, "--finish", "rust")

"""planebench align answers with the fit and the carried outline, and refuses what is no outline."""

import json
from argparse import ArgumentParser
from pathlib import Path

import cv2
import numpy as np
import pytest

from planebench.cli.align import COMMAND
from planebench.cli.command import CommandAnswer
from planebench.errors import FileError, InputError, MeasureError

PHOTOGRAPHS = Path(__file__).parents[2] / "sample_catalog" / "photographs"
LANDMARKS = json.loads(
    (Path(__file__).parents[1] / "photo" / "data" / "landmarks_lot7_003.json").read_text(
        encoding="utf-8"
    )
)["points"]


def answer(*words: str | Path) -> CommandAnswer:
    parser = ArgumentParser()
    COMMAND.arguments(parser)
    return COMMAND.run(parser.parse_args([str(word) for word in words]))


def blank(path: Path, width: int, height: int) -> Path:
    cv2.imwrite(str(path), np.full((height, width, 3), 128, np.uint8))
    return path


def test_an_outline_is_carried_to_the_finished_photograph(tmp_path: Path) -> None:
    middle = np.mean([point["before"] for point in LANDMARKS], axis=0)
    # In the order of a ring around their middle, so that it does not cross itself.
    points = sorted(LANDMARKS, key=lambda point: np.arctan2(*(point["before"] - middle)))
    ring = [point["before"] for point in points]
    outline = tmp_path / "outline.json"
    outline.write_text(
        json.dumps({"polygons": [{"outer": ring, "holes": [ring[:3]]}]}), encoding="utf-8"
    )
    told = answer(
        PHOTOGRAPHS / "LOT7-003_top_as_found.jpg",
        PHOTOGRAPHS / "LOT7-003_top_finished.jpg",
        "--outline",
        outline,
    )
    read = json.loads(json.dumps(told.data))
    carried = np.array(read["outline"]["polygons"][0]["outer"])
    after = np.array([point["after"] for point in points])

    assert set(read) == {"matrix", "inliers", "median_error_px", "trust", "outline"}
    assert read["trust"] == "good"
    assert np.array(read["matrix"]).shape == (3, 3)
    assert np.median(np.linalg.norm(carried - after, axis=1)) < 6
    assert read["outline"]["polygons"][0]["holes"][0] == carried[:3].tolist()
    assert told.lines[-1].startswith("Alignment good")


def test_photographs_of_nothing_get_no_trust_and_no_outline_unless_one_was_given(
    tmp_path: Path,
) -> None:
    told = answer(blank(tmp_path / "a.png", 600, 400), blank(tmp_path / "b.png", 300, 450))

    assert told.data["trust"] == "none"
    assert "outline" not in told.data
    assert told.exit_code == 0


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        ("not json", "The outline ring.json is not JSON."),
        ("[]", "The outline cannot be read."),
        ('{"polygons": []}', "The outline has no polygon."),
        ('{"polygons": [{"outer": [[0, 0], [9, 9], [5, 5]]}]}', "The outline has no area."),
        (
            '{"polygons": [{"outer": [[0, 0], [300, 300], [300, 0], [0, 300]]}]}',
            "The outline crosses itself.",
        ),
        (
            '{"polygons": [{"outer": [[900, 900], [990, 900], [990, 990]]}]}',
            "The outline lies outside the photograph of 600 × 400 pixels.",
        ),
    ],
)
def test_what_is_no_outline_is_refused_with_the_reason(
    tmp_path: Path, content: str, reason: str
) -> None:
    outline = tmp_path / "ring.json"
    outline.write_text(content, encoding="utf-8")
    picture = blank(tmp_path / "a.png", 600, 400)

    with pytest.raises(InputError) as refused:
        answer(picture, picture, "--outline", outline)

    assert reason == refused.value.happened
    assert refused.value.remedy


def test_a_missing_outline_and_a_tiny_photograph_are_told_apart(tmp_path: Path) -> None:
    picture = blank(tmp_path / "a.png", 600, 400)

    with pytest.raises(FileError, match=r"ring\.json cannot be read"):
        answer(picture, picture, "--outline", tmp_path / "ring.json")
    with pytest.raises(MeasureError, match="after photograph is 90 × 60 pixels"):
        answer(picture, blank(tmp_path / "b.png", 90, 60))

"""planebench date: evidence in, dates out, and a message that names the entry."""

from __future__ import annotations

import json
from argparse import ArgumentParser
from pathlib import Path

import pytest

from planebench.cli.command import CommandAnswer
from planebench.cli.date import COMMAND
from planebench.errors import FileError, InputError

PLANE = {
    "parts": {
        "body": [
            {"kind": "patent_us", "number": "1234567"},
            {"kind": "years", "value": "1913/1918", "sure": 0.8, "looseness": 3, "what": "mark"},
        ],
        "cutter": [{"kind": "years", "value": "1934-41", "id": "code"}],
    },
    "production": "1905/1941",
}


def ask(path: Path, evidence: object) -> CommandAnswer:
    path.write_text(evidence if isinstance(evidence, str) else json.dumps(evidence), "utf-8")
    parser = ArgumentParser()
    COMMAND.arguments(parser)
    return COMMAND.run(parser.parse_args([str(path)]))


def test_each_part_and_the_tool_are_dated(tmp_path: Path) -> None:
    data = json.loads(json.dumps(ask(tmp_path / "e.json", PLANE).data))
    keys = {
        "earliest",
        "latest",
        "range90",
        "edtf",
        "in_words",
        "conflicts",
        "assembled",
        "weights",
    }

    for dated in (data["tool"], *data["parts"].values()):
        assert keys <= dated.keys()
    assert (data["tool"]["earliest"], data["tool"]["latest"]) == (1917, 1918)
    assert data["tool"]["range90"][0] == 1917
    assert data["tool"]["assembled"] is True
    assert data["tool"]["later_parts"] == ["cutter"]
    assert data["tool"]["conflicts"] == [["body-2", "code"]]
    assert data["parts"]["cutter"]["edtf"] == "1933/1941"
    assert data["tool"]["weights"].keys() == {"body-1", "body-2", "code"}


def test_each_entry_is_shown_back_with_source_and_status(tmp_path: Path) -> None:
    entry = json.loads(json.dumps(ask(tmp_path / "e.json", PLANE).data))["entries"]["body-1"]

    assert entry["read_as"] == "US patent 1,234,567, issued in 1917"
    assert entry["status"] == "memory"
    assert "USPTO" in entry["source"]


def test_contradicting_evidence_gives_ranges_apart_and_the_years_over_all(tmp_path: Path) -> None:
    all_evidence = [
        {"kind": "years", "value": "1894/1902", "what": "casting"},
        {"kind": "years", "value": "1925/1930", "what": "screw"},
    ]

    tool = json.loads(json.dumps(ask(tmp_path / "e.json", {"parts": {"body": all_evidence}}).data))[
        "tool"
    ]

    assert tool["ranges"] == [[1893, 1903], [1924, 1931]]
    assert tool["range90"] == [1893, 1931]
    assert tool["held"] == pytest.approx(0.91, abs=0.005)


def test_what_is_less_than_ninety_percent_sure_says_so(tmp_path: Path) -> None:
    evidence = {"kind": "years", "value": "1902 or later", "sure": 0.8}

    lines = ask(tmp_path / "e.json", {"parts": {"body": [evidence]}}).lines

    assert lines[0] == "Tool: made about 1902 or later, 87% sure."


def test_a_person_reads_lines(tmp_path: Path) -> None:
    lines = ask(tmp_path / "e.json", PLANE).lines

    assert lines[0].startswith("Tool: made between about 1917 and ")
    assert "Assembled from parts of different dates: cutter later." in lines


@pytest.mark.parametrize(
    ("evidence", "message"),
    [
        ({"parts": {"body": [{"kind": "maker"}]}}, "body-1"),
        ({"parts": {"body": [{"kind": "patent_us", "number": "0"}]}}, "body-1"),
        ({"parts": {"body": ["1915"]}}, "not in the right form at body-1"),
        ({"parts": {"body": "1915"}}, "not in the right form at body"),
        ({"parts": []}, "not in the right form at parts"),
        ({}, "not in the right form at parts"),
        ([], "not in the right form at evidence"),
        ("{", "not JSON"),
        ({"parts": {}, "production": "long ago"}, "production"),
    ],
)
def test_what_cannot_be_is_refused_by_name(tmp_path: Path, evidence: object, message: str) -> None:
    with pytest.raises(InputError, match=message):
        ask(tmp_path / "e.json", evidence)


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    parser = ArgumentParser()
    COMMAND.arguments(parser)

    with pytest.raises(FileError, match=r"gone\.json cannot be read"):
        COMMAND.run(parser.parse_args([str(tmp_path / "gone.json")]))

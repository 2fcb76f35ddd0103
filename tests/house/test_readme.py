"""Holds the README to the program: the commands that it names are there and answer."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from planebench.cli.app import COMMANDS, run

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text("utf-8")
NAMED = sorted(set(re.findall(r"`planebench ([a-z-]+)", README)))
LINKS = sorted(set(re.findall(r"\]\(([^)#:]+)\)", README)))


def test_the_readme_names_every_command() -> None:
    assert sorted(command.name for command in COMMANDS) == NAMED


@pytest.mark.parametrize("name", NAMED)
def test_each_command_of_the_readme_explains_itself(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        run([name, "--help"])

    assert ended.value.code == 0
    assert f"planebench {name}" in capsys.readouterr().out


def test_both_ways_to_start_are_known_to_the_start_itself() -> None:
    told = subprocess.run(
        [sys.executable, ROOT / "start.py", "--help"], capture_output=True, text=True, check=True
    )

    for command in re.findall(r"^python3 (start\.py ?\w*)$", README, re.MULTILINE):
        assert f"python3 {command}" in told.stdout


def test_ci_runs_the_tests_as_the_readme_does() -> None:
    assert "start.py test" in (ROOT / ".ci" / "run").read_text("utf-8")


@pytest.mark.parametrize("link", LINKS)
def test_files_that_the_readme_points_to_are_there(link: str) -> None:
    assert (ROOT / link).exists()

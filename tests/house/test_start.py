"""The start script reports trouble in plain words, with what to do about it."""

import importlib.util
import os
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[2]

# The first is what pip 23.0 printed when no index could be reached; the others are from memory.
NO_INDEX = "requirement hatchling>=1.26 (from versions: none)"
NO_NAMES = "NewConnectionError: [Errno -3] name resolution; ERROR: No matching distribution found"
PIP_TOLD = (
    (f"ERROR: Could not find a version that satisfies the {NO_INDEX}", "cannot be reached"),
    (NO_NAMES, "cannot be reached"),
    ("ERROR: Could not install: [Errno 28] No space left on device", "disk is full"),
    ("ERROR: No matching distribution found for PySide6<6.12,>=6.11.2", "not available"),
    ("error: subprocess-exited-with-error", "last lines above"),
)


@pytest.fixture(scope="module")
def start() -> ModuleType:
    spec = importlib.util.spec_from_file_location("start", ROOT / "start.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def run_start(*words: str, **settings: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, ROOT / "start.py", *words],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, **settings},
    )


@pytest.mark.parametrize(("told", "words"), PIP_TOLD)
def test_what_pip_tells_becomes_advice(start: ModuleType, told: str, words: str) -> None:
    assert words in " ".join(start.advice(told).split())


def test_a_folder_with_other_files_is_not_cleared(tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("Dear sister", encoding="utf-8")

    ended = run_start("check", PLANEBENCH_ENV=str(tmp_path))

    assert ended.returncode == 1
    assert "holds other files" in ended.stderr
    assert letter.read_text(encoding="utf-8") == "Dear sister"


def test_an_unknown_word_shows_the_known_ones() -> None:
    ended = run_start("--wrong")

    assert ended.returncode == 2
    assert "start.py check" in ended.stdout


def test_a_line_to_install_names_every_library_once(start: ModuleType) -> None:
    packages = list(start.QT_LIBRARIES.values())

    assert sorted(set(packages)) == sorted(packages)
    assert start.apt_line(packages).split()[:3] == ["sudo", "apt-get", "install"]


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux lacks libraries")
def test_libraries_that_qt_was_loaded_with_are_not_called_missing(start: ModuleType) -> None:
    assert start.can_load("libc.so.6")
    assert not start.can_load("libnot-there.so.1")

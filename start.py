#!/usr/bin/env python3
"""Set up Planebench in its own environment, then open, test or check it.

    python3 start.py [CATALOG]      open the window, with the sample catalog unless one is named
    python3 start.py test [...]     run all tests; other arguments go to pytest
    python3 start.py check          format, lint, types, contracts, dead code and size limits

Needs only Python 3.11 or later. The environment is `.venv` next to this file, or the folder named
by PLANEBENCH_ENV.
"""

from __future__ import annotations

import ctypes
import hashlib
import json
import os
import shutil
import subprocess
import sys
from collections import deque
from pathlib import Path

ROOT = Path(__file__).resolve().parent
OLDEST_PYTHON = (3, 11)
# Bytes: the test environment took 1.7 GB, and pip unpacks before it installs.
SPACE_NEEDED = 2_500_000_000
OUTPUT = ROOT / "out"

# The system libraries that Qt needs (readelf -d), and the Debian package of each.
QT_LIBRARIES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libX11-xcb.so.1": "libx11-xcb1",
    "libX11.so.6": "libx11-6",
    "libcups.so.2": "libcups2",
    "libdbus-1.so.3": "libdbus-1-3",
    "libfontconfig.so.1": "libfontconfig1",
    "libfreetype.so.6": "libfreetype6",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libwayland-client.so.0": "libwayland-client0",
    "libwayland-cursor.so.0": "libwayland-cursor0",
    "libwayland-egl.so.1": "libwayland-egl1",
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-image.so.0": "libxcb-image0",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-randr.so.0": "libxcb-randr0",
    "libxcb-render-util.so.0": "libxcb-render-util0",
    "libxcb-render.so.0": "libxcb-render0",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxcb-shm.so.0": "libxcb-shm0",
    "libxcb-sync.so.1": "libxcb-sync1",
    "libxcb-util.so.1": "libxcb-util1",
    "libxcb-xfixes.so.0": "libxcb-xfixes0",
    "libxcb-xkb.so.1": "libxcb-xkb1",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
    "libxkbcommon.so.0": "libxkbcommon0",
}
# Programs that tests compare results with, and the Debian package of each.
TEST_PROGRAMS = {
    "pdftotext": "poppler-utils",
    "heif-convert": "libheif-examples",
    "exiftool": "libimage-exiftool-perl",
}

# What pip says, and what a person can do about it.
DISK_FULL = """The disk is full. Free about 2.5 GB, or set PLANEBENCH_ENV to a folder on another
disk, then start again."""
NO_NETWORK = """The package index cannot be reached. Connect to the network (or set the proxy that
your network requires), then start again."""
NOT_AVAILABLE = """A package is not available for this Python or this machine. Use 64-bit Python
3.11, 3.12 or 3.13, then start again."""
NO_PERMISSION = """The folder cannot be written to. Set PLANEBENCH_ENV to one that can, then start
again."""
REMEDIES = (
    (("No space left", "not enough space", "Errno 28"), DISK_FULL),
    # Both exist for every Python, so finding none means that the index was not reached.
    (("hatchling>=1.26 (from versions: none)", "pip>=23.1 (from versions: none)"), NO_NETWORK),
    (("name resolution", "getaddrinfo", "NewConnection", "timed out", "unreachable"), NO_NETWORK),
    (("No matching distribution", "Could not find a version"), NOT_AVAILABLE),
    (("Permission denied", "Read-only file system"), NO_PERMISSION),
)


class Halt(Exception):  # noqa: N818 - an expected end with a message, not a fault
    """The start cannot continue; the text says why and what to do."""


def main(words: list[str]) -> int:
    """Do what the arguments ask; return the exit code."""
    if sys.version_info < OLDEST_PYTHON:
        print(f"Planebench needs Python 3.11 or later; this is {sys.version.split()[0]}.")
        print("Install a newer Python, then run start.py with it.")
        return 1
    try:
        return dispatch(words)
    except Halt as end:
        print(f"\n{end}", file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("\nStopped. Start again at any time; what is already set up stays.", file=sys.stderr)
        return 130


def dispatch(words: list[str]) -> int:
    """Run what the first argument names; return the exit code."""
    if words[:1] == ["test"]:
        return test(words[1:])
    if words == ["check"]:
        return check()
    if words and words[0].startswith("-"):
        print(__doc__)
        return 0 if words[0] in {"-h", "--help"} else 2
    return open_window(words)


def open_window(words: list[str]) -> int:
    """Open the window with the named catalog or the sample; without a display write sheets."""
    python = set_up()
    if not display_is_there():
        return make_sheets(python, words)
    need_system(missing_libraries(), "The window needs libraries that are not installed.")
    catalog = words or [sample_catalog(python, into=None)]
    return run(python, "-m", "planebench", *catalog)


def make_sheets(python: Path, words: list[str]) -> int:
    """Write the condition sheets of the named catalog or the sample as PDF, and say where."""
    print("There is no display (neither DISPLAY nor WAYLAND_DISPLAY is set), so no window opens.")
    catalog = words[0] if words else sample_catalog(python, into=OUTPUT / "sample")
    sheets = OUTPUT / "sheets"
    sheets.mkdir(parents=True, exist_ok=True)
    code = run(python, "-m", "planebench", "sheet", catalog, "--out", str(sheets))
    if code == 0:
        print(f"Catalog: {catalog}\nCondition sheets: {sheets}")
    return code


def sample_catalog(python: Path, *, into: Path | None) -> str:
    """Return the folder of the sample catalog, built if it is not there yet."""
    if into is not None and (into / "catalog.db").exists():
        return str(into)
    target = [] if into is None else ["--into", str(into)]
    command = [str(python), "-m", "planebench", "demo", *target, "--json"]
    print("Preparing the sample catalog ...", flush=True)
    done = subprocess.run(command, cwd=ROOT, check=False, stdout=subprocess.PIPE, text=True)
    if done.returncode != 0:
        raise Halt("The sample catalog could not be built; the message above says why.")
    return str(json.loads(done.stdout)["catalog"])


def test(words: list[str]) -> int:
    """Install what the tests need and run them, without a display; return the exit code."""
    python = set_up("test")
    need_system(missing_libraries(), "The tests need libraries that are not installed.")
    missing = [package for name, package in TEST_PROGRAMS.items() if not shutil.which(name)]
    if sys.platform.startswith("linux") and missing and not install_packages(missing):
        print(f"Tests that compare with other programs are skipped. Install: {apt_line(missing)}")
    return run(python, "-m", "pytest", *words, settings={"QT_QPA_PLATFORM": "offscreen"})


def check() -> int:
    """Run format, lint, types, contracts, dead code and size limits, all even if one fails."""
    python = set_up("test", "check")
    limits = ("-w", "-L50", "-C8", "-a5", "-lpython")
    size: list[str | Path] = [python.parent / "lizard", *limits]
    lines: list[str | Path] = [python, "-m", "pylint", "--disable=all", "--recursive=y"]
    lines.append("--enable=too-many-lines")
    # A migration lists whole tables as they were on its day and is never edited again.
    size.append("-x*/migrations/versions/*")
    lines.append("--ignore-paths=.*/migrations/versions/.*")
    checks: dict[str, list[str | Path]] = {
        "format": [python, "-m", "ruff", "format", "--check", "."],
        "lint": [python, "-m", "ruff", "check", "."],
        "types": [python, "-m", "mypy"],
        "contracts": [python.parent / "lint-imports"],
        "dead code": [python, "-m", "vulture"],
        "functions": [*size, "planebench", "start.py"],
        "modules": [*lines, "--max-module-lines=400", "planebench", "start.py"],
        "test modules": [*lines, "--max-module-lines=500", "tests"],
    }
    failed = []
    for name, command in checks.items():
        print(f"== {name}", flush=True)
        if run(*command) != 0:
            failed.append(name)
    print(f"Failed: {', '.join(failed)}." if failed else "All checks passed.")
    return 1 if failed else 0


# -- the environment ---------------------------------------------------------------------------


def set_up(*extras: str) -> Path:
    """Create the environment, install the package with its extras, and return its Python.

    Nothing is installed again until pyproject.toml changes.
    """
    folder = Path(os.environ.get("PLANEBENCH_ENV") or ROOT / ".venv").expanduser().resolve()
    python = folder / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    if not works(python):
        make_environment(folder)
    stamp = folder / "planebench.stamp"
    project = f"{hashlib.sha256((ROOT / 'pyproject.toml').read_bytes()).hexdigest()} {ROOT}"
    stamped, *installed = stamp.read_text(encoding="utf-8").splitlines() if stamp.exists() else [""]
    if stamped != project or not set(extras) <= set(installed):
        wanted = sorted({*extras, *installed})
        install(python, wanted)
        stamp.write_text("\n".join([project, *wanted]), encoding="utf-8")
    return python


def works(python: Path) -> bool:
    """Return whether this Python starts and has pip; its base Python may have been removed."""
    if not python.exists():
        return False
    try:
        probe = [str(python), "-c", "import pip, sys; sys.exit(sys.version_info < (3, 11))"]
        return subprocess.run(probe, check=False, capture_output=True).returncode == 0
    except OSError:
        return False


def make_environment(folder: Path) -> None:
    """Create the environment with `venv`, installing python3-venv first if it is missing."""
    if is_in_other_use(folder):
        raise Halt(f"{folder} holds other files. Set PLANEBENCH_ENV to an empty folder.")
    free = shutil.disk_usage(next(p for p in folder.parents if p.exists())).free
    if free < SPACE_NEEDED:
        space = f"{folder} needs 2.5 GB, but its disk has only {free / 1e9:.1f} GB free."
        raise Halt(f"{space} Free some, or set PLANEBENCH_ENV to a folder on another disk.")
    if not venv_is_complete():
        name = f"python{sys.version_info[0]}.{sys.version_info[1]}-venv"
        need_system([name], "This Python lacks the module that creates environments (venv).")
    print(f"Creating an environment in {folder} ...", flush=True)
    if run(sys.executable, "-m", "venv", "--clear", str(folder)) != 0:
        raise Halt(f"The environment in {folder} could not be created; the message above says why.")


def is_in_other_use(folder: Path) -> bool:
    """Return whether the folder holds files of something else, and so must not be cleared."""
    return folder.is_dir() and any(folder.iterdir()) and not (folder / "pyvenv.cfg").exists()


def venv_is_complete() -> bool:
    """Return whether venv can install pip, which Debian packages separately."""
    probe = [sys.executable, "-c", "import venv, ensurepip"]
    return subprocess.run(probe, check=False, capture_output=True).returncode == 0


def install(python: Path, extras: list[str]) -> None:
    """Install the package, editable, with its extras, after a pip that can do that."""
    what = f"{ROOT}[{','.join(extras)}]" if extras else str(ROOT)
    pip = [str(python), "-m", "pip", "--disable-pip-version-check"]
    print("Installing. The first time this takes a few minutes and about 1.7 GB.", flush=True)
    follow([*pip, "install", "--quiet", "pip>=23.1"])
    code, output = follow([*pip, "install", "--editable", what])
    if code != 0:
        raise Halt(advice(output))


def advice(output: str) -> str:
    """Return what a person can do about what pip printed."""
    for signs, remedy in REMEDIES:
        if any(sign in output for sign in signs):
            return remedy
    return "The installation failed; the last lines above say why."


def follow(command: list[str]) -> tuple[int, str]:
    """Run a command and show its output live; return its exit code and last lines."""
    last: deque[str] = deque(maxlen=60)
    with subprocess.Popen(
        command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
        encoding="utf-8", errors="replace",
    ) as child:  # fmt: skip
        for line in child.stdout or ():
            if not line.startswith("Requirement already"):
                print(f"  {line.rstrip()[:160]}", flush=True)
            last.append(line)
    return child.returncode, "".join(last)


def run(*command: str | Path, settings: dict[str, str] | None = None) -> int:
    """Run a command in the checkout with extra environment variables; return its exit code."""
    words = [str(word) for word in command]
    return subprocess.run(
        words, cwd=ROOT, check=False, env={**os.environ, **(settings or {})}
    ).returncode


# -- the system --------------------------------------------------------------------------------


def display_is_there() -> bool:
    """Return whether a window can be shown; only Linux says so beforehand."""
    names = ("DISPLAY", "WAYLAND_DISPLAY")
    return not sys.platform.startswith("linux") or any(os.environ.get(name) for name in names)


def missing_libraries() -> list[str]:
    """Return the Debian packages of the libraries that Qt needs and the system lacks."""
    if not sys.platform.startswith("linux"):
        return []
    return [package for library, package in QT_LIBRARIES.items() if not can_load(library)]


def can_load(library: str) -> bool:
    """Return whether the system's loader finds this library."""
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def need_system(packages: list[str], why: str) -> None:
    """Install these system packages, or stop and show the command that does."""
    if packages and not install_packages(packages):
        line = apt_line(packages)
        raise Halt(f"{why} Install them with\n\n    {line}\n\nthen start again.")


def install_packages(packages: list[str]) -> bool:
    """Install Debian packages as root, if possible; return whether that was done."""
    if not hasattr(os, "geteuid") or os.geteuid() != 0 or shutil.which("apt-get") is None:
        return False
    print(f"Installing {' '.join(packages)} ...", flush=True)
    settings = {"DEBIAN_FRONTEND": "noninteractive"}
    run("apt-get", "update", "-qq", settings=settings)
    options = ("install", "-y", "-qq", "--no-install-recommends")
    return run("apt-get", *options, *packages, settings=settings) == 0


def apt_line(packages: list[str]) -> str:
    """Return the command to type; other systems have packages of similar names."""
    return f"sudo apt-get install {' '.join(packages)}"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

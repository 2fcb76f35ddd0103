"""Where the files that come with the program lie."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


def resource_folder(folder: str) -> Path:
    """Return a folder of resources/, as installed or as in a working copy."""
    installed = _PACKAGE / "resources" / folder
    return installed if installed.is_dir() else _PACKAGE.parent / "resources" / folder

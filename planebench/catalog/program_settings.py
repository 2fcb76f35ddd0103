"""What a person chose on this machine, outside any catalog: recent ones, light or dark, a name."""

from __future__ import annotations

import getpass
import json
from dataclasses import asdict, dataclass, replace
from pathlib import Path

import platformdirs

MOST_RECENT = 8
THEMES = ("system", "light", "dark")


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgramSettings:
    """Choices of this machine's user. `recent` are catalog folders, the latest first."""

    recent: tuple[str, ...] = ()
    theme: str = "system"
    who: str = ""

    def __post_init__(self) -> None:
        if self.theme not in THEMES:
            raise ValueError(f"theme is one of {THEMES}, not {self.theme}")

    def opened(self, folder: Path) -> ProgramSettings:
        """Return the choices with a catalog put first among the recent ones."""
        path = str(folder.resolve())
        others = tuple(other for other in self.recent if other != path)
        return replace(self, recent=(path, *others)[:MOST_RECENT])

    @property
    def name(self) -> str:
        """Who writes: the name chosen, else that of the machine's account."""
        return self.who or _account()


class ProgramSettingsFile:
    """The choices as a JSON file in the place that this system keeps for settings."""

    def __init__(self, path: Path | None = None) -> None:
        self._path = path or Path(platformdirs.user_config_dir("planebench")) / "choices.json"

    def read(self) -> ProgramSettings:
        """Return the choices; a file that is not there or cannot be read gives the first ones."""
        try:
            data = json.loads(self._path.read_text(encoding="utf-8"))
            return ProgramSettings(
                recent=tuple(str(path) for path in data.get("recent", ())),
                theme=str(data.get("theme", "system")),
                who=str(data.get("who", "")),
            )
        except (OSError, ValueError, AttributeError, TypeError):
            return ProgramSettings()

    def write(self, chosen: ProgramSettings) -> None:
        """Keep the choices; raise OSError when the disk refuses."""
        self._path.parent.mkdir(parents=True, exist_ok=True)
        part = self._path.with_suffix(".part")
        part.write_text(json.dumps(asdict(chosen), ensure_ascii=False, indent=1), "utf-8")
        part.replace(self._path)


def usual_place() -> Path:
    """Return the folder in which new catalogs are made unless a person chooses another."""
    return Path(platformdirs.user_documents_dir()) / "Planebench"


def picture_cache() -> Path:
    """Return the folder outside any catalog where small copies of photographs are kept."""
    return Path(platformdirs.user_cache_dir("planebench")) / "pictures"


def _account() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return "owner"

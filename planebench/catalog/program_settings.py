"""Settings of this computer's user, outside any catalog: recent catalogs, theme, size, name."""

from __future__ import annotations

import getpass
import json
from dataclasses import asdict, dataclass, replace
from pathlib import Path

import platformdirs

from planebench.catalog.files import make_folder, write_whole

MOST_RECENT = 8
THEMES = ("system", "light", "dark")
TEXT_SIZES = (100, 110, 125, 150, 175, 200)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgramSettings:
    """Settings of this computer's user.

    `recent` are catalog folders, the latest first. `text_size` is in percent, one of TEXT_SIZES.
    `window` is the last width and height of the window in pixels, empty before the first time;
    `maximized` is whether it filled the screen.
    """

    recent: tuple[str, ...] = ()
    theme: str = "system"
    who: str = ""
    text_size: int = 100
    window: tuple[int, ...] = ()
    maximized: bool = False

    def __post_init__(self) -> None:
        if self.theme not in THEMES:
            raise ValueError(f"theme is one of {THEMES}, not {self.theme}")
        if self.text_size not in TEXT_SIZES:
            raise ValueError(f"text size is one of {TEXT_SIZES}, not {self.text_size}")

    def opened(self, folder: Path) -> ProgramSettings:
        """Return the settings with a catalog first among the recent ones."""
        path = str(folder.resolve())
        others = tuple(other for other in self.recent if other != path)
        return replace(self, recent=(path, *others)[:MOST_RECENT])

    @property
    def name(self) -> str:
        """The name that goes into the history: the one chosen, else that of the account."""
        return self.who or _account()


class ProgramSettingsFile:
    """The settings as a JSON file in the folder that this system keeps for settings."""

    def __init__(self, path: Path | None = None) -> None:
        self._path = path or Path(platformdirs.user_config_dir("planebench")) / "settings.json"

    def read(self) -> ProgramSettings:
        """Return the settings; the usual ones where the file is missing or cannot be read."""
        try:
            data = json.loads(self._readable().read_text(encoding="utf-8"))
            return ProgramSettings(
                recent=tuple(str(path) for path in data.get("recent", ())),
                theme=str(data.get("theme", "system")),
                who=str(data.get("who", "")),
                text_size=int(data.get("text_size", 100)),
                window=tuple(int(size) for size in data.get("window", ())),
                maximized=bool(data.get("maximized")),
            )
        except (OSError, ValueError, AttributeError, TypeError):
            return ProgramSettings()

    def write(self, chosen: ProgramSettings) -> None:
        """Write the settings; raise OSError when the disk refuses."""
        make_folder(self._path.parent)
        text = json.dumps(asdict(chosen), ensure_ascii=False, indent=1)
        write_whole(self._path, text.encode("utf-8"))

    def _readable(self) -> Path:
        """Return the file, or that of the first version of the program where only that is there."""
        earlier = self._path.with_name("choices.json")
        return earlier if earlier.exists() and not self._path.exists() else self._path


def usual_place() -> Path:
    """Return the folder for new catalogs, unless a person chooses another."""
    return Path(platformdirs.user_documents_dir()) / "Planebench"


def picture_cache() -> Path:
    """Return the folder outside any catalog where small copies of photographs are kept."""
    return Path(platformdirs.user_cache_dir("planebench")) / "pictures"


def _account() -> str:
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return "owner"

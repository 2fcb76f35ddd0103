"""The window as a whole: opens catalogs, leads from screen to screen, takes back, closes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from PySide6.QtCore import QMimeData, QObject, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QFileDialog

from planebench.catalog.catalog import Catalog
from planebench.catalog.changes import Changes
from planebench.catalog.ids import ToolId
from planebench.catalog.preferences import PreferenceFile, usual_place
from planebench.catalog.values import BatchLine
from planebench.errors import CatalogError, PlanebenchError
from planebench.window import routes
from planebench.window.buyer_copies import BuyerCopies
from planebench.window.context import ScreenContext
from planebench.window.edit_signal import EditSignal
from planebench.window.jobs import Job, JobDesk
from planebench.window.menus import MenuActions, fill_menus
from planebench.window.notices import Notices
from planebench.window.pieces.dropped_files import bitmap_in, files_in, keep_bitmap
from planebench.window.pieces.screen import Screen
from planebench.window.screen_table import screen_for
from planebench.window.screens.first_start.first_start_screen import FirstStart
from planebench.window.screens.new_catalog.new_catalog_screen import NewCatalog
from planebench.window.screens.trouble.trouble_screen import Trouble
from planebench.window.suspended_screens import SuspendedScreens
from planebench.window.theme import Theme, ThemeChoice
from planebench.window.window_frame import WindowFrame

OpenCatalog = Callable[[Path, str], Catalog]
_THEMES = {
    "system": ThemeChoice.SYSTEM,
    "light": ThemeChoice.LIGHT,
    "dark": ThemeChoice.DARK,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgramServices:
    """How catalogs are opened, made and how the sample is laid out; handed in by the builder.

    Each takes a folder and who is working, and raises CatalogError when it cannot be.
    """

    open: OpenCatalog
    make: OpenCatalog
    sample: Callable[[str], Catalog]
    clock: Callable[[], dt.datetime]


class MainWindow(QObject):
    """Holds the frame, the job desk and the open catalog, and the screens one went through."""

    def __init__(self, app: QApplication, doors: ProgramServices, choices: PreferenceFile) -> None:
        super().__init__(app)
        self._doors = doors
        self._choices = choices
        self._chosen = choices.read()
        self.theme = Theme(app, _THEMES[self._chosen.theme])
        self.jobs = JobDesk(self)
        self.edits = EditSignal(self)
        self.notices = Notices(self)
        self.frame = WindowFrame()
        self._copies = BuyerCopies(self.jobs, self.notices, self.frame)
        self.catalog: Catalog | None = None
        self._name = ""
        self._gone: list[Screen] = []
        self._kept = SuspendedScreens(self.frame.leave)
        self._connect()
        self._fill_menus()
        self.show_first_start()

    @property
    def current_screen(self) -> Screen | None:
        """Where one is."""
        return self.frame.current_screen

    def show_first_start(self) -> None:
        """Show the four ways on."""
        first = FirstStart(recent=tuple(Path(path) for path in self._chosen.recent))
        first.sample_wanted.connect(self.open_sample)
        first.new_wanted.connect(self.ask_new)
        first.open_wanted.connect(self.ask_open)
        first.recent_wanted.connect(lambda path: self.open_catalog(Path(path)))
        first.cards_wanted.connect(self._ask_cards)
        self.frame.allow_menus("Catalog", "Help")
        self.frame.status_bar.show_catalog("")
        self._show_alone(first)

    def open_sample(self) -> None:
        """Open the invented workshop, laying it out first where it is not there yet."""
        who = self._chosen.name
        job = self._open_by_job(lambda: self._doors.sample(who), None, text="Laying out the sample")
        if isinstance(self.current_screen, FirstStart):
            self.current_screen.lay_out_sample(job.ended)

    def open_catalog(self, folder: Path) -> None:
        """Open a catalog; what is refused is told with what to do."""
        who = self._chosen.name
        self._open_by_job(lambda: self._doors.open(folder, who), folder, text="Opening")

    def ask_new(self) -> None:
        """Ask for the name and screen of a new catalog."""
        asking = NewCatalog(usual_place())
        asking.wanted.connect(self._make)
        asking.up_wanted.connect(self._back_to_start)
        self._show_alone(asking)

    def ask_open(self) -> None:
        """Ask which catalog to open."""
        chosen = QFileDialog.getExistingDirectory(
            self.frame, "Choose the folder of a catalog", str(usual_place())
        )
        if chosen:
            self.open_catalog(Path(chosen))

    def _ask_cards(self) -> None:
        """Say where cards are printed; they carry stock numbers, so a catalog comes first."""
        self.notices.advise(
            "A card carries a tool’s stock number, so it is printed from a catalog.",
            remedy="Open or start one, then choose Print cards in the Batch menu.",
        )

    def go(self, route: routes.Route) -> None:
        """Go to a screen; Esc comes back from it."""
        if self.catalog is None:
            return
        screen = self._found(route) or screen_for(self._given(self.catalog), route)
        if route.replaces and self._gone:
            self._drop(self._gone.pop())
        self._enter(screen)

    def up(self) -> None:
        """Go one level up: back to where one came from."""
        if len(self._gone) > 1:
            left = self._gone.pop()
            self.frame.go_to(self._gone[-1])
            self._drop(left)

    def bring_in(self, data: QMimeData) -> None:
        """Take in photographs that were dropped or pasted: for the tool or batch in hand."""
        if self.catalog is None:
            self.notices.advise(
                "Photographs go into a catalog.", remedy="Open or start one, then drop them again."
            )
            return
        paths, image = files_in(data), bitmap_in(data)
        if paths:
            self._take_in(paths)
        elif image is not None:
            self.jobs.read(
                lambda _job: keep_bitmap(image),
                done=lambda path: self._take_in((path,)),
                owner=self,
            )

    def paste(self) -> None:
        """Take in photographs that were copied elsewhere."""
        self.bring_in(QGuiApplication.clipboard().mimeData())

    def _take_in(self, paths: tuple[str, ...]) -> None:
        self.go(self._acts.intake(paths))

    def copy_for_buyer(self, tools: tuple[ToolId, ...]) -> None:
        """Copy the photographs of tools into a folder, saying in each what it shows."""
        if self.catalog is not None:
            self._copies.ask(self.catalog, tools)

    def take_back(self) -> None:
        """Take back the last edit."""
        catalog = self.catalog
        if catalog is not None:
            self.jobs.edit(lambda _job: catalog.history.take_back(), done=self._stepped)

    def bring_again(self) -> None:
        """Bring again what was taken back last."""
        catalog = self.catalog
        if catalog is not None:
            self.jobs.edit(lambda _job: catalog.history.bring_again(), done=self._stepped)

    def choose_theme(self, name: str) -> None:
        """Go light, dark, or with the system, and keep the choice."""
        self.theme.choose(_THEMES[name])
        self._keep_choices(theme=name)

    def close(self) -> bool:
        """Finish what is being written and close the catalog."""
        ended = self.jobs.close(30_000)
        if self.catalog is not None:
            self.catalog.close()
            self.catalog = None
        return ended

    def _connect(self) -> None:
        self.notices.show_with(self.frame.notices.show_notice)
        self.jobs.troubled.connect(self.notices.trouble)
        self.jobs.begun.connect(self.frame.status_bar.watch)
        self.edits.happened.connect(self._written)
        self.frame.undo_requested.connect(self.take_back)
        self.frame.redo_requested.connect(self.bring_again)
        self.frame.find_wanted.connect(self._find)
        self.frame.data_dropped.connect(self.bring_in)

    def _fill_menus(self) -> None:
        self._acts = MenuActions(
            go=self.go,
            new=self.ask_new,
            open=self.ask_open,
            sample=self.open_sample,
            close=self._close_catalog,
            theme=self.choose_theme,
            paste=self.paste,
            copies=self.copy_for_buyer,
            screen=lambda: self.current_screen,
        )
        fill_menus(self.frame, self._acts)

    def _given(self, catalog: Catalog) -> ScreenContext:
        return ScreenContext(
            catalog=catalog, jobs=self.jobs, edits=self.edits, notices=self.notices
        )

    def _open_by_job(self, opening: Callable[[], Catalog], folder: Path | None, text: str) -> Job:
        return self.jobs.edit(
            lambda _job: opening(),
            done=self._opened,
            failed=lambda error: self._refused(error, folder),
            owner=self,
            text=text,
        )

    def _make(self, folder: Path) -> None:
        who = self._chosen.name
        self._open_by_job(lambda: self._doors.make(folder, who), folder, text="Making the catalog")

    def _opened(self, catalog: Catalog) -> None:
        if self.catalog is not None:
            self._stop_work()
            self.catalog.close()
        self.catalog = catalog
        self._name = catalog.name
        self._keep_choices(recent=self._chosen.opened(catalog.folder).recent)
        self._leave_all()
        self.frame.allow_menus("Catalog", "Batch", "Tool", "Photograph", "Sheet", "Help")
        self.frame.status_bar.show_last_edit("")
        self.frame.status_bar.show_catalog(self._name, self._doors.clock())
        self.go(routes.BatchesRoute())
        self.jobs.read(lambda _job: catalog.batches.lines(), done=self._step_in, owner=self.frame)
        if catalog.backup_trouble is not None:
            self.notices.trouble(catalog.backup_trouble)

    def _step_in(self, lines: tuple[BatchLine, ...]) -> None:
        """Go on to the only batch: a list of one says little."""
        if len(lines) == 1 and len(self._gone) == 1:
            self.go(routes.BatchRoute(batch=lines[0].batch.id))

    def _refused(self, error: Exception, folder: Path | None) -> None:
        if not isinstance(error, CatalogError) or folder is None:
            self.notices.trouble(error)
            return
        trouble = Trouble(
            happened=error.happened, remedy=error.remedy, subject=error.subject or str(folder)
        )
        trouble.try_again_wanted.connect(lambda: self.open_catalog(folder))
        trouble.other_wanted.connect(self.ask_open)
        trouble.up_wanted.connect(self._back_to_start)
        self._show_alone(trouble)

    def _back_to_start(self) -> None:
        if self.catalog is None:
            self.show_first_start()
        else:
            self._leave_all()
            self.go(routes.BatchesRoute())

    def _close_catalog(self) -> None:
        catalog, self.catalog = self.catalog, None
        if catalog is not None:
            self._stop_work()
            self.jobs.edit(lambda _job: catalog.close(), done=lambda _none: None, owner=self)
        self.show_first_start()

    def _stop_work(self) -> None:
        """Stop what runs for the catalog that is left; what is in stays in."""
        for job in self.jobs.open_jobs:
            job.stop()

    def _show_alone(self, screen: Screen) -> None:
        self._leave_all()
        self._enter(screen)

    def _enter(self, screen: Screen) -> None:
        screen.up_wanted.connect(self.up, Qt.ConnectionType.UniqueConnection)
        screen.go.connect(self.go, Qt.ConnectionType.UniqueConnection)
        self._gone.append(screen)
        self.frame.go_to(screen)

    def _leave_all(self) -> None:
        while self._gone:
            self._drop(self._gone.pop())
        self._kept.give_up()

    def _drop(self, screen: Screen) -> None:
        # An intake under route goes on; one comes back to the screen that shows it.
        if screen.busy:
            self._kept.keep(screen)
        else:
            self.frame.leave(screen)

    def _found(self, route: routes.Route) -> Screen | None:
        """Return the screen that a route leads to if it is there already, with work going on in it."""
        for screen in reversed(self._gone):
            if screen.busy and screen.serves(route):
                self._gone.remove(screen)
                return screen
        return self._kept.serving(route)

    def _find(self, words: str) -> None:
        screen = self.current_screen
        search = getattr(screen, "search", None)
        if callable(search):
            search(words)
        elif words:
            self.go(routes.BatchRoute(words=words))

    def _written(self, changes: Changes) -> None:
        if changes.words and self.catalog is not None:
            self.frame.status_bar.show_last_edit(changes.words, changes.at, back=not changes.stays)
            self.frame.status_bar.show_catalog(self._name, changes.at)

    def _stepped(self, changes: Changes) -> None:
        if changes.words:
            self.edits.happened.emit(changes)

    def _keep_choices(self, **chosen: object) -> None:
        self._chosen = replace(self._chosen, **chosen)  # type: ignore[arg-type]  # named fields
        try:
            self._choices.write(self._chosen)
        except OSError as error:
            self.notices.trouble(
                PlanebenchError(
                    f"Your choices on this machine could not be kept: {error.strerror}.",
                    remedy="The catalog is not touched by that; look at your disk’s free space.",
                )
            )

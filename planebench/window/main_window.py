"""The window as a whole: opens catalogs, goes from screen to screen, undoes, closes."""

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
from planebench.catalog.program_settings import ProgramSettingsFile, usual_place
from planebench.catalog.values import BatchLine
from planebench.errors import CatalogError, PlanebenchError
from planebench.window import routes
from planebench.window.buyer_copies import BuyerCopies
from planebench.window.context import CatalogBasics, ScreenContext, read_basics, with_basics
from planebench.window.edit_signal import EditSignal
from planebench.window.jobs import Job, JobDesk
from planebench.window.menus import MenuActions, fill_menus
from planebench.window.notices import Notices
from planebench.window.outside_changes import OutsideChanges
from planebench.window.pieces.dropped_files import bitmap_in, files_in, keep_bitmap
from planebench.window.pieces.screen import Screen
from planebench.window.screen_table import screen_for
from planebench.window.screens.first_start.first_start_screen import FirstStartScreen
from planebench.window.screens.new_catalog.new_catalog_screen import NewCatalogScreen
from planebench.window.screens.trouble.trouble_screen import TroubleScreen
from planebench.window.suspended_screens import SuspendedScreens
from planebench.window.theme import THEMES_BY_NAME, Theme
from planebench.window.undo_steps import UndoState, UndoSteps
from planebench.window.window_frame import WindowFrame

OpenCatalog = Callable[[Path, str], Catalog]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgramServices:
    """How catalogs are opened and made, and how the sample is copied; passed in at the start.

    Each takes a folder and who is working, and raises CatalogError when it cannot be.
    """

    open: OpenCatalog
    make: OpenCatalog
    sample: Callable[[str], Catalog]
    clock: Callable[[], dt.datetime]


class MainWindow(QObject):
    """Holds the frame, the job desk and the open catalog, and the screens one went through."""

    def __init__(
        self, app: QApplication, services: ProgramServices, settings_file: ProgramSettingsFile
    ) -> None:
        super().__init__(app)
        self._services = services
        self._settings_file = settings_file
        self._chosen = settings_file.read()
        self.theme = Theme(app, THEMES_BY_NAME[self._chosen.theme])
        self.jobs = JobDesk(self)
        self.edits = EditSignal(self)
        self.notices = Notices(self)
        self.frame = WindowFrame()
        self.undo_steps = UndoSteps(self.jobs, self.edits, self.frame)
        self._outside = OutsideChanges(self.jobs, self.edits, self.frame)
        self._copies = BuyerCopies(self.jobs, self.notices, self.frame)
        self.catalog: Catalog | None = None
        self._name = ""
        self._basics: CatalogBasics | None = None
        self._history: list[Screen] = []
        self._suspended = SuspendedScreens(self.frame.leave)
        self._connect()
        self._fill_menus()
        self.show_first_start()

    @property
    def current_screen(self) -> Screen | None:
        """The screen that is shown."""
        return self.frame.current_screen

    def show_first_start(self) -> None:
        """Show the first screen: new, open, sample, cards."""
        first = FirstStartScreen(recent=tuple(Path(path) for path in self._chosen.recent))
        first.sample_wanted.connect(self.open_sample)
        first.new_wanted.connect(self.ask_new)
        first.open_wanted.connect(self.ask_open)
        first.recent_wanted.connect(lambda path: self.open_catalog(Path(path)))
        first.cards_wanted.connect(self._ask_cards)
        self.frame.allow_menus(catalog_open=False)
        self.frame.set_catalog_name("")
        self.frame.status_bar.show_no_catalog()
        self._show_alone(first)

    def open_sample(self) -> None:
        """Open the sample catalog; copy it first where it is not there yet."""
        who = self._chosen.name
        job = self._open_by_job(lambda: self._services.sample(who), None, text="Copying the sample")
        if isinstance(self.current_screen, FirstStartScreen):
            self.current_screen.show_preparing_sample(job.ended)

    def open_catalog(self, folder: Path) -> None:
        """Open a catalog; show why where it cannot be opened, and what to do."""
        who = self._chosen.name
        self._open_by_job(
            lambda: self._services.open(folder, who), folder, text="Opening the catalog"
        )

    def ask_new(self) -> None:
        """Ask for the name and screen of a new catalog."""
        asking = NewCatalogScreen(usual_place())
        asking.wanted.connect(self._make)
        asking.up_wanted.connect(self._back_to_start)
        self._show_alone(asking)

    def ask_open(self) -> None:
        """Ask which catalog to open."""
        last = str(self._catalogs_folder())
        chosen = QFileDialog.getExistingDirectory(self.frame, "Choose a catalog folder", last)
        if chosen:
            self.open_catalog(Path(chosen))

    def _catalogs_folder(self) -> Path:
        """Return the folder of the catalog opened last."""
        return Path(self._chosen.recent[0]).parent if self._chosen.recent else usual_place()

    def _ask_cards(self) -> None:
        """Say where cards are printed: they carry stock numbers, so a catalog comes first."""
        self.notices.advise(
            "A card carries a tool’s stock number, so it is printed from a catalog.",
            remedy="Open or start a catalog, then choose Print scale cards in the Batch menu.",
        )

    def go(self, route: routes.Route) -> None:
        """Go to the screen of a route; Esc leads back from it."""
        if self.catalog is None:
            return
        screen = self._found(route) or screen_for(self._context(self.catalog), route)
        if route.replaces and self._history:
            self._drop(self._history.pop())
        self._enter(screen)

    def up(self) -> None:
        """Go one level up: back to the screen before this one."""
        if len(self._history) > 1:
            left = self._history.pop()
            self.frame.go_to(self._history[-1])
            self._drop(left)

    def import_data(self, data: QMimeData) -> None:
        """Import photographs that were dropped or pasted, for the tool or batch shown."""
        if self.catalog is None:
            self.notices.advise(
                "Photographs go into a catalog.",
                remedy="Open a catalog or start a new one, then drop them again.",
            )
            return
        if paths := files_in(data):
            self._import(paths)
        elif (image := bitmap_in(data)) is not None:
            self.jobs.read(
                lambda _job: keep_bitmap(image),
                done=lambda path: self._import((path,)),
                owner=self,
            )

    def paste(self) -> None:
        """Import photographs from the clipboard."""
        self.import_data(QGuiApplication.clipboard().mimeData())

    def _import(self, paths: tuple[str, ...]) -> None:
        self.go(self._actions.import_route(paths))

    def export_photographs(self, tools: tuple[ToolId, ...]) -> None:
        """Copy the photographs of tools into a folder, with what each shows written into it."""
        if self.catalog is not None:
            self._copies.ask(self.catalog, tools)

    def choose_theme(self, name: str) -> None:
        """Use the light or dark theme, or the system’s, and remember it."""
        self.theme.choose(THEMES_BY_NAME[name])
        self._remember(theme=name)

    def choose_text_size(self, percent: int) -> None:
        """Remember the size of text; it changes with the next start."""
        self._remember(text_size=percent)
        self.notices.advise(
            f"Text size: {percent}%.", remedy="Close Planebench and start it again to see it."
        )

    def close(self) -> bool:
        """Finish writing and close the catalog."""
        window, maximized = self.frame.usual_size()
        if (window, maximized) != (self._chosen.window, self._chosen.maximized):
            self._remember(window=window, maximized=maximized)
        if self.frame.current_screen is not None:
            # A screen that is hidden saves what stands in its fields, which has to come first.
            self.frame.current_screen.hide()
        self.undo_steps.set_catalog(None)
        self._outside.set_catalog(None)
        ended = self.jobs.close(30_000)
        if self.catalog is not None:
            self.catalog.close()
            self.catalog = None
        return ended

    def _connect(self) -> None:
        self.notices.show_with(self.frame.notices.show_notice)
        self.jobs.troubled.connect(self.notices.trouble)
        self.jobs.begun.connect(self.frame.status_bar.watch)
        self.edits.happened.connect(self._show_edit)
        self.frame.undo_requested.connect(self.undo_steps.undo)
        self.frame.redo_requested.connect(self.undo_steps.redo)
        self.undo_steps.changed.connect(self._show_undo_steps)
        self.frame.find_wanted.connect(self._find)
        self.frame.find_accepted.connect(self._open_found)
        self.frame.data_dropped.connect(self.import_data)

    def _fill_menus(self) -> None:
        self._actions = MenuActions(
            go=self.go,
            new=self.ask_new,
            open=self.ask_open,
            sample=self.open_sample,
            close=self._close_catalog,
            theme=self.choose_theme,
            text_size=self.choose_text_size,
            paste=self.paste,
            export_photographs=self.export_photographs,
            undo=self.undo_steps.undo,
            redo=self.undo_steps.redo,
            screen=lambda: self.current_screen,
        )
        fill_menus(self.frame, self._actions)

    def _context(self, catalog: Catalog) -> ScreenContext:
        return ScreenContext(
            catalog=catalog,
            jobs=self.jobs,
            edits=self.edits,
            notices=self.notices,
            known=self._basics,
        )

    def _open_by_job(self, opening: Callable[[], Catalog], folder: Path | None, text: str) -> Job:
        return self.jobs.edit(
            lambda _job: with_basics(opening()),
            done=self._opened,
            failed=lambda error: self._refused(error, folder),
            owner=self.frame,
            text=text,
        )

    def _make(self, folder: Path) -> None:
        who = self._chosen.name
        self._open_by_job(
            lambda: self._services.make(folder, who), folder, text="Creating the catalog"
        )

    def _opened(self, opened: tuple[Catalog, CatalogBasics, str]) -> None:
        catalog, self._basics, name = opened
        if self.catalog is not None:
            self._stop_work()
            self.catalog.close()
        self.catalog = catalog
        self._name = name
        self._remember(recent=self._chosen.opened(catalog.folder).recent)
        self._leave_all()
        self.frame.allow_menus(catalog_open=True)
        self.frame.status_bar.show_last_edit("", undoable=False)
        self.undo_steps.set_catalog(catalog)
        self._outside.set_catalog(catalog)
        self.frame.set_catalog_name(self._name)
        self.frame.status_bar.show_catalog(self._name, self._services.clock())
        self.go(routes.BatchesRoute())
        self.jobs.read(lambda _job: catalog.batches.lines(), done=self._step_in, owner=self.frame)
        if catalog.backup_error is not None:
            self.notices.trouble(catalog.backup_error)

    def _step_in(self, lines: tuple[BatchLine, ...]) -> None:
        """Go on to the only batch: a list of one says little."""
        if len(lines) == 1 and len(self._history) == 1:
            self.go(routes.BatchRoute(batch=lines[0].batch.id))

    def _refused(self, error: Exception, folder: Path | None) -> None:
        if not isinstance(error, CatalogError) or folder is None:
            self.notices.trouble(error)
            return
        trouble = TroubleScreen(
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
        self.undo_steps.set_catalog(None)
        self._outside.set_catalog(None)
        if catalog is not None:
            self._stop_work()
            self.jobs.edit(lambda _job: catalog.close(), done=lambda _none: None, owner=self)
        self.show_first_start()

    def _stop_work(self) -> None:
        """Stop what is running for the catalog that is left; what is saved stays saved."""
        for job in self.jobs.open_jobs:
            job.stop()

    def _show_alone(self, screen: Screen) -> None:
        self._leave_all()
        self._enter(screen)

    def _enter(self, screen: Screen) -> None:
        screen.up_wanted.connect(self.up, Qt.ConnectionType.UniqueConnection)
        screen.go.connect(self.go, Qt.ConnectionType.UniqueConnection)
        self._history.append(screen)
        self.frame.go_to(screen)

    def _leave_all(self) -> None:
        while self._history:
            self._drop(self._history.pop())
        self._suspended.give_up()

    def _drop(self, screen: Screen) -> None:
        # An intake under route goes on; one comes back to the screen that shows it.
        if screen.busy:
            self._suspended.keep(screen)
        else:
            self.frame.leave(screen)

    def _found(self, route: routes.Route) -> Screen | None:
        """Return the screen of a route if it is there already, with work running in it."""
        for screen in reversed(self._history):
            if screen.busy and screen.serves(route):
                self._history.remove(screen)
                return screen
        return self._suspended.serving(route)

    def _find(self, words: str) -> None:
        screen = self.current_screen
        search = getattr(screen, "search", None)
        if callable(search):
            search(words)
        elif words:
            self.go(routes.BatchRoute(words=words))

    def _open_found(self) -> None:
        """Open the tool that is selected in the list of those found."""
        screen = self.current_screen
        if screen is not None and screen.find_words:
            screen.open_selected()

    def _show_edit(self, changes: Changes) -> None:
        catalog = self.catalog
        if changes.catalog_wide and catalog is not None:
            self.jobs.read(lambda _job: read_basics(catalog), done=self._basics_read, owner=self)
        if changes.words and self.catalog is not None:
            bar = self.frame.status_bar
            bar.show_last_edit(changes.words, changes.at, undoable=not changes.stays)
            bar.show_catalog(self._name, changes.at)

    def _basics_read(self, basics: CatalogBasics) -> None:
        self._basics = basics

    def _show_undo_steps(self, state: UndoState) -> None:
        """Name the next steps in the Edit menu, and in the status bar after an undo or a start."""
        self.frame.show_undo_steps(state.undo, state.redo)
        bar = self.frame.status_bar
        if state.undone:
            bar.show_undone(state.redo)
        elif state.undo and not bar.last_edit:
            today = self._services.clock().astimezone().date()
            same_day = state.at is not None and state.at.astimezone().date() == today
            bar.show_last_edit(state.undo, state.at if same_day else None)

    def _remember(self, **chosen: object) -> None:
        self._chosen = replace(self._chosen, **chosen)  # type: ignore[arg-type]  # named fields
        try:
            self._settings_file.write(self._chosen)
        except OSError as error:
            self.notices.trouble(
                PlanebenchError(
                    f"Your settings for this computer could not be saved: {error.strerror}.",
                    remedy="The catalog is not affected. Check that the disk has free space.",
                )
            )

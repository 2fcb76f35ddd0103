"""The menus and what each item does."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial

from PySide6.QtGui import QAction, QKeySequence

from planebench.catalog.ids import BatchId, ToolId
from planebench.catalog.program_settings import TEXT_SIZES
from planebench.window import routes
from planebench.window.help_notices import about, first_steps
from planebench.window.pieces.screen import Screen
from planebench.window.window_frame import NEEDS_CATALOG, WindowFrame

Action = Callable[[], object]


@dataclass(frozen=True, slots=True, kw_only=True)
class MenuActions:
    """What the menus can do; `screen` returns the screen that is shown."""

    go: Callable[[routes.Route], object]
    new: Action
    open: Action
    sample: Action
    close: Action
    theme: Callable[[str], object]
    text_size: Callable[[int], object]
    paste: Action
    export_photographs: Callable[[tuple[ToolId, ...]], object]
    undo: Action
    redo: Action
    screen: Callable[[], Screen | None]

    def tools(self) -> tuple[ToolId, ...]:
        """Return the tools selected on this screen."""
        screen = self.screen()
        return () if screen is None else screen.selected_tools

    def batch(self) -> BatchId | None:
        """Return the batch that this screen shows."""
        screen = self.screen()
        return None if screen is None else screen.current_batch

    def import_route(self, paths: tuple[str, ...] = ()) -> routes.Route:
        """Return the route to adding photographs, for the batch shown or the one tool selected."""
        batch, tools = self.batch(), self.tools()
        tool = tools[0] if batch is None and len(tools) == 1 else None
        return routes.ImportRoute(batch=batch, tool=tool, paths=paths)

    def cards_of_batch(self) -> None:
        """Go to the cards of several selected tools, else of the whole batch shown."""
        batch, tools = self.batch(), self.tools()
        if batch is not None and len(tools) < 2:  # noqa: PLR2004 (one row is always selected)
            self.go(routes.CardsRoute(batch=batch))
        else:
            self.with_all(_cards)

    def with_one(self, route: Callable[[ToolId], routes.Route]) -> None:
        """Go somewhere with the selected tool; without one, to the list of all tools."""
        tools = self.tools()
        self.go(route(tools[0]) if tools else routes.BatchRoute(batch=self.batch()))

    def with_all(self, route: Callable[[tuple[ToolId, ...]], routes.Route]) -> None:
        """Go somewhere with all selected tools."""
        tools = self.tools()
        self.go(route(tools) if tools else routes.BatchRoute(batch=self.batch()))


@dataclass(frozen=True, slots=True)
class MenuItem:
    """One item: its words with & before the Alt letter, its keys, and what it does.

    `always` items work without an open catalog. An item without words is a line between items.
    """

    words: str = ""
    keys: str = ""
    action: Action = tuple
    always: bool = False


_LINE = MenuItem()


def fill_menus(frame: WindowFrame, actions: MenuActions) -> None:
    """Fill the frame's menus."""
    rows = {
        "Catalog": _catalog_items(frame, actions),
        "Edit": _edit_items(frame, actions),
        "View": _view_items(actions),
        "Batch": _batch_items(actions),
        "Tool": _tool_items(actions),
        "Photograph": _photograph_items(actions),
        "Sheet": _sheet_items(actions),
        "Help": _help_items(frame),
    }
    for menu, items in rows.items():
        _fill(frame, menu, items)


def _fill(frame: WindowFrame, menu: str, items: Iterable[MenuItem]) -> None:
    for item in items:
        if not item.words:
            frame.menu(menu).addSeparator()
            continue
        action = QAction(item.words, frame)
        if item.keys:
            action.setShortcut(QKeySequence(item.keys))
        action.setProperty(NEEDS_CATALOG, not item.always)
        action.triggered.connect(partial(_do, item.action))
        frame.menu(menu).addAction(action)


def _do(action: Action, *_checked: bool) -> None:
    action()


def _catalog_items(frame: WindowFrame, actions: MenuActions) -> tuple[MenuItem, ...]:
    go = actions.go
    return (
        MenuItem("&New catalog…", "Ctrl+N", actions.new, always=True),
        MenuItem("&Open catalog…", "Ctrl+O", actions.open, always=True),
        MenuItem("Open the &sample catalog", "", actions.sample, always=True),
        MenuItem("&Close catalog", "", actions.close),
        _LINE,
        MenuItem("Se&ttings", "Ctrl+,", lambda: go(routes.SettingsRoute())),
        MenuItem("&Kinds of plane and their parts", "", lambda: go(routes.KindsRoute())),
        MenuItem("&History", "", lambda: go(routes.HistoryRoute())),
        MenuItem("&Bin", "", lambda: go(routes.BinRoute())),
        MenuItem("Back&ups and checks", "", lambda: go(routes.BackupsRoute())),
        _LINE,
        MenuItem("&Quit", "Ctrl+Q", frame.close, always=True),
    )


def _edit_items(frame: WindowFrame, actions: MenuActions) -> tuple[MenuItem, ...]:
    return (
        MenuItem("&Undo", "Ctrl+Z", actions.undo),
        MenuItem("&Redo", "Ctrl+Shift+Z", actions.redo),
        _LINE,
        MenuItem("&Paste photographs", "Ctrl+Shift+V", actions.paste),
        _LINE,
        MenuItem("&Find", "Ctrl+F", frame.find_field.take_keyboard),
    )


def _view_items(actions: MenuActions) -> tuple[MenuItem, ...]:
    return (
        MenuItem("&Light", "", lambda: actions.theme("light"), always=True),
        MenuItem("&Dark", "", lambda: actions.theme("dark"), always=True),
        MenuItem("Like the &system", "", lambda: actions.theme("system"), always=True),
        _LINE,
        *(
            MenuItem(f"Text size {size}%", "", partial(actions.text_size, size), always=True)
            for size in TEXT_SIZES
        ),
    )


def _batch_items(actions: MenuActions) -> tuple[MenuItem, ...]:
    go = actions.go
    return (
        MenuItem("&All batches", "", lambda: go(routes.BatchesRoute())),
        MenuItem("All &tools", "", lambda: go(routes.BatchRoute())),
        _LINE,
        MenuItem(
            "Photographs still to t&ake",
            "",
            lambda: go(routes.ViewsMissingRoute(batch=actions.batch())),
        ),
        MenuItem("Print &scale cards and tags…", "", actions.cards_of_batch),
    )


def _tool_items(actions: MenuActions) -> tuple[MenuItem, ...]:
    one = actions.with_one
    return (
        MenuItem("&Open", "", lambda: one(lambda tool: routes.ToolRoute(tool=tool))),
        MenuItem("&Date it", "", lambda: one(lambda tool: routes.DatingRoute(tool=tool))),
        MenuItem("&Before and after", "", lambda: one(lambda tool: routes.PairRoute(tool=tool))),
        MenuItem("Print &scale card…", "", lambda: actions.with_all(_cards)),
        MenuItem("&History", "", lambda: one(lambda tool: routes.HistoryRoute(tool=tool))),
    )


def _photograph_items(actions: MenuActions) -> tuple[MenuItem, ...]:
    go = actions.go
    return (
        MenuItem("&Add photographs…", "Ctrl+I", lambda: go(actions.import_route())),
        MenuItem(
            "Import new files from a &folder…",
            "",
            lambda: go(routes.ImportRoute(batch=actions.batch(), watch=True)),
        ),
        MenuItem("&Still to take", "", lambda: go(routes.ViewsMissingRoute(batch=actions.batch()))),
        _LINE,
        MenuItem("&Copies for a buyer…", "", lambda: actions.export_photographs(actions.tools())),
    )


def _sheet_items(actions: MenuActions) -> tuple[MenuItem, ...]:
    return (
        MenuItem("&Condition sheet…", "Ctrl+P", lambda: actions.with_all(_sheets)),
        MenuItem("&Seller and guarantee", "", lambda: actions.go(routes.SettingsRoute())),
    )


def _help_items(frame: WindowFrame) -> tuple[MenuItem, ...]:
    show = frame.notices.show_notice
    return (
        MenuItem("&First steps", "", lambda: show(first_steps()), always=True),
        MenuItem("&Keys on this screen", "F1", frame.list_keys, always=True),
        _LINE,
        MenuItem("&About Planebench", "", lambda: show(about()), always=True),
    )


def _cards(tools: tuple[ToolId, ...]) -> routes.Route:
    return routes.CardsRoute(tools=tools)


def _sheets(tools: tuple[ToolId, ...]) -> routes.Route:
    return routes.SheetRoute(tools=tools)

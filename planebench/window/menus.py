"""What stands in the menus, in the words of the trade."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from PySide6.QtGui import QAction, QKeySequence

from planebench.catalog.ids import BatchId, ToolId
from planebench.window import routes
from planebench.window.pieces.screen import Screen
from planebench.window.window_frame import OF_CATALOG, WindowFrame

Act = Callable[[], object]
_WITHOUT_CATALOG = frozenset(
    {"Start a new catalog …", "Open a catalog …", "Open the sample", "Quit"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MenuActions:
    """What the menus can do; `screen` gives where one is."""

    go: Callable[[routes.Route], object]
    new: Act
    open: Act
    sample: Act
    close: Act
    theme: Callable[[str], object]
    paste: Act
    copies: Callable[[tuple[ToolId, ...]], object]
    screen: Callable[[], Screen | None]

    def tools(self) -> tuple[ToolId, ...]:
        """Return the tools in hand at this screen."""
        screen = self.screen()
        return () if screen is None else screen.selected_tools

    def batch(self) -> BatchId | None:
        """Return the batch that one is in."""
        screen = self.screen()
        return None if screen is None else screen.current_batch

    def intake(self, paths: tuple[str, ...] = ()) -> routes.Route:
        """Lead to photographs in, for the batch that one is in or the one tool in hand."""
        batch, tools = self.batch(), self.tools()
        tool = tools[0] if batch is None and len(tools) == 1 else None
        return routes.ImportRoute(batch=batch, tool=tool, paths=paths)

    def cards_of_batch(self) -> None:
        """Go to the cards of several chosen tools, else of the whole batch that one is in."""
        batch, tools = self.batch(), self.tools()
        if batch is not None and len(tools) < 2:  # noqa: PLR2004 (one row is always marked)
            self.go(routes.CardsRoute(batch=batch))
        else:
            self.with_all(_cards)

    def with_one(self, route: Callable[[ToolId], routes.Route]) -> None:
        """Go somewhere with the tool in hand; without one, to the list of all tools."""
        tools = self.tools()
        self.go(route(tools[0]) if tools else routes.BatchRoute(batch=self.batch()))

    def with_all(self, route: Callable[[tuple[ToolId, ...]], routes.Route]) -> None:
        """Go somewhere with all tools in hand."""
        tools = self.tools()
        self.go(route(tools) if tools else routes.BatchRoute(batch=self.batch()))


def fill_menus(frame: WindowFrame, acts: MenuActions) -> None:
    """Put the acts into the frame's menus; an empty name stands for a rule between them."""
    for menu, rows in _menus(frame, acts).items():
        for words, keys, act in rows:
            if not words:
                frame.menu(menu).addSeparator()
                continue
            action = QAction(words, frame)
            if keys:
                action.setShortcut(QKeySequence(keys))
            action.setProperty(OF_CATALOG, words not in _WITHOUT_CATALOG)
            action.triggered.connect(partial(_do, act))
            frame.menu(menu).addAction(action)


def _do(act: Act, *_checked: bool) -> None:
    act()


Rows = tuple[tuple[str, str, Act], ...]
_RULE: tuple[str, str, Act] = ("", "", tuple)


def _menus(frame: WindowFrame, acts: MenuActions) -> dict[str, Rows]:
    go = acts.go
    return {
        "Catalog": _catalog_rows(frame, acts),
        "Batch": (
            ("All batches", "", lambda: go(routes.BatchesRoute())),
            ("All tools", "", lambda: go(routes.BatchRoute())),
            _RULE,
            (
                "Photographs still to take",
                "",
                lambda: go(routes.ViewsMissingRoute(batch=acts.batch())),
            ),
            ("Print scale cards and tags …", "", acts.cards_of_batch),
        ),
        "Tool": (
            ("Open it", "", lambda: acts.with_one(lambda tool: routes.ToolRoute(tool=tool))),
            (
                "When it was made",
                "",
                lambda: acts.with_one(lambda tool: routes.DatingRoute(tool=tool)),
            ),
            (
                "Before and after",
                "",
                lambda: acts.with_one(lambda tool: routes.PairRoute(tool=tool)),
            ),
            ("Print its scale card …", "", lambda: acts.with_all(_cards)),
            ("Its history", "", lambda: acts.with_one(lambda tool: routes.HistoryRoute(tool=tool))),
        ),
        "Photograph": (
            ("Photographs in …", "Ctrl+I", lambda: go(acts.intake())),
            (
                "Watch a folder …",
                "",
                lambda: go(routes.ImportRoute(batch=acts.batch(), watch=True)),
            ),
            ("Take in what was copied", "", acts.paste),
            ("Still to take", "", lambda: go(routes.ViewsMissingRoute(batch=acts.batch()))),
            _RULE,
            ("Copies for a buyer …", "", lambda: acts.copies(acts.tools())),
        ),
        "Sheet": (
            ("Condition sheet …", "Ctrl+P", lambda: acts.with_all(_sheets)),
            ("Who sells, and what is promised", "", lambda: go(routes.SettingsRoute())),
        ),
        "Help": (
            ("Keys of this screen  F1", "", frame.list_keys),
            _RULE,
            ("Light", "", lambda: acts.theme("light")),
            ("Dark", "", lambda: acts.theme("dark")),
            ("Light or dark as the system", "", lambda: acts.theme("system")),
        ),
    }


def _catalog_rows(frame: WindowFrame, acts: MenuActions) -> Rows:
    go = acts.go
    return (
        ("Start a new catalog …", "Ctrl+N", acts.new),
        ("Open a catalog …", "Ctrl+O", acts.open),
        ("Open the sample", "", acts.sample),
        ("Close the catalog", "", acts.close),
        _RULE,
        ("Choices of this catalog", "Ctrl+,", lambda: go(routes.SettingsRoute())),
        ("Kinds of plane and their parts", "", lambda: go(routes.KindsRoute())),
        ("Who changed what when", "", lambda: go(routes.HistoryRoute())),
        ("The bin", "", lambda: go(routes.BinRoute())),
        ("Backups and checks", "", lambda: go(routes.BackupsRoute())),
        _RULE,
        ("Quit", "Ctrl+Q", frame.close),
    )


def _cards(tools: tuple[ToolId, ...]) -> routes.Route:
    return routes.CardsRoute(tools=tools)


def _sheets(tools: tuple[ToolId, ...]) -> routes.Route:
    return routes.SheetRoute(tools=tools)

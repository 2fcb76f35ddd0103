"""Every screen on the sample, for the checks that look at all of them."""

from __future__ import annotations

from collections.abc import Callable

from planebench.catalog.catalog import Catalog
from planebench.catalog.tools import ToolFilter
from planebench.catalog.values import Tool
from planebench.window import routes


def fullest(catalog: Catalog) -> Tool:
    """Return the tool with the longest record."""
    tools = [catalog.tools.one(tool) for tool in catalog.tools.find(ToolFilter())]
    return max(tools, key=lambda t: (len(t.pairs), len(t.defects), len(t.photographs)))


ROUTES: dict[type[routes.Route], Callable[[Tool], routes.Route]] = {
    routes.BatchesRoute: lambda _tool: routes.BatchesRoute(),
    routes.BatchRoute: lambda tool: routes.BatchRoute(batch=tool.batch),
    routes.ToolRoute: lambda tool: routes.ToolRoute(tool=tool.id),
    routes.PhotographRoute: lambda tool: routes.PhotographRoute(photograph=tool.photographs[0].id),
    routes.PairRoute: lambda tool: routes.PairRoute(tool=tool.id),
    routes.DatingRoute: lambda tool: routes.DatingRoute(tool=tool.id),
    routes.SheetRoute: lambda tool: routes.SheetRoute(tools=(tool.id,)),
    routes.ImportRoute: lambda tool: routes.ImportRoute(batch=tool.batch),
    routes.CardsRoute: lambda tool: routes.CardsRoute(tools=(tool.id,)),
    routes.HistoryRoute: lambda _tool: routes.HistoryRoute(),
    routes.BinRoute: lambda _tool: routes.BinRoute(),
    routes.SettingsRoute: lambda _tool: routes.SettingsRoute(),
    routes.KindsRoute: lambda _tool: routes.KindsRoute(),
    routes.BackupsRoute: lambda _tool: routes.BackupsRoute(),
    routes.ViewsMissingRoute: lambda tool: routes.ViewsMissingRoute(batch=tool.batch),
}

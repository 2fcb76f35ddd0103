"""Views of many tools at once say the same as the whole record of each."""

from planebench.catalog.photographed_views import photographed_views
from planebench.catalog.tools import ToolFilter


def test_views_of_all_tools_are_those_of_their_records(sample):
    asked = photographed_views(sample)
    tools = [sample.tools.one(tool) for tool in sample.tools.find(ToolFilter())]

    assert [one.tool for one in asked] == [tool.id for tool in tools]
    for one, tool in zip(asked, tools, strict=True):
        photographs = sorted((photo.stage, photo.view) for photo in tool.photographs)
        assert sorted(one.there) == photographs
        assert (one.stock, one.title, one.kind, one.status) == (
            tool.stock_number,
            tool.line.title,
            tool.kind,
            tool.status,
        )


def test_only_the_batch_that_is_asked_for_is_given(sample):
    tool = sample.tools.one(sample.tools.by_stock_number("LOT7-003"))

    asked = photographed_views(sample, tool.batch)

    assert [one.tool for one in asked] == list(sample.tools.find(ToolFilter(batch=tool.batch)))

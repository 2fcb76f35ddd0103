"""All rows of the catalog; private to the catalog package."""

from planebench.catalog.tables.base import EditedRow, Row
from planebench.catalog.tables.photograph_tables import (
    OriginalRow,
    OutlineRow,
    PairRow,
    PhotographRow,
    PinRow,
    ReadingAreaRow,
)
from planebench.catalog.tables.record import (
    CatalogInfoRow,
    ChangeRow,
    EditRow,
    IssuedSheetRow,
    OwnKindRow,
    OwnTableRow,
    RunUnderWayRow,
    SettingRow,
)
from planebench.catalog.tables.tool_tables import (
    BatchRow,
    ComparableRow,
    DefectRow,
    DimensionRow,
    EvidenceRow,
    PartRow,
    ReadingRow,
    SurfaceRow,
    ToolRow,
    WorkRow,
)

__all__ = [
    "BatchRow",
    "CatalogInfoRow",
    "ChangeRow",
    "ComparableRow",
    "DefectRow",
    "DimensionRow",
    "EditRow",
    "EditedRow",
    "EvidenceRow",
    "IssuedSheetRow",
    "OriginalRow",
    "OutlineRow",
    "OwnKindRow",
    "OwnTableRow",
    "PairRow",
    "PartRow",
    "PhotographRow",
    "PinRow",
    "ReadingAreaRow",
    "ReadingRow",
    "Row",
    "RunUnderWayRow",
    "SettingRow",
    "SurfaceRow",
    "ToolRow",
    "WorkRow",
]

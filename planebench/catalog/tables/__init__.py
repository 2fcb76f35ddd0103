"""All rows of the catalog; private to the catalog package."""

from planebench.catalog.tables.base import EditedRow, Row
from planebench.catalog.tables.photographs import (
    OutlineRow,
    PairRow,
    PhotographRow,
    PinRow,
    ReadingAreaRow,
    StoredFileRow,
)
from planebench.catalog.tables.record import (
    CatalogInfoRow,
    ChangeRow,
    EditRow,
    IssuedSheetRow,
    OwnKindRow,
    OwnTableRow,
    SettingRow,
)
from planebench.catalog.tables.tools import (
    BatchRow,
    ComparableRow,
    DefectRow,
    MeasurementRow,
    PartRow,
    ReadingRow,
    SignRow,
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
    "EditRow",
    "EditedRow",
    "IssuedSheetRow",
    "MeasurementRow",
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
    "SettingRow",
    "SignRow",
    "StoredFileRow",
    "SurfaceRow",
    "ToolRow",
    "WorkRow",
]

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
    EvidenceRow,
    MeasurementRow,
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
    "EditRow",
    "EditedRow",
    "EvidenceRow",
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
    "StoredFileRow",
    "SurfaceRow",
    "ToolRow",
    "WorkRow",
]

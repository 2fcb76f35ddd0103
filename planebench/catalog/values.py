"""What the catalog returns: frozen values, one class per kind; rows never leave the catalog."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from decimal import Decimal

from planebench.catalog.ids import (
    BatchId,
    ComparableId,
    DefectId,
    DimensionId,
    EvidenceId,
    OutlineId,
    PairId,
    PartId,
    PhotographId,
    PinId,
    ReadingId,
    SheetId,
    SurfaceId,
    ToolId,
    WorkId,
)
from planebench.catalog.reference import BARE
from planebench.trade.progress import NextStep
from planebench.trade.purchases import BatchCost
from planebench.trade.shares import Share
from planebench.trade.terms import Basis, Completeness, PartStatus, Stage, ToolStatus

Json = dict[str, object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """A purchase of one or more tools; money in `currency`."""

    id: BatchId
    version: int
    code: str
    title: str
    bought_on: dt.date | None
    bought_from: str
    price: Decimal | None
    premium: Decimal | None
    carriage: Decimal | None
    currency: str
    note: str
    binned_at: dt.datetime | None

    @property
    def cost(self) -> BatchCost:
        """What it cost, as far as entered."""
        return BatchCost(price=self.price, premium=self.premium, carriage=self.carriage)


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchLine:
    """A batch in the list of batches: how many tools, how many of them sold."""

    batch: Batch
    tools: int
    sold: int
    sold_for: Decimal
    latest_photograph: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A part that the tool has or should have."""

    id: PartId
    version: int
    code: str
    name: str
    finish: str
    small: bool
    optional: bool
    status: PartStatus
    note: str
    position: int

    @property
    def unasked(self) -> bool:
        """Whether nobody asks for it: not every model had one, and none was seen here."""
        return self.optional and self.status is PartStatus.NOT_SEEN


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A surface whose finish is judged as one; `parts` are codes of the parts it covers."""

    id: SurfaceId
    version: int
    code: str
    name: str
    finish: str
    parts: tuple[str, ...]
    position: int

    @property
    def is_bare(self) -> bool:
        """Whether it never had a finish: only rust is read of it, and that is not asked."""
        return self.finish == BARE


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingArea:
    """What one outline on one photograph gave to a measured reading."""

    outline: OutlineId
    photograph: PhotographId
    kept_px: int
    lost_px: int
    cannot_tell_px: int
    area_mm2: Decimal | None
    share: Json


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A share of a surface at one stage; `new_finish` is the part of it laid over losses.

    For finish "rust" the share is the rusted one.
    """

    id: ReadingId
    version: int
    surface: SurfaceId
    finish: str
    stage: Stage
    share: Share
    new_finish: Share | None
    method: str
    note: str
    read_by: str
    read_at: dt.datetime
    areas: tuple[ReadingArea, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Defect:
    """Something wrong that a buyer would want to know; `number` is its balloon."""

    id: DefectId
    version: int
    part: PartId | None
    number: int
    kind: str
    severity: str
    place: str
    size: str
    size_basis: Basis
    note: str
    disclosed: bool
    why_not_disclosed: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EvidenceEntry:
    """What bears on the date of a part, or of the whole tool (`part` None); years inclusive."""

    id: EvidenceId
    version: int
    part: PartId | None
    number: int
    kind: str
    seen: str
    mark: Json
    years: str
    edtf: str
    not_before: int | None
    not_after: int | None
    sure: Decimal
    looseness: int
    basis: Basis
    source: str
    source_status: str
    counted: bool
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A length in mm or an angle in degrees."""

    id: DimensionId
    version: int
    part: PartId | None
    what: str
    value: Decimal
    plus_minus: Decimal | None
    as_typed: str
    basis: Basis


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """An entry of the bench log; `disclosed` when a buyer must be told of it."""

    id: WorkId
    version: int
    part: PartId | None
    kind: str
    what: str
    materials: str
    done_on: dt.date | None
    minutes: int | None
    cost: Decimal | None
    disclosed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparable:
    """A sale of a like tool, used to judge a price."""

    id: ComparableId
    version: int
    what: str
    price: Decimal
    currency: str
    sold_on: dt.date | None
    where: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """The spot of a defect or evidence on an upright photograph, and its balloon, 0 to 1."""

    id: PinId
    version: int
    photograph: PhotographId
    defect: DefectId | None
    evidence: EvidenceId | None
    x: float
    y: float
    balloon_x: float
    balloon_y: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Photograph:
    """A photograph of the catalog; width and height upright, in pixels.

    While it waits to be filed, `filed_why` says why and `suggested` may name a stock number.
    """

    id: PhotographId
    version: int
    sha256: str
    suffix: str
    batch: BatchId | None
    tool: ToolId | None
    stage: Stage
    view: str
    caption: str
    position: int
    original_name: str
    taken_at: dt.datetime | None
    added_at: dt.datetime
    camera: str
    width: int
    height: int
    filed_by: str
    filed_reason: str
    scale: Json | None
    perceptual_hash: str | None
    sharpness: float | None
    suggested_stock_number: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """A photograph as found and one finished, of the same view."""

    id: PairId
    version: int
    before: PhotographId
    after: PhotographId
    alignment: Json | None
    on_sheet: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """A surface outlined on a photograph; polygons and strokes in pixels of the upright picture."""

    id: OutlineId
    version: int
    photograph: PhotographId
    surface: SurfaceId
    finish: str
    polygons: Json
    strokes: Json


@dataclass(frozen=True, slots=True, kw_only=True)
class IssuedSheet:
    """A condition sheet as it was issued."""

    id: SheetId
    tool: ToolId
    number: int
    issued_at: dt.datetime
    issued_by: str
    file_name: str
    fingerprint: str
    content: Json


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolLine:
    """A tool in a list: what a row shows, worked out when the record last changed.

    `main_share` is the main surface's reading, `main_was` the share as found if that differs;
    `made` and `made_basis` are words ("1913 to 1918", "parts disagree").
    """

    id: ToolId
    batch: BatchId
    stock_number: str
    title: str
    subtitle: str
    status: ToolStatus
    latest_photograph: str | None
    main_share: Share | None
    main_was: Share | None
    made: str
    made_basis: str
    known: tuple[Completeness, ...]
    next_act: NextStep


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """The whole record of one tool, without what is in the bin."""

    id: ToolId
    version: int
    batch: BatchId
    stock_number: str
    kind: str
    maker: str
    model: str
    size: str
    identified_by: Basis | None
    note: str
    status: ToolStatus
    defects_inspected: bool
    work_finished: bool
    asking: Decimal | None
    sold_for: Decimal | None
    sold_on: dt.date | None
    sold_to: str
    binned_at: dt.datetime | None
    parts: tuple[Part, ...]
    surfaces: tuple[Surface, ...]
    readings: tuple[Reading, ...]
    defects: tuple[Defect, ...]
    evidence: tuple[EvidenceEntry, ...]
    dimensions: tuple[Dimension, ...]
    work: tuple[Work, ...]
    comparables: tuple[Comparable, ...]
    photographs: tuple[Photograph, ...]
    pairs: tuple[Pair, ...]
    pins: tuple[Pin, ...]
    line: ToolLine

    @property
    def finished_surfaces(self) -> tuple[Surface, ...]:
        """The surfaces that have a finish, the main one first."""
        return tuple(surface for surface in self.surfaces if not surface.is_bare)

    @property
    def parts_seen(self) -> bool:
        """Whether any part was looked at."""
        return any(part.status != PartStatus.NOT_SEEN for part in self.parts)

    def reading(self, surface: SurfaceId, stage: Stage, *, rust: bool = False) -> Reading | None:
        """Return the reading that counts: the latest measured one, else the latest by any basis."""
        of_it = [
            r
            for r in self.readings
            if r.surface == surface and r.stage == stage and (r.finish == "rust") == rust
        ]
        return max(of_it, key=lambda r: (r.share.basis == Basis.MEASURED, r.read_at), default=None)

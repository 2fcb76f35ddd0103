"""What a condition sheet says: plain values and finished sentences, and nothing of its layout."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path

from planebench.trade.units import LengthUnit

Point = tuple[float, float]
Ring = tuple[Point, ...]


class Paper(StrEnum):
    """The sheet of paper: ANSI/ASME Y14.1 size A (Letter) or ISO 216 A4."""

    LETTER = "letter"
    A4 = "a4"


class SheetSection(StrEnum):
    """What may be left off a sheet. What a buyer must know first is none of these: it stays."""

    BEFORE_AFTER = "before_after"
    OTHER_PHOTOGRAPHS = "other_photographs"
    DEFECTS = "defects"
    FINISH = "finish"
    DATING = "dating"
    PARTS = "parts"
    WORK = "work"
    PRICE = "price"
    PROMISE = "promise"


class Certainty(StrEnum):
    """How a figure is drawn: solid with a lozenge, dashed with a ring, or the bare scale."""

    MEASURED = "measured"
    BY_EYE = "by_eye"
    UNKNOWN = "unknown"


class SheetEvidenceWeight(StrEnum):
    """How a sign of age is drawn: full ink, pale, or rust because it does not agree."""

    FULL = "full"
    HALF = "half"
    DISAGREES = "disagrees"


class PartDrawing(StrEnum):
    """How a part is drawn: inked, hatched, with a dashed edge, or crossed out."""

    SEEN = "seen"
    NOT_ORIGINAL = "not_original"
    NOT_SEEN = "not_seen"
    MISSING = "missing"


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetChoices:
    """What a person chose for a sheet; each default suits most people."""

    paper: Paper = Paper.LETTER
    first_unit: LengthUnit = LengthUnit.INCH
    sections: frozenset[SheetSection] = frozenset(SheetSection)
    standard_ratings: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """The line above everything. `issued` is a day in words, empty for a draft."""

    number: str
    stock: str
    issued: str
    seller: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPin:
    """A numbered spot: shares of the upright photograph's width and height, 0 to 1, from top left.

    `number` is the defect's number in the table, `balloon` where its number stands, as the same
    shares; None leaves that to the sheet.
    """

    number: int
    x: float
    y: float
    balloon: Point | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Crop:
    """The part of the upright photograph that is printed: shares of its sides, 0 to 1."""

    left: float = 0.0
    top: float = 0.0
    right: float = 1.0
    bottom: float = 1.0

    def __post_init__(self) -> None:
        """Refuse a crop without area or outside the picture."""
        if not (0 <= self.left < self.right <= 1 and 0 <= self.top < self.bottom <= 1):
            message = f"crop out of order: {self}"
            raise ValueError(message)


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPhotograph:
    """One photograph: its file, the SHA-256 of its bytes, what stands under it, and its pins.

    `alternative` tells someone who cannot see it what is there; it is never empty.
    """

    file: Path
    sha256: str
    caption: str
    alternative: str
    crop: Crop = field(default_factory=Crop)
    pins: tuple[SheetPin, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPhotographs:
    """One view large (finished, if there is one), the same as found, one other, and the rest.

    `missing` says in a sentence what was not photographed, for the place where it would stand.
    """

    main: SheetPhotograph | None = None
    found: SheetPhotograph | None = None
    other: SheetPhotograph | None = None
    more: tuple[SheetPhotograph, ...] = ()
    missing: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyFigure:
    """One of up to four large figures: "97%", "95 to 99", what it is of, and its basis."""

    value: str
    interval: str
    of: str
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetDefect:
    """One row of the defects table; `size` says "not measured" where it was not."""

    number: int
    what: str
    where: str
    size: str
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FinishReading:
    """How much of one finish is left: percents 0 to 100 for the scale, words beside it.

    `words` is the reading ("97%", "about 70%", "not measured"), `interval` what stands in the
    brackets, `note` what stands under the part's name, `rating` the class of a standard, `covered`
    what a measured share was read on.
    """

    part: str
    note: str
    certainty: Certainty
    words: str
    interval: str = ""
    basis: str = ""
    rating: str = ""
    covered: str = ""
    value: float | None = None
    low: float | None = None
    high: float | None = None
    found: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineDrawing:
    """A measured outline: rings of points in any one unit, y downward; holes are rings too.

    Rings overlap by the even-odd rule. `body` is the tool's own outline, if one is known. With
    `rust`, what is drawn as lost is rusted.
    """

    name: str
    alternative: str
    outline: tuple[Ring, ...]
    body: tuple[Ring, ...] = ()
    lost: tuple[Ring, ...] = ()
    new_finish: tuple[Ring, ...] = ()
    cannot_tell: tuple[Ring, ...] = ()
    rust: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetEvidence:
    """One sign of age: the years it allows (inclusive; None is open) and how loosely.

    `words` gives the years in words; `terminus` marks a start before which it cannot have been,
    `terminus_end` an end after which it cannot have been.
    """

    number: int
    what: str
    words: str
    first: int | None = None
    last: int | None = None
    loose_before: int = 0
    loose_after: int = 0
    terminus: bool = False
    terminus_end: bool = False
    trust: SheetEvidenceWeight = SheetEvidenceWeight.FULL


@dataclass(frozen=True, slots=True, kw_only=True)
class YearColumns:
    """What each year weighs, from `first` on, 0 to 1; `agrees` is false for a later part."""

    first: int
    weights: tuple[float, ...]
    agrees: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetDating:
    """When it was made: in words always, and as a chart where signs have years.

    `bands` are the likeliest years, first and last of each range, and `band_words` what they are.
    """

    in_words: str
    reasons: tuple[str, ...] = ()
    disagreements: tuple[str, ...] = ()
    evidence: tuple[SheetEvidence, ...] = ()
    bands: tuple[tuple[int, int], ...] = ()
    band_words: str = ""
    columns: tuple[YearColumns, ...] = ()
    sources: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartShape:
    """One part of the side drawing: a ring, x to the right and y downward, and how it is seen."""

    name: str
    ring: Ring
    seen: PartDrawing


@dataclass(frozen=True, slots=True, kw_only=True)
class PartGroup:
    """Parts alike in one thing: "Seen", "Not original to it", "Not seen", "Missing"."""

    label: str
    names: str
    warns: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetParts:
    """What it consists of, in words and, where the kind has a side drawing, drawn."""

    groups: tuple[PartGroup, ...] = ()
    shapes: tuple[PartShape, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetDimension:
    """One length in both units, or an angle in `words`.

    All three empty means that it was not measured, which is said.
    """

    of: str
    words: str = ""
    inches: str = ""
    millimeters: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetWork:
    """One entry of the bench log; `told` marks a treatment that a buyer must be told of.

    `day` is None where none is written down.
    """

    day: dt.date | None
    what: str
    told: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """Where to take care: a name, what to do in sentences, and where that stands."""

    name: str
    words: str
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Address:
    """Who sells: a name, a person, and further lines as they stand on an envelope."""

    name: str = ""
    person: str = ""
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetContent:
    """Everything one sheet says, whatever paper it is printed on and whatever is left off.

    `know_first` holds full sentences; `unknown` says what was not seen, measured or photographed.
    """

    heading: Heading
    title: str
    summary: str
    price: str = ""
    photographs: SheetPhotographs = field(default_factory=SheetPhotographs)
    figures: tuple[KeyFigure, ...] = ()
    know_first: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    defects: tuple[SheetDefect, ...] = ()
    no_defects: str = "None recorded."
    finish: tuple[FinishReading, ...] = ()
    drawings: tuple[OutlineDrawing, ...] = ()
    dating: SheetDating
    parts: SheetParts = field(default_factory=SheetParts)
    measurements: tuple[SheetDimension, ...] = ()
    work: tuple[SheetWork, ...] = ()
    cautions: tuple[Caution, ...] = ()
    promise: str = ""
    address: Address = field(default_factory=Address)
    replaces: str = ""
    choices: SheetChoices = field(default_factory=SheetChoices)

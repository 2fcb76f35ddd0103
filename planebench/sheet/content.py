"""What a condition sheet says: plain values and finished sentences, no layout."""

from __future__ import annotations

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
    """How a boundary is drawn: solid with a lozenge, dashed with a ring, or not at all."""

    MEASURED = "measured"
    BY_EYE = "by_eye"
    UNKNOWN = "unknown"


class SheetEvidenceWeight(StrEnum):
    """How a piece of evidence is drawn: full ink, pale, or rust because it does not agree."""

    FULL = "full"
    HALF = "half"
    DISAGREES = "disagrees"


class PartDrawing(StrEnum):
    """How a part is drawn: inked, hatched one way, with a dashed edge, or crossed."""

    SEEN = "seen"
    NOT_ORIGINAL = "not_original"
    NOT_CHECKED = "not_checked"
    MISSING = "missing"


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetChoices:
    """What a person chose for a sheet."""

    paper: Paper = Paper.LETTER
    first_unit: LengthUnit = LengthUnit.INCH
    sections: frozenset[SheetSection] = frozenset(SheetSection)
    standard_ratings: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """The line at the top of each page.

    `number` is four digits, `issued` a day in words, `issued_on` the same as YYYY-MM-DD; all are
    empty on a draft, which has `drafted` instead.
    """

    number: str
    stock: str
    issued: str
    seller: str
    drafted: str = ""
    issued_on: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPin:
    """A numbered spot: shares of the upright photograph's width and height, 0 to 1, from top left.

    `number` is the defect's number; `balloon` is where its number is drawn, in the same shares,
    None to let the layout choose.
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
    """One photograph: its file, the SHA-256 of its bytes, its caption and its pins.

    `alternative` describes it to someone who cannot see it; it is never empty.
    """

    file: Path
    sha256: str
    caption: str
    alternative: str
    crop: Crop = field(default_factory=Crop)
    pins: tuple[SheetPin, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPhotographs:
    """One view large (finished if there is one), the same view as found, one more, and the rest.

    `missing` is a sentence in place of photographs where there are none; `count` says how many of
    all are shown.
    """

    main: SheetPhotograph | None = None
    found: SheetPhotograph | None = None
    other: SheetPhotograph | None = None
    more: tuple[SheetPhotograph, ...] = ()
    missing: str = ""
    count: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListLine:
    """One line of Problems or Not checked: a bold lead, the rest, and the defects it is about."""

    lead: str
    words: str = ""
    defects: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CloseUp:
    """A part of a photograph cut out around a defect's pin.

    `bar_mm` is the length of the scale bar, `bar_share` its part of the print's width; both None
    where the photograph has no scale.
    """

    photograph: SheetPhotograph
    bar_mm: int | None = None
    bar_share: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetDefect:
    """One defect: what, where, its size in both units or "not measured", and on what basis.

    `since` says what was done about it after it was recorded.
    """

    number: int
    what: str
    where: str
    size: tuple[str, ...]
    basis: str
    since: str = ""
    close_up: CloseUp | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BarShare:
    """One share of a surface in words ("83%", "about 70%", "none seen") with its range in words.

    `percent` is a whole number; those of one bar add to 100. None where it is not known.
    """

    words: str
    interval: str = ""
    percent: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Boundary:
    """Where one share ends and the next begins, with its range, each 0 to 100."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StageBar:
    """How a surface divides at one stage: one share for each column, and the edges between them.

    Without `boundaries` nothing is drawn; `not_drawn` then says why.
    """

    stage: str
    certainty: Certainty
    basis: str
    shares: tuple[BarShare, ...]
    boundaries: tuple[Boundary, ...] = ()
    not_drawn: str = ""
    aside: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceBars:
    """A surface with a bar for each stage that was read; `note` names its finish, if known.

    `covered` says what the measured shares were read on, `rating` the classes of standards.
    """

    surface: str
    note: str
    bars: tuple[StageBar, ...]
    covered: str = ""
    rating: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineDrawing:
    """A measured outline: rings of points in any one unit, y downward; holes are rings too.

    Rings fill by the even-odd rule. `body` is the tool's own outline, if known. With `rust`,
    what is drawn as lost is rusted.
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
    """One piece of evidence: the years it allows (inclusive; None is open), and how loosely.

    `words` are the years in words, `basis` how it was seen; `terminus` marks a start before which
    the part cannot have been made, `terminus_end` an end after which it cannot.
    """

    number: int
    what: str
    words: str
    basis: str = ""
    first: int | None = None
    last: int | None = None
    loose_before: int = 0
    loose_after: int = 0
    terminus: bool = False
    terminus_end: bool = False
    trust: SheetEvidenceWeight = SheetEvidenceWeight.FULL


@dataclass(frozen=True, slots=True, kw_only=True)
class YearColumns:
    """How likely each year is, 0 to 1, from `first` on; `agrees` is False for a later part."""

    first: int
    weights: tuple[float, ...]
    agrees: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetDating:
    """When it was made: always in words, and as a chart where evidence has years.

    `bands` are the likeliest years, first and last of each range, `band_words` what they are.
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
    """Parts of one status: "Seen", "Replaced", "Missing", "Not checked"."""

    label: str
    names: str
    warns: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetParts:
    """The tool's parts in words and, where the kind has a side drawing, drawn."""

    groups: tuple[PartGroup, ...] = ()
    shapes: tuple[PartShape, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetDimension:
    """One length in both units with its ±, or an angle or weight in `words`.

    All three empty means that it was not measured, which the sheet says.
    """

    of: str
    words: str = ""
    inches: str = ""
    millimeters: str = ""
    basis: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetWork:
    """One entry of the bench log; `changes_tool` marks a treatment that a buyer must know of.

    `day` is in words, "no date" where none is recorded.
    """

    day: str
    what: str
    materials: str = ""
    changes_tool: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Address:
    """The seller: workshop, person, and further lines as on an envelope."""

    name: str = ""
    person: str = ""
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetContent:
    """Everything one sheet says, whatever is left off in print.

    `to_settle` holds what must be settled before a draft can be issued. `cautions` are leads with
    words, `finish_columns` the headings of the three shares. `form` is the version of this shape,
    kept with issued sheets so that later versions can read them.
    """

    heading: Heading
    title: str
    summary: str
    dating: SheetDating
    form: int = 2
    price: str = ""
    to_settle: tuple[str, ...] = ()
    photographs: SheetPhotographs = field(default_factory=SheetPhotographs)
    finish: tuple[SurfaceBars, ...] = ()
    finish_columns: tuple[str, ...] = ("First finish", "New finish", "Bare")
    problems: tuple[ListLine, ...] = ()
    not_checked: tuple[ListLine, ...] = ()
    inspection: str = ""
    defects: tuple[SheetDefect, ...] = ()
    defects_left_off: str = ""
    iron: tuple[SurfaceBars, ...] = ()
    drawings: tuple[OutlineDrawing, ...] = ()
    parts: SheetParts = field(default_factory=SheetParts)
    measurements: tuple[SheetDimension, ...] = ()
    cutter: tuple[SheetDimension, ...] = ()
    cutter_note: str = ""
    work: tuple[SheetWork, ...] = ()
    work_not_recorded: str = ""
    cautions: tuple[ListLine, ...] = ()
    promise: str = ""
    address: Address = field(default_factory=Address)
    replaces: str = ""
    choices: SheetChoices = field(default_factory=SheetChoices)

"""The fixed terms of the trade that the program reasons with; open lists are data in resources/."""

from __future__ import annotations

from enum import StrEnum


class ToolStatus(StrEnum):
    """Where a tool is on its way from the pile to the buyer."""

    AS_FOUND = "as_found"
    ON_BENCH = "on_the_bench"
    FINISHED = "finished"
    OFFERED = "offered"
    SOLD = "sold"
    NOT_FOR_SALE = "not_for_sale"


class Stage(StrEnum):
    """When a photograph or a reading was made."""

    AS_FOUND = "as_found"
    DURING = "during"
    FINISHED = "finished"


LATEST_FIRST = (Stage.FINISHED, Stage.DURING, Stage.AS_FOUND)
"""Stages from the last to the first: what is known now is what was recorded last."""


class PartStatus(StrEnum):
    """What is known of a part; NOT_SEEN is the honest start."""

    NOT_SEEN = "not_seen"
    PRESENT = "present"
    MISSING = "missing"
    REPLACED = "replaced"
    NOT_ORIGINAL = "not_original"


class Basis(StrEnum):
    """What a figure stands on; it travels with the figure to the sheet."""

    MEASURED = "measured"
    COUNTED = "counted"
    READ_OFF = "read_off"
    BY_EYE = "by_eye"
    TOLD = "told"


SOLID_BASES = frozenset({Basis.MEASURED, Basis.COUNTED, Basis.READ_OFF})
"""Figures on these are stated as they are; all others need an "about"."""


class Completeness(StrEnum):
    """How far one of the seven questions about a tool is answered."""

    OPEN = "open"
    IN_PART = "in_part"
    COMPLETE = "complete"
    DISAGREES = "disagrees"


TOOL_STATUS_WORDS: dict[ToolStatus, str] = {
    ToolStatus.AS_FOUND: "as found",
    ToolStatus.ON_BENCH: "on the bench",
    ToolStatus.FINISHED: "finished",
    ToolStatus.OFFERED: "offered",
    ToolStatus.SOLD: "sold",
    ToolStatus.NOT_FOR_SALE: "not for sale",
}
STAGE_WORDS: dict[Stage, str] = {
    Stage.AS_FOUND: "as found",
    Stage.DURING: "during the work",
    Stage.FINISHED: "finished",
}
PART_STATUS_WORDS: dict[PartStatus, str] = {
    PartStatus.NOT_SEEN: "not seen",
    PartStatus.PRESENT: "present",
    PartStatus.MISSING: "missing",
    PartStatus.REPLACED: "replaced",
    PartStatus.NOT_ORIGINAL: "not original to it",
}
BASIS_WORDS: dict[Basis, str] = {
    Basis.MEASURED: "measured",
    Basis.COUNTED: "counted",
    Basis.READ_OFF: "read off",
    Basis.BY_EYE: "by eye",
    Basis.TOLD: "told",
}

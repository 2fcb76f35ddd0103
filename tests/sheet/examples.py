"""Invented sheets for the tests: a bare record, a full one, and one whose words go too far.

The workshop, its makers, people and towns are invented; so are all figures. The photographs are
rendered pictures of an invented plane (CC0).
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from pathlib import Path

from planebench.sheet.content import (
    Address,
    BarShare,
    Boundary,
    Certainty,
    CloseUp,
    Crop,
    Heading,
    ListLine,
    OutlineDrawing,
    PartDrawing,
    PartGroup,
    PartShape,
    Ring,
    SheetContent,
    SheetDating,
    SheetDefect,
    SheetDimension,
    SheetEvidence,
    SheetEvidenceWeight,
    SheetParts,
    SheetPhotograph,
    SheetPhotographs,
    SheetPin,
    SheetWork,
    StageBar,
    SurfaceBars,
    YearColumns,
)

DATA = Path(__file__).parent / "data"
FINISHED = DATA / "smoother-finished.jpg"
FOUND = DATA / "smoother-found.jpg"


def photograph(file: Path, caption: str, crop: Crop, *pins: SheetPin) -> SheetPhotograph:
    return SheetPhotograph(
        file=file,
        sha256=hashlib.sha256(file.read_bytes()).hexdigest(),
        caption=caption,
        alternative=f"Smoothing plane. {caption}",
        crop=crop,
        pins=pins,
    )


def bare() -> SheetContent:
    """A record that holds nothing but a kind and a stock number."""
    return SheetContent(
        heading=Heading(number="", stock="LOT1-001", issued="", seller="", drafted="May 12, 2026"),
        title="Smoothing plane",
        summary="Maker not known. When it was made is not known.",
        to_settle=("Missing: photographs.",),
        photographs=SheetPhotographs(missing="No photographs."),
        problems=(
            ListLine(
                lead="None recorded.", words="The inspection is not complete; expect defects."
            ),
        ),
        not_checked=(
            ListLine(lead="Parts:", words="not checked one by one."),
            ListLine(lead="No photographs."),
        ),
        inspection="Inspection not complete; expect further defects.",
        finish=(
            SurfaceBars(
                surface="Bed and cheeks",
                note="",
                bars=(
                    StageBar(
                        stage="As found",
                        certainty=Certainty.UNKNOWN,
                        basis="",
                        shares=(BarShare(words="not measured"), *(BarShare(words=""),) * 2),
                    ),
                ),
            ),
        ),
        dating=SheetDating(in_words="When it was made is not known: no evidence is recorded."),
        parts=SheetParts(
            groups=(PartGroup(label="Not checked", names="body, cutter, handle, knob"),)
        ),
        work_not_recorded="Work: not recorded.",
        cautions=(ListLine(lead="Sharp cutter:", words="keep fingers off its edge."),),
    )


def outlines() -> tuple[OutlineDrawing, ...]:
    drawn = json.loads((DATA / "outlines.json").read_text("utf-8"))
    bed, cap = drawn["bed"], drawn["cap"]
    return (
        OutlineDrawing(
            name="Bed and cheeks, from above",
            alternative="Outline of the bed: kept but for spots at the rear and by the knob.",
            body=_rings(bed["body"]),
            outline=_rings(bed["outline"]),
            lost=_rings(bed["lost"]),
            new_finish=_rings(bed["new"]),
        ),
        OutlineDrawing(
            name="Lever cap",
            alternative="Outline of the lever cap: lost along its lower edge and round the screw.",
            outline=_rings(cap["outline"]),
            lost=_rings(cap["lost"]),
        ),
    )


def _rings(plain: list[list[list[float]]]) -> tuple[Ring, ...]:
    return tuple(tuple((x, y) for x, y in ring) for ring in plain)


def all_evidence() -> tuple[SheetEvidence, ...]:
    return (
        SheetEvidence(
            number=1,
            what="“PAT. JAN. 28. 13” cast in the bed",
            words="1913 or later",
            first=1913,
            last=1932,
            loose_after=5,
            terminus=True,
        ),
        SheetEvidence(
            number=2,
            what="Foundry mark, H in a ring, under the knob",
            words="1909 to 1918",
            first=1909,
            last=1918,
            loose_before=2,
            loose_after=2,
        ),
        SheetEvidence(
            number=3,
            what="Low knob with a bead at the foot",
            words="1902 to 1918",
            first=1902,
            last=1918,
            loose_before=2,
            loose_after=3,
        ),
        SheetEvidence(
            number=4,
            what="“Grandfather bought it about 1915”",
            words="1912 to 1918",
            first=1912,
            last=1918,
            loose_before=3,
            loose_after=3,
            trust=SheetEvidenceWeight.HALF,
        ),
        SheetEvidence(
            number=5,
            what="“MADE IN WENDHOLM” and a stock code, on the cutter",
            words="1934 to 1941",
            first=1934,
            last=1941,
            loose_before=1,
            loose_after=1,
            trust=SheetEvidenceWeight.DISAGREES,
        ),
    )


def dating() -> SheetDating:
    return SheetDating(
        in_words="Body, lever cap and knob: 1913 to 1918",
        disagreements=("Cutter: 1934 to 1941, a later part",),
        evidence=all_evidence(),
        bands=((1913, 1918),),
        band_words="the 90% range",
        columns=(
            YearColumns(first=1912, weights=(0.0, 0.17, 0.17, 0.17, 0.17, 0.16, 0.15, 0.06, 0.01)),
            YearColumns(first=1933, weights=(0.03, *(0.12,) * 8, 0.02), agrees=False),
        ),
        sources="Source of 1: U.S. patent dates, issue table; of 2: Halbeck type study, invented.",
    )


def finish() -> tuple[SurfaceBars, ...]:
    return (
        SurfaceBars(
            surface="Bed and cheeks",
            note="japanning",
            bars=(
                _bar("As found", "measured, Mar 14", ("81%", "78 to 84"), ("19%", "16 to 22")),
                _bar(
                    "Now",
                    "measured, May 2",
                    ("76%", "71 to 80"),
                    ("3%", "1 to 5"),
                    new=("21%", "18 to 25"),
                ),
            ),
            rating="ISO 4628-5: class 2",
        ),
        SurfaceBars(
            surface="Handle and knob",
            note="lacquer",
            bars=(
                _bar(
                    "Now",
                    "by eye, May 2",
                    ("about 70%", "60 to 80"),
                    ("about 30%", "20 to 40"),
                ),
            ),
        ),
        SurfaceBars(
            surface="Frog",
            note="",
            bars=(
                StageBar(
                    stage="Now",
                    certainty=Certainty.UNKNOWN,
                    basis="",
                    shares=(BarShare(words="not measured"), *(BarShare(words=""),) * 2),
                ),
            ),
        ),
    )


def _bar(
    stage: str,
    basis: str,
    first: tuple[str, str],
    bare_left: tuple[str, str],
    *,
    new: tuple[str, str] | None = None,
) -> StageBar:
    shown = [first, new, bare_left]
    percents = [0 if one is None else int(one[0].removeprefix("about ")[:-1]) for one in shown]
    edges = [percents[0]] if new is None else [percents[0], percents[0] + percents[1]]
    return StageBar(
        stage=stage,
        certainty=Certainty.BY_EYE if first[0].startswith("about") else Certainty.MEASURED,
        basis=basis,
        shares=tuple(
            BarShare(words="none seen", percent=0)
            if one is None
            else BarShare(words=one[0], interval=one[1], percent=percent)
            for one, percent in zip(shown, percents, strict=True)
        ),
        boundaries=tuple(Boundary(value=e, low=e - 3, high=e + 3) for e in edges),
    )


def photographs() -> SheetPhotographs:
    pins = (
        SheetPin(number=1, x=0.66, y=0.37),
        SheetPin(number=2, x=0.62, y=0.5),
        SheetPin(number=3, x=0.57, y=0.35),
        SheetPin(number=4, x=0.33, y=0.4, balloon=(0.25, 0.52)),
    )
    whole = Crop(left=0.05, top=0.02, right=0.95, bottom=0.63)
    found = Crop(left=0.06, top=0.02, right=0.94, bottom=0.63)
    return SheetPhotographs(
        main=photograph(
            FINISHED,
            "Finished, May 2, 2026, from above. The numbers are the defects below.",
            whole,
            *pins,
        ),
        found=photograph(
            FOUND,
            "As found, March 14, 2026, the same view.",
            found,
            SheetPin(number=3, x=0.53, y=0.36),
        ),
        other=photograph(FOUND, "Left side, as found.", Crop(top=0.02, bottom=0.62)),
    )


def full() -> SheetContent:
    """A record complete enough to fill two pages."""
    return SheetContent(
        heading=Heading(
            number="0417",
            stock="LOT7-003",
            issued="May 12, 2026",
            issued_on="2026-05-12",
            seller="Wendholm Workshop",
        ),
        title="Smoothing plane, Halbeck & Son pattern K",
        summary="Made in Wendholm between about 1913 and 1918, with a later cutter. Ready to use.",
        price="$165.00",
        photographs=photographs(),
        problems=(
            ListLine(lead="Cutter:", words="1934 to 1941, a later part."),
            ListLine(
                lead="New japanning",
                words="over losses on 21% of the bed and cheeks.",
                defects=(4,),
            ),
        ),
        not_checked=(
            ListLine(lead="Adjusting wheel:", words="not checked."),
            ListLine(lead="Not photographed:", words="left side and right side."),
        ),
        inspection="Inspected by R. Fenn: body, cutter, handle; nothing else found.",
        defects=(
            SheetDefect(
                number=1,
                what="Chip, slight",
                where="Body, rear edge of the mouth",
                size=("0.067 × 0.063 in", "1.7 × 1.6 mm"),
                basis="measured",
                close_up=CloseUp(
                    photograph=photograph(
                        FINISHED, "", Crop(left=0.6, top=0.3, right=0.72, bottom=0.42)
                    ),
                    bar_mm=10,
                    bar_share=0.3,
                ),
            ),
            SheetDefect(
                number=2,
                what="Pitting, slight",
                where="Body, left cheek below the hump",
                size=("about 23/64 × 5/32 in", "about 9 × 4 mm"),
                basis="by eye",
            ),
            SheetDefect(
                number=3,
                what="Plating loss",
                where="Lever cap, lower edge and around the screw",
                size=("18% of the face",),
                basis="measured",
            ),
            SheetDefect(
                number=4,
                what="New finish over losses",
                where="Body, bed behind the frog",
                size=("21% of the area",),
                basis="measured",
            ),
        ),
        finish=finish(),
        iron=(
            SurfaceBars(
                surface="Sole",
                note="",
                bars=(
                    StageBar(
                        stage="Now",
                        certainty=Certainty.MEASURED,
                        basis="measured, May 2",
                        shares=(
                            BarShare(words="88%", interval="85 to 91", percent=88),
                            BarShare(words="12%", interval="9 to 15", percent=12),
                        ),
                        boundaries=(Boundary(value=88, low=85, high=91),),
                    ),
                ),
            ),
        ),
        drawings=outlines(),
        dating=dating(),
        parts=SheetParts(
            groups=(
                PartGroup(label="Original", names="body, frog, lever cap, cap screw, handle, knob"),
                PartGroup(label="Replaced or not original", names="cutter", warns=True),
                PartGroup(label="Not checked", names="adjusting wheel"),
            ),
            shapes=(
                PartShape(name="body", ring=((0, 30), (90, 0), (240, 30)), seen=PartDrawing.SEEN),
                PartShape(
                    name="cutter",
                    ring=((70, -60), (130, 20), (120, 20)),
                    seen=PartDrawing.NOT_ORIGINAL,
                ),
                PartShape(
                    name="wheel", ring=((60, 0), (76, 0), (68, -14)), seen=PartDrawing.NOT_CHECKED
                ),
            ),
        ),
        measurements=(
            SheetDimension(
                of="Sole, length",
                inches="9 11/32 in ±1/32",
                millimeters="237.3 mm ±0.5",
                basis="measured",
            ),
            SheetDimension(
                of="Sole, width",
                inches="2 7/16 in ±1/64",
                millimeters="61.8 mm ±0.3",
                basis="measured",
            ),
            SheetDimension(of="Mouth opening"),
        ),
        cutter=(SheetDimension(of="Bevel angle", words="25° ±1°", basis="measured"),),
        cutter_note="not original",
        work=(
            SheetWork(
                day="May 1",
                what="New japanning over losses",
                materials="asphaltum varnish, two coats, baked",
                changes_tool=True,
            ),
            SheetWork(
                day="Apr 28",
                what="Rust taken off sole and cheeks",
                materials="citric acid bath, then oil",
                changes_tool=True,
            ),
            SheetWork(day="Apr 30", what="Cutter honed"),
        ),
        cautions=(
            ListLine(lead="Sharp cutter:", words="keep fingers off its edge."),
            ListLine(lead="Old finish may hold lead:", words="do not sand or heat it."),
        ),
        promise=(
            "Send it back within 14 days for any reason; "
            "I pay the shipping if this sheet was wrong."
        ),
        address=Address(
            name="Wendholm Workshop",
            person="R. Fenn",
            lines=("12 Tannery Row, Wendholm", "hello@wendholm.example"),
        ),
        replaces="Replaces no earlier sheet.",
    )


def overlong() -> SheetContent:
    """A title of 300 characters, a maker without spaces, signs from many scripts, 30 defects."""
    content = full()
    title = (
        "Smoothing plane 🪚 東京 " + "שלום العربية " + "Halbeck" * 30 + " pattern K " + "x" * 300
    )[:300]
    first = content.defects[0]
    return replace(
        content,
        title=title,
        summary="Made by " + "Halbeck" * 25 + ". 👩\u200d🔧 " + "Not dated. " * 30,
        defects=tuple(
            replace(first, number=n, where=f"Body, place {n}, " + "left of the mouth " * (n % 4))
            for n in range(1, 31)
        ),
        work=content.work * 12,
        problems=content.problems * 6,
    )

"""Invented sheets for the tests: a bare record, a full one, and one whose words go too far.

The workshop, its makers, people and towns are invented; so are all figures. The photographs are
rendered pictures of an invented plane (CC0).
"""

from __future__ import annotations

import datetime as dt
import hashlib
import json
from dataclasses import replace
from pathlib import Path

from planebench.sheet.content import (
    Address,
    Caution,
    Certainty,
    Crop,
    FinishReading,
    Heading,
    KeyFigure,
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
        heading=Heading(number="0001", stock="LOT1-001", issued="", seller=""),
        title="Smoothing plane",
        summary="Maker not known. Not dated.",
        photographs=SheetPhotographs(missing="Not photographed."),
        unknown=(
            "Parts: not checked one by one.",
            "Not measured: sole length, sole width and mouth opening.",
            "It was not photographed.",
        ),
        no_defects="Not inspected for defects; expect some.",
        dating=SheetDating(in_words="When it was made is not known: no evidence is recorded."),
        parts=SheetParts(groups=(PartGroup(label="Not seen", names="body, cutter, handle, knob"),)),
        cautions=(Caution(name="Sharp cutter", words="Keep fingers off its edge."),),
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
        sources="Sources: 1 U.S. patent dates, issue table; 2 Halbeck type study, 14 variants; "
        "3 by form; 4 seller’s word, 14 March 2026; 5 maker’s stock codes, from memory.",
    )


def finish() -> tuple[FinishReading, ...]:
    return (
        FinishReading(
            part="Bed and cheeks",
            note="japanning; cross: 81 as found",
            certainty=Certainty.MEASURED,
            words="97%",
            interval="(95 to 99)",
            basis="measured",
            rating="ISO 4628-5 flaking class 2",
            value=97,
            low=95,
            high=99,
            found=81,
        ),
        FinishReading(
            part="Lever cap",
            note="nickel",
            certainty=Certainty.MEASURED,
            words="82%",
            interval="(76 to 86)",
            basis="measured",
            value=82,
            low=76,
            high=86,
        ),
        FinishReading(
            part="Handle and knob",
            note="lacquer",
            certainty=Certainty.BY_EYE,
            words="about 70%",
            interval="(60 to 80)",
            basis="by eye, R. Fenn",
            value=70,
            low=60,
            high=80,
        ),
        FinishReading(
            part="Frog", note="japanning", certainty=Certainty.UNKNOWN, words="not measured"
        ),
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
            "Finished, 2 May 2026, from above. The numbers are the defects below.",
            whole,
            *pins,
        ),
        found=photograph(
            FOUND,
            "As found, 14 March 2026, the same view.",
            found,
            SheetPin(number=3, x=0.53, y=0.36),
        ),
        other=photograph(FOUND, "Left side, as found.", Crop(top=0.02, bottom=0.62)),
    )


def full() -> SheetContent:
    """A record complete enough to fill two pages."""
    return SheetContent(
        heading=Heading(
            number="0417", stock="LOT7-003", issued="12 May 2026", seller="Wendholm Workshop"
        ),
        title="Smoothing plane, Halbeck & Son No. 23",
        summary="Made in Wendholm between about 1913 and 1918, with a later cutter. Ready to use.",
        price="$165.00",
        photographs=photographs(),
        figures=(
            KeyFigure(
                value="97%",
                interval="95 to 99",
                of="Japanning, bed and cheeks",
                basis="measured; was 81%",
            ),
            KeyFigure(
                value="21%",
                interval="18 to 25",
                of="is new finish over losses",
                basis="measured; buyer is told",
            ),
            KeyFigure(
                value="82%",
                interval="76 to 86",
                of="Nickel, lever cap",
                basis="measured; untouched",
            ),
            KeyFigure(
                value="9 11/32 in",
                interval="237.3 mm",
                of="Length of the sole",
                basis="measured, ± 0.5 mm",
            ),
        ),
        know_first=(
            "New japanning covers losses on 21% of the bed and cheeks.",
            "The cutter is later than the body (1934 to 1941) and not original to it.",
        ),
        unknown=(
            "The adjusting wheel was not seen.",
            "Neither side, nor front and back, was photographed.",
        ),
        defects=(
            SheetDefect(
                number=1,
                what="Chip",
                where="Body, rear edge of the mouth",
                size="1.7 × 1.6 mm",
                basis="measured",
            ),
            SheetDefect(
                number=2,
                what="Pitting, slight",
                where="Body, left cheek below the hump",
                size="about 9 × 4 mm",
                basis="by eye",
            ),
            SheetDefect(
                number=3,
                what="Nickel lost to brass",
                where="Lever cap, lower edge and around the screw",
                size="18% of the face",
                basis="measured",
            ),
            SheetDefect(
                number=4,
                what="New finish over losses",
                where="Body, bed behind the frog",
                size="21% of the area",
                basis="measured",
            ),
        ),
        finish=finish(),
        drawings=outlines(),
        dating=dating(),
        parts=SheetParts(
            groups=(
                PartGroup(label="Seen", names="body, frog, lever cap, cap screw, handle, knob"),
                PartGroup(label="Not original to it", names="cutter", warns=True),
                PartGroup(label="Not seen", names="adjusting wheel"),
            ),
            shapes=(
                PartShape(name="body", ring=((0, 30), (90, 0), (240, 30)), seen=PartDrawing.SEEN),
                PartShape(
                    name="cutter",
                    ring=((70, -60), (130, 20), (120, 20)),
                    seen=PartDrawing.NOT_ORIGINAL,
                ),
                PartShape(
                    name="wheel", ring=((60, 0), (76, 0), (68, -14)), seen=PartDrawing.NOT_SEEN
                ),
            ),
        ),
        measurements=(
            SheetDimension(of="Sole, length", inches="9 11/32", millimeters="237.3 ± 0.5"),
            SheetDimension(of="Sole, width", inches="2 7/16", millimeters="61.8 ± 0.3"),
            SheetDimension(of="Cutter, bevel", words="25° ± 1°"),
            SheetDimension(of="Mouth opening"),
        ),
        work=(
            SheetWork(
                day=dt.date(2026, 4, 28),
                what="Rust taken off sole and cheeks: citric acid bath, then oil",
            ),
            SheetWork(day=dt.date(2026, 4, 30), what="Cutter ground to 25°, honed"),
            SheetWork(
                day=dt.date(2026, 5, 1),
                what="new japanning over losses, asphaltum varnish, two coats, baked",
                told=True,
            ),
        ),
        cautions=(
            Caution(name="Sharp cutter", words="It is wrapped; keep fingers off its edge."),
            Caution(
                name="Lead in old finish",
                words="Do not sand or heat it dry. Check your local rules.",
                source="(Source: 16 CFR 1303, from memory.)",
            ),
        ),
        promise=(
            "Send it back within 14 days for any reason; "
            "I pay the carriage if this sheet was wrong."
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
        "Smoothing plane 🪚 東京 " + "שלום العربية " + "Halbeck" * 30 + " No. 23 " + "x" * 300
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
        know_first=content.know_first * 6,
    )

"""Opens an outline for the judge of kept and lost finish."""

from __future__ import annotations

from planebench.errors import MeasureError
from planebench.photo.outline import Outline, check_outline
from planebench.window.screens.photograph.judging import OpenOutline
from planebench.window.screens.photograph.model import JUDGED, Rgb


def open_judging(rgb: Rgb, outline: Outline, finish: str) -> OpenOutline:
    """Open an outline; raise InputError for one that holds nothing, MeasureError if not judged."""
    check_outline(outline, (rgb.shape[1], rgb.shape[0]))
    if finish not in JUDGED:
        raise MeasureError(
            "This finish is not judged on photographs.",
            remedy="Japanning, nickel, lacquer and rust are. Say this one by eye, in the record.",
            subject=finish,
        )
    raise MeasureError(
        "Not judged yet.",
        remedy="The outline and its strokes are kept; it is judged once the judge is there.",
        subject=finish,
    )

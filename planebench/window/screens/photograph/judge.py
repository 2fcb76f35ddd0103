"""Opens an outline for the judge of kept and lost finish, and reads it stroke by stroke."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from threading import Lock

from typing_extensions import override

from planebench.catalog.reference import resources_folder
from planebench.errors import MeasureError
from planebench.photo.coverage import Finish, Judge, Judging, strokes_from_json
from planebench.window.screens.photograph.judging import Cause, JudgingRequest, OpenOutline, Verdict
from planebench.window.screens.photograph.model import JUDGED
from planebench.window.screens.photograph.strokes import SetStroke, strokes_to_json

_LOADING = Lock()


def open_judging(asked: JudgingRequest) -> OpenOutline:
    """Open an outline; raise InputError for one that holds nothing, MeasureError if not judged."""
    finish = asked.finish
    if finish not in JUDGED:
        raise MeasureError(
            "This finish is not judged on photographs.",
            remedy="Japanning, nickel, lacquer and rust are. Say this one by eye, in the record.",
            subject=finish,
        )
    with _LOADING:
        judge = _judge()
    second = None if asked.second is None else asked.second.pixels()
    return _Opened(judge.open(asked.rgb, asked.outline, Finish(finish), second))


@cache
def _judge() -> Judge:
    """Load the judge once; raise FileError if a file of it is missing."""
    return Judge(resources_folder() / "judge")


class _Opened(OpenOutline):
    """An outline that the judge holds open."""

    def __init__(self, judging: Judging) -> None:
        self._judging = judging

    @override
    def read(self, strokes: Sequence[SetStroke]) -> Verdict:
        reading = self._judging.read(strokes_from_json(strokes_to_json(strokes)))
        causes = reading.causes
        told = (
            Cause(words="what could not be told", plus_minus=causes.cannot_tell),
            Cause(words="where the outline runs", plus_minus=causes.outline),
            Cause(words="how the pixels were judged", plus_minus=causes.judging),
        )
        return Verdict(
            share=reading.share,
            low=0.0 if reading.low is None else reading.low,
            high=1.0 if reading.high is None else reading.high,
            kept_px=reading.kept_px,
            lost_px=reading.lost_px,
            cannot_tell_px=reading.cannot_tell_px,
            causes=() if reading.share is None else told,
            why_not=reading.why_unmeasurable or "",
            advice=reading.advice,
            map=self._judging.map(full_size=False),
            window=self._judging.window,
        )

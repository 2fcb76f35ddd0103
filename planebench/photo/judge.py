"""The network that tells kept from lost finish: a first look, then a quick one with strokes."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import onnxruntime as ort
from numpy.typing import NDArray

from planebench.errors import FileError

Plane = NDArray[np.float32]

FIRST, SECOND = "first.onnx", "second.onnx"
# The network learned with sixteen places for dots; beyond, an even choice of them stands for all.
MOST_DOTS = 16
_THREADS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstLook:
    """What the first look leaves for the second: logits of "lost" and what a pixel looks like.

    `logit` is 1 x 1 x H x W, `features` and `embedding` are 1 x C x H/2 x W/2.
    """

    logit: Plane
    features: Plane
    embedding: Plane

    @property
    def plane(self) -> Plane:
        """The logits as H x W."""
        return self.logit.reshape(self.logit.shape[2:])


@dataclass(frozen=True, slots=True, kw_only=True)
class Dot:
    """One place of a stroke on the half-size grid, and what it says of it."""

    row: int
    column: int
    kept: bool


class Network:
    """Both parts of the judge, loaded once. Raise FileError if one is missing or broken."""

    def __init__(self, folder: Path) -> None:
        options = ort.SessionOptions()
        options.intra_op_num_threads = _THREADS
        options.log_severity_level = 3
        # Waiting threads sleep: beside other work, spinning ones would take its time and ours.
        options.add_session_config_entry("session.intra_op.allow_spinning", "0")
        self._first = _session(folder / FIRST, options)
        self._second = _session(folder / SECOND, options)

    def look(self, image: Plane, mask: Plane, finish: int) -> FirstLook:
        """Judge 1 x 3 x H x W (RGB, 0 to 1) in 1 x 1 x H x W; H and W are multiples of 32."""
        told = np.zeros((1, 3), dtype=np.float32)
        told[0, finish] = 1
        logit, features, embedding = self._first.run(
            ["logit", "features", "embedding"], {"image": image, "mask": mask, "finish": told}
        )
        return FirstLook(logit=logit, features=features, embedding=embedding)

    def look_again(self, first: FirstLook, dots: tuple[Dot, ...]) -> Plane:
        """Return the logits, H x W, after `dots`; without any, those of the first look."""
        if not dots:
            return first.plane
        chosen = _evenly(dots)
        points = np.array([[(d.row, d.column) for d in chosen]], dtype=np.int64)
        kind = np.array([[1.0 if d.kept else -1.0 for d in chosen]], dtype=np.float32)
        given = {
            "logit": first.logit,
            "features": first.features,
            "embedding": first.embedding,
            "points": points,
            "kind": kind,
        }
        judged: Plane = self._second.run(["judged"], given)[0]
        return judged.reshape(judged.shape[2:])


def _session(path: Path, options: ort.SessionOptions) -> ort.InferenceSession:
    try:
        return ort.InferenceSession(path.read_bytes(), options, providers=["CPUExecutionProvider"])
    except Exception as error:  # its errors share no base but Exception
        raise FileError(
            f"The judge of kept and lost finish cannot be loaded from {path.name}.",
            remedy="Install the program again; the catalog is not touched.",
            subject=str(path),
        ) from error


def _evenly(dots: tuple[Dot, ...]) -> list[Dot]:
    """Keep at most MOST_DOTS, half of each kind where both abound, spread over the strokes."""
    kept, lost = [d for d in dots if d.kept], [d for d in dots if not d.kept]
    fewer = min(len(kept), len(lost), MOST_DOTS // 2)
    room = MOST_DOTS - fewer
    return [*_spread(kept, room), *_spread(lost, MOST_DOTS - min(len(kept), room))]


def _spread(dots: list[Dot], most: int) -> list[Dot]:
    if len(dots) <= most:
        return dots
    return [dots[round(i)] for i in np.linspace(0, len(dots) - 1, most)]

"""Lays one photograph closely on another: bends a rough fit until the edges lie on each other.

Each round is a step of Gauss and Newton on the difference of slants, pooled over a window and held
smooth between windows (Bruhn, Weickert and Schnoerr 2005, "Lucas/Kanade meets Horn/Schunck").
"""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import scipy.sparse as sp
from numpy.typing import NDArray
from scipy.sparse import linalg

from planebench.photo.homography import Matrix, Points, transform
from planebench.photo.orientation_channels import BINS, Channels
from planebench.photo.warp import FrameSize, Grid, Warp

_TOLERANCE = 0.5
_LONGEST_STEP_PX = 3.0
_WINDOW = 0.6
_ANCHOR = 1e-4


@dataclass(frozen=True, slots=True, kw_only=True)
class RefinementLevel:
    """How finely to bend: pixels between nodes, rounds, how stiffly neighbors hold together."""

    step: int
    rounds: int
    stiffness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PointConstraints:
    """Points before known to lie at points after, and the weight of each."""

    before: Points
    after: Points
    weight: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ChannelPair:
    """The two pictures' slants, and how much each pixel of the first counts, 0 to 1."""

    before: Channels
    after: Channels
    weight: NDArray[np.float32]


def register_finely(
    sheets: ChannelPair, warp: Warp, effort: RefinementLevel, pull: PointConstraints | None = None
) -> Warp:
    """Bend a warp so that the slants agree; both pictures at the warp's own size."""
    frame = _frame(sheets.weight)
    warp = warp.regrid(frame, effort.step)
    slopes = [_slopes(np.ascontiguousarray(sheets.after[..., each])) for each in range(BINS)]
    spring = _spring(warp.shifts.shape[:2]) * effort.stiffness
    for _ in range(effort.rounds):
        lever, force = _pooled(*_tension(sheets, slopes, warp, frame), effort.step)
        if pull is not None:
            _add_pull(lever, force, warp, pull)
        moved = warp.shifts.reshape(-1, 2) + _step(lever, force, spring, warp.shifts)
        warp = _straightened(warp, moved, lever)
    return warp


def _slopes(layer: NDArray[np.float32]) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    across, down = (cv2.Sobel(layer, cv2.CV_32F, *way) / 8 for way in ((1, 0), (0, 1)))
    return np.asarray(across, np.float32), np.asarray(down, np.float32)


def _frame(weight: NDArray[np.float32]) -> FrameSize:
    """Return the rectangle that holds all pixels that count."""
    left, top, width, height = cv2.boundingRect((weight > 0).astype(np.uint8))
    return FrameSize(left=left, top=top, width=max(width, 1), height=max(height, 1))


def _tension(
    sheets: ChannelPair,
    slopes: list[tuple[NDArray[np.float32], NDArray[np.float32]]],
    warp: Warp,
    frame: FrameSize,
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Return each pixel's 2 x 2 lever (three figures) and its force; unlike pixels count little."""
    before, counts = sheets.before[frame.slices], sheets.weight[frame.slices]
    shape = counts.shape
    at_x, at_y = warp.maps(frame)
    lever, force = np.zeros((*shape, 3), np.float32), np.zeros((*shape, 2), np.float32)
    unlike = np.zeros(shape, np.float32)
    for each, (across, down) in enumerate(slopes):
        layer = np.ascontiguousarray(sheets.after[..., each])
        seen, by_x, by_y = (
            cv2.remap(image, at_x, at_y, cv2.INTER_LINEAR) for image in (layer, across, down)
        )
        off = seen - before[..., each]
        for place, product in enumerate((by_x * by_x, by_x * by_y, by_y * by_y)):
            lever[..., place] += product
        force[..., 0] += by_x * off
        force[..., 1] += by_y * off
        unlike += off * off
    weight = (counts * (_TOLERANCE / (_TOLERANCE + unlike)) ** 2)[..., None]
    return lever * weight, force * weight


def _pooled(
    lever: NDArray[np.float32], force: NDArray[np.float32], step: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Gather the pixels around each node."""
    window = step * _WINDOW
    pooled = [cv2.GaussianBlur(each, (0, 0), window)[::step, ::step] for each in (lever, force)]
    lever_at, force_at = (each.astype(np.float64) * step * step for each in pooled)
    return lever_at.reshape(-1, 3), force_at.reshape(-1, 2)


def _add_pull(
    lever: NDArray[np.float64], force: NDArray[np.float64], warp: Warp, pull: PointConstraints
) -> None:
    """Draw the four nodes around each known point toward where it lies."""
    rows, columns = warp.shifts.shape[:2]
    off = warp.carry(pull.before) - pull.after
    place = (pull.before - warp.origin) / warp.step
    low = np.floor(place).astype(int)
    for right in (0, 1):
        for below in (0, 1):
            x, y = low[:, 0] + right, low[:, 1] + below
            near = (1 - np.abs(place[:, 0] - x)) * (1 - np.abs(place[:, 1] - y))
            inside = (x >= 0) & (x < columns) & (y >= 0) & (y < rows)
            node, weight = (y * columns + x)[inside], (near * pull.weight)[inside]
            for part in (0, 2):
                np.add.at(lever[:, part], node, weight)
            np.add.at(force, node, weight[:, None] * off[inside])


def _spring(shape: tuple[int, ...]) -> sp.csr_matrix:
    """Hold neighboring nodes together: the grid's graph Laplacian."""
    rows, columns = shape
    down, across = _differences(rows), _differences(columns)
    return sp.csr_matrix(
        sp.kron(sp.eye(rows), across.T @ across) + sp.kron(down.T @ down, sp.eye(columns))
    )


def _differences(count: int) -> sp.csr_matrix:
    ones = np.ones(max(count - 1, 0))
    return sp.csr_matrix(sp.diags([-ones, ones], [0, 1], shape=(max(count - 1, 0), count)))


def _step(
    lever: NDArray[np.float64], force: NDArray[np.float64], spring: sp.csr_matrix, shifts: Grid
) -> NDArray[np.float64]:
    """Solve for the nodes' next move, none of it longer than three pixels."""
    count = len(lever)
    hold = spring + _ANCHOR * sp.eye(count)
    xx, xy, yy = (sp.diags(lever[:, each]) for each in range(3))
    system = sp.bmat([[xx + hold, xy], [xy, yy + hold]]).tocsc()
    at = shifts.reshape(-1, 2)
    right = -np.concatenate([force[:, each] + hold @ at[:, each] for each in (0, 1)])
    move = linalg.spsolve(system, right).reshape(2, count).T
    length = np.linalg.norm(move, axis=1, keepdims=True)
    return np.asarray(move * np.minimum(1, _LONGEST_STEP_PX / np.maximum(length, 1e-9)))


def _straightened(warp: Warp, moved: NDArray[np.float64], lever: NDArray[np.float64]) -> Warp:
    """Put as much of the warp as fits into its homography, the rest into its shifts."""
    nodes = warp.nodes()
    ends = transform(warp.matrix, nodes) + moved
    matrix = _homography(nodes, ends, lever[:, 0] + lever[:, 2])
    if matrix is None:
        matrix = warp.matrix
    shifts = (ends - transform(matrix, nodes)).reshape(warp.shifts.shape)
    return Warp(matrix=matrix, shifts=shifts, step=warp.step, origin=warp.origin)


def _homography(source: Points, target: Points, weight: NDArray[np.float64]) -> Matrix | None:
    """Fit a homography to the nodes that carry weight, far ones counting less each time."""
    heavy = weight > np.percentile(weight, 30)
    if np.count_nonzero(heavy) < 8:  # noqa: PLR2004 - twice the least a homography needs
        return None
    source, target, weight = source[heavy], target[heavy], np.sqrt(weight[heavy])
    middle, spread = source.mean(axis=0), float(source.std())
    matrix = np.eye(3)
    norm = np.array(
        [[1 / spread, 0, -middle[0] / spread], [0, 1 / spread, -middle[1] / spread], [0, 0, 1]]
    )
    for _ in range(3):
        matrix = _least_squares(transform(norm, source), transform(norm, target), weight)
        matrix = np.linalg.inv(norm) @ matrix @ norm
        matrix /= matrix[2, 2]
        off = np.linalg.norm(transform(matrix, source) - target, axis=1)
        weight = weight / np.sqrt(1 + (off / (1.5 * float(np.median(off)) + 0.3)) ** 2)
    return np.asarray(matrix) if np.isfinite(matrix).all() else None


def _least_squares(source: Points, target: Points, weight: NDArray[np.float64]) -> Matrix:
    nought, one = np.zeros((len(source), 3)), np.ones((len(source), 1))
    plain = np.hstack((source, one))
    upper = np.hstack((plain, nought, -source * target[:, :1]))
    lower = np.hstack((nought, plain, -source * target[:, 1:]))
    rows = np.vstack((upper * weight[:, None], lower * weight[:, None]))
    right = np.concatenate((target[:, 0] * weight, target[:, 1] * weight))
    solved = np.linalg.solve(rows.T @ rows, rows.T @ right)
    return np.append(solved, 1.0).reshape(3, 3)

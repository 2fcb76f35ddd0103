"""Fine registration: bends a coarse fit until the edges of both photographs coincide.

Each iteration is a Gauss-Newton step on the difference of the orientation channels, pooled over a
window and regularized between windows (Bruhn, Weickert and Schnoerr 2005, "Lucas/Kanade meets
Horn/Schunck").
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

# Squared channel difference at which a pixel counts a quarter: channels run from 0 to 3, so 0.5 is
# an edge that is clearly there in one picture only (rust gone, glare moved).
_TOLERANCE = 0.5
# The channels are linear over about their own blur: a longer step would leave the range in which
# the derivative says anything.
_MAX_STEP_PX = 3.0
# Pooling window in grid steps: neighboring windows overlap, so that no pixel is left out.
_WINDOW_STEPS = 0.6
# Holds nodes without any edge beneath to the homography; far below any real edge, it only keeps
# the system solvable.
_ANCHOR = 1e-4
# The homography is fitted to the 70% of nodes with the most edges beneath them; the others are
# held by their neighbors and say nothing of their own.
_HEAVY_PERCENTILE = 30
# Twice the four points that a homography needs.
_MIN_NODES = 8
# Rounds of reweighting (Cauchy weights, scale 1.5 medians plus 0.3 px): a few are
# enough here, because the fit is repeated in every iteration above.
_REWEIGHTINGS, _CAUCHY_MEDIANS, _CAUCHY_PX = 3, 1.5, 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class RefinementLevel:
    """One level of refinement: pixels between grid nodes, iterations, stiffness of the grid."""

    step: int
    iterations: int
    stiffness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PointConstraints:
    """N x 2 points before that are known to lie at N x 2 points after, and the weight of each."""

    before: Points
    after: Points
    weight: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ChannelPair:
    """The orientation channels of both pictures; `weight` is H x W, 0 to 1, for the first."""

    before: Channels
    after: Channels
    weight: NDArray[np.float32]


def register_finely(
    pair: ChannelPair, warp: Warp, level: RefinementLevel, points: PointConstraints | None = None
) -> Warp:
    """Return the warp bent so that the channels agree; both pictures at the warp's own size."""
    frame = _weighted_frame(pair.weight)
    warp = warp.regrid(frame, level.step)
    gradients = [_gradient(np.ascontiguousarray(pair.after[..., each])) for each in range(BINS)]
    laplacian = _grid_laplacian(warp.shifts.shape[:2]) * level.stiffness
    for _ in range(level.iterations):
        hessian, residual = _pool(*_normal_equations(pair, gradients, warp, frame), level.step)
        if points is not None:
            _add_points(hessian, residual, warp, points)
        moved = warp.shifts.reshape(-1, 2) + _solve(hessian, residual, laplacian, warp.shifts)
        warp = _split_off_homography(warp, moved, hessian)
    return warp


def _gradient(channel: NDArray[np.float32]) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    # Sobel's kernel sums to 8.
    across, down = (cv2.Sobel(channel, cv2.CV_32F, *order) / 8 for order in ((1, 0), (0, 1)))
    return np.asarray(across, np.float32), np.asarray(down, np.float32)


def _weighted_frame(weight: NDArray[np.float32]) -> FrameSize:
    """Return the rectangle that holds all pixels with any weight."""
    left, top, width, height = cv2.boundingRect((weight > 0).astype(np.uint8))
    return FrameSize(left=left, top=top, width=max(width, 1), height=max(height, 1))


def _normal_equations(
    pair: ChannelPair,
    gradients: list[tuple[NDArray[np.float32], NDArray[np.float32]]],
    warp: Warp,
    frame: FrameSize,
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Return each pixel's Gauss-Newton terms: H x W x 3 (xx, xy, yy) and H x W x 2.

    Pixels that differ much count little (Geman-McClure weights).
    """
    before, counts = pair.before[frame.slices], pair.weight[frame.slices]
    shape = counts.shape
    at_x, at_y = warp.maps(frame)
    hessian, residual = np.zeros((*shape, 3), np.float32), np.zeros((*shape, 2), np.float32)
    squared = np.zeros(shape, np.float32)
    for each, (across, down) in enumerate(gradients):
        channel = np.ascontiguousarray(pair.after[..., each])
        seen, by_x, by_y = (
            cv2.remap(image, at_x, at_y, cv2.INTER_LINEAR) for image in (channel, across, down)
        )
        difference = seen - before[..., each]
        for index, product in enumerate((by_x * by_x, by_x * by_y, by_y * by_y)):
            hessian[..., index] += product
        residual[..., 0] += by_x * difference
        residual[..., 1] += by_y * difference
        squared += difference * difference
    weight = (counts * (_TOLERANCE / (_TOLERANCE + squared)) ** 2)[..., None]
    return hessian * weight, residual * weight


def _pool(
    hessian: NDArray[np.float32], residual: NDArray[np.float32], step: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Sum the pixels around each node under a Gaussian window."""
    window = step * _WINDOW_STEPS
    pooled = [
        cv2.GaussianBlur(each, (0, 0), window)[::step, ::step] for each in (hessian, residual)
    ]
    hessian_at, residual_at = (each.astype(np.float64) * step * step for each in pooled)
    return hessian_at.reshape(-1, 3), residual_at.reshape(-1, 2)


def _add_points(
    hessian: NDArray[np.float64],
    residual: NDArray[np.float64],
    warp: Warp,
    points: PointConstraints,
) -> None:
    """Add the constraints to the four nodes around each point, by bilinear weights."""
    rows, columns = warp.shifts.shape[:2]
    error = warp.carry(points.before) - points.after
    place = (points.before - warp.origin) / warp.step
    low = np.floor(place).astype(int)
    for right in (0, 1):
        for below in (0, 1):
            x, y = low[:, 0] + right, low[:, 1] + below
            near = (1 - np.abs(place[:, 0] - x)) * (1 - np.abs(place[:, 1] - y))
            inside = (x >= 0) & (x < columns) & (y >= 0) & (y < rows)
            node, weight = (y * columns + x)[inside], (near * points.weight)[inside]
            for diagonal in (0, 2):
                np.add.at(hessian[:, diagonal], node, weight)
            np.add.at(residual, node, weight[:, None] * error[inside])


def _grid_laplacian(shape: tuple[int, ...]) -> sp.csr_matrix:
    """Return the graph Laplacian of a grid: it holds neighboring nodes together."""
    rows, columns = shape
    down, across = _differences(rows), _differences(columns)
    return sp.csr_matrix(
        sp.kron(sp.eye(rows), across.T @ across) + sp.kron(down.T @ down, sp.eye(columns))
    )


def _differences(count: int) -> sp.csr_matrix:
    ones = np.ones(max(count - 1, 0))
    return sp.csr_matrix(sp.diags([-ones, ones], [0, 1], shape=(max(count - 1, 0), count)))


def _solve(
    hessian: NDArray[np.float64],
    residual: NDArray[np.float64],
    laplacian: sp.csr_matrix,
    shifts: Grid,
) -> NDArray[np.float64]:
    """Return each node's next move, N x 2 in pixels, none longer than three."""
    count = len(hessian)
    hold = laplacian + _ANCHOR * sp.eye(count)
    xx, xy, yy = (sp.diags(hessian[:, each]) for each in range(3))
    system = sp.bmat([[xx + hold, xy], [xy, yy + hold]]).tocsc()
    at = shifts.reshape(-1, 2)
    right = -np.concatenate([residual[:, each] + hold @ at[:, each] for each in (0, 1)])
    move = linalg.spsolve(system, right).reshape(2, count).T
    length = np.linalg.norm(move, axis=1, keepdims=True)
    return np.asarray(move * np.minimum(1, _MAX_STEP_PX / np.maximum(length, 1e-9)))


def _split_off_homography(
    warp: Warp, moved: NDArray[np.float64], hessian: NDArray[np.float64]
) -> Warp:
    """Put as much of the warp as fits into its homography, the rest into its shifts."""
    nodes = warp.nodes()
    ends = transform(warp.matrix, nodes) + moved
    matrix = _weighted_homography(nodes, ends, hessian[:, 0] + hessian[:, 2])
    if matrix is None:
        matrix = warp.matrix
    shifts = (ends - transform(matrix, nodes)).reshape(warp.shifts.shape)
    return Warp(matrix=matrix, shifts=shifts, step=warp.step, origin=warp.origin)


def _weighted_homography(
    source: Points, target: Points, weight: NDArray[np.float64]
) -> Matrix | None:
    """Fit a homography to the nodes that carry weight, reweighted by their residuals."""
    heavy = weight > np.percentile(weight, _HEAVY_PERCENTILE)
    if np.count_nonzero(heavy) < _MIN_NODES:
        return None
    source, target, weight = source[heavy], target[heavy], np.sqrt(weight[heavy])
    middle, spread = source.mean(axis=0), float(source.std())
    matrix = np.eye(3)
    # Normalized coordinates keep the equations well conditioned (Hartley 1997).
    norm = np.array(
        [[1 / spread, 0, -middle[0] / spread], [0, 1 / spread, -middle[1] / spread], [0, 0, 1]]
    )
    for _ in range(_REWEIGHTINGS):
        matrix = _least_squares(transform(norm, source), transform(norm, target), weight)
        matrix = np.linalg.inv(norm) @ matrix @ norm
        matrix /= matrix[2, 2]
        error = np.linalg.norm(transform(matrix, source) - target, axis=1)
        limit = _CAUCHY_MEDIANS * float(np.median(error)) + _CAUCHY_PX
        weight = weight / np.sqrt(1 + (error / limit) ** 2)
    return np.asarray(matrix) if np.isfinite(matrix).all() else None


def _least_squares(source: Points, target: Points, weight: NDArray[np.float64]) -> Matrix:
    """Return the homography of least algebraic error (direct linear transform)."""
    zero, one = np.zeros((len(source), 3)), np.ones((len(source), 1))
    plain = np.hstack((source, one))
    upper = np.hstack((plain, zero, -source * target[:, :1]))
    lower = np.hstack((zero, plain, -source * target[:, 1:]))
    rows = np.vstack((upper * weight[:, None], lower * weight[:, None]))
    right = np.concatenate((target[:, 0] * weight, target[:, 1] * weight))
    solved = np.linalg.solve(rows.T @ rows, rows.T @ right)
    return np.append(solved, 1.0).reshape(3, 3)

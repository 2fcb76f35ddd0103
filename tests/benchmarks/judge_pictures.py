"""Pictures to learn from: framed, lit, worn and reflected anew each time."""

from __future__ import annotations

import json
import math
import random
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import torch
import torch.nn.functional as F  # noqa: N812 - the name every torch program uses
from PIL import Image
from torch import Tensor

HEIGHT, WIDTH = 384, 704
FRAMED_AREA = 230_400.0  # pixels of the outline's box in the working picture
LARGEST_SCALE = 2.2  # the program enlarges a surface no more than twice
SHOT_HEIGHT, SHOT_WIDTH = 800, 1200
JAPANNED = ((1, 2, 3, 4), (1, 2, 3, 4), (1,), (2,), (3,))  # surfaces taken together
NICKELED = ((5,),)
BARE = ((6,), (7,), (8,), (7, 8), (10,), (10,))


@dataclass(frozen=True, slots=True)
class Shots:
    """All photographs, N x 3 x H x W, and their packed masks, N x 1 x H x W, on one device."""

    images: Tensor
    masks: Tensor
    patina: tuple[bool, ...]  # whether a photograph's masks tell patina from bright iron


@dataclass(frozen=True, slots=True)
class Target:
    """One surface to judge: its shot, the numbers of its surfaces, its finish and its box."""

    shot: int
    surfaces: tuple[int, ...]
    finish: int  # 0 japanning, 1 nickel, 2 bare iron
    box: tuple[int, int, int, int]


def load_shots(folder: Path, device: str) -> Shots:
    """Read what judge_pack.py wrote: masks hold finish in 2 bits, surface in 4, rust in 2."""
    listed = json.loads((folder / "shots.json").read_text("utf-8"))
    images, masks = [], []
    for one in listed:
        images.append(np.array(Image.open(folder / f"{one['name']}.webp").convert("RGB")))
        masks.append(np.array(Image.open(folder / f"{one['name']}.png")))
    return Shots(
        torch.from_numpy(np.stack(images)).permute(0, 3, 1, 2).contiguous().to(device),
        torch.from_numpy(np.stack(masks))[:, None].to(device),
        tuple(bool(one["patina"]) for one in listed),
    )


def targets_of(shots: Shots, smallest: int = 2500) -> list[list[Target]]:
    """List what can be judged in them, for each of the three finishes; real surroundings twice."""
    found: list[list[Target]] = [[], [], []]
    packed = shots.masks[:, 0].cpu().numpy()
    for shot, mask in enumerate(packed):
        surface, finish = (mask >> 2) & 15, mask & 3
        areas = np.bincount(surface.ravel(), minlength=16)
        for number, groups in enumerate((JAPANNED, NICKELED, BARE)):
            for group in groups:
                if areas[list(group)].sum() < smallest:
                    continue
                here = np.isin(surface, group) & ((finish > 0) | (number == 2))
                if here.sum() < smallest:
                    continue
                ys, xs = np.where(here)
                box = (int(ys.min()), int(xs.min()), int(ys.max()) + 1, int(xs.max()) + 1)
                target = Target(shot, group, number, box)
                found[number].extend([target] * (2 if shots.patina[shot] else 1))
    return found


def noise(n: int, cells: float, device: str, *, octaves: int = 1, rough: float = 0.5) -> Tensor:
    """Smooth random fields (n, 1, HEIGHT, WIDTH), about zero mean and unit spread."""
    total = torch.zeros(n, 1, HEIGHT, WIDTH, device=device)
    weight, power = 1.0, 0.0
    for _ in range(octaves):
        size = (max(2, round(cells * HEIGHT / WIDTH)), max(2, round(cells)))
        if size[0] > HEIGHT:
            break
        grid = torch.randn(n, 1, *size, device=device)
        total += weight * F.interpolate(grid, (HEIGHT, WIDTH), mode="bicubic", align_corners=False)
        power += weight**2
        weight, cells = weight * rough, cells * 2
    return total / (0.75 * math.sqrt(power))


def uniform(n: int, low: float, high: float, device: str) -> Tensor:
    """One number for each picture, evenly drawn."""
    return torch.rand(n, 1, 1, 1, device=device) * (high - low) + low


def chance(n: int, p: float, device: str) -> Tensor:
    """One for each picture with this chance, else nought."""
    return (torch.rand(n, 1, 1, 1, device=device) < p).float()


def _placed(target: Target) -> list[float]:
    """Draw where the working picture lies in the shot: 2 x 3 affine numbers, and its step there."""
    y0, x0, y1, x1 = target.box
    scale = math.sqrt(FRAMED_AREA / ((y1 - y0) * (x1 - x0)))
    scale = min(scale * math.exp(random.uniform(-0.35, 0.25)), LARGEST_SCALE)
    angle = random.gauss(0, 0.2) + (random.random() < 0.15) * math.pi / 2
    flip_x, flip_y = random.choice((-1.0, 1.0)), random.choice((-1.0, 1.0))
    stretch = math.exp(random.gauss(0, 0.12))
    cos, sin = math.cos(angle), math.sin(angle)
    room_x = max(0.0, (x1 - x0) - 0.8 * WIDTH / scale) / 2
    room_y = max(0.0, (y1 - y0) - 0.8 * HEIGHT / scale) / 2
    slack = 0.06 * math.sqrt((y1 - y0) * (x1 - x0))
    cx = (x0 + x1) / 2 + random.uniform(-1, 1) * (room_x + slack)
    cy = (y0 + y1) / 2 + random.uniform(-1, 1) * (room_y + slack)
    across, down = 1 / (scale * stretch), stretch / scale
    return [
        flip_x * cos * across,
        -flip_x * sin * down,
        cx,
        flip_y * sin * across,
        flip_y * cos * down,
        cy,
        1 / scale,
    ]


@dataclass(slots=True)
class Batch:
    """What one step learns from; all (n, c, HEIGHT, WIDTH) but finish (n, 3).

    `lost` and `known` have two channels: lost (on iron: rusted), and browned (patina or rust).
    """

    image: Tensor
    mask: Tensor
    finish: Tensor
    lost: Tensor
    known: Tensor
    rust: Tensor
    rust_known: Tensor


def framed(shots: Shots, targets: list[Target]) -> Batch:
    """Crop each target out of its shot at the working size, with a slightly misdrawn outline."""
    device, n = str(shots.images.device), len(targets)
    placed = torch.tensor([_placed(t) for t in targets], device=device)[:, :, None, None]
    ys = (torch.arange(HEIGHT, device=device) - HEIGHT / 2)[None, :, None]
    xs = (torch.arange(WIDTH, device=device) - WIDTH / 2)[None, None, :]
    x = placed[:, 0] * xs + placed[:, 1] * ys + placed[:, 2]
    y = placed[:, 3] * xs + placed[:, 4] * ys + placed[:, 5]
    slip = placed[:, 6] * 1.8 * torch.rand(n, 1, 1, device=device)
    fields = noise(2 * n, 30, device).reshape(n, 2, HEIGHT, WIDTH)
    which = torch.tensor([t.shot for t in targets], device=device)
    masks = shots.masks[which].float()
    image = F.grid_sample(
        shots.images[which].float(), _unit(x, y), padding_mode="reflection", align_corners=False
    )
    packed, moved = (
        F.grid_sample(masks, _unit(x + dx, y + dy), mode="nearest", align_corners=False)
        .round()
        .to(torch.uint8)
        for dx, dy in ((0.0, 0.0), (slip * fields[:, 0], slip * fields[:, 1]))
    )
    mask, true = _inside(moved, targets).float(), _inside(packed, targets).float()
    bare = torch.tensor([t.finish == 2 for t in targets], device=device)[:, None, None, None]
    tells = torch.tensor([shots.patina[t.shot] for t in targets], device=device)
    tells = tells[:, None, None, None].float()
    state = packed >> 6
    rust = (state == 1).float()
    lost = torch.where(bare, rust, ((packed & 3) == 2).float())
    browned = (state > 0).float()
    known = true * mask
    # Without patina in its masks, a photograph still tells that rust is browned.
    brown_known = known * bare * torch.maximum(tells, rust)
    finish = F.one_hot(torch.tensor([t.finish for t in targets]), 3).float().to(device)
    return Batch(
        image / 255,
        mask,
        finish,
        torch.cat([lost, browned], 1),
        torch.cat([known, brown_known], 1),
        rust,
        true,
    )


def _unit(x: Tensor, y: Tensor) -> Tensor:
    return torch.stack([(x + 0.5) / SHOT_WIDTH * 2 - 1, (y + 0.5) / SHOT_HEIGHT * 2 - 1], -1)


def _inside(packed: Tensor, targets: list[Target]) -> Tensor:
    table = torch.zeros(len(targets), 16, dtype=torch.bool)
    for row, target in enumerate(targets):
        table[row, list(target.surfaces)] = True
    surface = ((packed >> 2) & 15).long()
    here = table.to(packed.device).gather(1, surface.flatten(1)).reshape(packed.shape)
    bare = torch.tensor([t.finish == 2 for t in targets], device=packed.device)
    return here & (bare[:, None, None, None] | ((packed & 3) > 0))


def to_linear(image: Tensor) -> Tensor:
    """Undo the sRGB curve (IEC 61966-2-1)."""
    return torch.where(
        image <= 0.04045, image / 12.92, ((image.clamp(min=0) + 0.055) / 1.055) ** 2.4
    )


def to_screen(linear: Tensor) -> Tensor:
    """Apply the sRGB curve (IEC 61966-2-1)."""
    linear = linear.clamp(1e-6, 1)
    return torch.where(linear <= 0.0031308, linear * 12.92, 1.055 * linear ** (1 / 2.4) - 0.055)


def blurred(image: Tensor, cell: int) -> Tensor:
    """Spread an image over cells of so many pixels."""
    small = F.avg_pool2d(image, cell, ceil_mode=True, count_include_pad=False)
    small = F.avg_pool2d(small, 3, stride=1, padding=1, count_include_pad=False)
    return F.interpolate(small, image.shape[2:], mode="bicubic", align_corners=False).clamp(min=0)


def worn(n: int, device: str, whole: float = 0.0) -> Tensor:
    """Masks of flaking, chips or speckle with ragged edges; with the chance `whole` everything."""
    cells = math.exp(random.uniform(math.log(4), math.log(70)))
    field = noise(n, cells, device, octaves=5, rough=random.uniform(0.35, 0.75))
    field = field + uniform(n, 0, 1.2, device) * noise(n, 4, device)
    share = torch.rand(n, device=device) ** 1.6 * 0.95
    flat = field.flatten(1)
    ranked = flat[:, ::97].sort(1).values
    at = (ranked.shape[1] * (1 - share)).long().clamp(0, ranked.shape[1] - 1)
    edge = ranked.gather(1, at[:, None])[:, :, None, None]
    return torch.maximum((field > edge).float(), chance(n, whole, device))


def tint(n: int, base: tuple[float, float, float], spread: float, device: str) -> Tensor:
    """A color for each picture, about a base."""
    color = torch.tensor(base, device=device).reshape(1, 3, 1, 1)
    return color * torch.exp(torch.randn(n, 3, 1, 1, device=device) * spread)

"""Real surroundings and real metal, for surfaces to learn from."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import torch
import torch.nn.functional as F  # noqa: N812 - the name every torch program uses
from judge_pictures import HEIGHT, WIDTH, chance, tint, to_linear, uniform
from PIL import Image
from torch import Tensor

BRIGHTEST = 60.0  # of a surroundings' mean: brighter lamps only blow out


@dataclass(frozen=True, slots=True)
class Materials:
    """Surroundings K x 3 x H x W (latitude-longitude, linear) and rust T x 3 x 1024 x 1024."""

    rooms: Tensor
    rust: Tensor


def load_materials(folder: Path, device: str) -> Materials:
    """Read what judge_pack.py wrote."""
    rooms = torch.from_numpy(np.load(folder / "surroundings.npz")["rooms"]).float()
    rust = [
        torch.from_numpy(np.array(Image.open(file).convert("RGB"))).permute(2, 0, 1) / 255
        for file in sorted((folder / "rust").iterdir())
    ]
    return Materials(rooms.to(device), to_linear(torch.stack(rust)).to(device))


def real_rust(materials: Materials, n: int, device: str) -> Tensor:
    """Cut rust out of the pictures of it, turned and scaled: color over its own mean brightness."""
    which = torch.randint(len(materials.rust), (n,), device=device)
    ys = torch.linspace(-1, 1, HEIGHT, device=device)[None, :, None] * HEIGHT / WIDTH
    xs = torch.linspace(-1, 1, WIDTH, device=device)[None, None, :]
    scale = torch.exp(uniform(n, math.log(0.25), math.log(1.6), device))[:, 0]
    turn = uniform(n, 0, 2 * math.pi, device)[:, 0]
    x = scale * (turn.cos() * xs - turn.sin() * ys) + uniform(n, -1, 1, device)[:, 0]
    y = scale * (turn.sin() * xs + turn.cos() * ys) + uniform(n, -1, 1, device)[:, 0]
    grid = torch.remainder(torch.stack([x, y], -1) + 1, 2) - 1  # the pictures tile
    cut = F.grid_sample(materials.rust[which], grid, align_corners=False)
    level = cut.mean((1, 2, 3), keepdim=True)
    gray = cut.mean(1, keepdim=True)
    vivid = uniform(n, 0.45, 1.15, device)
    return (gray + (cut - gray) * vivid).clamp(min=0) / level * tint(n, (1, 1, 1), 0.1, device)


def patina_color(n: int, device: str) -> Tensor:
    """How brown or gray sound old iron is, its brightness about one."""
    brown = tint(n, (1.36, 0.94, 0.70), 0.12, device)
    gray = tint(n, (1.05, 1.0, 0.95), 0.05, device)
    share = uniform(n, 0, 1, device) * chance(n, 0.8, device)
    return brown * share + gray * (1 - share)


def hemispheres(materials: Materials, n: int, cells: int, device: str) -> Tensor:
    """Look at surroundings from a surface turned anyhow: N x 3 x cells x cells of mirrored rays.

    Rays span -1 to 1 sideways; the surface looks up, or level as a cheek does. Mean brightness 1.
    """
    which = torch.randint(len(materials.rooms), (n,), device=device)
    axis = torch.linspace(-1, 1, cells, device=device)
    x, y = axis[None, None, :].expand(n, cells, -1), axis[None, :, None].expand(n, -1, cells)
    z = (1 - x**2 - y**2).clamp(min=0.02).sqrt()
    ray = F.normalize(torch.stack([x, y, z], -1), dim=-1)
    up = math.radians(90) * torch.rand(n, 1, 1, device=device) ** 0.6  # most look up
    turn, roll = (torch.rand(n, 1, 1, device=device) * 2 * math.pi for _ in range(2))
    x, y = (
        roll.cos() * ray[..., 0] - roll.sin() * ray[..., 1],
        roll.sin() * ray[..., 0] + roll.cos() * ray[..., 1],
    )
    level, high = up.sin() * y + up.cos() * ray[..., 2], up.sin() * ray[..., 2] - up.cos() * y
    east, north = turn.cos() * level - turn.sin() * x, turn.sin() * level + turn.cos() * x
    u = torch.atan2(north, east) / math.pi
    v = -torch.asin(high.clamp(-1, 1)) / (math.pi / 2)
    seen = F.grid_sample(
        materials.rooms[which], torch.stack([u, v], -1), padding_mode="border", align_corners=False
    )
    level = seen.mean((1, 2, 3), keepdim=True)
    return (seen / level).clamp(max=BRIGHTEST)


def tungsten(n: int, device: str, p: float) -> Tensor:
    """The color of a warm lamp that the camera corrected wholly, partly or not at all."""
    strength = uniform(n, 0.2, 1.1, device) * chance(n, p, device)
    warm = torch.tensor((1.25, 0.8, 0.42), device=device).reshape(1, 3, 1, 1)
    return torch.exp(torch.log(warm) * strength)


def embossed(n: int, device: str) -> Tensor:
    """Heights of raised letters or figures on some of the pictures: N x 1 x H x W, 0 to 1."""
    raised = torch.zeros(n, 1, HEIGHT, WIDTH, device=device)
    for row in range(n):
        if random.random() < 0.25:
            _letter_rows(raised[row, 0])
    return F.avg_pool2d(raised, 3, 1, 1)


def _letter_rows(plane: Tensor) -> None:
    size = random.randrange(12, 60)
    top, left = random.randrange(20, HEIGHT - 70), random.randrange(0, WIDTH - 120)
    thick = max(2, size // random.randrange(5, 9))
    for number in range(random.randrange(1, 12)):
        x = left + number * round(size * 0.85)
        for _ in range(random.randrange(2, 5)):
            if random.random() < 0.5:
                at = x + random.choice((0, size // 3, round(size * 0.6)))
                plane[top : top + size, at : at + thick] = 1
            else:
                at = top + random.choice((0, size // 2, size - thick))
                plane[at : at + thick, x : x + round(size * 0.65)] = 1

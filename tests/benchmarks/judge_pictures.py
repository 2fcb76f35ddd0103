"""Pictures to learn from: framed, lit, worn and reflected anew each time."""

from __future__ import annotations

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
JAPANNED = ((1, 2, 3, 4), (1, 2, 3, 4), (1,), (2,), (3,))  # surfaces taken together
NICKELED = ((5,),)
BARE = ((6,), (7,), (8,), (10,))


@dataclass(frozen=True, slots=True)
class Shot:
    """One photograph at its own and at half size, with packed masks beside (uint8 tensors)."""

    name: str
    images: tuple[Tensor, Tensor]
    masks: tuple[Tensor, Tensor]


@dataclass(frozen=True, slots=True)
class Target:
    """One surface to judge: its shot, the numbers of its surfaces, its finish and its box."""

    shot: Shot
    surfaces: tuple[int, ...]
    finish: int  # 0 japanning, 1 nickel, 2 bare metal with rust
    box: tuple[int, int, int, int]


def load_shots(folder: Path, names: list[str], device: str) -> list[Shot]:
    """Read photographs and their masks, packed: finish 2 bits, surface 4, rust 1."""
    shots = []
    for name in names:
        photograph = Image.open(folder / f"{name}.jpg").convert("RGB")
        finish, surface, rust = (
            np.array(Image.open(folder / f"{name}.{kind}.png"))
            for kind in ("finish", "surf", "rust")
        )
        mask = ((finish & 3) | ((surface & 15) << 2) | ((rust & 1) << 6)).astype(np.uint8)
        height, width = mask.shape
        half = photograph.resize((width // 2, height // 2), Image.Resampling.BOX)
        pair = [
            torch.from_numpy(np.array(a)).permute(2, 0, 1).to(device) for a in (photograph, half)
        ]
        masks = [
            torch.from_numpy(np.ascontiguousarray(m))[None].to(device)
            for m in (mask, mask[1::2, 1::2])
        ]
        shots.append(Shot(name, (pair[0], pair[1]), (masks[0], masks[1])))
    return shots


def targets_of(shots: list[Shot], smallest: int = 2500) -> list[list[Target]]:
    """List what can be judged in them: a list for each of the three finishes."""
    found: list[list[Target]] = [[], [], []]
    for shot in shots:
        packed = shot.masks[0][0].cpu().numpy()
        surface, finish = (packed >> 2) & 15, packed & 3
        for number, groups in enumerate((JAPANNED, NICKELED, BARE)):
            for group in groups:
                here = np.isin(surface, group) & ((finish > 0) | (number == 2))
                if here.sum() < smallest:
                    continue
                ys, xs = np.where(here)
                box = (int(ys.min()), int(xs.min()), int(ys.max()) + 1, int(xs.max()) + 1)
                found[number].append(Target(shot, group, number, box))
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


def _grid(target: Target, *, still: bool = False) -> tuple[Tensor, int, float]:
    """Where each working pixel comes from, x and y in the shot; which level; its step there."""
    y0, x0, y1, x1 = target.box
    scale = math.sqrt(FRAMED_AREA / ((y1 - y0) * (x1 - x0)))
    angle, flip_x, flip_y, stretch = 0.0, 1.0, 1.0, 1.0
    if not still:
        scale *= math.exp(random.uniform(-0.35, 0.25))
        angle = random.gauss(0, 0.2) + (random.random() < 0.15) * math.pi / 2
        flip_x, flip_y = random.choice((-1.0, 1.0)), random.choice((-1.0, 1.0))
        stretch = math.exp(random.gauss(0, 0.12))
    level = 1 if scale < 0.62 else 0
    device = target.shot.masks[0].device
    ys = (torch.arange(HEIGHT, device=device) - HEIGHT / 2)[:, None] / scale * stretch
    xs = (torch.arange(WIDTH, device=device) - WIDTH / 2)[None, :] / scale / stretch
    cos, sin = math.cos(angle), math.sin(angle)
    room_x = max(0.0, (x1 - x0) - 0.8 * WIDTH / scale) / 2
    room_y = max(0.0, (y1 - y0) - 0.8 * HEIGHT / scale) / 2
    slack = 0.06 * math.sqrt((y1 - y0) * (x1 - x0))
    cx = (x0 + x1) / 2 + random.uniform(-1, 1) * (room_x + slack)
    cy = (y0 + y1) / 2 + random.uniform(-1, 1) * (room_y + slack)
    grid = torch.stack([cx + flip_x * (cos * xs - sin * ys), cy + flip_y * (sin * xs + cos * ys)])
    return grid, level, 1 / scale


def _sampled(target: Target, grid: Tensor, level: int, wobble: Tensor) -> tuple[Tensor, ...]:
    shot = target.shot
    height, width = shot.masks[0].shape[1:]
    unit = torch.stack([(grid[0] + 0.5) / width * 2 - 1, (grid[1] + 0.5) / height * 2 - 1], -1)[
        None
    ]
    image = F.grid_sample(
        shot.images[level][None].float(), unit, padding_mode="reflection", align_corners=False
    )
    packed = (
        F.grid_sample(shot.masks[level][None].float(), unit, mode="nearest", align_corners=False)
        .round()
        .to(torch.uint8)
    )
    moved = torch.stack(
        [unit[..., 0] + wobble[..., 0] * 2 / width, unit[..., 1] + wobble[..., 1] * 2 / height], -1
    )
    outline = (
        F.grid_sample(shot.masks[level][None].float(), moved, mode="nearest", align_corners=False)
        .round()
        .to(torch.uint8)
    )
    return image[0] / 255, packed[0], outline[0]


def _inside(packed: Tensor, target: Target) -> Tensor:
    surface = (packed >> 2) & 15
    here = torch.zeros_like(packed, dtype=torch.bool)
    for number in target.surfaces:
        here |= surface == number
    return here if target.finish == 2 else here & ((packed & 3) > 0)


@dataclass(slots=True)
class Batch:
    """What one step learns from; all (n, c, HEIGHT, WIDTH) but finish (n, 3)."""

    image: Tensor
    mask: Tensor
    finish: Tensor
    lost: Tensor
    known: Tensor
    rust: Tensor
    rust_known: Tensor


def framed(targets: list[Target], device: str, *, still: bool = False) -> Batch:
    """Crop each target out of its shot at the working size, with a slightly misdrawn outline."""
    rows = []
    for target in targets:
        grid, level, step = _grid(target, still=still)
        wobble = torch.zeros(1, HEIGHT, WIDTH, 2, device=device)
        if not still:
            fields = noise(2, 30, device)[:, 0]
            wobble = torch.stack([fields[0], fields[1]], -1)[None] * random.uniform(0, 1.8) * step
        image, packed, moved = _sampled(target, grid, level, wobble)
        mask = _inside(moved, target)
        true = _inside(packed, target)
        finish = packed & 3
        rust = ((packed >> 6) & 1).float()
        lost = rust if target.finish == 2 else (finish == 2).float()
        rows.append((image, mask.float(), lost, (true & mask).float(), rust, true.float()))
    image, mask, lost, known, rust, rust_known = (torch.stack(r) for r in zip(*rows, strict=True))
    finish = F.one_hot(torch.tensor([t.finish for t in targets]), 3).float().to(device)
    return Batch(image, mask, finish, lost, known, rust, rust_known)


def to_linear(image: Tensor) -> Tensor:
    return torch.where(
        image <= 0.04045, image / 12.92, ((image.clamp(min=0) + 0.055) / 1.055) ** 2.4
    )


def to_screen(linear: Tensor) -> Tensor:
    linear = linear.clamp(1e-6, 1)
    return torch.where(linear <= 0.0031308, linear * 12.92, 1.055 * linear ** (1 / 2.4) - 0.055)


def _blurred(image: Tensor, cell: int) -> Tensor:
    small = F.avg_pool2d(image, cell, ceil_mode=True, count_include_pad=False)
    small = F.avg_pool2d(small, 3, stride=1, padding=1, count_include_pad=False)
    return F.interpolate(small, image.shape[2:], mode="bicubic", align_corners=False).clamp(min=0)


def _worn(n: int, device: str) -> Tensor:
    """Masks of flaking, chips or speckle: thresholded fields with ragged edges."""
    cells = math.exp(random.uniform(math.log(4), math.log(70)))
    field = noise(n, cells, device, octaves=5, rough=random.uniform(0.35, 0.75))
    field = field + uniform(n, 0, 1.2, device) * noise(n, 4, device)
    share = torch.rand(n, device=device) ** 1.6 * 0.85
    flat = field.flatten(1)
    ranked = flat[:, ::97].sort(1).values
    at = (ranked.shape[1] * (1 - share)).long().clamp(0, ranked.shape[1] - 1)
    edge = ranked.gather(1, at[:, None])[:, :, None, None]
    return (field > edge).float()


def tint(n: int, base: tuple[float, float, float], spread: float, device: str) -> Tensor:
    """A color for each picture, about a base."""
    color = torch.tensor(base, device=device).reshape(1, 3, 1, 1)
    return color * torch.exp(torch.randn(n, 3, 1, 1, device=device) * spread)


def _metal(n: int, light: Tensor, device: str) -> Tensor:
    """Bare iron, bright or gray, ground or cast, under the light already there."""
    albedo = torch.exp(uniform(n, math.log(0.25), math.log(1.6), device))
    grain = 1 + uniform(n, 0, 0.2, device) * noise(n, 250, device, octaves=2)
    patchy = torch.exp(uniform(n, 0, 0.35, device) * noise(n, 14, device, octaves=4))
    return (
        light * albedo * (grain * patchy).clamp(min=0.1) * tint(n, (1.0, 0.98, 0.95), 0.05, device)
    )


def _rusty(n: int, light: Tensor, device: str) -> Tensor:
    patchy = torch.exp(0.45 * noise(n, 30, device, octaves=5, rough=0.7))
    color = tint(n, (0.55, 0.27, 0.14), 0.3, device)
    return light * color * patchy * uniform(n, 0.25, 0.9, device)


def _light(linear: Tensor, mask: Tensor, finish: Tensor) -> Tensor:
    """A guess at how bright bare iron would be: what is mirrored, spread as rough metal would."""
    n, device = len(linear), str(linear.device)
    spread = _blurred(linear, random.choice((8, 16, 32, 64)))
    gain = torch.where(
        finish[:, 0, None, None, None] > 0,
        uniform(n, 1.5, 12, device),
        uniform(n, 0.4, 1.0, device),
    )
    top = (
        (linear.mean(1, keepdim=True) * mask)
        .flatten(1)[:, ::61]
        .quantile(0.97, dim=1)[:, None, None, None]
    )
    even = (top * uniform(n, 0.3, 1.2, device)) * torch.exp(
        uniform(n, 0, 0.6, device) * noise(n, 3, device)
    )
    share = uniform(n, 0, 1, device)
    return (share * spread * gain + (1 - share) * even).clamp(0.003, 1.2)


def _from_other(linear: Tensor, lost: Tensor) -> Tensor:
    """Metal as another picture of the batch shows it, its holes filled from its surroundings."""
    order = torch.randperm(len(linear), device=linear.device)
    other, where = linear[order].flip(3), lost[order].flip(3)
    filled, weight = other * where, where
    result, have = filled, weight
    for cell in (8, 32, 128):
        near = _blurred(filled, cell) / (_blurred(weight, cell) + 1e-4)
        result = torch.where(have > 0.5, result, near)
        have = torch.maximum(have, (_blurred(weight, cell) > 0.05).float())
    return result.clamp(0.002, 1.2)


def wear(batch: Batch, linear: Tensor, harm: float) -> Tensor:
    """Take finish off in places (or put some back), and change what is lost to match."""
    n, device = len(linear), str(linear.device)
    bare, nickel = batch.finish[:, 2, None, None, None], batch.finish[:, 1, None, None, None]
    light = _light(linear, batch.mask, batch.finish)
    rusty, new = _laid_bare(nickel, light)
    borrowed = _from_other(linear, (batch.lost * batch.known).clamp(0, 1))
    enough = ((batch.lost * batch.known).mean((1, 2, 3), keepdim=True) > 0.02).float()
    use = chance(n, 0.35, device) * enough[torch.arange(n)]
    new = torch.where(use > 0, borrowed, new)
    new = new * (1 - bare) + _rusty(n, _blurred(linear, 16).clamp(min=0.01) * 1.3, device) * bare
    # Nickel and the steel under it look alike enough; made-up losses there mislead when many.
    where = (
        _worn(n, device) * chance(n, 0.45 * harm, device) * (1 - nickel * chance(n, 0.5, device))
    )
    where = where * batch.mask
    soft = F.avg_pool2d(where, 3, 1, 1)
    linear = linear * (1 - soft) + new * soft
    batch.lost = torch.maximum(batch.lost, where)
    batch.rust = torch.where(where > 0, (rusty * (1 - use)).maximum(bare), batch.rust)
    batch.rust_known = batch.rust_known * (1 - where * use)
    return _restored(batch, _overgrown(batch, linear, light, harm), harm)


def _laid_bare(nickel: Tensor, light: Tensor) -> tuple[Tensor, Tensor]:
    """What shows where finish is gone, and how much of it is rust: iron, steel, brass or rust."""
    n, device = len(light), str(light.device)
    rust_share = torch.rand(n, 1, 1, 1, device=device)
    rusty = _worn(n, device) * (rust_share > 0.4) + (rust_share > 0.8)
    rusty = rusty.clamp(0, 1) * (1 - nickel)
    metal = _metal(n, light, device)
    brass = nickel * chance(n, 0.4, device)
    metal = metal * (1 - brass) + metal * brass * tint(n, (1.1, 0.75, 0.33), 0.12, device)
    return rusty, metal * (1 - rusty) + _rusty(n, light, device) * rusty


def _overgrown(batch: Batch, linear: Tensor, light: Tensor, harm: float) -> Tensor:
    """Let rust creep over nickel, there or not: it says little of either."""
    n, device, nickel = len(linear), str(linear.device), batch.finish[:, 1, None, None, None]
    over = _worn(n, device) * nickel * chance(n, 0.3 * harm, device) * batch.mask
    soft = F.avg_pool2d(over, 3, 1, 1)
    linear = linear * (1 - soft) + _rusty(n, light, device) * soft
    batch.rust = torch.maximum(batch.rust, over)
    return linear


def _restored(batch: Batch, linear: Tensor, harm: float) -> Tensor:
    """Put black finish back over some of a japanned surface, so shapes of loss vary."""
    n, device = len(linear), str(linear.device)
    where = _worn(n, device) * batch.finish[:, 0, None, None, None] * chance(n, 0.15 * harm, device)
    where = where * batch.lost * batch.mask
    black = _blurred(linear, 32) * uniform(n, 0.02, 0.12, device) + uniform(n, 0.001, 0.015, device)
    soft = F.avg_pool2d(where, 3, 1, 1)
    batch.lost = batch.lost * (1 - where)
    batch.rust = batch.rust * (1 - where)
    return linear * (1 - soft) + black * soft


def _window(n: int, device: str) -> Tensor:
    """Mirrored panes and lamps: soft-edged bands, bent a little by the surface."""
    ys = torch.linspace(-0.5, 0.5, HEIGHT, device=device)[None, None, :, None]
    xs = torch.linspace(-0.9, 0.9, WIDTH, device=device)[None, None, None, :]
    bend = uniform(n, 0, 0.06, device)
    xs = xs + bend * noise(n, 6, device) + uniform(n, 0, 0.006, device) * noise(n, 90, device)
    ys = ys + bend * noise(n, 6, device) + uniform(n, 0, 0.006, device) * noise(n, 90, device)
    angle = uniform(n, 0, math.pi, device)
    u = (xs - uniform(n, -0.7, 0.7, device)) * angle.cos() + (
        ys - uniform(n, -0.4, 0.4, device)
    ) * angle.sin()
    v = ys * angle.cos() - xs * angle.sin() - uniform(n, -0.4, 0.4, device)
    soft = torch.exp(uniform(n, math.log(0.003), math.log(0.15), device))
    half_u, half_v = uniform(n, 0.03, 0.4, device), uniform(n, 0.05, 0.8, device)
    return torch.sigmoid((half_u - u.abs()) / soft) * torch.sigmoid((half_v - v.abs()) / soft)


def reflect(batch: Batch, linear: Tensor, harm: float) -> Tensor:
    """Mirror a window or a lamp in the finish; bare metal shows it spread and weaker."""
    n, device = len(linear), str(linear.device)
    shape = _window(n, device) * chance(n, 0.7, device) + noise(n, 4, device).clamp(min=0) * chance(
        n, 0.3, device
    )
    strength = torch.exp(uniform(n, math.log(0.02), math.log(0.6), device)) * chance(
        n, 0.5 * harm, device
    )
    color = tint(n, (1.0, 1.0, 1.03), 0.12, device)
    spread = _blurred(shape, 32)
    jap = batch.finish[:, 0, None, None, None]
    keep = F.avg_pool2d((1 - batch.lost) * (1 - batch.finish[:, 2, None, None, None]), 3, 1, 1)
    level = _blurred(linear, 32)
    added = (
        strength
        * color
        * (keep * (jap + (1 - jap) * level * 3) * shape + (1 - keep) * spread * level * 2)
    )
    mirror = torch.exp(
        noise(n, 5, device, octaves=2) * uniform(n, 0, 0.4, device) * chance(n, 0.4 * harm, device)
    )
    nickel = batch.finish[:, 1, None, None, None] * keep
    return (linear + added * batch.mask) * (mirror * nickel + (1 - nickel))


def photographed(batch: Batch, linear: Tensor, harm: float) -> Tensor:
    """Another light, exposure, camera and file: color, tone, shade, blur, noise, compression."""
    n, device = len(linear), str(linear.device)
    rust_hue = tint(n, (1.0, 1.0, 1.0), 0.16, device)
    rust = F.avg_pool2d(batch.rust * batch.rust_known, 3, 1, 1) * chance(n, 0.6, device)
    linear = linear * (1 - rust) + linear * rust_hue * rust
    light = tint(n, (1.0, 1.0, 1.0), 0.12 * harm, device) * torch.exp(
        torch.randn(n, 1, 1, 1, device=device) * 0.35 * harm
    )
    shade = torch.exp(noise(n, 3, device) * uniform(n, 0, 0.35, device) * chance(n, 0.5, device))
    linear = (linear * light * shade).clamp(min=0)
    gray = linear.mean(1, keepdim=True)
    linear = (gray + (linear - gray) * uniform(n, 1 - 0.5 * harm, 1 + 0.4 * harm, device)).clamp(
        1e-5, 1.0
    )
    image = to_screen(linear) ** torch.exp(torch.randn(n, 1, 1, 1, device=device) * 0.15 * harm)
    bow = uniform(n, -0.25, 0.35, device) * harm
    image = image + bow * image * (1 - image) * (2 * image - 1)
    image = _softened(image, harm)
    grain = torch.exp(uniform(n, math.log(0.002), math.log(0.012 + 0.023 * harm), device))
    image = image + grain * torch.randn_like(image)
    return _compressed(image.clamp(0, 1)).clamp(0, 1)


def _softened(image: Tensor, harm: float) -> Tensor:
    amount = uniform(len(image), 0, 1, str(image.device)) * chance(
        len(image), 0.5 * harm, str(image.device)
    )
    soft = F.avg_pool2d(
        F.avg_pool2d(image, 3, 1, 1, count_include_pad=False), 3, 1, 1, count_include_pad=False
    )
    return image * (1 - amount) + soft * amount


def _compressed(image: Tensor) -> Tensor:
    """Round the cosines of 8 x 8 blocks, as a JPEG file does."""
    n, device = len(image), image.device
    k = torch.arange(8, device=device, dtype=torch.float32)
    basis = torch.cos((2 * k[None] + 1) * k[:, None] * math.pi / 16) / 2
    basis[0] /= math.sqrt(2)
    blocks = image.reshape(n, 3, HEIGHT // 8, 8, WIDTH // 8, 8).permute(0, 1, 2, 4, 3, 5)
    coded = (blocks @ basis.T).transpose(-1, -2) @ basis.T  # transposed, which the steps allow
    step = (0.004 + 0.01 * (k[None] + k[:, None])) * (
        torch.rand(n, 1, 1, 1, 1, 1, device=device) ** 2
        * (torch.rand(n, 1, 1, 1, 1, 1, device=device) < 0.5)
    ) + 1e-4
    coded = (coded / step).round() * step
    back = (coded @ basis).transpose(-1, -2) @ basis
    return back.permute(0, 1, 2, 4, 3, 5).reshape(image.shape)


def drawn(targets: list[list[Target]], n: int, device: str, harm: float) -> tuple[Batch, Tensor]:
    """Draw a batch: half japanning, the rest nickel and bare metal, all changed at random.

    `harm`, 0 to 1, is how often and how much they are changed. With the batch comes its light,
    linear, which `photographed` makes a picture of.
    """
    kinds = random.choices((0, 1, 2), (0.5, 0.29, 0.21), k=n)
    batch = framed([random.choice(targets[kind]) for kind in kinds], device)
    linear = to_linear(batch.image)
    linear = reflect(batch, wear(batch, linear, harm), harm)
    batch.known = batch.known * batch.mask
    return batch, linear


def partly_outlined(batch: Batch, harm: float) -> None:
    """Now and then leave an outline round a part of the surface only."""
    n, device = len(batch.image), str(batch.image.device)
    if random.random() < 0.3 * harm:
        field = noise(n, 2, device)
        part = (field > uniform(n, -1.2, 0.3, device)).float()
        if (part * batch.known).flatten(1).sum(1).min() > 1500:
            batch.mask, batch.known = batch.mask * part, batch.known * part

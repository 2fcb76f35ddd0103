"""Changes that make every picture to learn from a new one: wear, patina, dust, light, camera."""

from __future__ import annotations

import math
import random

import torch
import torch.nn.functional as F  # noqa: N812 - the name every torch program uses
from judge_materials import Materials, patina_color, real_rust, tungsten
from judge_pictures import (
    HEIGHT,
    WIDTH,
    Batch,
    Shots,
    Target,
    blurred,
    chance,
    framed,
    noise,
    tint,
    to_linear,
    to_screen,
    uniform,
    worn,
)
from torch import Tensor


def _soft(mask: Tensor) -> Tensor:
    return F.avg_pool2d(mask, 3, 1, 1)


def _metal(n: int, light: Tensor, device: str) -> Tensor:
    """Bare iron, bright or gray, ground or cast, under the light already there."""
    albedo = torch.exp(uniform(n, math.log(0.25), math.log(1.6), device))
    grain = 1 + uniform(n, 0, 0.2, device) * noise(n, 250, device, octaves=2)
    patchy = torch.exp(uniform(n, 0, 0.35, device) * noise(n, 14, device, octaves=4))
    return (
        light * albedo * (grain * patchy).clamp(min=0.1) * tint(n, (1.0, 0.98, 0.95), 0.05, device)
    )


def rusty(n: int, light: Tensor, materials: Materials, device: str) -> Tensor:
    """Rust under the light already there: cut out of pictures of it, or made up."""
    patchy = torch.exp(0.45 * noise(n, 30, device, octaves=5, rough=0.7))
    color = tint(n, (0.55, 0.27, 0.14), 0.3, device)
    made = light * color * patchy * uniform(n, 0.25, 0.9, device)
    real = light * real_rust(materials, n, device) * uniform(n, 0.1, 0.5, device)
    use = chance(n, 0.55, device)
    return real * use + made * (1 - use)


def _light(linear: Tensor, mask: Tensor, finish: Tensor) -> Tensor:
    """A guess at how bright bare iron would be: what is mirrored, spread as rough metal would."""
    n, device = len(linear), str(linear.device)
    spread = blurred(linear, random.choice((8, 16, 32, 64)))
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
        near = blurred(filled, cell) / (blurred(weight, cell) + 1e-4)
        result = torch.where(have > 0.5, result, near)
        have = torch.maximum(have, (blurred(weight, cell) > 0.05).float())
    return result.clamp(0.002, 1.2)


def wear(batch: Batch, linear: Tensor, materials: Materials, harm: float) -> Tensor:
    """Take finish off in places (or put some back), let iron brown and rust; change the truth."""
    n, device = len(linear), str(linear.device)
    bare, nickel = batch.finish[:, 2, None, None, None], batch.finish[:, 1, None, None, None]
    light = _light(linear, batch.mask, batch.finish)
    linear = _browned(batch, linear, harm)
    is_rust, new = _laid_bare(nickel, light, materials)
    lost = batch.lost[:, :1]
    borrowed = _from_other(linear, (lost * batch.known[:, :1]).clamp(0, 1))
    enough = ((lost * batch.known[:, :1]).mean((1, 2, 3), keepdim=True) > 0.02).float()
    use = chance(n, 0.35, device) * enough
    new = torch.where(use > 0, borrowed, new)
    iron_light = blurred(linear, 16).clamp(min=0.01) * 1.3
    new = new * (1 - bare) + rusty(n, iron_light, materials, device) * bare
    # Nickel and the steel under it look alike enough; made-up losses there mislead when many.
    where = (
        worn(n, device, 0.06)
        * chance(n, 0.45 * harm, device)
        * (1 - nickel * chance(n, 0.5, device))
    )
    where = where * batch.mask
    soft = _soft(where)
    linear = linear * (1 - soft) + new * soft
    batch.lost = torch.maximum(batch.lost, torch.cat([where, where * bare], 1))
    _know_browned(batch, where * bare)
    batch.rust = torch.where(where > 0, (is_rust * (1 - use)).maximum(bare), batch.rust)
    batch.rust_known = batch.rust_known * (1 - where * use)
    linear = _restored(batch, _overgrown(batch, linear, light, materials, harm), harm)
    return _dusted(batch, linear, light, harm)


def _know_browned(batch: Batch, where: Tensor) -> None:
    known = torch.maximum(batch.known[:, 1:], where * batch.known[:, :1])
    batch.known = torch.cat([batch.known[:, :1], known], 1)


def _browned(batch: Batch, linear: Tensor, harm: float) -> Tensor:
    """Turn bare iron to patina in places or as a whole: darker, brown or gray, half as metallic."""
    n, device = len(linear), str(linear.device)
    where = worn(n, device, 0.45) * chance(n, 0.35 * harm, device)
    where = where * batch.finish[:, 2, None, None, None] * batch.mask
    light = blurred(linear, 16).clamp(min=0.01)
    patchy = torch.exp(uniform(n, 0.03, 0.3, device) * noise(n, 20, device, octaves=5, rough=0.7))
    dark = uniform(n, 0.08, 0.3, device) * patchy
    sheen = uniform(n, 0, 0.25, device)
    new = (light * (1 - sheen) + linear * sheen) * dark * patina_color(n, device)
    new = new + linear * uniform(n, 0, 0.08, device)
    soft = _soft(where)
    batch.lost = torch.cat(
        [batch.lost[:, :1] * (1 - where), torch.maximum(batch.lost[:, 1:], where)], 1
    )
    batch.rust = batch.rust * (1 - where)
    _know_browned(batch, where)
    return linear * (1 - soft) + new * soft


def _laid_bare(nickel: Tensor, light: Tensor, materials: Materials) -> tuple[Tensor, Tensor]:
    """What shows where finish is gone, and how much of it is rust: iron, steel, brass or rust."""
    n, device = len(light), str(light.device)
    rust_share = torch.rand(n, 1, 1, 1, device=device)
    is_rust = worn(n, device) * (rust_share > 0.4) + (rust_share > 0.8)
    is_rust = is_rust.clamp(0, 1) * (1 - nickel)
    metal = _metal(n, light, device)
    brass = nickel * chance(n, 0.4, device)
    metal = metal * (1 - brass) + metal * brass * tint(n, (1.1, 0.75, 0.33), 0.12, device)
    return is_rust, metal * (1 - is_rust) + rusty(n, light, materials, device) * is_rust


def _overgrown(
    batch: Batch, linear: Tensor, light: Tensor, materials: Materials, harm: float
) -> Tensor:
    """Let rust creep over nickel, there or not: it says little of either."""
    n, device, nickel = len(linear), str(linear.device), batch.finish[:, 1, None, None, None]
    over = worn(n, device) * nickel * chance(n, 0.3 * harm, device) * batch.mask
    soft = _soft(over)
    linear = linear * (1 - soft) + rusty(n, light, materials, device) * soft
    batch.rust = torch.maximum(batch.rust, over)
    return linear


def _restored(batch: Batch, linear: Tensor, harm: float) -> Tensor:
    """Put black finish back over some of a japanned surface, so shapes of loss vary."""
    n, device = len(linear), str(linear.device)
    where = worn(n, device, 0.3) * chance(n, 0.15 * harm, device)
    where = where * batch.finish[:, 0, None, None, None] * batch.lost[:, :1] * batch.mask
    black = blurred(linear, 32) * uniform(n, 0.02, 0.12, device) + uniform(n, 0.001, 0.015, device)
    soft = _soft(where)
    batch.lost = torch.cat([batch.lost[:, :1] * (1 - where), batch.lost[:, 1:]], 1)
    batch.rust = batch.rust * (1 - where)
    return linear * (1 - soft) + black * soft


def _dusted(batch: Batch, linear: Tensor, light: Tensor, harm: float) -> Tensor:
    """Lay dust or grime over everything; finish under it is still finish."""
    n, device = len(linear), str(linear.device)
    layer = (0.6 + 0.4 * noise(n, 8, device, octaves=4)).clamp(0, 1)
    layer = layer * uniform(n, 0.05, 0.7, device) * chance(n, 0.25 * harm, device)
    layer = layer * (1 - batch.finish[:, 2, None, None, None] * 0.6) * batch.mask
    dust = light * tint(n, (0.34, 0.3, 0.25), 0.2, device) * uniform(n, 0.2, 1.0, device)
    return linear * (1 - layer) + dust * layer


def _pane(n: int, device: str) -> Tensor:
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
    shape = _pane(n, device) * chance(n, 0.7, device) + noise(n, 4, device).clamp(min=0) * chance(
        n, 0.3, device
    )
    strength = torch.exp(uniform(n, math.log(0.02), math.log(0.6), device)) * chance(
        n, 0.5 * harm, device
    )
    color = tint(n, (1.0, 1.0, 1.03), 0.12, device)
    spread = blurred(shape, 32)
    jap = batch.finish[:, 0, None, None, None]
    keep = _soft((1 - batch.lost[:, :1]) * (1 - batch.finish[:, 2, None, None, None]))
    level = blurred(linear, 32)
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
    rust = _soft(batch.rust * batch.rust_known) * chance(n, 0.6, device)
    linear = linear * (1 - rust) + linear * rust_hue * rust
    light = tint(n, (1.0, 1.0, 1.0), 0.12 * harm, device) * torch.exp(
        torch.randn(n, 1, 1, 1, device=device) * 0.35 * harm
    )
    light = light * tungsten(n, device, 0.2 * harm)
    shade = torch.exp(noise(n, 3, device) * uniform(n, 0, 0.35, device) * chance(n, 0.5, device))
    linear = (linear * light * shade).clamp(min=0)
    gray = linear.mean(1, keepdim=True)
    linear = (gray + (linear - gray) * uniform(n, 1 - 0.5 * harm, 1 + 0.5 * harm, device)).clamp(
        1e-5, 1.0
    )
    image = to_screen(linear) ** torch.exp(torch.randn(n, 1, 1, 1, device=device) * 0.15 * harm)
    bow = uniform(n, -0.25, 0.35, device) * harm
    image = image + bow * image * (1 - image) * (2 * image - 1)
    image = _phone(_softened(image, harm), harm)
    grain = torch.exp(uniform(n, math.log(0.002), math.log(0.012 + 0.023 * harm), device))
    image = image + grain * torch.randn_like(image)
    return _compressed(image.clamp(0, 1)).clamp(0, 1)


def _phone(image: Tensor, harm: float) -> Tensor:
    """What phones do: lift shadows and hold lights by region, smooth what is flat, sharpen."""
    n, device = len(image), str(image.device)
    gray = image.mean(1, keepdim=True)
    region = blurred(gray, random.choice((32, 64, 128)))
    lift = uniform(n, 0, 0.5, device) * chance(n, 0.35 * harm, device)
    image = image * ((0.45 + 0.02) / (region + 0.02)) ** lift
    near = F.avg_pool2d(image, 3, 1, 1, count_include_pad=False)
    flat = torch.exp(-(((image - near).mean(1, keepdim=True)) ** 2) / (2 * 0.015**2))
    smooth = flat * uniform(n, 0, 0.9, device) * chance(n, 0.35 * harm, device)
    image = image * (1 - smooth) + near * smooth
    size = random.choice((3, 3, 5, 7))
    around = F.avg_pool2d(image, size, 1, size // 2, count_include_pad=False)
    amount = uniform(n, 0.1, 1.6, device) * chance(n, 0.45 * harm, device)
    return image + (image - around) * amount


def _softened(image: Tensor, harm: float) -> Tensor:
    n, device = len(image), str(image.device)
    amount = uniform(n, 0, 1, device) * chance(n, 0.5 * harm, device)
    soft = F.avg_pool2d(
        F.avg_pool2d(image, 3, 1, 1, count_include_pad=False), 3, 1, 1, count_include_pad=False
    )
    return image * (1 - amount) + soft * amount


def _compressed(image: Tensor) -> Tensor:
    """Round the cosines of 8 x 8 blocks, as a JPEG file does; color twice as coarsely."""
    n, device = len(image), image.device
    k = torch.arange(8, device=device, dtype=torch.float32)
    basis = torch.cos((2 * k[None] + 1) * k[:, None] * math.pi / 16) / 2
    basis[0] /= math.sqrt(2)
    gray = image.mean(1, keepdim=True)
    image = torch.cat([gray, image[:, :1] - gray, image[:, 2:] - gray], 1)
    blocks = image.reshape(n, 3, HEIGHT // 8, 8, WIDTH // 8, 8).permute(0, 1, 2, 4, 3, 5)
    coded = (blocks @ basis.T).transpose(-1, -2) @ basis.T  # transposed, which the steps allow
    step = (0.004 + 0.016 * (k[None] + k[:, None])) * (
        torch.rand(n, 1, 1, 1, 1, 1, device=device) ** 2
        * (torch.rand(n, 1, 1, 1, 1, 1, device=device) < 0.5)
    ) + 1e-4
    step = step * torch.tensor((1.0, 2.0, 2.0), device=device).reshape(1, 3, 1, 1, 1, 1)
    coded = (coded / step).round() * step
    back = (coded @ basis).transpose(-1, -2) @ basis
    back = back.permute(0, 1, 2, 4, 3, 5).reshape(image.shape)
    gray, red, blue = back[:, :1], back[:, 1:2] + back[:, :1], back[:, 2:] + back[:, :1]
    return torch.cat([red, 3 * gray - red - blue, blue], 1)


def drawn(
    shots: Shots, chosen: list[Target], materials: Materials, harm: float
) -> tuple[Batch, Tensor]:
    """Frame surfaces of photographs, all changed at random.

    `harm`, 0 to 1, is how often and how much they are changed. With the batch comes its light,
    linear, which `photographed` makes a picture of.
    """
    batch = framed(shots, chosen)
    linear = to_linear(batch.image)
    linear = reflect(batch, wear(batch, linear, materials, harm), harm)
    batch.known = batch.known * batch.mask
    return batch, linear


def partly_outlined(batch: Batch, harm: float) -> None:
    """Now and then leave an outline around a part of the surface only."""
    n, device = len(batch.image), str(batch.image.device)
    field = noise(n, 2, device)
    part = (field > uniform(n, -1.2, 0.3, device)).float()
    part = torch.maximum(part, 1 - chance(n, 0.3 * harm, device))
    enough = (part * batch.known[:, :1]).flatten(1).sum(1) > 1500
    part = torch.maximum(part, 1 - enough.float()[:, None, None, None])
    batch.mask, batch.known = batch.mask * part, batch.known * part

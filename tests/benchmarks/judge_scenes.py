"""Made-up surfaces to learn from: gloss, metal and rust under one mirrored room."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass

import judge_pictures as pictures
import torch
import torch.nn.functional as F  # noqa: N812 - the name every torch program uses
from judge_materials import Materials, embossed, hemispheres, patina_color, real_rust, tungsten
from judge_pictures import chance, tint, uniform
from torch import Tensor

ROOM = 96  # cells along the picture of the room, which spans -1 to 1 of the mirrored ray
SPREADS = (1, 3, 7, 15, 31)  # cells over which a surface of each roughness spreads what it mirrors
SMOOTHEST = 0.05  # roughness that mirrors sharply; each doubling takes the next spread


@dataclass(frozen=True, slots=True)
class Shape:
    """Where a surface lies and how it is bent: inside, depth from its edge, normals' x and y."""

    inside: Tensor
    depth: Tensor
    normal: Tensor


def _log_uniform(n: int, low: float, high: float, device: str) -> Tensor:
    return torch.exp(uniform(n, math.log(low), math.log(high), device))


def _axes(device: str) -> tuple[Tensor, Tensor]:
    """Rows and columns of the working picture, in half widths of it."""
    height, width = pictures.HEIGHT, pictures.WIDTH
    ys = torch.linspace(-height / width, height / width, height, device=device)
    xs = torch.linspace(-1, 1, width, device=device)
    return ys[None, None, :, None], xs[None, None, None, :]


def _shapes(n: int, device: str) -> Shape:
    """Rounded boxes with holes, made of flat or domed facets, with a rim turned in or out."""
    ys, xs = _axes(device)
    angle = torch.randn(n, 1, 1, 1, device=device) * 0.25
    u = angle.cos() * (xs - uniform(n, -0.2, 0.2, device)) + angle.sin() * ys
    v = angle.cos() * (ys - uniform(n, -0.1, 0.1, device)) - angle.sin() * xs
    u = u + 0.03 * pictures.noise(n, 4, device)
    v = v + 0.03 * pictures.noise(n, 4, device)
    half_u, half_v = uniform(n, 0.45, 1.1, device), uniform(n, 0.2, 0.6, device)
    corner = uniform(n, 0.02, 0.2, device)
    du, dv = u.abs() - half_u + corner, v.abs() - half_v + corner
    outer = (du.clamp(min=0) ** 2 + dv.clamp(min=0) ** 2).sqrt() - corner
    depth = -(outer + torch.maximum(du, dv).clamp(max=0))
    inside = (depth > 0).float()
    for _ in range(random.randrange(4)):
        hole_u, hole_v = u - uniform(n, -0.8, 0.8, device), v - uniform(n, -0.4, 0.4, device)
        size = _log_uniform(n, 0.03, 0.25, device)
        square = torch.maximum(hole_u.abs(), hole_v.abs() * uniform(n, 0.3, 2, device))
        hole = torch.where(chance(n, 0.5, device) > 0, (hole_u**2 + hole_v**2).sqrt(), square)
        inside = inside * (hole > size)
    return Shape(inside, depth, _normals(n, u, v, depth))


def _normals(n: int, u: Tensor, v: Tensor, depth: Tensor) -> Tensor:
    device = str(u.device)
    flat = torch.zeros(n, 2, *u.shape[2:], device=device)
    for _ in range(random.randrange(1, 4)):  # facets side by side
        soft = _log_uniform(n, 0.004, 0.08, device)
        there = torch.sigmoid((u - uniform(n, -0.8, 0.8, device)) / soft)
        flat = flat + there * torch.randn(n, 2, 1, 1, device=device) * 0.25
    dome = torch.cat([u, v], 1) * uniform(n, -0.5, 0.7, device) * chance(n, 0.6, device)
    rim = torch.exp(-depth.clamp(min=0) / _log_uniform(n, 0.01, 0.12, device))
    out = torch.cat([u, v], 1)
    out = out / (out.norm(dim=1, keepdim=True) + 0.05)
    bent = pictures.noise(2 * n, 5, device).reshape(n, 2, *u.shape[2:])
    return (
        flat
        + dome
        + rim * out * uniform(n, -1.2, 1.2, device)
        + bent * _log_uniform(n, 0.005, 0.15, device)
    )


def _room(n: int, materials: Materials, device: str) -> list[Tensor]:
    """What is mirrored: a real place, or walls with windows and lamps; the same, ever wider."""
    axis = torch.linspace(-1, 1, ROOM, device=device)
    ys, xs = axis[None, None, :, None], axis[None, None, None, :]
    angle = uniform(n, 0, 2 * math.pi, device)
    side = torch.sigmoid(
        (xs * angle.cos() + ys * angle.sin() - uniform(n, -0.6, 0.6, device))
        / _log_uniform(n, 0.05, 0.8, device)
    )
    walls = torch.exp(0.5 * F.interpolate(torch.randn(n, 1, 7, 7, device=device), (ROOM, ROOM)))
    room = walls * tint(n, (1, 1, 1), 0.1, device)
    room = room + side * _log_uniform(n, 0.1, 8, device) * tint(n, (1, 1, 1.05), 0.12, device)
    for _ in range(random.randrange(1, 5)):
        x, y = xs - uniform(n, -0.9, 0.9, device), ys - uniform(n, -0.9, 0.9, device)
        turn = uniform(n, 0, math.pi, device)
        along, across = x * turn.cos() + y * turn.sin(), y * turn.cos() - x * turn.sin()
        soft = _log_uniform(n, 0.01, 0.15, device)
        pane = torch.sigmoid((_log_uniform(n, 0.04, 0.6, device) - along.abs()) / soft)
        pane = pane * torch.sigmoid((_log_uniform(n, 0.04, 0.6, device) - across.abs()) / soft)
        strength = _log_uniform(n, 1, 60, device) * chance(n, 0.6, device)
        room = room + pane * strength * tint(n, (1, 1, 1), 0.15, device)
    real = hemispheres(materials, n, ROOM, device) * _log_uniform(n, 0.6, 1.6, device)
    use = chance(n, 0.65, device)
    room = room * (1 - use) + real * use * tungsten(n, device, 0.15)
    return [_spread(room, cells) for cells in SPREADS]


def _spread(room: Tensor, cells: int) -> Tensor:
    for _ in range(2):
        room = F.pad(room, (cells // 2,) * 4, mode="reflect")
        room = F.avg_pool2d(F.avg_pool2d(room, (cells, 1), 1), (1, cells), 1)
    return room


def _mirrored(
    room: list[Tensor], normal: Tensor, view: Tensor, rough: Tensor
) -> tuple[Tensor, ...]:
    """What each pixel mirrors, spread by its roughness, and the cosine to the eye."""
    n3 = F.normalize(torch.cat([normal, torch.ones_like(normal[:, :1])], 1), dim=1)
    v3 = F.normalize(torch.cat([view, torch.ones_like(view[:, :1])], 1), dim=1)
    cosine = (n3 * v3).sum(1, keepdim=True)
    ray = (2 * cosine * n3 - v3)[:, :2].permute(0, 2, 3, 1)
    level = (torch.log2(rough / SMOOTHEST)).clamp(0, len(room) - 1)
    seen = torch.zeros(len(normal), 3, *normal.shape[2:], device=normal.device)
    for number, spread in enumerate(room):
        weight = (1 - (level - number).abs()).clamp(min=0)
        seen = seen + weight * F.grid_sample(
            spread, ray, padding_mode="border", align_corners=False
        )
    return seen, cosine.clamp(0.02, 1)


def _losses(shape: Shape, device: str) -> Tensor:
    """Flakes, chips, speckle and worn edges: from nothing to everything."""
    n = len(shape.inside)
    cells = math.exp(random.uniform(math.log(4), math.log(90)))
    field = pictures.noise(n, cells, device, octaves=5, rough=random.uniform(0.35, 0.75))
    field = field + uniform(n, 0, 1.2, device) * pictures.noise(n, 4, device)
    edge = torch.exp(-shape.depth.clamp(min=0) / _log_uniform(n, 0.01, 0.2, device))
    field = field + edge * uniform(n, 0, 4, device) * chance(n, 0.5, device)
    share = torch.rand(n, device=device) ** 1.6 * 0.98
    ranked = field.flatten(1)[:, ::97].sort(1).values
    at = (ranked.shape[1] * (1 - share)).long().clamp(0, ranked.shape[1] - 1)
    lost = (field > ranked.gather(1, at[:, None])[:, :, None, None]).float()
    whole, none = chance(n, 0.12, device), chance(n, 0.12, device)
    return torch.maximum(lost, whole) * (1 - none)


def _bump(n: int, cells: float, most: float, device: str) -> Tensor:
    """Unevenness of a surface as changes of its normals."""
    fields = pictures.noise(2 * n, cells, device, octaves=2)
    grain = fields.reshape(n, 2, *fields.shape[2:])
    return grain * _log_uniform(n, most / 30, most, device)


def _steps(lost: Tensor) -> Tensor:
    """Normals at the edge of a film: its thickness catches the light."""
    soft = F.avg_pool2d(lost, 3, 1, 1)
    dx = F.pad(soft[..., 2:] - soft[..., :-2], (1, 1, 0, 0))
    dy = F.pad(soft[..., 2:, :] - soft[..., :-2, :], (0, 0, 1, 1))
    return torch.cat([dx, dy], 1)


def _rust(n: int, light: Tensor, materials: Materials, device: str) -> Tensor:
    patchy = torch.exp(0.4 * pictures.noise(n, 30, device, octaves=5, rough=0.7))
    made = light * tint(n, (0.16, 0.075, 0.035), 0.35, device) * patchy
    real = light * real_rust(materials, n, device) * _log_uniform(n, 0.03, 0.14, device)
    use = chance(n, 0.6, device)
    return real * use + made * (1 - use)


@dataclass(frozen=True, slots=True)
class _Lit:
    """How light falls on a batch of surfaces: room, direction to the eye, even light, bends."""

    room: list[Tensor]
    view: Tensor
    light: Tensor
    normal: Tensor


def _metal(lit: _Lit, bright: Tensor, rough: Tensor, bump: Tensor) -> Tensor:
    seen, cosine = _mirrored(lit.room, lit.normal + bump, lit.view, rough)
    return seen * (bright + (1 - bright) * (1 - cosine) ** 5)


def _gloss(lit: _Lit, n: int, device: str, film: Tensor) -> Tensor:
    """Black with a clear skin: what little it sends back itself, and a weak sharp mirror."""
    rough = _log_uniform(n, 0.04, 0.4, device)
    rough = rough * torch.exp(0.2 * pictures.noise(n, 8, device, octaves=3))
    cells = math.exp(random.uniform(math.log(30), math.log(200)))
    normal = lit.normal + _bump(n, cells, 0.06, device) + film
    seen, cosine = _mirrored(lit.room, normal, lit.view, rough)
    weak = uniform(n, 0.03, 0.07, device)
    own = _log_uniform(n, 0.004, 0.035, device) * tint(n, (1, 0.97, 0.94), 0.08, device)
    grime = (pictures.noise(n, 12, device, octaves=5) - uniform(n, 0, 2.5, device)).clamp(0, 1)
    grime = grime * chance(n, 0.4, device)
    dirt = lit.light * tint(n, (0.07, 0.06, 0.05), 0.4, device)
    glossy = lit.light * own + seen * (weak + (1 - weak) * (1 - cosine) ** 5)
    return glossy * (1 - 0.8 * grime) + dirt * grime * 0.8


def _iron(lit: _Lit, n: int, device: str, *, least: float = 0.12) -> Tensor:
    """Bare iron or steel: bright, gray or dark, ground or cast."""
    rough = _log_uniform(n, least, 0.8, device)
    patchy = torch.exp(uniform(n, 0, 0.4, device) * pictures.noise(n, 14, device, octaves=4))
    bright = uniform(n, 0.25, 0.6, device) * tint(n, (1, 0.98, 0.95), 0.03, device)
    bump = _bump(n, math.exp(random.uniform(math.log(40), math.log(250))), 0.25, device)
    return _metal(lit, (bright * patchy).clamp(0.02, 0.9), rough, bump)


def _nickel(lit: _Lit, n: int, device: str, film: Tensor) -> Tensor:
    bright = uniform(n, 0.75, 1.1, device) * tint(n, (0.66, 0.61, 0.54), 0.04, device)
    haze = torch.exp(uniform(n, 0, 0.2, device) * pictures.noise(n, 10, device, octaves=3))
    rough = _log_uniform(n, 0.05, 0.35, device) * haze
    bump = _bump(n, math.exp(random.uniform(math.log(40), math.log(200))), 0.05, device)
    return _metal(lit, (bright * haze).clamp(0.05, 0.95), rough, bump + film)


def _bared(lit: _Lit, n: int, materials: Materials, nickel: Tensor) -> tuple[Tensor, Tensor]:
    """What shows where finish is gone, and how much of it is rust."""
    device = str(nickel.device)
    share = torch.rand(n, 1, 1, 1, device=device)
    patches = pictures.noise(n, 16, device, octaves=5, rough=0.7) > uniform(n, -1, 1, device)
    rust = (patches * (share > 0.4) + (share > 0.85)).float().clamp(0, 1)
    rust = rust * (1 - nickel * chance(n, 0.7, device))
    metal = _iron(lit, n, device)
    brass = nickel * chance(n, 0.35, device)
    metal = metal * (1 - brass) + brass * metal * tint(n, (1.5, 1.15, 0.6), 0.12, device)
    return metal * (1 - rust) + _rust(n, lit.light, materials, device) * rust, rust


def _lit(n: int, shape: Shape, materials: Materials, device: str) -> _Lit:
    ys, xs = _axes(device)
    room = _room(n, materials, device)
    eye = torch.randn(n, 2, 1, 1, device=device) * 0.25
    wide = uniform(n, 0.1, 0.5, device)
    view = eye + wide * torch.cat([xs + 0 * ys, ys + 0 * xs], 1)
    even, _ = _mirrored(room, 0.5 * shape.normal, 0 * view, torch.full_like(wide, 1.0))
    angle = uniform(n, 0, 2 * math.pi, device)
    beyond = xs * angle.cos() + ys * angle.sin() - uniform(n, -0.9, 0.9, device)
    beyond = beyond + uniform(n, 0, 0.1, device) * pictures.noise(n, 5, device)
    shadow = torch.sigmoid(beyond / _log_uniform(n, 0.003, 0.1, device)) * chance(n, 0.5, device)
    hollow = torch.exp(-shape.depth.clamp(min=0) / 0.06) * uniform(n, 0, 0.6, device)
    dim = (1 - shadow * uniform(n, 0.2, 0.85, device)) * (1 - hollow)
    return _Lit([level * 1.0 for level in room], view, even * dim, shape.normal)


def _patina(lit: _Lit, n: int, device: str) -> Tensor:
    """Sound old iron: dark, brown or gray, with a dull sheen."""
    patchy = torch.exp(
        uniform(n, 0.03, 0.3, device) * pictures.noise(n, 20, device, octaves=5, rough=0.7)
    )
    color = patina_color(n, device)
    own = lit.light * _log_uniform(n, 0.03, 0.14, device) * color * patchy
    bump = _bump(n, math.exp(random.uniform(math.log(40), math.log(250))), 0.2, device)
    rough = _log_uniform(n, 0.2, 0.8, device)
    return own + _metal(lit, uniform(n, 0.02, 0.13, device) * color, rough, bump)


def _painted(lit: _Lit, n: int, device: str) -> Tensor:
    """Gray, white, black, blue or green paint: no rust, though no bare iron either."""
    color = _log_uniform(n, 0.03, 0.7, device) * tint(n, (1, 1, 1), 0.3, device)
    cold = torch.minimum(color[:, :1], color[:, 1:].amax(1, keepdim=True))
    color = torch.cat([cold, color[:, 1:]], 1)
    patchy = torch.exp(0.1 * pictures.noise(n, 12, device, octaves=4))
    seen, cosine = _mirrored(lit.room, lit.normal, lit.view, _log_uniform(n, 0.1, 0.6, device))
    return lit.light * color * patchy + seen * (0.04 + 0.96 * (1 - cosine) ** 5)


def _iron_states(
    lit: _Lit, shape: Shape, materials: Materials, device: str
) -> tuple[Tensor, Tensor, Tensor, Tensor]:
    """Bare iron in three states: the picture; where rusted; where patina or rust; is it known."""
    n = len(shape.inside)
    rust, brown = _losses(shape, device), _losses(shape, device)
    painted = chance(n, 0.15, device)
    brown = torch.maximum(rust, brown * chance(n, 0.75, device) * (1 - painted))
    bright = torch.where(painted > 0, _painted(lit, n, device), _iron(lit, n, device))
    soft_rust, soft_brown = F.avg_pool2d(rust, 3, 1, 1), F.avg_pool2d(brown, 3, 1, 1)
    surface = bright * (1 - soft_brown) + _patina(lit, n, device) * soft_brown
    surface = surface * (1 - soft_rust) + _rust(n, lit.light, materials, device) * soft_rust
    return surface, rust, brown, torch.maximum(rust, 1 - painted)


def _covered(surface: Tensor, lit: _Lit, bare: Tensor, device: str) -> Tensor:
    """Dust, oil and fingerprints over what is there; they change no truth."""
    n = len(surface)
    dust = (0.6 + 0.4 * pictures.noise(n, 8, device, octaves=4)).clamp(0, 1)
    dust = dust * uniform(n, 0.05, 0.7, device) * chance(n, 0.2, device) * (1 - 0.6 * bare)
    layer = lit.light * tint(n, (0.19, 0.165, 0.13), 0.2, device)
    surface = surface * (1 - dust) + layer * dust
    oil = (pictures.noise(n, 10, device, octaves=3) > uniform(n, 0.3, 2, device)).float()
    oil = F.avg_pool2d(oil, 5, 1, 2) * uniform(n, 0.1, 0.6, device) * chance(n, 0.25, device)
    return surface * (1 - oil * tint(n, (0.8, 1.0, 1.25), 0.1, device).clamp(max=1.6))


def made_up(finish: Tensor, materials: Materials, device: str) -> tuple[pictures.Batch, Tensor]:
    """Make a surface of each finish asked for (n, 3); the batch and its light, linear.

    Kept black gloss mirrors the room weakly and sharply, bare metal strongly and spread; both
    mirror the same room, as on the bench. The weak mirror follows Schlick's approximation (1994).
    """
    n = len(finish)
    nickel, bare = finish[:, 1, None, None, None], finish[:, 2, None, None, None]
    shape = _shapes(n, device)
    lit = _lit(n, shape, materials, device)
    lost = _losses(shape, device)
    relief = _steps(embossed(n, device)) * _log_uniform(n, 0.1, 1.5, device)
    film = _steps(lost) * _log_uniform(n, 0.05, 1.5, device) + relief
    kept = torch.where(nickel > 0, _nickel(lit, n, device, film), _gloss(lit, n, device, film))
    shown, rust = _bared(lit, n, materials, nickel)
    soft = F.avg_pool2d(lost, 3, 1, 1)
    surface = kept * (1 - soft) + shown * soft
    iron, rusted, browned, told = _iron_states(lit, shape, materials, device)
    surface = _covered(torch.where(bare > 0, iron, surface), lit, bare, device)
    lost = torch.where(bare > 0, rusted, lost)
    rust = torch.where(bare > 0, rusted, rust * lost)
    linear = _exposed(_on_ground(surface, shape, lit, device), device)
    inside = shape.inside
    batch = pictures.Batch(
        linear,
        inside,
        finish,
        torch.cat([lost, browned * bare], 1),
        torch.cat([inside, inside * bare * told], 1),
        rust,
        inside.clone(),
    )
    return batch, linear


def _on_ground(surface: Tensor, shape: Shape, lit: _Lit, device: str) -> Tensor:
    n = len(surface)
    ground = _log_uniform(n, 0.03, 0.8, device) * tint(n, (1, 0.9, 0.8), 0.2, device)
    around = lit.light * ground
    around = around * torch.exp(0.2 * pictures.noise(n, 40, device, octaves=3))
    edge = F.avg_pool2d(shape.inside, 3, 1, 1)
    return surface * edge + around * (1 - edge)


def _exposed(linear: Tensor, device: str) -> Tensor:
    level = linear.mean((1, 2, 3), keepdim=True)
    return (linear / level * _log_uniform(len(linear), 0.06, 0.4, device)).clamp(0, 1)

"""The judge's two networks: a first look at an outlined surface, a quick second with strokes."""

from __future__ import annotations

import torch
import torch.nn.functional as F  # noqa: N812 - the name every torch program uses
from torch import Tensor, nn

WIDTHS = (16, 32, 64, 96, 128, 160)
FEATURES = 24
EMBEDDING = 12
FRAME = 352.0  # cells of the half-size grid along a usual working picture
REACHES = (0.05, 0.2)  # of that length


def _conv(n_in: int, n_out: int, stride: int = 1) -> nn.Sequential:
    return nn.Sequential(
        nn.Conv2d(n_in, n_out, 3, stride=stride, padding=1, bias=False),
        nn.BatchNorm2d(n_out),
        nn.SiLU(inplace=True),
    )


class Residual(nn.Module):
    """Two convolutions around a short cut."""

    def __init__(self, width: int) -> None:
        super().__init__()
        self.first = _conv(width, width)
        self.second = nn.Sequential(
            nn.Conv2d(width, width, 3, padding=1, bias=False), nn.BatchNorm2d(width)
        )

    def forward(self, x: Tensor) -> Tensor:
        return F.silu(x + self.second(self.first(x)))


class Glance(nn.Module):
    """Self-attention over the coarsest grid: one corner may learn from what another looks like."""

    def __init__(self, width: int, heads: int = 4) -> None:
        super().__init__()
        self.heads = heads
        self.norm = nn.LayerNorm(width)
        self.qkv = nn.Linear(width, 3 * width)
        self.out = nn.Linear(width, width)

    def forward(self, x: Tensor) -> Tensor:
        b, c, h, w = x.shape
        t = x.flatten(2).transpose(1, 2)
        q, k, v = self.qkv(self.norm(t)).reshape(b, h * w, 3, self.heads, -1).unbind(2)
        q, k, v = q.transpose(1, 2), k.transpose(1, 2), v.transpose(1, 2)
        weight = torch.softmax(q @ k.transpose(-1, -2) * (c // self.heads) ** -0.5, dim=-1)
        t = t + self.out((weight @ v).transpose(1, 2).reshape(b, h * w, c))
        return t.transpose(1, 2).reshape(b, c, h, w)


def described(image: Tensor, mask: Tensor, finish: Tensor) -> Tensor:
    """What the first network sees: color, color normalized inside the outline, outline, finish."""
    linear = torch.where(image <= 0.04045, image / 12.92, ((image + 0.055) / 1.055) ** 2.4)
    log = torch.log(linear + 0.003)
    area = mask.sum((2, 3), keepdim=True) + 1.0
    mean = (log * mask).sum((2, 3), keepdim=True) / area
    spread = (((log - mean) ** 2 * mask).sum((1, 2, 3), keepdim=True) / area / 3 + 0.01).sqrt()
    planes = finish[:, :, None, None] * torch.ones_like(mask)
    return torch.cat([image - 0.4, (log - mean) / spread, mask, planes], 1)


class First(nn.Module):
    """From picture, outline and finish to a logit of "lost" a pixel and what strokes work on."""

    def __init__(self) -> None:
        super().__init__()
        w = WIDTHS
        self.stem = _conv(10, w[0])
        self.down = nn.ModuleList(
            nn.Sequential(_conv(w[i], w[i + 1], 2), Residual(w[i + 1])) for i in range(5)
        )
        self.glance = Glance(w[5])
        self.join = nn.ModuleList(_conv(w[i] + w[i + 1], w[i]) for i in range(5))
        self.blend = nn.ModuleList(
            [_conv(w[0], w[0]), *(Residual(w[i]) for i in range(1, 5))],
        )
        self.logit = nn.Conv2d(w[0], 1, 1)
        self.rust = nn.Conv2d(w[0], 1, 1)
        self.features = nn.Conv2d(w[1] + w[0], FEATURES, 1)
        self.embedding = nn.Conv2d(w[1] + w[0], EMBEDDING, 1)

    def forward(self, image: Tensor, mask: Tensor, finish: Tensor) -> tuple[Tensor, ...]:
        x = self.stem(described(image, mask, finish))
        kept = [x]
        for step in self.down:
            kept.append(step(kept[-1]))
        x = self.glance(kept[5])
        half = x
        for level in range(4, -1, -1):
            x = F.interpolate(x, scale_factor=2.0, mode="bilinear", align_corners=False)
            x = self.blend[level](self.join[level](torch.cat([x, kept[level]], 1)))
            if level == 1:
                half = x
        both = torch.cat([half, F.avg_pool2d(x, 2)], 1)
        return self.logit(x), self.features(both), self.embedding(both), self.rust(x)


def stroke_maps(embedding: Tensor, points: Tensor, kind: Tensor) -> Tensor:
    """How near each pixel of the half-size grid is to the dots, in looks and in place.

    `points` (B, N, 2) are row and column on the grid, `kind` (B, N) is 1 kept, -1 lost, 0 unused.
    """
    b, c, h, w = embedding.shape
    spot = (points[:, :, 0] * w + points[:, :, 1])[:, None].expand(b, c, -1)
    at = torch.gather(embedding.flatten(2), 2, spot)  # B C N
    flat = embedding.flatten(2)
    apart = (
        (flat**2).sum(1)[:, None] + (at**2).sum(1)[:, :, None] - 2 * at.transpose(1, 2) @ flat
    ).reshape(b, -1, h, w)
    alike = torch.exp(-apart.clamp(min=0))
    rows = torch.arange(h, device=points.device, dtype=embedding.dtype)[None, None, :, None]
    cols = torch.arange(w, device=points.device, dtype=embedding.dtype)[None, None, None, :]
    py, px = (points[:, :, i, None, None].to(embedding.dtype) for i in (0, 1))
    away = ((rows - py) ** 2 + (cols - px) ** 2) / FRAME**2
    maps = []
    for sign in (1.0, -1.0):
        used = (kind * sign).clamp(min=0)[:, :, None, None]
        maps.append((alike * used).amax(1))
        maps.append((alike * used).sum(1) * 0.25)
        maps.extend((alike * used * torch.exp(-away / (2 * reach**2))).amax(1) for reach in REACHES)
        maps.append((used * torch.exp(-away / (2 * 0.008**2))).amax(1))
    return torch.stack(maps, 1)


class Second(nn.Module):
    """Judges again from the dots: adds to the first look's logit, on the half-size grid."""

    def __init__(self) -> None:
        super().__init__()
        self.enter = _conv(FEATURES + 1 + 10, 24)
        self.down = nn.Sequential(_conv(24, 40, 2), Residual(40))
        self.deep = nn.Sequential(_conv(40, 56, 2), Residual(56))
        self.up = _conv(56 + 40, 40)
        self.leave = _conv(40 + 24, 24)
        self.delta = nn.Conv2d(24, 1, 1)
        self.keep = nn.Conv2d(24, 1, 1)

    def forward(
        self, logit: Tensor, features: Tensor, embedding: Tensor, points: Tensor, kind: Tensor
    ) -> Tensor:
        maps = stroke_maps(embedding, points, kind)
        coarse = F.avg_pool2d(logit, 2)
        x = self.enter(torch.cat([features, coarse * 0.3, maps], 1))
        y = self.down(x)
        z = F.interpolate(self.deep(y), scale_factor=2.0, mode="bilinear", align_corners=False)
        y = F.interpolate(
            self.up(torch.cat([z, y], 1)), scale_factor=2.0, mode="bilinear", align_corners=False
        )
        x = self.leave(torch.cat([y, x], 1))
        change, keep = (
            F.interpolate(v, scale_factor=2.0, mode="bilinear", align_corners=False)
            for v in (self.delta(x), torch.sigmoid(self.keep(x) + 2.0))
        )
        return logit * keep + change


class Judge(nn.Module):
    """Both networks together, as they are trained."""

    def __init__(self) -> None:
        super().__init__()
        self.first = First()
        self.second = Second()

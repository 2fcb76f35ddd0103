"""The judge's two networks: a first look at an outlined surface, and a quick answer to strokes.

The second network is monotone: a dot of one kind never moves any pixel toward another kind,
whatever the network has learned. Its weights on the way from dots to answer are not negative, and
what it knows of the picture enters as offsets and as gains that are not negative.
"""

from __future__ import annotations

import torch
import torch.nn.functional as F  # noqa: N812 - the name every torch program uses
from torch import Tensor, nn

WIDTHS = (16, 32, 64, 96, 128, 160)
EMBEDDING = 16
SPREAD_WIDTHS = (12, 24, 40)  # channels of the second network at 1/2, 1/4 and 1/8 of the size
MAPS = 6  # maps of nearness for each kind of dot
SUMMARY = 32
QUESTIONS = 4  # black finish lost, nickel lost, iron rusted, iron browned (patina or rust)
FRAME = 352.0  # cells of the half-size grid along a usual working picture
REACHES = (0.05, 0.2)  # of that length
SPOT = 0.008
LARGEST_SHIFT = 3.0  # exp of it: the largest shift of the logits within the interval


def _conv(n_in: int, n_out: int, stride: int = 1) -> nn.Sequential:
    return nn.Sequential(
        nn.Conv2d(n_in, n_out, 3, stride=stride, padding=1, bias=False),
        nn.BatchNorm2d(n_out),
        nn.SiLU(inplace=True),
    )


def _twice(x: Tensor) -> Tensor:
    return F.interpolate(x, scale_factor=2.0, mode="bilinear", align_corners=False)


class Residual(nn.Module):
    """Two convolutions around a shortcut."""

    def __init__(self, width: int) -> None:
        super().__init__()
        self.first = _conv(width, width)
        self.second = nn.Sequential(
            nn.Conv2d(width, width, 3, padding=1, bias=False), nn.BatchNorm2d(width)
        )

    def forward(self, x: Tensor) -> Tensor:
        return F.silu(x + self.second(self.first(x)))


class Attention(nn.Module):
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
    """Return what the first network sees, 13 channels.

    Color; log color normalized inside the outline; the same against what surrounds the outline, a
    hint of the light's color; the outline; the finish.
    """
    linear = torch.where(image <= 0.04045, image / 12.92, ((image + 0.055) / 1.055) ** 2.4)
    log = torch.log(linear + 0.003)
    area = mask.sum((2, 3), keepdim=True) + 1.0
    mean = (log * mask).sum((2, 3), keepdim=True) / area
    spread = (((log - mean) ** 2 * mask).sum((1, 2, 3), keepdim=True) / area / 3 + 0.01).sqrt()
    outside = 1 - mask
    around = (log * outside).sum((2, 3), keepdim=True) / (outside.sum((2, 3), keepdim=True) + 1.0)
    planes = finish[:, :, None, None] * torch.ones_like(mask)
    return torch.cat([image - 0.4, (log - mean) / spread, (log - around) * 0.5, mask, planes], 1)


def share_stats(logit: Tensor, mask: Tensor) -> Tensor:
    """Return four numbers a channel on how sure the logits are inside the mask: B x (4 C)."""
    area = mask.sum((2, 3)) + 1.0
    chance = torch.sigmoid(logit)
    planes = (chance, 4 * chance * (1 - chance), logit.abs().clamp(max=12) / 6, chance * chance)
    return torch.cat([(p * mask).sum((2, 3)) / area for p in planes], 1)


class First(nn.Module):
    """From picture, outline and finish to logits, their spread, and what strokes work on.

    Logits are 2 channels: lost (on iron: rusted) and browned (iron only: patina or rust).
    `spread` (B, 2, 2) is by how much the logits may be shifted down and up, all together, until
    the shares reach the ends of a 90% interval.
    """

    def __init__(self) -> None:
        super().__init__()
        w, s = WIDTHS, SPREAD_WIDTHS
        self.stem = _conv(13, w[0])
        self.down = nn.ModuleList(
            nn.Sequential(_conv(w[i], w[i + 1], 2), Residual(w[i + 1])) for i in range(5)
        )
        self.attention = Attention(w[5])
        self.join = nn.ModuleList(_conv(w[i] + w[i + 1], w[i]) for i in range(5))
        self.blend = nn.ModuleList(
            [_conv(w[0], w[0]), *(Residual(w[i]) for i in range(1, 5))],
        )
        self.logit = nn.Conv2d(w[0], 2, 1)
        self.rust = nn.Conv2d(w[0], 1, 1)
        both = w[1] + w[0] + 2
        self.embedding = nn.Conv2d(both, EMBEDDING, 1)
        self.at_half = nn.Conv2d(both, 2 * s[0] + 2 * MAPS, 1)
        self.fourth = _conv(both, s[1], 2)
        self.fourth_out = nn.Conv2d(s[1], s[1] + s[0], 1)
        self.eighth = _conv(s[1], s[2], 2)
        self.eighth_out = nn.Conv2d(s[2], 2 * s[2], 1)
        self.pool = nn.Sequential(nn.Linear(2 * w[5] + 8 + 3, 64), nn.SiLU())
        self.summary = nn.Linear(64, SUMMARY)
        self.spread = nn.Sequential(nn.SiLU(), nn.Linear(SUMMARY, 4))

    def forward(self, image: Tensor, mask: Tensor, finish: Tensor) -> tuple[Tensor, ...]:
        x = self.stem(described(image, mask, finish))
        kept = [x]
        for step in self.down:
            kept.append(step(kept[-1]))
        deep = self.attention(kept[5])
        x, half = deep, deep
        for level in range(4, -1, -1):
            x = self.blend[level](self.join[level](torch.cat([_twice(x), kept[level]], 1)))
            if level == 1:
                half = x
        logit = self.logit(x)
        coarse = F.avg_pool2d(logit, 2).detach()
        both = torch.cat([half, F.avg_pool2d(x, 2), coarse * 0.3], 1)
        fourth = self.fourth(both)
        summary = self._summary(deep, mask, finish, coarse)
        spread = self.spread(summary).reshape(-1, 2, 2).clamp(max=LARGEST_SHIFT).exp()
        return (
            logit,
            self.embedding(both),
            self.at_half(both),
            self.fourth_out(fourth),
            self.eighth_out(self.eighth(fourth)),
            summary,
            spread,
            self.rust(x),
        )

    def _summary(self, deep: Tensor, mask: Tensor, finish: Tensor, logit: Tensor) -> Tensor:
        inside = F.avg_pool2d(mask, 32)
        pooled = (deep * inside).sum((2, 3)) / (inside.sum((2, 3)) + 1e-3)
        stats = share_stats(logit.float(), F.avg_pool2d(mask, 2))
        told = torch.cat([pooled, deep.mean((2, 3)), stats.to(pooled.dtype), finish], 1)
        return self.summary(self.pool(told)).float()


def nearness(embedding: Tensor, points: Tensor, kind: Tensor) -> Tensor:
    """Return how near each cell of the half-size grid is to the dots: (B, 2 MAPS, H, W), 0 to 1.

    `points` (B, N, 2) are row and column on the grid, `kind` (B, N) is 1 kept, -1 lost, 0 unused.
    The maps of lost come first. Each grows with every further dot of its kind.
    """
    b, c, h, w = embedding.shape
    spot = (points[:, :, 0] * w + points[:, :, 1])[:, None].expand(b, c, -1)
    flat = embedding.flatten(2)
    at = torch.gather(flat, 2, spot)  # B C N
    apart = (
        (flat**2).sum(1)[:, None] + (at**2).sum(1)[:, :, None] - 2 * at.transpose(1, 2) @ flat
    ).reshape(b, -1, h, w)
    apart = apart.clamp(min=0)
    alike, likely = torch.exp(-apart), torch.exp(-apart * 0.25)
    rows = torch.arange(h, device=points.device, dtype=embedding.dtype)[None, None, :, None]
    cols = torch.arange(w, device=points.device, dtype=embedding.dtype)[None, None, None, :]
    py, px = (points[:, :, i, None, None].to(embedding.dtype) for i in (0, 1))
    down, across = ((rows - py) / FRAME) ** 2, ((cols - px) / FRAME) ** 2
    near = [
        torch.exp(-down / (2 * r**2)) * torch.exp(-across / (2 * r**2)) for r in (*REACHES, SPOT)
    ]
    maps = []
    for sign in (-1.0, 1.0):
        used = (kind * sign).clamp(min=0)[:, :, None, None]
        same = alike * used
        maps.append(same.amax(1))
        maps.append((likely * used).amax(1))
        maps.append(torch.tanh(same.sum(1) * 0.25))
        maps.extend((same * close).amax(1) for close in near[:2])
        maps.append((near[2] * used).amax(1))
    return torch.stack(maps, 1)


class Rising(nn.Module):
    """A convolution whose weights are not negative: more in is never less out."""

    def __init__(self, n_in: int, n_out: int, stride: int = 1) -> None:
        super().__init__()
        self.weight = nn.Parameter(torch.rand(n_out, n_in, 3, 3) * (3.0 / (9 * n_in)))
        self.stride = stride

    def forward(self, x: Tensor, offset: Tensor) -> Tensor:
        """Return what x adds to an offset behind ELU; nought where x is nought."""
        moved = F.conv2d(x, self.weight.abs(), stride=self.stride, padding=1)
        return F.elu(moved + offset) - F.elu(offset)


class Second(nn.Module):
    """Adds to the first look's logit by the dots, on the half-size grid; see the module's note."""

    def __init__(self) -> None:
        super().__init__()
        s = SPREAD_WIDTHS
        self.scale = nn.Parameter(torch.zeros(QUESTIONS, EMBEDDING))
        self.gain = nn.Parameter(torch.zeros(QUESTIONS, 2 * MAPS + 1))
        self.enter = Rising(2 * MAPS, s[0])
        self.down = Rising(s[0], s[1], 2)
        self.deep = Rising(s[1], s[2], 2)
        self.deeper = Rising(s[2], s[2])
        self.up = Rising(s[2] + s[1], s[0])
        self.leave = Rising(s[0] + s[0], s[0])
        self.out = nn.Parameter(torch.rand(1, s[0], 1, 1) * 2.0 / s[0])
        self.spread = nn.Sequential(
            nn.Linear(SUMMARY + QUESTIONS + 2 + 5, 48), nn.SiLU(), nn.Linear(48, 2)
        )

    def forward(  # noqa: PLR0913 -- a network's inputs
        self,
        logit: Tensor,
        mask: Tensor,
        embedding: Tensor,
        half: Tensor,
        fourth: Tensor,
        eighth: Tensor,
        summary: Tensor,
        question: Tensor,
        points: Tensor,
        kind: Tensor,
    ) -> tuple[Tensor, Tensor]:
        """Return the logits (B, 1, H, W) and the spread (B, 2). `logit` is B x 1 x H x W."""
        scaled = embedding * torch.exp(question @ self.scale)[:, :, None, None]
        maps = nearness(scaled, points, kind)
        signs = torch.ones(2 * MAPS, device=maps.device)
        signs[MAPS:] = -1
        maps = maps * signs[None, :, None, None]
        gain = torch.exp(question @ self.gain)[:, :, None, None]
        s = SPREAD_WIDTHS
        first, last, direct = half[:, : s[0]], half[:, s[0] : 2 * s[0]], half[:, 2 * s[0] :]
        x = self.enter(maps, first)
        y = self.down(x, fourth[:, : s[1]])
        z = self.deeper(self.deep(y, eighth[:, : s[2]]), eighth[:, s[2] :])
        y = self.up(torch.cat([_twice(z), y], 1), fourth[:, s[1] :])
        x = self.leave(torch.cat([_twice(y), x], 1), last)
        change = (x * self.out.abs()).sum(1, keepdim=True) * gain[:, -1:]
        change = change + (maps * F.softplus(direct) * gain[:, :-1]).sum(1, keepdim=True)
        coarse = F.avg_pool2d(logit, 2) + change
        spread = self._spread(coarse.detach(), mask, change.detach(), summary, question, kind)
        return logit + _twice(change), spread

    def _spread(  # noqa: PLR0913 -- a network's inputs
        self,
        judged: Tensor,
        mask: Tensor,
        change: Tensor,
        summary: Tensor,
        question: Tensor,
        kind: Tensor,
    ) -> Tensor:
        inside = F.avg_pool2d(mask, 2)
        stats = share_stats(judged, inside)
        moved = (change.abs() * inside).sum((2, 3)) / (inside.sum((2, 3)) + 1.0)
        counts = [torch.log1p((kind * sign).clamp(min=0).sum(1, keepdim=True)) for sign in (1, -1)]
        shared = summary.detach().expand(question.shape[0], -1)
        told = torch.cat([shared, question, *counts, stats, moved * 0.2], 1)
        shift: Tensor = self.spread(told).clamp(max=LARGEST_SHIFT).exp()
        return shift


class Judge(nn.Module):
    """Both networks together, as they are trained."""

    def __init__(self) -> None:
        super().__init__()
        self.first = First()
        self.second = Second()

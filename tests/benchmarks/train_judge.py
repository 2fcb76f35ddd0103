"""Train the judge of kept and lost finish; run on a machine with an accelerator and torch.

Two processes on two accelerators, one learning finishes (--kinds 0.64 0.36 0), one bare iron
(--kinds 0 0 1), each from the folder that judge_pack.py wrote.
"""

from __future__ import annotations

import argparse
import copy
import random
import time
from collections.abc import Callable
from dataclasses import fields, replace
from pathlib import Path

import torch
import torch.nn.functional as F  # noqa: N812 - the name every torch program uses
from judge_changes import drawn, partly_outlined, photographed
from judge_export import export, keep
from judge_materials import Materials, load_materials
from judge_net import QUESTIONS, Judge
from judge_pictures import Batch, Shots, Target, load_shots, targets_of
from judge_scenes import made_up
from torch import Tensor

MOST_DOTS = 6
TAKEN = 2  # pictures of each surface, with different cameras and light
AVERAGED = 10  # steps after which the running mean of the weights takes in the newest
NEWEST = 0.12  # weight of the newest in that mean: it spans about 80 steps
COUNTED = 24  # batches from which the norms' statistics are counted anew for the mean
TOGETHER = 16  # pictures changed together: those of one call share some random numbers
LOWEST, HIGHEST = 0.05, 0.95  # ends of the 90% interval
CERTAIN = 4.0  # logit of a whole outline told to be of one kind


def _sums(values: Tensor, known: Tensor) -> Tensor:
    return (values * known).sum((2, 3)) / (known.sum((2, 3)) + 1)


def share_error(logit: Tensor, lost: Tensor, known: Tensor) -> Tensor:
    """Return the predicted less the true share, B x C."""
    return _sums(torch.sigmoid(logit) - lost, known)


def loss_of(logit: Tensor, lost: Tensor, known: Tensor, weight: Tensor) -> Tensor:
    """Return cross entropy by pixel, each picture alike, and the error of the share itself."""
    each = F.binary_cross_entropy_with_logits(logit, lost, reduction="none")
    every = _sums(each, known) + share_error(logit, lost, known).abs()
    return (every * weight).sum() / len(logit)


def interval_loss(
    logit: Tensor, spread: Tensor, lost: Tensor, known: Tensor, weight: Tensor
) -> tuple[Tensor, Tensor]:
    """Return the pinball loss (Koenker and Bassett 1978) of the interval's ends; is truth inside.

    The ends are the shares with all logits shifted by `spread` (B, C, 2), down and up.
    """
    still = logit.detach()
    true = _sums(lost, known)
    low = _sums(torch.sigmoid(still - spread[:, :, 0, None, None]), known)
    high = _sums(torch.sigmoid(still + spread[:, :, 1, None, None]), known)
    loss = torch.zeros_like(true)
    for end, at in ((low, LOWEST), (high, HIGHEST)):
        loss = loss + torch.maximum(at * (true - end), (at - 1) * (true - end))
    held = ((low <= true) & (true <= high)).float()
    return (loss * weight).sum() / len(logit), (held * weight).sum() / weight.sum()


@torch.no_grad()
def next_dot(judged: Tensor, lost: Tensor, known: Tensor, kind: float) -> tuple[Tensor, Tensor]:
    """Middle of a large patch wrongly judged, kind 1 kept, -1 lost, on the half-size grid."""
    here = (1 - lost) if kind > 0 else lost
    wrong = (judged > 0).float() if kind > 0 else (judged <= 0).float()
    confirm = float(random.random() < 0.12)  # people also paint what was right already
    wrong = F.avg_pool2d(here * torch.clamp(wrong + confirm, max=1) * known, 2)
    cell = random.choice((3, 7, 15, 31))
    score = F.avg_pool2d(wrong, (cell, 1), 1, (cell // 2, 0))
    score = F.avg_pool2d(score, (1, cell), 1, (0, cell // 2)) * wrong
    score = score + 1e-4 * torch.rand_like(score) * wrong
    flat = score.flatten(1)
    best = flat.argmax(1)
    width = wrong.shape[3]
    found = flat.gather(1, best[:, None])[:, 0] > 0
    return torch.stack([best // width, best % width], 1), found


class Asked:
    """One question about each picture of a batch, and what the first look left for its dots."""

    def __init__(self, outs: tuple[Tensor, ...], batch: Batch) -> None:
        n, device = len(batch.image), batch.image.device
        browned = (torch.rand(n, device=device) < 0.5) & (batch.finish[:, 2] > 0)
        browned &= batch.known[:, 1].sum((1, 2)) > 0.5 * batch.known[:, 0].sum((1, 2))
        rows, channel = torch.arange(n, device=device), browned.long()
        number = batch.finish.argmax(1) + channel
        self.question = F.one_hot(number, QUESTIONS).float()
        self.lost = batch.lost[rows, channel][:, None]
        self.known = batch.known[rows, channel][:, None]
        self.first = outs[0][rows, channel][:, None]
        self.left = outs[1:6]
        self.mask = batch.mask
        mostly = (_sums(self.lost, self.known)[:, :, None, None] > 0.5).float() * 2 - 1
        whole = (torch.rand(n, 1, 1, 1, device=device) < 0.12).float()
        self.logit = self.first * (1 - whole) + CERTAIN * mostly * whole

    def answer(self, judge: Judge, points: Tensor, kind: Tensor) -> tuple[Tensor, Tensor]:
        """Judge again from the dots."""
        judged: tuple[Tensor, Tensor] = judge.second(
            self.logit, self.mask, *self.left, self.question, points, kind
        )
        return judged


def dots_loss(judge: Judge, asked: Asked) -> tuple[Tensor, Tensor, Tensor]:
    """Set dots one after another where the judgment is wrong; losses, error and truth held."""
    n, device = len(asked.first), asked.first.device
    points = torch.zeros(n, MOST_DOTS, 2, dtype=torch.long, device=device)
    kind = torch.zeros(n, MOST_DOTS, device=device)
    logit, losses, held = asked.logit.detach(), [], []
    side = random.choice((1.0, -1.0))
    count = random.choice((1, 2, 3, 4, 4, 6))
    scored = {random.randrange(count), count - 1}
    every = torch.ones(n, 1, device=device)
    for number in range(count):
        spot, found = next_dot(logit, asked.lost, asked.known, side)
        other, also = next_dot(logit, asked.lost, asked.known, -side)
        use_other = ~found & also
        points[:, number] = torch.where(use_other[:, None], other, spot)
        kind[:, number] = torch.where(use_other, -side, side) * (found | also)
        side = -side
        used = points[:, : number + 1], kind[:, : number + 1]
        with torch.set_grad_enabled(number in scored):
            logit, spread = asked.answer(judge, *used)
        if number in scored:
            loss = loss_of(logit, asked.lost, asked.known, every)
            ends, inside = interval_loss(logit, spread[:, None], asked.lost, asked.known, every)
            losses.append(loss + ends)
            held.append(inside)
            logit = logit.detach()
    error = share_error(logit, asked.lost, asked.known).abs().mean()
    return torch.stack(losses).mean(), error, torch.stack(held).mean()


def step(judge: Judge, batch: Batch) -> tuple[Tensor, list[Tensor]]:
    """Return one step's loss and what to print of it."""
    with torch.autocast(batch.image.device.type, torch.bfloat16):
        outs = judge.first(batch.image, batch.mask, batch.finish)
    outs = tuple(o.float() for o in outs)
    weight = (batch.known.sum((2, 3)) > 0.5 * batch.known[:, :1].sum((2, 3))).float()
    weight[:, 1] *= batch.finish[:, 2]
    first = loss_of(outs[0], batch.lost, batch.known, weight)
    ends, held = interval_loss(outs[0], outs[6], batch.lost, batch.known, weight)
    rust = F.binary_cross_entropy_with_logits(outs[7], batch.rust, reduction="none")
    rust = (rust * batch.rust_known).sum() / (batch.rust_known.sum() + 1)
    dots, after, after_held = dots_loss(judge, Asked(outs, batch))
    with torch.no_grad():
        errors = (share_error(outs[0], batch.lost, batch.known).abs() * weight).sum(0)
        errors = errors / (weight.sum(0) + 1e-6)
    shown = [first, dots, errors[0], errors[1], after, held, after_held]
    return first + ends + dots + 0.2 * rust, [v.detach() for v in shown]


def options() -> argparse.Namespace:
    """Read the command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--data", type=Path, required=True, help="what judge_pack.py wrote")
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--minutes", type=float, default=8.0)
    parser.add_argument("--steps", type=int, default=10**9, help="stop after so many at the latest")
    parser.add_argument("--batch", type=int, default=64, help="pictures a step")
    parser.add_argument("--made-up", type=int, default=24, help="of these, surfaces made up")
    parser.add_argument("--kinds", type=float, nargs=3, default=(0.4, 0.22, 0.38))
    parser.add_argument("--random", type=int, default=1, help="where chance starts")
    parser.add_argument("--start", type=Path, help="weights to go on from")
    parser.add_argument("--settle", action="store_true", help="set the norms by a first batch")
    parser.add_argument("--harm", type=float, default=0.8, help="how much pictures are changed")
    parser.add_argument("--rate", type=float, default=2.0e-3)
    parser.add_argument("--device", default="cuda")
    return parser.parse_args()


def main() -> None:
    """Train for the given time and write the networks."""
    args = options()
    args.out.mkdir(parents=True, exist_ok=True)
    random.seed(args.random)
    torch.manual_seed(args.random)
    torch.backends.cudnn.benchmark = True
    torch.backends.cuda.matmul.allow_tf32 = True
    torch.backends.cudnn.allow_tf32 = True
    judge = Judge().to(args.device)
    if args.start:
        kept = torch.load(args.start, map_location=args.device)
        judge.load_state_dict(
            {k: v.float() if v.is_floating_point() else v for k, v in kept.items()}
        )
    shots = load_shots(args.data, args.device)
    materials = load_materials(args.data, args.device)
    if args.settle:
        settle(judge, pictured(shots, targets_of(shots), materials, args, args.harm)[0])
    mean = train(judge, shots, materials, args)
    keep(mean, args.out)
    export(mean, args.out)


def norms_of(judge: Judge) -> list[torch.nn.BatchNorm2d]:
    """List the norms of the first network."""
    return [one for one in judge.first.modules() if isinstance(one, torch.nn.BatchNorm2d)]


@torch.no_grad()
def count_norms(judge: Judge, draw: Callable[[], list[Batch]]) -> None:
    """Count the norms' statistics anew: those of averaged weights are not their average."""
    judge.train()
    for norm in norms_of(judge):
        norm.reset_running_stats()
        norm.momentum = None
    for _ in range(COUNTED // TAKEN):
        for batch in draw():
            judge.first(batch.image, batch.mask, batch.finish)


@torch.no_grad()
def settle(judge: Judge, batch: Batch) -> None:
    """Let each norm take the statistics of a batch, and go on answering as it did before.

    For weights read from a file in which the norms were folded into the convolutions.
    """

    def take(norm: torch.nn.BatchNorm2d, inputs: tuple[Tensor, ...]) -> None:
        mean, spread = inputs[0].mean((0, 2, 3)), inputs[0].var((0, 2, 3), unbiased=False)
        old = norm.weight / (norm.running_var + norm.eps).sqrt()
        norm.bias.add_((mean - norm.running_mean) * old)
        norm.weight.copy_(old * (spread + norm.eps).sqrt())
        norm.running_mean.copy_(mean)
        norm.running_var.copy_(spread)

    hooks = [norm.register_forward_pre_hook(take) for norm in norms_of(judge)]
    judge.first(batch.image, batch.mask, batch.finish)
    for hook in hooks:
        hook.remove()


def train(judge: Judge, shots: Shots, materials: Materials, args: argparse.Namespace) -> Judge:
    """Learn until the time is up; return the running mean of the weights."""
    judge = judge.to(memory_format=torch.channels_last)
    mean = copy.deepcopy(judge)
    rule = torch.optim.AdamW(judge.parameters(), lr=args.rate, weight_decay=0.02, betas=(0.9, 0.98))
    targets = targets_of(shots)
    print(len(shots.patina), "shots", [len(t) for t in targets], "targets", flush=True)
    began, number, done = time.monotonic(), 0, 0.0
    shown: list[list[Tensor]] = []
    while done < 1 and number < args.steps:
        for group in rule.param_groups:
            group["lr"] = args.rate * min(1, (number + 1) / 200) * max(0.01, 1 - done)
        pictures = pictured(shots, targets, materials, args, args.harm * (1 - 0.5 * done))
        shown.extend(learn(judge, batch, rule) for batch in pictures)
        number += len(pictures)
        if number % AVERAGED == 0:
            blend_in(mean, judge, max(NEWEST, AVERAGED / number))
            done = (time.monotonic() - began) / (60 * args.minutes)
        if number % 100 == 0 or number >= args.steps:
            means = " ".join(f"{sum(v) / len(shown):.4f}" for v in zip(*shown, strict=True))
            print(number, f"{time.monotonic() - began:.0f} s", means, flush=True)
            shown = []
    count_norms(mean, lambda: pictured(shots, targets, materials, args, 0.5 * args.harm))
    return mean


def learn(judge: Judge, batch: Batch, rule: torch.optim.Optimizer) -> list[Tensor]:
    """Take one step; return what to print of it."""
    loss, values = step(judge, batch)
    rule.zero_grad(set_to_none=True)
    loss.backward()
    torch.nn.utils.clip_grad_norm_(judge.parameters(), 2.0)
    rule.step()
    return values


@torch.no_grad()
def pictured(
    shots: Shots,
    targets: list[list[Target]],
    materials: Materials,
    args: argparse.Namespace,
    harm: float,
) -> list[Batch]:
    """Draw surfaces, some of photographs and some made up, and photograph them TAKEN times."""
    parts: list[list[Batch]] = [[] for _ in range(TAKEN)]
    for count, made in _portions(args):
        kinds = random.choices((0, 1, 2), args.kinds, k=count)
        if made:
            finish = F.one_hot(torch.tensor(kinds), 3).float().to(args.device)
            batch, linear = made_up(finish, materials, args.device)
        else:
            chosen = [random.choice(targets[kind]) for kind in kinds]
            batch, linear = drawn(shots, chosen, materials, harm)
        for number, part in enumerate(parts):
            one = replace(batch, image=photographed(batch, linear, harm))
            partly_outlined(one, harm)
            part.append(_turned(one) if number % 2 else one)
    return [
        Batch(*(torch.cat(some) for some in zip(*(vars_of(p) for p in part), strict=True)))
        for part in parts
    ]


def _turned(batch: Batch) -> Batch:
    """Turn a batch half around."""
    planes = {f.name: getattr(batch, f.name) for f in fields(batch) if f.name != "finish"}
    return replace(batch, **{name: plane.flip((2, 3)) for name, plane in planes.items()})


def _portions(args: argparse.Namespace) -> list[tuple[int, bool]]:
    totals = ((args.batch - args.made_up, False), (args.made_up, True))
    return [
        (min(TOGETHER, total - first), made)
        for total, made in totals
        for first in range(0, total, TOGETHER)
    ]


def vars_of(batch: Batch) -> list[Tensor]:
    """Return a batch's tensors in their order."""
    return [getattr(batch, each.name) for each in fields(batch)]


@torch.no_grad()
def blend_in(mean: Judge, judge: Judge, share: float) -> None:
    """Move the running mean of the weights a little toward the newest."""
    for old, new in zip(mean.state_dict().values(), judge.state_dict().values(), strict=True):
        if old.dtype.is_floating_point:
            old.lerp_(new, share)
        else:
            old.copy_(new)


if __name__ == "__main__":
    main()

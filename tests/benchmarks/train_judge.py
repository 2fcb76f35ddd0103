"""Train the judge of kept and lost finish; run on a machine with an accelerator and torch."""

from __future__ import annotations

import argparse
import copy
import random
import time
from dataclasses import fields
from pathlib import Path

import numpy as np
import onnx
import torch
import torch.distributed as dist
import torch.multiprocessing as mp
import torch.nn.functional as F  # noqa: N812 - the name every torch program uses
from judge_net import Judge
from judge_pictures import (
    Batch,
    Target,
    drawn,
    load_shots,
    partly_outlined,
    photographed,
    targets_of,
)
from judge_scenes import made_up
from onnx import TensorProto, helper, numpy_helper
from torch import Tensor

MOST_DOTS = 16
TOGETHER = 10  # steps after which the workers take the mean of their weights
SMALL_WEIGHT = 256


def share_error(logit: Tensor, batch: Batch) -> Tensor:
    """Difference between the predicted and the true share lost, for each picture."""
    area = batch.known.sum((1, 2, 3)) + 1
    there = ((torch.sigmoid(logit) - batch.lost) * batch.known).sum((1, 2, 3)) / area
    return there.abs()


def loss_of(logit: Tensor, batch: Batch) -> Tensor:
    """Cross entropy a pixel, each picture alike, and the error of the share itself."""
    area = batch.known.sum((1, 2, 3)) + 1
    each = F.binary_cross_entropy_with_logits(logit, batch.lost, reduction="none")
    return ((each * batch.known).sum((1, 2, 3)) / area + 1.0 * share_error(logit, batch)).mean()


@torch.no_grad()
def next_dot(logit: Tensor, batch: Batch, kind: float) -> tuple[Tensor, Tensor]:
    """Middle of a large patch wrongly judged, kind 1 kept, -1 lost, on the half-size grid."""
    judged = (logit > 0).float()
    wrong = ((batch.lost - judged) * -kind).clamp(min=0) * batch.known
    wrong = F.avg_pool2d(wrong, 2)
    cell = random.choice((3, 7, 15, 31))
    score = F.avg_pool2d(wrong, (cell, 1), 1, (cell // 2, 0))
    score = F.avg_pool2d(score, (1, cell), 1, (0, cell // 2)) * wrong
    score = score + 1e-4 * torch.rand_like(score) * wrong
    flat = score.flatten(1)
    best = flat.argmax(1)
    width = wrong.shape[3]
    found = flat.gather(1, best[:, None])[:, 0] > 0
    return torch.stack([best // width, best % width], 1), found


def dots_loss(
    judge: Judge, outs: tuple[Tensor, ...], batch: Batch, most: int
) -> tuple[Tensor, Tensor]:
    """Set dots one after another where the judgment is wrong; the loss after each."""
    first, features, embedding = outs[0], outs[1], outs[2]
    n = len(first)
    points = torch.zeros(n, MOST_DOTS, 2, dtype=torch.long, device=first.device)
    kind = torch.zeros(n, MOST_DOTS, device=first.device)
    logit, losses = first.detach(), []
    side = random.choice((1.0, -1.0))
    count = random.choice((1, 2, 3, 4, 4, 6, most))
    scored = set(random.sample(range(count), min(2, count))) | {count - 1}
    for number in range(count):
        spot, found = next_dot(logit, batch, side)
        other, also = next_dot(logit, batch, -side)
        use_other = ~found & also
        spot = torch.where(use_other[:, None], other, spot)
        sign = torch.where(use_other, -side, side) * (found | also)
        points[:, number], kind[:, number] = spot, sign
        side = -side
        if number in scored:
            logit = judge.second(first, features, embedding, points, kind)
            losses.append(loss_of(logit, batch))
            logit = logit.detach()
        else:
            with torch.no_grad():
                logit = judge.second(first, features, embedding, points, kind)
    return torch.stack(losses).mean(), share_error(logit, batch).mean()


def step(judge: Judge, batch: Batch) -> tuple[Tensor, list[float]]:
    """One step's loss and what to print of it."""
    with torch.autocast(batch.image.device.type, torch.bfloat16, enabled=batch.image.is_cuda):
        outs = judge.first(batch.image, batch.mask, batch.finish)
    outs = tuple(o.float() for o in outs)
    first = loss_of(outs[0], batch)
    rust = F.binary_cross_entropy_with_logits(outs[3], batch.rust, reduction="none")
    rust = (rust * batch.rust_known).sum() / (batch.rust_known.sum() + 1)
    dots, after = dots_loss(judge, outs, batch, 8)
    with torch.no_grad():
        shown = [first, dots, share_error(outs[0], batch).mean(), after]
        shown = [v.item() for v in shown]
    return first + dots + 0.2 * rust, shown


def export(judge: Judge, folder: Path) -> None:
    """Write both networks as ONNX, sizes free."""
    judge = copy.deepcopy(judge).cpu().float().eval()
    image, mask, finish = torch.rand(1, 3, 64, 96), torch.ones(1, 1, 64, 96), torch.eye(3)[:1]
    outs = judge.first(image, mask, finish)
    hw = {2: "height", 3: "width"}
    half = {2: "half_height", 3: "half_width"}
    torch.onnx.export(
        judge.first,
        (image, mask, finish),
        folder / "first.onnx",
        input_names=["image", "mask", "finish"],
        output_names=["logit", "features", "embedding", "rust"],
        dynamic_axes={
            "image": hw,
            "mask": hw,
            "logit": hw,
            "features": half,
            "embedding": half,
            "rust": hw,
        },
        opset_version=17,
        dynamo=False,
    )
    points, kind = torch.zeros(1, 2, 2, dtype=torch.long), torch.ones(1, 2)
    torch.onnx.export(
        judge.second,
        (outs[0], outs[1], outs[2], points, kind),
        folder / "second.onnx",
        input_names=["logit", "features", "embedding", "points", "kind"],
        output_names=["judged"],
        dynamic_axes={
            "logit": hw,
            "features": half,
            "embedding": half,
            "points": {1: "dots"},
            "kind": {1: "dots"},
            "judged": hw,
        },
        opset_version=17,
        dynamo=False,
    )
    for name in ("first.onnx", "second.onnx"):
        slim(folder / name)


def slim(path: Path) -> None:
    """Store large weights as half floats, cast back when loaded: half the file."""
    model = onnx.load(path)
    graph, kept, casts = model.graph, [], []
    for weight in graph.initializer:
        values = numpy_helper.to_array(weight)
        if values.dtype != np.float32 or values.size <= SMALL_WEIGHT:
            kept.append(weight)
            continue
        half = f"{weight.name}_half"
        kept.append(numpy_helper.from_array(values.astype(np.float16), half))
        casts.append(helper.make_node("Cast", [half], [weight.name], to=TensorProto.FLOAT))
    nodes = [*casts, *graph.node]
    del graph.initializer[:], graph.node[:]
    graph.initializer.extend(kept)
    graph.node.extend(nodes)
    onnx.checker.check_model(model)
    onnx.save(model, path)


def asked() -> argparse.Namespace:
    """Read the command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--data", type=Path, nargs="+", required=True, help="folders of shots")
    parser.add_argument("--out", type=Path, required=True)
    parser.add_argument("--minutes", type=float, default=8.0)
    parser.add_argument("--batch", type=int, default=16, help="pictures a step of one worker")
    parser.add_argument("--made-up", type=int, default=5, help="of these, surfaces made up")
    parser.add_argument("--workers", type=int, default=4, help="processes that learn together")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--start", type=Path, help="weights to go on from")
    parser.add_argument("--harm", type=float, default=0.8, help="how much pictures are changed")
    parser.add_argument("--rate", type=float, default=1.5e-3)
    return parser.parse_args()


def main() -> None:
    """Train for the given time and write the networks."""
    args = asked()
    args.out.mkdir(parents=True, exist_ok=True)
    meeting = (args.out / "meeting").resolve()
    meeting.unlink(missing_ok=True)
    mp.start_processes(work, (args, meeting), nprocs=args.workers, start_method="spawn")


def work(rank: int, args: argparse.Namespace, meeting: Path) -> None:
    """Learn as one of the workers; the first writes what they learned."""
    dist.init_process_group(
        "gloo", init_method=f"file://{meeting}", rank=rank, world_size=args.workers
    )
    random.seed(args.seed + 1000 * rank)
    torch.manual_seed(args.seed)
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.set_num_threads(2)
    torch.backends.cudnn.benchmark = True
    judge = Judge().to(device)
    if args.start:
        kept = torch.load(args.start, map_location=device)
        judge.load_state_dict(
            {k: v.float() if v.is_floating_point() else v for k, v in kept.items()}
        )
    torch.manual_seed(args.seed + 1000 * rank)
    shots = [
        shot
        for folder in args.data
        for shot in load_shots(folder, sorted(f.stem for f in folder.glob("*.jpg")), device)
    ]
    mean = train(judge, targets_of(shots), args, device)
    if rank == 0:
        keep(mean, args.out)
        export(mean, args.out)
    dist.barrier()
    dist.destroy_process_group()


def keep(judge: Judge, folder: Path) -> None:
    """Write the weights as half floats; not the running statistics, which can grow beyond them."""
    weights = {
        k: v.half() if v.is_floating_point() and "running" not in k else v
        for k, v in judge.state_dict().items()
    }
    torch.save({k: v.cpu() for k, v in weights.items()}, folder / "judge.pt")


def train(
    judge: Judge, targets: list[list[Target]], args: argparse.Namespace, device: str
) -> Judge:
    """Learn until the time is up; give the running mean of the weights."""
    judge = judge.to(memory_format=torch.channels_last)
    mean = copy.deepcopy(judge)
    rule = torch.optim.AdamW(judge.parameters(), lr=args.rate, weight_decay=0.02, betas=(0.9, 0.98))
    began, number, kept, done = time.monotonic(), 0, 0.0, 0.0
    shown: list[list[float]] = []
    while done < 1:
        for group in rule.param_groups:
            group["lr"] = args.rate * min(1, (number + 1) / 200) * max(0.01, 1 - done)
        batch = pictured(targets, args, device, args.harm * (1 - 0.6 * done))
        shown.append(learn(judge, batch, rule))
        number += 1
        if number % TOGETHER:
            continue
        done = meet(judge, (time.monotonic() - began) / (60 * args.minutes))
        blend_in(mean, judge, max(0.02, TOGETHER / number))
        if number % 200 == 0 and dist.get_rank() == 0:
            means = " ".join(f"{sum(v) / len(shown):.4f}" for v in zip(*shown, strict=True))
            print(number, f"{time.monotonic() - began:.0f} s", means, flush=True)
            shown = []
        if done - kept > 0.2 and dist.get_rank() == 0:
            keep(mean, args.out)
            kept = done
    return mean


def learn(judge: Judge, batch: Batch, rule: torch.optim.Optimizer) -> list[float]:
    """Take one step; what to print of it."""
    loss, values = step(judge, batch)
    rule.zero_grad(set_to_none=True)
    loss.backward()
    torch.nn.utils.clip_grad_norm_(judge.parameters(), 2.0)
    rule.step()
    return values


def pictured(
    targets: list[list[Target]], args: argparse.Namespace, device: str, harm: float
) -> Batch:
    """Draw one step's pictures, some of photographs, some of surfaces made up."""
    batch, linear = drawn(targets, args.batch - args.made_up, device, harm)
    if args.made_up:
        kinds = random.choices((0, 1, 2), (0.5, 0.35, 0.15), k=args.made_up)
        finish = F.one_hot(torch.tensor(kinds), 3).float().to(device)
        more, light = made_up(finish, device)
        joined = [torch.cat(pair) for pair in zip(vars_of(batch), vars_of(more), strict=True)]
        batch, linear = Batch(*joined), torch.cat([linear, light])
    batch.image = photographed(batch, linear, harm)
    partly_outlined(batch, harm)
    return batch


def vars_of(batch: Batch) -> list[Tensor]:
    """Return a batch's tensors in their order."""
    return [getattr(batch, each.name) for each in fields(batch)]


@torch.no_grad()
def meet(judge: Judge, done: float) -> float:
    """Return all workers the mean of their weights, and of how far they are."""
    state = [v for v in judge.state_dict().values() if v.dtype.is_floating_point]
    flat = torch.cat([v.flatten() for v in state] + [state[0].new_tensor([done])]).cpu()
    dist.all_reduce(flat)
    flat /= dist.get_world_size()
    pieces = flat[:-1].to(state[0].device).split([v.numel() for v in state])
    for value, piece in zip(state, pieces, strict=True):
        value.copy_(piece.reshape(value.shape))
    return float(flat[-1])


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

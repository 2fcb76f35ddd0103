"""Write the trained networks as ONNX files with half-float weights."""

from __future__ import annotations

import argparse
import copy
from pathlib import Path

import numpy as np
import onnx
import torch
from judge_net import QUESTIONS, Judge
from onnx import TensorProto, helper, numpy_helper

SMALL_WEIGHT = 256
LEFT = ("embedding", "half", "fourth", "eighth", "summary")


def keep(judge: Judge, folder: Path) -> None:
    """Write the weights as half floats; not the running statistics, which can grow beyond them."""
    weights = {
        k: v.half() if v.is_floating_point() and "running" not in k else v
        for k, v in judge.state_dict().items()
    }
    torch.save({k: v.cpu() for k, v in weights.items()}, folder / "judge.pt")


def export(judge: Judge, folder: Path) -> None:
    """Write both networks as ONNX, sizes free."""
    judge = copy.deepcopy(judge).cpu().float().eval()
    image, mask, finish = torch.rand(1, 3, 64, 96), torch.ones(1, 1, 64, 96), torch.eye(3)[:1]
    outs = judge.first(image, mask, finish)
    whole = {2: "height", 3: "width"}
    parts = {
        "embedding": {2: "half_height", 3: "half_width"},
        "half": {2: "half_height", 3: "half_width"},
        "fourth": {2: "fourth_height", 3: "fourth_width"},
        "eighth": {2: "eighth_height", 3: "eighth_width"},
    }
    torch.onnx.export(
        judge.first,
        (image, mask, finish),
        folder / "first.onnx",
        input_names=["image", "mask", "finish"],
        output_names=["logit", *LEFT, "spread", "rust"],
        dynamic_axes={"image": whole, "mask": whole, "logit": whole, "rust": whole, **parts},
        opset_version=17,
        dynamo=False,
    )
    points, kind = torch.zeros(2, 3, 2, dtype=torch.long), torch.ones(2, 3)
    logit = outs[0].transpose(0, 1).contiguous()
    many = {0: "questions", 1: "dots"}
    torch.onnx.export(
        judge.second,
        (logit, mask, *outs[1:6], torch.eye(QUESTIONS)[2:], points, kind),
        folder / "second.onnx",
        input_names=["logit", "mask", *LEFT, "question", "points", "kind"],
        output_names=["judged", "spread"],
        dynamic_axes={
            "logit": {0: "questions", **whole},
            "mask": whole,
            **parts,
            "question": {0: "questions"},
            "points": many,
            "kind": many,
            "judged": {0: "questions", **whole},
            "spread": {0: "questions"},
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


def main() -> None:
    """Write the networks of a file of weights."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--weights", type=Path, required=True)
    parser.add_argument("--out", type=Path, required=True)
    args = parser.parse_args()
    judge = Judge()
    kept = torch.load(args.weights, map_location="cpu")
    judge.load_state_dict({k: v.float() if v.is_floating_point() else v for k, v in kept.items()})
    args.out.mkdir(parents=True, exist_ok=True)
    export(judge, args.out)


if __name__ == "__main__":
    main()

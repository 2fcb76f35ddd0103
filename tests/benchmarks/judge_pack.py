"""Pack photographs with their masks, and materials, for a machine that trains: a few megabytes.

Run: judge_pack.py --photos DEV TRAIN --materials FOLDER --held-out judge_held_out.json --out FOLDER
"""

from __future__ import annotations

import argparse
import json
import shutil
from pathlib import Path

import cv2
import numpy as np
from PIL import Image

SIZE = (1200, 800)
QUALITY = 84
ROOM_SIZE = (384, 192)
RUST = ("rusty_metal_05.jpg", "rust_coarse_01.webp", "rust_004.jpg", "rusty_metal_053c.jpg")


def pack_shot(stem: Path, out: Path) -> dict[str, object]:
    """Write one photograph and its packed mask: finish 2 bits, surface 4, rust 2."""
    photograph = Image.open(f"{stem}.jpg").convert("RGB").resize(SIZE, Image.Resampling.BOX)
    photograph.save(out / f"{stem.name}.webp", quality=QUALITY, method=4)
    finish, surface, rust = (
        np.array(Image.open(f"{stem}.{kind}.png").resize(SIZE, Image.Resampling.NEAREST))
        for kind in ("finish", "surf", "rust")
    )
    mask = (finish & 3) | ((surface & 15) << 2) | ((rust & 3) << 6)
    Image.fromarray(mask.astype(np.uint8)).save(out / f"{stem.name}.png", optimize=True)
    truth = json.loads(Path(f"{stem}.truth.json").read_text("utf-8"))
    told = any("patina_fraction_pixels" in one for one in truth["surfaces"].values())
    return {"name": stem.name, "patina": told}


def pack_materials(folder: Path, out: Path, left_out: set[str]) -> None:
    """Write the surroundings in one file, and the pictures of rust."""
    rooms = [
        cv2.resize(cv2.imread(str(f), cv2.IMREAD_UNCHANGED), ROOM_SIZE, None, 0, 0, cv2.INTER_AREA)
        for f in sorted(folder.glob("*.hdr"))
        if f.stem.removesuffix("_1k") not in left_out
    ]
    stacked = np.stack(rooms)[..., ::-1].transpose(0, 3, 1, 2)
    np.savez_compressed(out / "surroundings.npz", rooms=stacked.astype(np.float16))
    (out / "rust").mkdir(exist_ok=True)
    for name in RUST:
        if Path(name).stem not in left_out:
            shutil.copy(folder / name, out / "rust" / name)


def main() -> None:
    """Pack all that is not held out."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--photos", type=Path, nargs="+", required=True)
    parser.add_argument("--materials", type=Path, required=True)
    parser.add_argument("--held-out", type=Path, required=True)
    parser.add_argument("--out", type=Path, required=True)
    args = parser.parse_args()
    args.out.mkdir(parents=True, exist_ok=True)
    held = json.loads(args.held_out.read_text("utf-8"))
    left_out = {name for names in held.values() for name in names}
    stems = [f.with_suffix("") for folder in args.photos for f in sorted(folder.glob("*.jpg"))]
    shots = [pack_shot(stem, args.out) for stem in stems if stem.name not in left_out]
    (args.out / "shots.json").write_text(json.dumps(shots), encoding="utf-8")
    pack_materials(args.materials, args.out, left_out)


if __name__ == "__main__":
    main()

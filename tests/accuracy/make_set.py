"""Cut the accuracy set from rendered photographs and from a real metal with its own mask.

Run: make_set.py --photos FOLDERS --materials FOLDER. Both are CC0 1.0, and so is the set.
"""

from __future__ import annotations

import argparse
from pathlib import Path

import numpy as np
from PIL import Image

OUT = Path(__file__).parent / "surfaces"
LONGEST = 900
# Surfaces of planes and in surroundings that no network learned: name, finish, numbers in surf.png.
WANTED = (
    ("r002_after_1", "japanning", (1, 2, 3, 4)),
    ("r003_after_1", "japanning", (1, 2, 3, 4)),
    ("r006_before_1", "japanning", (1, 2, 3, 4)),
    ("r013_after_1", "japanning", (1, 2, 3, 4)),
    ("r016_after_1", "japanning", (1, 2, 3, 4)),
    ("r065_before_1", "nickel", (5,)),
    ("r013_after_1", "nickel", (5,)),
    ("r003_before_2", "rust", (7, 8)),
    ("r005_after_2", "rust", (6,)),
    ("r006_before_2", "rust", (7, 8)),
    ("r013_before_1", "rust", (10,)),
    ("r015_after_1", "rust", (10,)),
    ("r016_before_1", "rust", (10,)),
    ("r018_before_1", "rust", (10,)),
    ("r002_before_2", "rust", (6,)),
)
SMALLEST = 2500
CUTS = ((0, 0, 640, 420), (360, 500, 1000, 920), (200, 300, 840, 720))  # of the real metal
MARGIN = 60


def states_of(stem: Path, finish: str, numbers: tuple[int, ...]) -> np.ndarray:
    """Return 0 outside, 1 kept or bright, 2 lost or rust, 4 patina, from a photograph's masks."""
    surface, coat, rust = (
        np.array(Image.open(f"{stem}.{kind}.png")) for kind in ("surf", "finish", "rust")
    )
    inside = np.isin(surface, numbers)
    if finish == "rust":
        return np.where(inside, np.array([1, 2, 4])[rust], 0).astype(np.uint8)
    return np.where(inside & (coat > 0), np.where(coat == 2, 2, 1), 0).astype(np.uint8)


def write(name: str, picture: Image.Image, states: np.ndarray) -> None:
    """Cut around the surface and write the picture and its truth."""
    rows, columns = np.flatnonzero(states.any(axis=1)), np.flatnonzero(states.any(axis=0))
    height, width = states.shape
    box = (
        max(0, int(columns[0]) - MARGIN),
        max(0, int(rows[0]) - MARGIN),
        min(width, int(columns[-1]) + MARGIN),
        min(height, int(rows[-1]) + MARGIN),
    )
    truth = Image.fromarray(states).crop(box)
    size = tuple(round(side * min(1, LONGEST / max(truth.size))) for side in truth.size)
    picture.crop(box).resize(size, Image.Resampling.BOX).save(OUT / f"{name}.jpg", quality=90)
    truth.resize(size, Image.Resampling.NEAREST).save(OUT / f"{name}.png", optimize=True)


def real_metal(folder: Path) -> None:
    """Lay cuts of the real metal on gray; its own mask is white where the metal is bare."""
    metal = Image.open(folder / "rusty_metal_053c.jpg").convert("RGB")
    bare = np.array(Image.open(folder / "rusty_metal_053c_bare.jpg").convert("L")) > 127
    for number, (x0, y0, x1, y1) in enumerate(CUTS, start=1):
        size = (x1 - x0 + 2 * MARGIN, y1 - y0 + 2 * MARGIN)
        sheet = Image.new("RGB", size, (118, 116, 112))
        sheet.paste(metal.crop((x0, y0, x1, y1)), (MARGIN, MARGIN))
        states = np.zeros(size[::-1], dtype=np.uint8)
        states[MARGIN:-MARGIN, MARGIN:-MARGIN] = np.where(bare[y0:y1, x0:x1], 1, 2)
        write(f"rust.metal_{number}", sheet, states)
    plain = Image.open(folder / "rust_004.jpg").convert("RGB").crop((100, 100, 740, 520))
    sheet = Image.new("RGB", (760, 540), (118, 116, 112))
    sheet.paste(plain, (MARGIN, MARGIN))
    states = np.zeros((540, 760), dtype=np.uint8)
    states[MARGIN:-MARGIN, MARGIN:-MARGIN] = 2
    write("rust.metal_4", sheet, states)


def main() -> None:
    """Write the set."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--photos", type=Path, nargs="+", required=True)
    parser.add_argument("--materials", type=Path, required=True)
    args = parser.parse_args()
    OUT.mkdir(exist_ok=True)
    for name, finish, numbers in WANTED:
        stem = next(f / name for f in args.photos if (f / f"{name}.jpg").exists())
        states = states_of(stem, finish, numbers)
        if np.count_nonzero(states) >= SMALLEST:
            part = "".join(str(number) for number in numbers)
            write(f"{finish}.{name}_{part}", Image.open(f"{stem}.jpg").convert("RGB"), states)
    real_metal(args.materials)


if __name__ == "__main__":
    main()

"""planebench angles: work out the angles of an edge in the cut, and what grinding does to it."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace
from collections.abc import Iterator

from planebench.cli.command import Command, CommandAnswer
from planebench.trade.cutter_geometry import (
    bevel_for_cut,
    camber_radius,
    edge_angles,
    guide_angle,
    guide_projection,
    hollow_depth,
    mouth_closed_by,
    sharpenings_left,
)

_PLACES = 4

# Name of the answer, its unit, and what a person reads.
_EXTRAS = (
    ("bevel_for_cut_deg", "°", "Bevel for that cut"),
    ("guide_projection_mm", " mm", "Projection from the guide"),
    ("guide_angle_deg", "°", "Angle at that projection"),
    ("hollow_depth_mm", " mm", "Hollow of the bevel"),
    ("camber_radius_mm", " mm", "Radius of the camber"),
    ("mouth_closed_by_mm", " mm", "The mouth closes by"),
    ("sharpenings_left", "", "Sharpenings left"),
    ("sharpenings_fewest", "", "At least"),
    ("sharpenings_most", "", "At most"),
)


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("--bed", type=float, required=True, metavar="DEG", help="the bed’s angle")
    parser.add_argument("--bevel", type=float, required=True, metavar="DEG", help="the bevel")
    parser.add_argument(
        "--back-bevel", type=float, default=0.0, metavar="DEG", help="a back bevel, if there is one"
    )
    parser.add_argument("--up", action="store_true", help="the bevel is up; down without this")
    parser.add_argument("--cut", type=float, metavar="DEG", help="a cutting angle to reach")
    parser.add_argument(
        "--guide",
        type=float,
        nargs=3,
        metavar=("HEIGHT", "RADIUS", "FRONT"),
        help="a honing guide in mm: cutter above the axle, roller’s radius, axle to front",
    )
    parser.add_argument(
        "--projection", type=float, metavar="MM", help="how far the cutter sticks out"
    )
    parser.add_argument("--thickness", type=float, metavar="MM", help="the cutter’s thickness")
    parser.add_argument("--wheel", type=float, metavar="MM", help="the grinding wheel’s diameter")
    parser.add_argument(
        "--thicker", type=float, metavar="MM", help="how much thicker a new cutter is"
    )
    parser.add_argument(
        "--camber", type=float, nargs=2, metavar=("WIDTH", "DEPTH"), help="a cambered edge in mm"
    )
    parser.add_argument(
        "--usable",
        type=float,
        nargs=3,
        metavar=("LENGTH", "EACH", "WITHIN"),
        help="usable length in mm, what one sharpening takes off it, and how far that may be off",
    )


def _run(args: Namespace) -> CommandAnswer:
    found = edge_angles(
        bed=args.bed, bevel=args.bevel, bevel_up=args.up, back_bevel=args.back_bevel
    )
    data: dict[str, object] = {
        "cutting_angle_deg": found.cutting,
        "clearance_angle_deg": found.clearance,
        "included_angle_deg": found.included,
        "clear": found.is_clear,
    }
    clear = f"clearance {found.clearance:g}°"
    tight = "" if found.is_clear else " That is little clearance."
    lines = [f"Cuts at {found.cutting:g}°, {clear}, edge {found.included:g}°.{tight}"]
    extras = {**dict(_of_grinding(args)), **dict(_of_guide(args))}
    for name, unit, words in _EXTRAS:
        if name in extras:
            data[name] = round(extras[name], _PLACES)
            lines.append(f"{words}: {extras[name]:.4g}{unit}.")
    return CommandAnswer(data=data, lines=tuple(lines))


def _of_guide(args: Namespace) -> Iterator[tuple[str, float]]:
    """Yield the projection for the bevel’s angle, and the angle at a projection."""
    if args.guide is None:
        return
    height, radius, front = args.guide
    guide = {"axle_height": height, "roller_radius": radius, "axle_to_front": front}
    yield "guide_projection_mm", guide_projection(angle=args.bevel, **guide)
    if args.projection is not None:
        yield "guide_angle_deg", guide_angle(projection=args.projection, **guide)


def _of_grinding(args: Namespace) -> Iterator[tuple[str, float]]:
    if args.cut is not None:
        yield "bevel_for_cut_deg", bevel_for_cut(bed=args.bed, cutting=args.cut, bevel_up=args.up)
    if args.thickness is not None and args.wheel is not None:
        depth = hollow_depth(thickness=args.thickness, bevel=args.bevel, wheel_diameter=args.wheel)
        yield "hollow_depth_mm", depth
    if args.camber is not None:
        yield "camber_radius_mm", camber_radius(width=args.camber[0], depth=args.camber[1])
    if args.thicker is not None:
        yield "mouth_closed_by_mm", mouth_closed_by(thicker_mm=args.thicker, bed=args.bed)
    if args.usable is not None:
        usable, each, within = args.usable
        left = sharpenings_left(usable_mm=usable, per_sharpening_mm=each, within_mm=within)
        yield "sharpenings_left", left.count
        yield "sharpenings_fewest", left.fewest
        yield "sharpenings_most", left.most


COMMAND = Command(
    name="angles",
    summary="Work out cutting, clearance and included angle from bed and bevel.",
    arguments=_arguments,
    run=_run,
)

"""planebench angles: work out the angles of an edge in the cut."""

from __future__ import annotations

from argparse import ArgumentParser, Namespace

from planebench.cli.command import Answer, Command
from planebench.trade.cutter_geometry import edge_angles


def _arguments(parser: ArgumentParser) -> None:
    parser.add_argument("--bed", type=float, required=True, metavar="DEG", help="the bed’s angle")
    parser.add_argument("--bevel", type=float, required=True, metavar="DEG", help="the bevel")
    parser.add_argument(
        "--back-bevel", type=float, default=0.0, metavar="DEG", help="a back bevel, if there is one"
    )
    parser.add_argument("--up", action="store_true", help="the bevel is up; down without this")


def _run(args: Namespace) -> Answer:
    found = edge_angles(
        bed=args.bed, bevel=args.bevel, bevel_up=args.up, back_bevel=args.back_bevel
    )
    clear = f"clearance {found.clearance:g}°"
    tight = "" if found.is_clear else " That is little clearance."
    return Answer(
        data={
            "cutting_angle_deg": found.cutting,
            "clearance_angle_deg": found.clearance,
            "included_angle_deg": found.included,
            "clear": found.is_clear,
        },
        lines=(f"Cuts at {found.cutting:g}°, {clear}, edge {found.included:g}°.{tight}",),
    )


COMMAND = Command(
    name="angles",
    summary="Work out cutting, clearance and included angle from bed and bevel.",
    arguments=_arguments,
    run=_run,
)

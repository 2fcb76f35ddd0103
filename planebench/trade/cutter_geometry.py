"""Angles of an edge in the cut, and what grinding and honing do to a cutter.

All angles in degrees, all lengths in millimeters. Plain trigonometry of a wedge on a bed; names
are those of the trade (common practice, no source).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin, sqrt

from planebench.errors import InputError

_STEEPEST_BED = 90.0
_LEAST_CLEARANCE = 7.0
"""Clearance below which the wood springs back against the iron behind its edge: figures from 5 to
12 degrees are in use, 7 or more is common practice for soft and hard wood alike; no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeAngles:
    """The edge as it meets the wood.

    `cutting` is from the sole to the face that lifts the shaving, `clearance` from the sole to
    the face behind the edge, `included` the wedge of steel between: cutting = clearance +
    included.
    """

    cutting: float
    clearance: float
    included: float

    @property
    def is_clear(self) -> bool:
        """Whether the clearance is as much as is usual."""
        return self.clearance >= _LEAST_CLEARANCE


def edge_angles(*, bed: float, bevel: float, bevel_up: bool, back_bevel: float = 0.0) -> EdgeAngles:
    """Return the angles of an edge on a bed, with its bevel up or down.

    A bed of 20 with a bevel of 25, bevel up, cuts at 45. With the bevel down, the bed itself is
    the cutting angle and a back bevel steepens it; with the bevel up, a back bevel on the
    underside takes off clearance. Raises InputError for angles that no edge can have.
    """
    for name, value, most in (("bed", bed, _STEEPEST_BED), ("bevel", bevel, _STEEPEST_BED)):
        _check(name, value, low=0.0, high=most)
    if not 0 <= back_bevel < _STEEPEST_BED:
        raise _refusal("back bevel", back_bevel, "0 or more and under 90")
    included = bevel + back_bevel
    clearance = bed - back_bevel if bevel_up else bed - bevel
    if clearance <= 0:
        less = "back bevel" if bevel_up else "bevel"
        raise InputError(
            f"Behind the edge there is no clearance: {clearance:g}°.",
            remedy=f"Make the {less} less than the bed’s {bed:g}°, or the bed steeper.",
            subject=less,
        )
    return EdgeAngles(cutting=clearance + included, clearance=clearance, included=included)


def bevel_for_cut(*, bed: float, cutting: float, bevel_up: bool) -> float:
    """Return the bevel (up) or the back bevel (down) that makes a bed cut at an angle."""
    wanted = cutting - bed
    if wanted < 0 or (bevel_up and wanted == 0):
        raise InputError(
            f"A bed of {bed:g}° cannot cut at {cutting:g}°.",
            remedy=f"Choose {bed:g}° or more." if not bevel_up else f"Choose more than {bed:g}°.",
            subject="cutting angle",
        )
    return wanted


def guide_projection(
    *, angle: float, axle_height: float, roller_radius: float, axle_to_front: float
) -> float:
    """Return how far a cutter sticks out of a honing guide, in mm, to be honed at an angle.

    The guide holds the cutter's back `axle_height` above the axle of its roller and ends
    `axle_to_front` in front of it. Edge and roller stand on one flat stone: with the cutter
    tilted by the angle, projection = (h cos a + r) / sin a - d.
    """
    _check("angle", angle, low=0.0, high=_STEEPEST_BED)
    turned = radians(angle)
    return (axle_height * cos(turned) + roller_radius) / sin(turned) - axle_to_front


def guide_angle(
    *, projection: float, axle_height: float, roller_radius: float, axle_to_front: float
) -> float:
    """Return the angle that a projection gives, in degrees: the other way around, by halving."""
    low, high = 1e-6, _STEEPEST_BED - 1e-6
    for _ in range(100):
        middle = (low + high) / 2
        reached = guide_projection(
            angle=middle,
            axle_height=axle_height,
            roller_radius=roller_radius,
            axle_to_front=axle_to_front,
        )
        low, high = (middle, high) if reached > projection else (low, middle)
    return (low + high) / 2


def hollow_depth(*, thickness: float, bevel: float, wheel_diameter: float) -> float:
    """Return how deep a wheel hollows a bevel, in mm, at the middle of its face.

    The face is thickness / sin(bevel) long; the hollow is the height of the wheel's arc over it.
    """
    _check("bevel", bevel, low=0.0, high=_STEEPEST_BED)
    face, radius = thickness / sin(radians(bevel)), wheel_diameter / 2
    if not 0 < face <= wheel_diameter:
        raise InputError(
            f"A wheel of {wheel_diameter:g} mm cannot grind a bevel {face:.1f} mm long.",
            remedy="Check the wheel’s diameter, the thickness and the bevel.",
            subject="wheel",
        )
    return radius - sqrt(radius**2 - (face / 2) ** 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class SharpeningsLeft:
    """How often a cutter can still be sharpened, with the fewest and the most."""

    count: int
    fewest: int
    most: int


def sharpenings_left(
    *, usable_mm: float, per_sharpening_mm: float, within_mm: float = 0.0
) -> SharpeningsLeft:
    """Return the sharpenings left in the steel before the slot or the cap iron ends it.

    `per_sharpening_mm` is what one honing takes off the length, `within_mm` how far it may be
    off. Raises InputError where it is not above zero, or no surer than it is large.
    """
    if per_sharpening_mm <= within_mm:
        raise _refusal(
            "steel per sharpening", per_sharpening_mm, "more than its own range, above 0"
        )
    left = max(usable_mm, 0.0)
    return SharpeningsLeft(
        count=int(left / per_sharpening_mm + 1e-9),
        fewest=int(left / (per_sharpening_mm + within_mm) + 1e-9),
        most=int(left / (per_sharpening_mm - within_mm) + 1e-9),
    )


def camber_radius(*, width: float, depth: float) -> float:
    """Return the radius of a cambered edge, in mm, from its width and the depth at its corners."""
    if depth <= 0 or depth > width / 2:
        raise _refusal("camber", depth, f"above 0 and up to half the width, {width / 2:g}")
    return (width**2 / 4 + depth**2) / (2 * depth)


def mouth_closed_by(*, thicker_mm: float, bed: float) -> float:
    """Return by how much a thicker cutter closes the mouth, in mm: thickness / sin(bed)."""
    _check("bed", bed, low=0.0, high=_STEEPEST_BED)
    return thicker_mm / sin(radians(bed))


def _check(name: str, value: float, *, low: float, high: float) -> None:
    if not low < value < high:
        raise _refusal(name, value, f"above {low:g} and under {high:g}")


def _refusal(name: str, value: float, wanted: str) -> InputError:
    return InputError(f"The {name} is {value:g}.", remedy=f"Use a value {wanted}.", subject=name)

"""Why a scale card's reading is to be taken with care, in words for a person."""

from __future__ import annotations

from dataclasses import dataclass

from planebench.photo.card_fit_quality import CardFitQuality

# Measured: flat cards look bowed by up to 0.06 mm in grain, dark or poor JPEG, one whose middle is
# 0.3 mm out of line by at least 0.27 mm.
_BOWED_MM = 0.15
# For creases, and where a marker is hidden. The edges of flat cards stay within 0.055 mm; with the
# middle of a card 1 mm out of line they are off by 0.07 mm.
_BENT_MM = 0.06
# Not far beyond this the QR code can no longer be read either.
_UNSHARP_MM = 1.5
_STEEP_DEG = 50.0
# A cell of a marker is then under six pixels wide.
_SMALL_PX_PER_MM = 2.4
_ROUGH_SHARE = 0.002
_ROUGH_TILT_DEG = 1.0
_LONGEST_QUOTE = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class CardFindings:
    """What was found. `stocks` holds each card's number in the picture, None where not readable.

    `whole` is whether all four corners of the card lie in the picture, `code_text` what the QR
    code of the card that was read says, None if it cannot be read.
    """

    trust: CardFitQuality
    whole: bool
    px_per_mm: float
    tilt_deg: float
    tilt_error: float
    tilt_known: bool
    stocks: tuple[str | None, ...]
    code_text: str | None
    mirrored: bool = False
    on_screen: bool = False
    expected_stock: str | None = None

    def stock(self, read: str | None) -> str | None:
        """Return the number that was read, None if several cards leave open which tool is meant."""
        told = {number for number in self.stocks if number}
        return read if len(told) == 1 or read == self.expected_stock else None


def scale_warnings(seen: CardFindings) -> tuple[str, ...]:
    """Say what makes the scale less sure; nothing if all is well."""
    trust = seen.trust
    off_flat = max(trust.bow_mm, trust.residual_mm)
    missing = 4 - len(trust.markers)
    word = "marker is" if missing == 1 else "markers are"
    said = (
        (not seen.whole, "The picture’s edge cuts the card off: the scale is less sure."),
        (
            missing > 0,
            f"{missing} of the card’s 4 {word} hidden or in the dark: the scale is less sure.",
        ),
        (
            trust.edge_mm > _UNSHARP_MM,
            f"The card is out of focus: its edges are {trust.edge_mm:.1f} mm wide.",
        ),
        (
            trust.bow_mm > _BOWED_MM or trust.residual_mm > _BENT_MM,
            f"The card is bent or creased: it is {off_flat:.2f} mm off a flat one.",
        ),
        (
            seen.tilt_deg > _STEEP_DEG,
            f"The camera looks at the card from {seen.tilt_deg:.0f} degrees: lengths are rough.",
        ),
        (
            seen.px_per_mm < _SMALL_PX_PER_MM,
            f"The card is too small in the picture: {seen.px_per_mm:.1f} pixels a millimeter.",
        ),
        (
            trust.scale_error > _ROUGH_SHARE,
            f"The scale may be off by {trust.scale_error * 100:.1f}%.",
        ),
        (
            seen.on_screen,
            "This may be a card shown on a screen: its size cannot be trusted.",
        ),
        (seen.mirrored, "The picture is mirrored: left and right are changed over."),
    )
    return tuple(words for holds, words in said if holds)


def filing_warnings(seen: CardFindings) -> tuple[str, ...]:
    """Say what makes the tool's number, or the tilt, less sure; nothing if all is well."""
    told = tuple(dict.fromkeys(number for number in seen.stocks if number))
    listed = " and ".join(told) or "no number can be read"
    several = len(seen.stocks) > 1
    another = bool(told) and seen.expected_stock not in {None, *told}
    said = (
        (not several and not told, _of_code(seen.code_text)),
        (several, f"{len(seen.stocks)} cards are in the picture: {listed}."),
        (another, f"The card is another tool’s: {listed}, not {seen.expected_stock}."),
        (
            not seen.tilt_known,
            "The camera did not note its focal length: the tilt is an estimate.",
        ),
        (
            seen.tilt_error > _ROUGH_TILT_DEG,
            f"The tilt may be off by {seen.tilt_error:.0f} degrees or more.",
        ),
    )
    return tuple(words for holds, words in said if holds)


def _of_code(text: str | None) -> str:
    if text is None:
        return "The card’s QR code cannot be read: say which tool it is."
    return f"The QR code on the card says something else: {text[:_LONGEST_QUOTE]}"

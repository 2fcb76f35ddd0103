"""Warnings about a scale card's reading, in words for a person."""

from __future__ import annotations

from dataclasses import dataclass

from planebench.photo.card_fit_quality import CardFitQuality

# Measured: flat cards look bowed by up to 0.06 mm in noise, in the dark or in poor JPEG; a card
# whose center is raised by 0.3 mm looks bowed by at least 0.27 mm.
_BOWED_MM = 0.15
# For creases, and where a marker is hidden. The edges of flat cards stay within 0.055 mm; with the
# center of a card raised by 1 mm they are off by 0.07 mm.
_BENT_MM = 0.06
# Edge width. Not far beyond this the QR code cannot be read either.
_BLURRED_MM = 1.5
# Foreshortening is 1.6 there, and a raised part hides what lies behind it.
_STEEP_DEG = 50.0
# A cell of a marker (2.5 mm) is then under six pixels wide.
_SMALL_PX_PER_MM = 2.4
# Standard error of the scale: ten times that of a good photograph, 0.4 mm on an 8 in sole.
_SCALE_ERROR = 0.002
# A tilt off by a degree changes lengths along it by 2% at 50 degrees.
_TILT_ERROR_DEG = 1.0
# Characters of a foreign QR code that are quoted: one line on the screen.
_MAX_QUOTE = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class CardFindings:
    """What was found in a picture.

    `stocks` holds the number on each card, None where it is not readable. `whole` is whether all
    four corners of the card are in the picture. `code_text` is the text of the QR code of the card
    that was read, None if it cannot be read.
    """

    quality: CardFitQuality
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
        numbers = {number for number in self.stocks if number}
        return read if len(numbers) == 1 or read == self.expected_stock else None


def scale_warnings(findings: CardFindings) -> tuple[str, ...]:
    """Return what makes the scale less certain; nothing if all is well."""
    quality = findings.quality
    off_flat = max(quality.bow_mm, quality.residual_mm)
    missing = 4 - len(quality.markers)
    word = "marker is" if missing == 1 else "markers are"
    warnings = (
        (
            not findings.whole,
            "The card is cut off by the edge of the picture, so the scale is less certain.",
        ),
        (
            missing > 0,
            f"{missing} of the card’s 4 {word} hidden or too dark, so the scale is less certain.",
        ),
        (
            quality.edge_mm > _BLURRED_MM,
            f"The card is out of focus: its edges are {quality.edge_mm:.1f} mm wide.",
        ),
        (
            quality.bow_mm > _BOWED_MM or quality.residual_mm > _BENT_MM,
            f"The card is bent or creased: it is {off_flat:.2f} mm out of flat.",
        ),
        (
            findings.tilt_deg > _STEEP_DEG,
            f"The camera is tilted {findings.tilt_deg:.0f}° to the card, so lengths are rough.",
        ),
        (
            findings.px_per_mm < _SMALL_PX_PER_MM,
            f"The card is too small in the picture: {findings.px_per_mm:.1f} pixels per mm.",
        ),
        (
            quality.scale_error > _SCALE_ERROR,
            f"The scale may be off by {quality.scale_error * 100:.1f}%.",
        ),
        (
            findings.on_screen,
            "This may be a card shown on a screen, so its size cannot be trusted.",
        ),
        (findings.mirrored, "The picture is mirrored: left and right are swapped."),
    )
    return tuple(words for applies, words in warnings if applies)


def filing_warnings(findings: CardFindings) -> tuple[str, ...]:
    """Return what makes the stock number or the tilt less certain; nothing if all is well."""
    numbers = tuple(dict.fromkeys(number for number in findings.stocks if number))
    listed = " and ".join(numbers) or "no readable number"
    several = len(findings.stocks) > 1
    another = bool(numbers) and findings.expected_stock not in {None, *numbers}
    warnings = (
        (not several and not numbers, _about_code(findings.code_text)),
        (several, f"{len(findings.stocks)} cards are in the picture: {listed}."),
        (another, f"The card belongs to another tool: {listed}, not {findings.expected_stock}."),
        (
            not findings.tilt_known,
            "The camera did not record its focal length, so the tilt is an estimate.",
        ),
        (
            findings.tilt_error > _TILT_ERROR_DEG,
            f"The tilt may be off by {findings.tilt_error:.0f}° or more.",
        ),
    )
    return tuple(words for applies, words in warnings if applies)


def _about_code(text: str | None) -> str:
    if text is None:
        return "The card’s QR code cannot be read. Choose the tool yourself."
    return f"The QR code on the card says something else: {text[:_MAX_QUOTE]}"

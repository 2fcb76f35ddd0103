"""What the Help menu shows as messages: the first steps, and about the program."""

from __future__ import annotations

from importlib.metadata import PackageNotFoundError, version

from planebench.window.notices import Notice, Tone

_FIRST_STEPS = (
    "1. Catalog menu: start a new catalog. 2. Add a purchase, then its planes, one line each. "
    "3. Print scale cards, lay each plane beside its card, photograph it, and drop the photographs "
    "here: they file themselves. 4. Open a tool, fill in its record from top to bottom, and print "
    "its condition sheet. F1 lists the keys of each screen; everything can be undone."
)


def first_steps() -> Notice:
    """Return the way from nothing to the first condition sheet."""
    return Notice(
        tone=Tone.ADVICE, happened="From planes to the first condition sheet", remedy=_FIRST_STEPS
    )


def about() -> Notice:
    """Return the name, version and license of the program."""
    try:
        number = version("planebench")
    except PackageNotFoundError:
        number = "from a working copy"
    return Notice(
        tone=Tone.ADVICE,
        happened=f"Planebench {number}",
        remedy="A catalog for people who restore and sell antique hand planes. MIT license.",
    )

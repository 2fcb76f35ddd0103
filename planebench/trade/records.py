"""What the rules read of a record: any value with these fields will do, whoever keeps it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Protocol, TypeVar

from planebench.trade.terms import Basis, PartStatus


class RecordedEvidence(Protocol):
    """A piece of evidence of date; years inclusive, None where open."""

    @property
    def id(self) -> str:
        """Its own id."""

    @property
    def part(self) -> str | None:
        """The id of the part it is on; None for the whole tool."""

    @property
    def kind(self) -> str:
        """What kind of evidence it is: years, patent_us, clue and so on."""

    @property
    def seen(self) -> str:
        """What was seen, in words."""

    @property
    def mark(self) -> Mapping[str, object]:
        """The mark as it was typed, by field."""

    @property
    def years(self) -> str:
        """How its years read."""

    @property
    def not_before(self) -> int | None:
        """The first year it allows."""

    @property
    def not_after(self) -> int | None:
        """The last year it allows."""

    @property
    def sure(self) -> Decimal:
        """The chance, 0 to 1, that it is genuine and rightly read."""

    @property
    def looseness(self) -> int:
        """Years outside its own in which it may still stand."""

    @property
    def basis(self) -> Basis:
        """How it is known."""

    @property
    def source(self) -> str:
        """Where its years come from."""

    @property
    def source_status(self) -> str:
        """Whether the source was found or is from memory."""

    @property
    def counted(self) -> bool:
        """Whether it takes part in the dating."""


class RecordedPart(Protocol):
    """A part of a tool."""

    @property
    def id(self) -> str:
        """Its own id."""

    @property
    def code(self) -> str:
        """Its code in the kind of plane, "own" for a part that a person added."""

    @property
    def status(self) -> PartStatus:
        """What is known of it."""


_AnyPart_co = TypeVar("_AnyPart_co", bound=RecordedPart, covariant=True)


class DatedRecord(Protocol[_AnyPart_co]):
    """The part of a tool's record that dating reads."""

    @property
    def parts(self) -> Sequence[_AnyPart_co]:
        """Its parts."""

    @property
    def evidence(self) -> Sequence[RecordedEvidence]:
        """Its evidence, the latest last."""

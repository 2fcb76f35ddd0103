"""The errors that people see: what happened, to which file or field, and what to do.

Their tree:

    PlanebenchError
    ├── InputError          a field holds something that makes no sense
    ├── FileError           a file cannot be read, or is not what its name says
    ├── CatalogError        a catalog cannot be opened or changed
    │   ├── CatalogBusyError    another program or computer has it open
    │   ├── CatalogNewerError   it was written by a newer version of the program
    │   └── EditClashError      someone else changed the same record meanwhile
    ├── SheetError          a sheet cannot be composed
    └── MeasureError        a photograph cannot be measured as asked
"""

from __future__ import annotations

from dataclasses import dataclass

from typing_extensions import override


@dataclass(frozen=True, slots=True, kw_only=True)
class ClashValues:
    """What two people entered in one field: `theirs` is stored, `yours` was not saved.

    All are empty where the whole record is concerned.
    """

    field: str = ""
    theirs: object = None
    yours: object = None


class PlanebenchError(Exception):
    """The base of all errors that are shown to a person; the program itself works as it should.

    `happened` is one sentence that says what happened, `subject` is the file or field it happened
    to, `remedy` says what the person can do.
    """

    def __init__(self, happened: str, *, remedy: str, subject: str = "") -> None:
        super().__init__(happened)
        self.happened = happened
        self.remedy = remedy
        self.subject = subject

    @override
    def __str__(self) -> str:
        return f"{self.happened} {self.remedy}"


class InputError(PlanebenchError):
    """A field holds something that makes no sense; `subject` names the field."""


class FileError(PlanebenchError):
    """A file cannot be read or written, or is not what its name says; `subject` is its path."""


class CatalogError(PlanebenchError):
    """A catalog cannot be opened or changed."""


class CatalogBusyError(CatalogError):
    """Another program or computer has the catalog open."""


class CatalogNewerError(CatalogError):
    """The catalog was written by a newer version of the program."""


class EditClashError(CatalogError):
    """Someone else changed the same record after it was read.

    `values` holds what both entered. Saving the same again is taken as the choice for yours.
    """

    def __init__(
        self, happened: str, *, remedy: str, subject: str = "", values: ClashValues | None = None
    ) -> None:
        super().__init__(happened, remedy=remedy, subject=subject)
        self.values = values or ClashValues()


class SheetError(PlanebenchError):
    """A condition sheet cannot be composed or written."""


class MeasureError(PlanebenchError):
    """A photograph cannot be measured as asked; `happened` says why."""

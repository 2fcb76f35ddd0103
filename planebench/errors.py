"""What went wrong, with which file or field, and what a person can do about it.

Their tree:

    PlanebenchError
    ├── InputError          a field holds something that cannot be meant
    ├── FileError           a file cannot be read, or is not what its name says
    ├── CatalogError        a catalog cannot be opened, or a verb cannot be carried out
    │   ├── CatalogBusyError    another program or machine holds it
    │   ├── CatalogNewerError   it was written by a newer program
    │   └── EditClashError      someone else changed the same record meanwhile
    ├── SheetError          a sheet cannot be composed
    └── MeasureError        a photograph does not allow the reading asked for
"""

from __future__ import annotations

from typing_extensions import override


class PlanebenchError(Exception):
    """Something in the world, not in the program, is not as needed.

    `happened` is one sentence naming what happened and that nothing was lost, `subject` the file
    or field it happened to, `remedy` what the person can do.
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
    """A field holds something that cannot be meant; `subject` names the field."""


class FileError(PlanebenchError):
    """A file cannot be read or written, or is not what its name says; `subject` is its path."""


class CatalogError(PlanebenchError):
    """A catalog cannot be opened, or a verb cannot be carried out on it."""


class CatalogBusyError(CatalogError):
    """Another program or another machine holds the catalog."""


class CatalogNewerError(CatalogError):
    """The catalog was written by a newer program than this one."""


class EditClashError(CatalogError):
    """Someone else changed the same record after it was read."""


class SheetError(PlanebenchError):
    """A condition sheet cannot be composed or written."""


class MeasureError(PlanebenchError):
    """A photograph does not allow the reading asked for; `happened` says why."""

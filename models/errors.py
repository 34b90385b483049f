"""Every error of the project, sorted by whose move is next.

OperatorError: the person can mend it now (a wrong scan, a tap that does not fit).
DataError: something read from outside is wrong (a job file, a roster, a drawing).
StorageError: the database cannot do what was asked.
CalculationError: a computation has no answer; it never returns a plausible number instead.
"""

from dataclasses import dataclass


class FloorError(Exception):
    """Base of all errors that are told to a person in one line."""


class OperatorError(FloorError):
    """What was tapped, scanned or typed does not fit; the person can choose again."""


class DataError(FloorError):
    """Something read from outside is wrong and was refused whole."""


class StorageError(FloorError):
    """The database could not be opened, read or written; nothing was half-stored."""


class CalculationError(FloorError):
    """A computation has no answer for what it was given."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a file: which file, where in it, what is wrong, how to mend it."""

    file: str
    place: str
    wrong: str
    mend: str

    def __str__(self) -> str:
        return f"{self.file}: {self.place}: {self.wrong}; {self.mend}"


class JobRefusedError(DataError):
    """A job file, its roster or a drawing has faults; all of them are listed, and nothing was stored."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = faults


class NoSoundSequenceError(CalculationError):
    """A sound job without a plan: which pieces clash, and what would free them."""


class NoSequenceExistsError(NoSoundSequenceError):
    """It is proved that no sequence of hits, however long, keeps the rules."""


class NoSequenceFoundError(NoSoundSequenceError):
    """The search found none in its time; it is not proved that there is none."""


class NoExtraHitError(CalculationError):
    """No extra hits that keep the rules were found; the text says which limit is in the way.

    Of more pieces than a handful not every way is tried, and the text then says that none was found.
    """


class IllegalEventError(OperatorError):
    """An event that the garment's state does not allow; the garment stays as it was."""


class PressInUseError(OperatorError):
    """Another garment is under the press; `code` is that one's. Nothing was stored."""

    def __init__(self, told: str, code: str) -> None:
        super().__init__(told)
        self.code = code


class NoReasonError(OperatorError):
    """A hold or a spoiling without a word why; nothing was stored."""


class UntoldFindingError(OperatorError):
    """A finding of which nobody has said what it is, or on which pieces; nothing was stored."""


class ImpossibleSecondsError(OperatorError):
    """No seconds under the press were told, or more than have passed; nothing was stored."""

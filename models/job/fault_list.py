"""Faults are gathered while a job is read, so that the person sees all of them at once."""

from models.errors import DataError, Fault, JobRefusedError


class UnreadableError(DataError):
    """A file, or a part of one, that cannot be read any further: what is wrong, and how to mend it."""

    def __init__(self, wrong: str, mend: str, place: str = "") -> None:
        super().__init__(f"{wrong}; {mend}")
        self.wrong = wrong
        self.mend = mend
        self.place = place


LONGEST = 300


class FaultList:
    """The faults of one file and of those it names, in the order in which they were found."""

    def __init__(self, file: str) -> None:
        self.file = file
        self._faults: list[Fault] = []
        self._remarks: list[str] = []

    def note(self, place: str, wrong: str, mend: str) -> None:
        self._faults.append(Fault(*(_plain(text) for text in (self.file, place, wrong, mend))))

    def remark(self, place: str, text: str) -> None:
        """What a person should know, though nothing is refused for it."""
        self._remarks.append(_plain(f"{self.file}: {place}: {text}"))

    @property
    def remarks(self) -> tuple[str, ...]:
        return tuple(self._remarks)

    def take(self, other: "FaultList") -> None:
        """The faults and remarks of a file that this one names."""
        self._faults.extend(other._faults)
        self._remarks.extend(other._remarks)

    def refuse_if_any(self) -> None:
        """Raises JobRefusedError with every fault noted so far."""
        if self._faults:
            raise self.refusal()

    def refusal(self) -> JobRefusedError:
        return JobRefusedError(tuple(self._faults))


def _plain(text: str) -> str:
    """One line of bearable length: faults quote what a file says, which may be anything."""
    line = "".join(sign if sign.isprintable() else " " for sign in text)
    return line if len(line) <= LONGEST else f"{line[:LONGEST]}…"

"""What rotation plans on: presses, people, and garments with the visits that they still have to make.

A visit is one hit as the floor works it. A person lays the pieces on the press and closes it; the hit runs
while the person is free for others; a person opens it, peels what comes off hot and takes the garment off
the press. It rests. Then a person finishes it: the warm or cold peel and the check.
All times are seconds from now.
"""

from dataclasses import dataclass
from functools import cached_property


@dataclass(frozen=True, slots=True)
class Setting:
    """What has to be set before a visit can begin: which press, and how hot."""

    press: str
    temperature_c: float


@dataclass(frozen=True, slots=True)
class Visit:
    """`lay_s`, `off_s` and `finish_s` need a person; the press is taken from laying to taking off."""

    setting: Setting
    lay_s: float
    dwell_s: float
    off_s: float
    rest_s: float = 0.0
    finish_s: float = 0.0

    @property
    def on_press_s(self) -> float:
        return self.lay_s + self.dwell_s + self.off_s

    @property
    def whole_s(self) -> float:
        """From laying to the end of the check, with nobody in the way."""
        return self.on_press_s + self.rest_s + self.finish_s


@dataclass(frozen=True)
class Garment:
    """A garment with all that is ahead of it, which cannot go on before `ready_s`.

    Where it `is_off`, the first visit's hit is over: only its finish is ahead, from `ready_s` on. The visits
    in `repeats` are to be made twice, which shows at their check and is not reckoned with before. What
    `is_in_hand` is being laid: it goes to its press before others. Of the others, a smaller `rank` goes
    before a greater one.
    """

    code: str
    visits: tuple[Visit, ...]
    ready_s: float = 0.0
    is_off: bool = False
    done: int = 0  # visits behind it
    repeats: frozenset[int] = frozenset()
    batch: str = ""
    is_in_hand: bool = False
    rank: int = 0

    @cached_property
    def tails_s(self) -> tuple[float, ...]:
        """For each visit, the seconds from its beginning to the garment's end with nobody in the way."""
        tails = [0.0]
        for visit in reversed(self.visits):
            tails.append(tails[-1] + visit.whole_s)
        return tuple(reversed(tails))[:-1]

    @cached_property
    def first_visits(self) -> tuple[tuple[int, ...], ...]:
        """For each visit, and for the end, those from it on that are the next to their press."""
        following, by_visit = dict[str, int](), [tuple[int, ...]()]
        for n, visit in reversed(list(enumerate(self.visits))):
            following[visit.setting.press] = n
            by_visit.append(tuple(following.values()))
        return tuple(reversed(by_visit))

    @property
    def alone_s(self) -> float:
        """When it could be done at the earliest, were it the only one."""
        if not self.visits:
            return self.ready_s
        first = self.visits[0]
        behind_s = first.on_press_s + first.rest_s if self.is_off else 0.0
        return self.ready_s + self.tails_s[0] - behind_s


@dataclass(frozen=True, slots=True)
class Press:
    """A press that is free from `free_s` on; `temperature_c` None where nobody knows what it is set to."""

    name: str
    heating_s_per_degree: float = 0.0
    cooling_s_per_degree: float = 0.0
    temperature_c: float | None = None
    free_s: float = 0.0

    def change_s(self, before_c: float | None, after_c: float) -> float:
        """Seconds until the press is at `after_c`; none where what it is at is not known."""
        if before_c is None or before_c == after_c:
            return 0.0
        up = after_c > before_c
        per_degree = self.heating_s_per_degree if up else self.cooling_s_per_degree
        return abs(after_c - before_c) * per_degree


@dataclass(frozen=True, slots=True)
class Span:
    """From when to when a person is taken."""

    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class Shop:
    """`taken` are the spans for which people are bound already, by hits that run now."""

    presses: tuple[Press, ...]
    garments: tuple[Garment, ...]
    people: int = 1
    taken: tuple[Span, ...] = ()

    def press(self, name: str) -> Press:
        return next(press for press in self.presses if press.name == name)

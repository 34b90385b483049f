"""What calls the operator: a hit that is over, a garment that can be peeled. Each calls until somebody comes.

The calls of a press that is to be opened come closer and grow louder: what lies in it is getting too much. A
garment that waits to be peeled calls gently, at one distance. All distances are monotonic time.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from floorapp.running_hits import RunningHits
from floorapp.views import Cue
from models.clock import Clock
from models.garment.countdown import NS_PER_S
from models.garment.cycle import State
from models.store.records import GarmentRow


@dataclass(frozen=True, slots=True)
class Rhythm:
    """Seconds from each call to the next, the last of them again and again, and how loud each call is."""

    gaps_s: tuple[int, ...]
    loudness: tuple[float, ...]

    def gap_ns(self, calls: int) -> int:
        """Nanoseconds from the last of so many calls to the next."""
        return self.gaps_s[min(calls, len(self.gaps_s)) - 1] * NS_PER_S

    def loudness_of(self, calls: int) -> float:
        """From 0 to 1, of the last of so many calls."""
        return self.loudness[min(max(1, calls), len(self.loudness)) - 1]


RHYTHMS = {
    Cue.HIT_OVER: Rhythm((8, 4, 2), (0.7, 0.8, 0.9, 1.0)),
    Cue.PEEL_NOW: Rhythm((30,), (0.8,)),
    Cue.REST_OVER: Rhythm((30,), (0.6,)),
}
"""Our own choice. A press can be a few metres off: 8 s are a hand on its way to it."""


class Ringing:
    """One cue for all that it calls for now: a new one calls at once, and all of them call again together."""

    def __init__(self, rhythm: Rhythm) -> None:
        self._rhythm = rhythm
        self._due: frozenset[str] = frozenset()
        self._calls = 0
        self._next_ns = 0

    @property
    def loudness(self) -> float:
        return self._rhythm.loudness_of(self._calls)

    def look(self, due: frozenset[str], now_ns: int) -> tuple[int, bool]:
        """Return how many calls are to be made now, and whether any is for something new."""
        new, self._due = due - self._due, due
        if not due:
            self._calls = 0
        elif new or now_ns >= self._next_ns:
            self._calls += 1
            self._next_ns = now_ns + self._rhythm.gap_ns(self._calls)
            return max(1, len(new)), bool(new)
        return 0, False


class Signals:
    """Gathers cues until they are taken."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._ringing = {cue: Ringing(rhythm) for cue, rhythm in RHYTHMS.items()}
        self.cues: list[Cue] = []

    def add(self, cue: Cue) -> None:
        """Call once for what somebody has just done."""
        self.cues.append(cue)

    def look(
        self, running: RunningHits, pressing: Iterable[GarmentRow], waiting: Iterable[GarmentRow]
    ) -> bool:
        """Add the cues that are to be called now, and return whether anything has become due.

        `pressing` are the garments under a press that nobody is seeing to, `waiting` those off it until they
        can be peeled.
        """
        due: dict[Cue, set[str]] = {cue: set() for cue in self._ringing}
        for what, cue in (*self._over(running, pressing), *self._peelable(waiting)):
            due[cue].add(what)
        is_new = False
        for cue, ringing in self._ringing.items():
            calls, has_new = ringing.look(frozenset(due[cue]), self._clock.monotonic_ns())
            self.cues += [cue] * calls
            is_new = is_new or has_new
        return is_new

    def loudness(self, cue: Cue) -> float:
        """Return how loud the cue is now, from 0 to 1."""
        return self._ringing[cue].loudness

    def take(self) -> list[Cue]:
        """The cues since the last call, each given once."""
        cues, self.cues = self.cues, []
        return cues

    def _over(self, running: RunningHits, pressing: Iterable[GarmentRow]) -> Iterator[tuple[str, Cue]]:
        for row in pressing:
            countdown = running.countdown_of(row)
            if countdown is not None and countdown.is_over(self._clock):
                yield f"{row.code} pressed {countdown.started_ns}", Cue.HIT_OVER

    def _peelable(self, waiting: Iterable[GarmentRow]) -> Iterator[tuple[str, Cue]]:
        for row in waiting:
            if row.rest_ends_at is not None and row.rest_ends_at <= self._clock.utc_now():
                cue = Cue.REST_OVER if row.state == State.RESTING else Cue.PEEL_NOW
                yield f"{row.code} waited {row.rest_ends_at}", cue

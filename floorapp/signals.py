"""What calls the operator: a hit that is over, a rest that is over, each told once."""

from collections.abc import Iterable, Iterator

from floorapp.running_hits import RunningHits
from floorapp.views import Cue
from models.clock import Clock
from models.store.records import GarmentRow


class Signals:
    """Gathers cues until they are taken."""

    def __init__(self, clock: Clock) -> None:
        self._clock = clock
        self._told: set[str] = set()
        self.cues: list[Cue] = []

    def look(
        self, running: RunningHits, pressing: Iterable[GarmentRow], resting: Iterable[GarmentRow]
    ) -> bool:
        """Adds the cues of what has become due since the last look, and answers whether any has."""
        due = (*self._over(running, pressing), *self._rested(resting))
        new = [(what, cue) for what, cue in due if what not in self._told]
        self._told.update(what for what, _ in new)
        self.cues += [cue for _, cue in new]
        return bool(new)

    def take(self) -> list[Cue]:
        """The cues since the last call, each given once."""
        cues, self.cues = self.cues, []
        return cues

    def _over(self, running: RunningHits, pressing: Iterable[GarmentRow]) -> Iterator[tuple[str, Cue]]:
        for row in pressing:
            countdown = running.countdown_of(row)
            if countdown is not None and countdown.is_over(self._clock):
                yield f"{row.code} pressed {countdown.started_ns}", Cue.HIT_OVER

    def _rested(self, resting: Iterable[GarmentRow]) -> Iterator[tuple[str, Cue]]:
        for row in resting:
            if row.rest_ends_at is not None and row.rest_ends_at <= self._clock.utc_now():
                yield f"{row.code} rested {row.rest_ends_at}", Cue.REST_OVER

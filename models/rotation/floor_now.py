"""The floor as it is now, in the terms that rotation plans on."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from types import MappingProxyType

from models.garment.cycle import ENDED, State
from models.garment.events import Closed, Event, Opened, TakenUp
from models.garment.progress import Progress, Recipe
from models.job.job import Peel
from models.plan.plan import Hit
from models.rotation.problem.shop import Garment, Press, Shop, Span, Visit
from models.rotation.times.expected import Waits, expected_visit

IN_HAND_S = 600.0
"""What a station took up so long ago is not in its hands any more: our own choice."""
BEGINS_S = 1.0
"""What is overdue is expected to be seen to so soon."""

WaitsOf = Callable[[Recipe, Hit], Waits]
"""What the carriers of a hit wait for."""


@dataclass(frozen=True, slots=True)
class OnFloor:
    """One garment with its log, as the store gives it. Its last closing was first read in `reading`."""

    code: str
    batch: str
    progress: Progress
    log: tuple[Event, ...]
    reading: int = 0

    @property
    def last_closing(self) -> Event | None:
        return next((event for event in reversed(self.log) if isinstance(event.what, Closed)), None)


@dataclass(frozen=True, slots=True)
class Closing:
    """A press came down, at this temperature. `order` sorts closings: later ones are greater.

    What was read later happened later, whatever two stations' clocks say. Within a reading times decide.
    """

    order: tuple[int, datetime]
    temperature_c: float


@dataclass(frozen=True, slots=True)
class SetAnew:
    """A press that was told after a reading to be set to another temperature, and when it will be so hot."""

    reading: int
    temperature_c: float
    ready_at: datetime


NOT_SET_ANEW: Mapping[str, SetAnew] = MappingProxyType({})
NO_RANKS: Mapping[str, int] = MappingProxyType({})


class FloorNow:
    """Makes the shop of one station at an instant.

    `set_anew` are presses by name, not closed since. `ranks` are of batches, 0 where none is given.
    """

    def __init__(
        self,
        now: datetime,
        station: str,
        waits_of: WaitsOf,
        set_anew: Mapping[str, SetAnew] = NOT_SET_ANEW,
        ranks: Mapping[str, int] = NO_RANKS,
    ) -> None:
        self.now, self.station, self.waits_of = now, station, waits_of
        self.set_anew, self.ranks = set_anew, ranks
        self._visits: dict[int, tuple[Hit, Visit]] = {}

    def shop(self, floor: Sequence[OnFloor]) -> Shop:
        """All garments that can go on; what other stations have in hand comes once they are through."""
        ahead = [g for g in floor if g.progress.state not in {*ENDED, State.HELD}]
        spans = [span for garment in ahead for span in self._hands_on(garment)]
        return Shop(
            presses=tuple(self._presses(floor)),
            garments=tuple(map(self._garment, ahead)),
            people=1 + len(self._other_stations(floor)),
            taken=tuple(spans),
        )

    # Garments

    def _garment(self, garment: OnFloor) -> Garment:
        progress = garment.progress
        steps = progress.steps[progress.position :]
        visits = tuple(self._visit(progress.recipe, step.hit) for step in steps)
        ready_s, is_off = self._ready(garment, visits[0])
        if progress.state == State.CHECKING:
            visits = (replace(visits[0], rest_s=0.0), *visits[1:])
        is_in_hand = self._is_taken_up(garment) and not is_off
        return Garment(
            garment.code,
            visits,
            ready_s,
            is_off,
            progress.position,
            batch=garment.batch,
            is_in_hand=is_in_hand,
            rank=self.ranks.get(garment.batch, 0),
        )

    def _ready(self, garment: OnFloor, visit: Visit) -> tuple[float, bool]:
        """When the garment can go on, and whether the hit in hand is over then."""
        progress, is_others = garment.progress, self._is_others(garment)
        match progress.state:
            case State.PRESSING:
                return self._off_s(garment, visit) + visit.rest_s, True
            case State.RESTING | State.PEELING if progress.ready_at is not None:
                return max(0.0, self._in_s(progress.ready_at)), True
            case State.PEELING if progress.next_peel != Peel.NONE and not progress.rested:
                return max(0.0, self._off_s(garment, visit) + visit.rest_s), True
            case State.PEELING | State.CHECKING | State.RESTING:
                return (visit.finish_s if is_others else 0.0), True
            case State.LAYING if is_others:
                return visit.on_press_s + visit.rest_s, True
            case _:
                return 0.0, False

    def _visit(self, recipe: Recipe, hit: Hit) -> Visit:
        """Made once for each hit: garments of one size share theirs."""
        known = self._visits.get(id(hit))
        if known is None:
            visit = expected_visit(recipe.job, hit, self.waits_of(recipe, hit))
            known = self._visits[id(hit)] = (hit, visit)
        return known[1]

    # Hands

    def _other_stations(self, floor: Iterable[OnFloor]) -> set[str]:
        """Where somebody else has tapped of late: each stands for a person more."""
        lately = {g.log[-1].station for g in floor if g.log and self._is_of_late(g)}
        return lately - {self.station}

    def _is_of_late(self, garment: OnFloor) -> bool:
        return self._in_s(garment.log[-1].at) >= -IN_HAND_S

    def _is_taken_up(self, garment: OnFloor) -> bool:
        """Whether somebody lays it: nothing was done with it since it was taken up, not long ago."""
        if garment.progress.state != State.LAYING or not garment.log:
            return False
        return isinstance(garment.log[-1].what, TakenUp) and self._is_of_late(garment)

    def _is_others(self, garment: OnFloor) -> bool:
        """Whether another station has it in hand: presses, peels or checks it, or has just taken it up."""
        progress = garment.progress
        if progress.station == self.station or not garment.log or not self._is_of_late(garment):
            return False
        at_work = {State.PRESSING, State.PEELING, State.CHECKING}
        return self._is_taken_up(garment) or progress.state in at_work

    def _hands_on(self, garment: OnFloor) -> Iterator[Span]:
        """For which time from now on a person is bound by the garment."""
        progress = garment.progress
        visit = self._visit(progress.recipe, progress.hit)
        off_s = self._off_s(garment, visit)
        if progress.state == State.PRESSING or self._is_peeled_hot(progress):
            yield Span(max(0.0, off_s - visit.off_s), off_s)
        elif self._is_others(garment):
            yield Span(0.0, visit.lay_s if progress.state == State.LAYING else visit.finish_s)

    def _off_s(self, garment: OnFloor, visit: Visit) -> float:
        """When it is off the press, for whose hit the press came down; before now where it is off already."""
        progress = garment.progress
        if progress.state == State.PRESSING:
            return self._opens_s(progress) + visit.off_s
        opened = next((event.at for event in reversed(garment.log) if isinstance(event.what, Opened)), None)
        off_s = visit.off_s + (self._in_s(opened) if opened is not None else 0.0)
        return max(BEGINS_S, off_s) if self._is_peeled_hot(progress) else off_s

    def _is_peeled_hot(self, progress: Progress) -> bool:
        return progress.state == State.PEELING and progress.next_peel == Peel.HOT

    def _opens_s(self, progress: Progress) -> float:
        if progress.closed_at is None:
            return BEGINS_S
        return max(BEGINS_S, self._in_s(progress.closed_at + timedelta(seconds=progress.hit.dwell_s)))

    # Presses

    def _presses(self, floor: Sequence[OnFloor]) -> Iterator[Press]:
        """Each press as the jobs describe it, at the temperature that it was last closed at or set to."""
        made = {p.name: p for garment in floor for p in garment.progress.recipe.job.presses}
        closings = last_closings(floor)
        for press in made.values():
            closed = closings.get(press.name)
            temperature_c, free_s = closed.temperature_c if closed else None, self._free_s(floor, press.name)
            anew = self.set_anew.get(press.name)
            if anew is not None:
                temperature_c, free_s = anew.temperature_c, max(free_s, self._in_s(anew.ready_at))
            per_degree = press.heating_s_per_degree, press.cooling_s_per_degree
            yield Press(press.name, *per_degree, temperature_c, free_s)

    def _free_s(self, floor: Sequence[OnFloor], press: str) -> float:
        """When what lies on it is off, or what is being laid at another station."""
        here = (garment for garment in floor if garment.progress.hit.press == press)
        return max([0.0, *(self._leaves_s(garment) for garment in here)])

    def _leaves_s(self, garment: OnFloor) -> float:
        """A garment that was left open on the press and forgotten does not keep it for ever."""
        progress = garment.progress
        visit = self._visit(progress.recipe, progress.hit)
        is_open = progress.state == State.PEELING and not progress.rested and self._is_of_late(garment)
        if progress.state == State.PRESSING or is_open:
            return self._off_s(garment, visit)
        is_laid = self._is_others(garment) and progress.state == State.LAYING
        return visit.on_press_s if is_laid else 0.0

    def _in_s(self, at: datetime) -> float:
        return (at - self.now).total_seconds()


def last_closings(floor: Iterable[OnFloor]) -> dict[str, Closing]:
    """For each press by name, how hot it was closed last, by the last closing of each garment."""
    closings: dict[str, Closing] = {}
    for garment in floor:
        closed, hit = garment.last_closing, _hit_closed_last(garment.progress)
        if closed is None or hit is None:
            continue
        order = (garment.reading, closed.at)
        if hit.press not in closings or closings[hit.press].order < order:
            closings[hit.press] = Closing(order, hit.temperature_c)
    return closings


def _hit_closed_last(progress: Progress) -> Hit | None:
    """A garment that is laid again has closed the hit before the one in hand."""
    is_before = State.LAYING in {progress.state, progress.before_hold}
    place = progress.position - is_before
    return progress.steps[place].hit if place >= 0 else None

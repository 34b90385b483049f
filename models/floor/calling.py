"""Calls the next garment: the whole floor is read, planned on, and told in the floor's own words."""

import random
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from models.clock import Clock
from models.floor.due_dates import due_words, ranks_of
from models.floor.floor_reading import FloorReader
from models.floor.resting import keys_of, waits_at
from models.garment.progress import Recipe
from models.learning.learned import Belief, RestKey, beliefs_from
from models.plan.plan import Hit
from models.recipe.places import REST_PLACE, Place
from models.rotation.floor_now import FloorNow, OnFloor, SetAnew, WaitsOf, last_closings
from models.rotation.next_step import next_step
from models.rotation.problem.dispatch_rule import Rule
from models.rotation.problem.shop import Garment, Setting, Shop
from models.rotation.reason import reason_of
from models.rotation.rules.compare_policies import Passes, passes
from models.rotation.simulation.simulator import Act, Step
from models.rotation.times.expected import Waits
from models.rotation.times.forecast import Forecast, forecast
from models.rotation.times.hands_seen import Mark, hand_times
from models.rotation.times.pace import Pace, at_pace, pace_of
from models.store.records import GarmentRow
from models.store.store import Store

MOST_MEASURED = 200
"""Hand times are taken from so many garments, those tapped last."""


@dataclass(frozen=True, slots=True)
class Call:
    """The garment to take now, or at `at` where nothing can be done before.

    `presses` are to be set anew, or are being set. `act` is to press it for its hit `hit_label`, or to peel
    and check it.
    """

    row: GarmentRow
    of: int  # garments of its batch
    act: Act
    hit_label: str
    setting: Setting
    at: datetime
    presses: tuple[Setting, ...]
    why: str


@dataclass(frozen=True, slots=True)
class Ends:
    """When a batch will be done, if nobody pauses; eight of ten times between `low` and `high`."""

    low: datetime
    median: datetime
    high: datetime


@dataclass(frozen=True, slots=True)
class Outlook:
    """How the floor goes on: the end of each batch, by its reference, and the way through the settings.

    It rests on `measured` hand times; without any, on what is expected of nobody in particular.
    """

    ends: Mapping[str, Ends]
    passes: Passes
    measured: int


class Caller:
    """Calls one station's next garment.

    A call stands until something has moved. Neither time nor a rule that an outlook has found changes it.
    """

    def __init__(self, store: Store, clock: Clock, station: str, rests: Place = REST_PLACE) -> None:
        self.store, self.clock, self.station, self.rests = store, clock, station, rests
        self._reader = FloorReader(store)
        self._standing: Call | None = None
        self._called_in = 0  # the reading that the standing call was worked out from
        self._rules: tuple[Rule, ...] = ()
        self._set_anew: dict[str, SetAnew] = {}  # by press: told here, and not closed since

    def call(self) -> Call | None:
        """None where nothing of the batches in work, or of one to begin, can go on."""
        self._reader.read()
        if self._standing is None or self._called_in != self._reader.reading:
            self._called_in = self._reader.reading
            self._standing = self._worked_out()
        return self._standing

    def outlook(self) -> Outlook | None:
        """None where no batch is in work. It takes some seconds of work for a large floor."""
        self._reader.read()
        if not self._reader.in_work:
            return None
        shop, pace = self._shop(self._reader.waiting()), self._pace()
        if not shop.garments:
            return None
        compared = passes(at_pace(shop, pace), self._rules)
        self._rules = (compared.best.rule,)
        best, drawn = compared.best, random.Random(len(shop.garments))
        told = forecast(shop, pace, best.rule, drawn, best.course)
        ends = {batch: self._instants(its) for batch, its in told.items()}
        return Outlook(ends, compared, len(pace.lay) + len(pace.off) + len(pace.finish))

    def _instants(self, told: Forecast) -> Ends:
        now = self.clock.utc_now()
        return Ends(*(now + timedelta(seconds=s) for s in (told.low_s, told.median_s, told.high_s)))

    def _worked_out(self) -> Call | None:
        next_up = (known.on_floor for known in self._reader.next_up.values())
        shop = at_pace(self._shop(next_up), self._pace())
        told = next_step(shop, self._rules)
        self._rules = (told.rule,)
        why = reason_of(shop, told, self._set_anew)
        self._set_anew |= dict(self._told_to_set(shop, told.changes))
        return self._told(shop, told.step, why) if told.step is not None else None

    def _told(self, shop: Shop, step: Step, why: str) -> Call:
        garment, reader = shop.garments[step.garment], self._reader
        known = (reader.known | reader.next_up)[garment.code]
        progress = known.on_floor.progress
        label = progress.steps[progress.position + step.visit].label
        at = self.clock.utc_now() + timedelta(seconds=step.start_s)
        presses = tuple(Setting(press, anew.temperature_c) for press, anew in self._set_anew.items())
        due = self._due_words(shop, garment)
        return Call(known.row, known.of, step.act, label, step.setting, at, presses, f"{due}{why}")

    def _due_words(self, shop: Shop, garment: Garment) -> str:
        """Say that its batch has priority, or when it is due, if that puts it before another batch."""
        head = next(head for head in self._reader.heads if head.reference == garment.batch)
        if all(other.rank <= garment.rank for other in shop.garments):
            return ""
        if head.priority > 0:
            return "its batch goes before the others; "
        today = self.clock.utc_now().astimezone().date()
        return f"its batch is {due_words(head.due, today)}; " if head.due is not None else ""

    def _told_to_set(self, shop: Shop, changes: Iterable[Setting]) -> Iterator[tuple[str, SetAnew]]:
        now = self.clock.utc_now()
        for setting in changes:
            press = shop.press(setting.press)
            takes_s = press.change_s(press.temperature_c, setting.temperature_c)
            yield (
                press.name,
                SetAnew(self._reader.reading, setting.temperature_c, now + timedelta(seconds=takes_s)),
            )

    def _shop(self, not_begun: Iterable[OnFloor]) -> Shop:
        floor = [*(known.on_floor for known in self._reader.known.values()), *not_begun]
        closings = last_closings(floor)
        self._set_anew = {
            press: anew
            for press, anew in self._set_anew.items()
            if press not in closings or closings[press].order[0] <= anew.reading
        }
        now, ranks = self.clock.utc_now(), ranks_of(self._reader.heads)
        return FloorNow(now, self.station, self._waits_of(), self._set_anew, ranks).shop(floor)

    def _latest_marks(self) -> Iterator[tuple[Mark, ...]]:
        """Give the taps on the garments tapped last, from a moment on after which no other was tapped."""
        begun = [known for known in self._reader.known.values() if known.on_floor.log]
        begun.sort(key=lambda known: known.on_floor.log[-1].at, reverse=True)
        rest = begun[MOST_MEASURED:]
        since = rest[0].on_floor.log[-1].at if rest else None
        for known in begun[:MOST_MEASURED]:
            yield tuple(mark for mark in known.marks if since is None or mark.at > since)

    def _waits_of(self) -> WaitsOf:
        """The waits as they are known at this moment; what was learned is read once for recipes alike."""
        beliefs: dict[frozenset[RestKey], dict[RestKey, Belief]] = {}

        def waits_of(recipe: Recipe, hit: Hit) -> Waits:
            keys = frozenset(keys_of(recipe, {self.rests}))
            if keys not in beliefs:
                beliefs[keys] = beliefs_from(self.store.rests(keys))
            return waits_at(self.rests, recipe, hit, beliefs[keys])

        return waits_of

    def _pace(self) -> Pace:
        progresses = [known.on_floor.progress for known in self._reader.known.values()]
        times = hand_times(self._latest_marks())
        return pace_of(
            times,
            again=sum(step.extra is not None for progress in progresses for step in progress.steps),
            hits=sum(progress.done_steps for progress in progresses),
        )

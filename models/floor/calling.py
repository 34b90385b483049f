"""Calls the next garment: the whole floor is read, planned on, and told in the floor's own words."""

import random
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from models.clock import Clock
from models.floor.resting import keys_of, waits_at
from models.garment.cycle import ENDED, State
from models.garment.events import Event
from models.garment.progress import Recipe, begin
from models.heat.learned import Belief, RestKey, beliefs_from
from models.heat.places import REST_PLACE, Place
from models.planning.plan import Hit
from models.rotation.course import Act, Step
from models.rotation.expected import Waits
from models.rotation.floor_now import FloorNow, OnFloor, SetAnew, WaitsOf, last_closings
from models.rotation.forecast import Forecast, forecast
from models.rotation.hands_seen import Mark, hand_times, marks_of
from models.rotation.next_step import next_step
from models.rotation.pace import Pace, at_pace, pace_of
from models.rotation.passes import Passes, passes
from models.rotation.reason import reason_of
from models.rotation.rule import Rule
from models.rotation.shop import Setting, Shop
from models.store.errors import DamagedRecordError
from models.store.records import BatchProgress, GarmentRow
from models.store.store import Store

SKEW = timedelta(minutes=5)
"""By how much the clocks of two stations may differ."""
NO_EVENTS: tuple[Event, ...] = ()


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


@dataclass(slots=True)
class _Known:
    """A garment as it was read last; idle ones have no log and cost nothing."""

    row: GarmentRow
    batch_id: UUID
    of: int
    on_floor: OnFloor
    marks: tuple[Mark, ...]


class Caller:
    """Keeps what it has read, so that an event costs no more than the garments that it has moved."""

    def __init__(self, store: Store, clock: Clock, station: str, rests: Place = REST_PLACE) -> None:
        self.store, self.clock, self.station, self.rests = store, clock, station, rests
        self._known: dict[str, _Known] = {}
        self._newest: dict[str, datetime] = {}  # by batch: when a garment of it moved last
        self._rules: tuple[Rule, ...] = ()
        self._set_anew: dict[str, SetAnew] = {}  # by press: told here, and not closed since

    def call(self) -> Call | None:
        """None where no batch is in work, or nothing of it can go on."""
        self._read()
        shop = at_pace(self._shop(), self._pace())
        told = next_step(shop, self._rules)
        self._rules = (told.rule,)
        why = reason_of(shop, told, self._set_anew)
        self._set_anew |= dict(self._told_to_set(shop, told.changes))
        return self._told(shop, told.step, why) if told.step is not None else None

    def outlook(self) -> Outlook | None:
        """None where no batch is in work. It takes some seconds of work for a large floor."""
        self._read()
        shop, pace = self._shop(), self._pace()
        if not shop.garments:
            return None
        compared = passes(at_pace(shop, pace), self._rules)
        self._rules = (compared.best.rule,)
        told = forecast(shop, pace, compared.best.rule, random.Random(len(shop.garments)))
        ends = {batch: self._instants(its) for batch, its in told.items()}
        return Outlook(ends, compared, len(pace.lay) + len(pace.off) + len(pace.finish))

    def _instants(self, told: Forecast) -> Ends:
        now = self.clock.utc_now()
        return Ends(*(now + timedelta(seconds=s) for s in (told.low_s, told.median_s, told.high_s)))

    def _told(self, shop: Shop, step: Step, why: str) -> Call:
        known = self._known[shop.garments[step.garment].code]
        progress = known.on_floor.progress
        label = progress.steps[progress.position + step.visit].label
        at = self.clock.utc_now() + timedelta(seconds=step.start_s)
        presses = tuple(Setting(press, anew.temperature_c) for press, anew in self._set_anew.items())
        return Call(known.row, known.of, step.act, label, step.setting, at, presses, why)

    def _told_to_set(self, shop: Shop, changes: Iterable[Setting]) -> Iterator[tuple[str, SetAnew]]:
        now = self.clock.utc_now()
        for setting in changes:
            press = shop.press(setting.press)
            takes_s = press.change_s(press.temperature_c, setting.temperature_c)
            yield press.name, SetAnew(now, setting.temperature_c, now + timedelta(seconds=takes_s))

    def _shop(self) -> Shop:
        floor = [known.on_floor for known in self._known.values()]
        closings = last_closings(floor)
        self._set_anew = {
            press: anew
            for press, anew in self._set_anew.items()
            if press not in closings or closings[press].at < anew.at
        }
        return FloorNow(self.clock.utc_now(), self.station, self._waits_of(), self._set_anew).shop(floor)

    def _waits_of(self) -> WaitsOf:
        """The waits as they are known at this moment; what was learned is read once for each recipe."""
        beliefs: dict[int, dict[RestKey, Belief]] = {}

        def waits_of(recipe: Recipe, hit: Hit) -> Waits:
            if id(recipe) not in beliefs:
                beliefs[id(recipe)] = beliefs_from(self.store.rests(keys_of(recipe, {self.rests})))
            return waits_at(self.rests, recipe, hit, beliefs[id(recipe)])

        return waits_of

    def _pace(self) -> Pace:
        progresses = [known.on_floor.progress for known in self._known.values()]
        times = hand_times(known.marks for known in self._known.values())
        return pace_of(
            times,
            again=sum(step.extra is not None for progress in progresses for step in progress.steps),
            hits=sum(progress.done_steps for progress in progresses),
        )

    # Reading

    def _read(self) -> None:
        """What has moved since the last time, of the batches in work."""
        in_work = {batch.head.reference: batch for batch in self.store.batches() if is_in_work(batch)}
        for reference, batch in in_work.items():
            newest = self._newest.get(reference)
            rows = self.store.garments(reference, newest - SKEW if newest is not None else None)
            for row in rows:
                if row.code not in self._known or self._known[row.code].row != row:
                    self._read_garment(batch, row)
            if rows:
                self._newest[reference] = max(row.updated_at for row in rows)
        self._newest = {reference: at for reference, at in self._newest.items() if reference in in_work}
        ids = {batch.head.id for batch in in_work.values()}
        self._known = {
            code: known
            for code, known in self._known.items()
            if known.batch_id in ids and not known.row.taken_out
        }

    def _read_garment(self, batch: BatchProgress, row: GarmentRow) -> None:
        """Know the garment as it is now; a damaged one is not called, and the store tells of it."""
        try:
            self._known[row.code] = self._garment_as_known(batch, row)
        except DamagedRecordError:
            self._known.pop(row.code, None)

    def _garment_as_known(self, batch: BatchProgress, row: GarmentRow) -> _Known:
        """A garment that nobody has begun needs no log."""
        if row.state == State.IDLE:
            recipe = self.store.recipe_of_size(batch.head.id, row.size)
            progress, log = begin(recipe), NO_EVENTS
        else:
            garment = self.store.garment(row.code)
            row, progress, log = garment.row, garment.progress, garment.log
        on_floor = OnFloor(row.code, row.batch_reference, progress, log)
        return _Known(row, batch.head.id, batch.head.garments, on_floor, marks_of(progress.recipe, log))


def is_in_work(batch: BatchProgress) -> bool:
    """Whether any of its garments has been begun, and any has not ended."""
    begun = sum(many for state, many in batch.by_state.items() if state != State.IDLE)
    left = sum(many for state, many in batch.by_state.items() if state not in ENDED)
    return bool(begun and left)

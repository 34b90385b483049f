"""How long hands took, read off the logs of a real floor where two garments are worked in turn."""

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from models.floor.resting import BY_HABIT_S
from models.floor.work import FloorWork, Seat
from models.garment.events import FindingKind, Found
from models.job.job import Peel
from models.rotation.times.expected import Waits, expected_visit
from models.rotation.times.hands_seen import PAUSE_S, hand_times, marks_of
from models.rotation.times.pace import Hand
from models.store.records import StoredGarment
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.sample_jobs import WARM_S, crew_vest_job, crew_vest_plan, warm_recipe
from tests.small_floor import codes_of, loaded_store

REST_S = round(BY_HABIT_S.median)
"""No rest was estimated for this batch."""
FIRST, SECOND = (expected_visit(crew_vest_job(), hit, Waits()) for hit in crew_vest_plan().hits)


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def store(tmp_path: Path, clock: HeldClock) -> Iterator[Store]:
    store = loaded_store(tmp_path, clock)
    yield store
    store.close()


class Floor:
    """A person who taps: the seconds before each tap are those that it took."""

    def __init__(self, store: Store, clock: HeldClock, station: str = "Station 1") -> None:
        self.store, self.clock = store, clock
        self.work = FloorWork(store, clock, Seat(station, "Mette"))
        self.first, self.second = codes_of(store)

    def lay(self, code: str, lay_s: float) -> None:
        """It is taken up, or stands at its next hit; its pieces are laid and the press closed."""
        self.work.take_up(self.work.find(code))
        self.work.close(self._after(lay_s, code))

    def open(self, code: str, dwell_s: int) -> None:
        self.work.open(self._after(dwell_s, code), dwell_s)

    def peel(self, code: str, peel_s: float, how: Peel) -> None:
        self.work.peel(self._after(peel_s, code), how)

    def look(self, code: str, look_s: float) -> None:
        self.work.pass_check(self._after(look_s, code))

    def _after(self, seconds: float, code: str) -> StoredGarment:
        self.clock.advance(seconds)
        return self.work.find(code)

    def times(self) -> list[tuple[Hand, float, float]]:
        logs = [self.store.garment(code) for code in (self.first, self.second)]
        seen = hand_times(marks_of(garment.progress.recipe, garment.log) for garment in logs)
        return [(time.hand, time.expected_s, time.took_s) for time in seen]


@pytest.fixture
def floor(store: Store, clock: HeldClock) -> Floor:
    return Floor(store, clock)


def test_laying_ends_with_the_closing_taking_off_with_the_rest_and_finishing_with_the_check(floor):
    """It rests until REST_S after the opening; what comes after that is the peeling."""
    floor.lay(floor.first, 31)
    floor.open(floor.first, 15)
    floor.peel(floor.first, 12, Peel.HOT)
    floor.peel(floor.first, REST_S - 12 + 11, Peel.COLD)
    floor.look(floor.first, 9)

    assert floor.times() == [
        (Hand.LAY, FIRST.lay_s, 31),
        (Hand.OFF, FIRST.off_s, 12),
        (Hand.FINISH, FIRST.finish_s, 11 + 9),
    ]


def test_a_garment_that_was_called_before_its_rest_was_over_tells_nothing_of_its_peeling(floor):
    """Nobody knows how much of the time was waiting."""
    floor.lay(floor.first, 31)
    floor.open(floor.first, 15)
    floor.peel(floor.first, 12, Peel.HOT)
    floor.peel(floor.first, REST_S - 12 - 10, Peel.COLD)
    floor.look(floor.first, 9)

    assert [hand for hand, _, _ in floor.times()] == [Hand.LAY, Hand.OFF]


def test_a_garment_that_was_still_warm_and_rests_on_is_not_taken_off_the_press_again(floor):
    floor.lay(floor.first, 31)
    floor.open(floor.first, 15)
    floor.peel(floor.first, 12, Peel.HOT)
    floor.clock.advance(REST_S)
    floor.work.rest_on(floor.work.find(floor.first))

    assert [hand for hand, _, _ in floor.times()] == [Hand.LAY, Hand.OFF]


def test_a_garment_peeled_while_another_is_under_the_press_is_counted_from_the_other_ones_tap(floor):
    floor.lay(floor.first, 31)
    floor.open(floor.first, 15)
    floor.peel(floor.first, 12, Peel.HOT)
    floor.lay(floor.second, REST_S)
    floor.peel(floor.first, 7, Peel.COLD)
    floor.look(floor.first, 4)
    floor.open(floor.second, 15)
    floor.peel(floor.second, 10, Peel.HOT)

    assert floor.times() == [
        (Hand.LAY, FIRST.lay_s, 31),
        (Hand.OFF, FIRST.off_s, 12),
        (Hand.LAY, FIRST.lay_s, REST_S),
        (Hand.FINISH, FIRST.finish_s, 7 + 4),
        (Hand.OFF, FIRST.off_s, 10),
    ]


def test_what_was_interrupted_by_another_garment_is_added_up(floor):
    """The first is peeled, the second opened and taken off in between, then the first is looked at."""
    floor.lay(floor.first, 31)
    floor.open(floor.first, 15)
    floor.peel(floor.first, 12, Peel.HOT)
    floor.lay(floor.second, REST_S)
    floor.peel(floor.first, 7, Peel.COLD)
    floor.open(floor.second, 15)
    floor.peel(floor.second, 10, Peel.HOT)
    floor.look(floor.first, 4)

    assert floor.times()[-1] == (Hand.FINISH, FIRST.finish_s, 7 + 4)


def test_where_nothing_is_peeled_the_check_holds_the_taking_off_as_well(floor):
    """The second hit peels nothing: opening and check are the only taps."""
    floor.lay(floor.first, 31)
    floor.open(floor.first, 15)
    floor.peel(floor.first, 12, Peel.HOT)
    floor.peel(floor.first, REST_S + 11, Peel.COLD)
    floor.look(floor.first, 9)
    floor.lay(floor.first, 14)
    floor.open(floor.first, 5)
    floor.look(floor.first, 16)

    assert floor.times()[-2:] == [
        (Hand.LAY, SECOND.lay_s, 14),
        (Hand.FINISH, SECOND.off_s + SECOND.finish_s, 16),
    ]


def test_a_pause_of_ten_minutes_tells_nothing(floor):
    floor.lay(floor.first, 600)
    floor.open(floor.first, 15)
    floor.peel(floor.first, 12, Peel.HOT)

    assert floor.times() == [(Hand.OFF, FIRST.off_s, 12)]


def test_a_pause_in_the_middle_of_a_work_spoils_all_of_it(floor):
    floor.lay(floor.first, 31)
    floor.open(floor.first, 15)
    floor.peel(floor.first, 12, Peel.HOT)
    floor.peel(floor.first, REST_S + PAUSE_S + 1, Peel.COLD)
    floor.look(floor.first, 9)

    assert [hand for hand, _, _ in floor.times()] == [Hand.LAY, Hand.OFF]


def test_a_tap_that_was_taken_back_does_not_count(floor):
    """Closed by mistake after 5 s, taken back 3 s later, closed for good after 20 more."""
    floor.lay(floor.first, 5)
    floor.clock.advance(3)
    floor.work.take_back(floor.work.find(floor.first))
    floor.lay(floor.first, 20)

    assert floor.times() == [(Hand.LAY, FIRST.lay_s, 5 + 3 + 20)]


def test_a_lift_that_is_pressed_again_ends_the_check_as_well(floor):
    floor.lay(floor.first, 31)
    floor.open(floor.first, 15)
    floor.peel(floor.first, 12, Peel.HOT)
    floor.peel(floor.first, REST_S - 12 + 11, Peel.COLD)
    floor.clock.advance(8)
    floor.work.press_again(floor.work.find(floor.first), Found(FindingKind.LIFT, ("anchor",)))

    assert floor.times()[-1] == (Hand.FINISH, FIRST.finish_s, 11 + 8)


def test_two_stations_do_not_split_each_others_seconds(store, clock):
    here, there = Floor(store, clock, "Station 1"), Floor(store, clock, "Station 2")
    here.work.take_up(here.work.find(here.first))
    clock.advance(10)
    there.work.take_up(there.work.find(there.second))
    clock.advance(10)
    here.work.close(here.work.find(here.first))
    clock.advance(5)
    there.work.close(there.work.find(there.second))

    assert here.times() == [(Hand.LAY, FIRST.lay_s, 20), (Hand.LAY, FIRST.lay_s, 15)]


def test_before_the_first_closing_nothing_was_seen(floor):
    floor.work.take_up(floor.work.find(floor.first))
    assert floor.times() == []


def peeled_warm(floor: Floor, after_s: float) -> None:
    """The hot carrier comes off 12 s after the opening, the warm one `after_s` later; the look takes 9 s."""
    floor.lay(floor.first, 31)
    floor.open(floor.first, 15)
    floor.peel(floor.first, 12, Peel.HOT)
    floor.peel(floor.first, after_s, Peel.WARM)
    floor.look(floor.first, 9)


def test_waiting_until_a_carrier_is_warm_is_nobody_s_work(tmp_path, clock):
    """The hot one is off after 12 s; the warm one 8 s after it is warm, the look takes 9 s."""
    with closing(loaded_store(tmp_path / "warm", clock, warm_recipe())) as store:
        floor = Floor(store, clock)
        peeled_warm(floor, WARM_S - 12 + 8)

        laid, off, finished = floor.times()
        assert (laid[0], off[0], off[2]) == (Hand.LAY, Hand.OFF, 12)
        assert (finished[0], finished[2]) == (Hand.FINISH, 8 + 9)


def test_a_carrier_that_came_off_before_it_was_thought_to_be_warm_tells_nothing_of_hands(tmp_path, clock):
    with closing(loaded_store(tmp_path / "warm", clock, warm_recipe())) as store:
        floor = Floor(store, clock)
        peeled_warm(floor, 5)

        assert [hand for hand, _, _ in floor.times()] == [Hand.LAY, Hand.OFF]

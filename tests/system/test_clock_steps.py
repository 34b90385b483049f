"""The computer's clock is set at random while a garment is worked: no countdown, rest or alarm moves."""

from pathlib import Path
from random import Random

import pytest

from floorapp.flow import Flow
from floorapp.screens.floor_presenter import rail_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.views import Cue, Tap
from models.clock import SteadyClock
from models.garment.cycle import State
from models.job.job import Peel
from tests.floorapp.taps import tap
from tests.held_clock import HeldClock
from tests.small_floor import codes_of, flow_on, loaded_store, rested_vests

DAY_S = 86_400
STEPS_S = (-400 * DAY_S, -DAY_S, -3600, -3, 3, 3600, DAY_S, 400 * DAY_S)


class SetClock:
    """Lets a second pass at a time, and sets the computer's clock now and then."""

    def __init__(self, random: Random) -> None:
        self.random, self.computer = random, HeldClock()

    def pass_one_second(self) -> None:
        self.computer.advance(1)
        if self.random.random() < 0.2:
            self.computer.set_ahead(self.random.choice(STEPS_S))


def seconds_until(flow: Flow, clock: SetClock, cue: Cue) -> int:
    """How long it takes until the operator is called."""
    for second in range(1, 600):
        clock.pass_one_second()
        flow.tick()
        if cue in flow.signals.take():
            return second
    raise AssertionError(f"nothing called: {cue}")


@pytest.mark.parametrize("seed", range(10))
def test_a_hit_and_its_rest_take_their_own_time(seed: int, tmp_path: Path) -> None:
    """15 s of pressing and 70 s of rest, counted from the opening of the press."""
    clock = SetClock(Random(seed))
    steady = SteadyClock(clock.computer)
    store = loaded_store(tmp_path, steady, rested_vests(1))
    flow, code = flow_on(store, steady, tmp_path), codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    assert seconds_until(flow, clock, Cue.HIT_OVER) == 15

    tap(flow, Tap.PRESS_IS_OPEN)
    tap(flow, Tap.PEEL, Peel.HOT.value)
    assert flow.in_hand.progress.state == State.RESTING
    tap(flow, Tap.TO_FLOOR)
    assert [item.left_s for item in rail_of(flow)] == [70]
    assert seconds_until(flow, clock, Cue.REST_OVER) == 70
    assert running_of(flow) is None
    store.close()

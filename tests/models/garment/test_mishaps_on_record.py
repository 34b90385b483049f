"""What the planner of extra hits takes for the state of a garment is what the garment's log says."""

import random
from contextlib import suppress
from datetime import timedelta
from functools import cache
from uuid import UUID

import pytest

from models.demo import demo_job_path
from models.errors import NoExtraHitError, NoSoundSequenceError
from models.floor.mending import hits_ahead, missing_seconds, remainder, replacing, repressing, seconds_again
from models.garment.cycle import State
from models.garment.events import (
    AllPeeled,
    Closed,
    Completed,
    Event,
    ExtraAdded,
    ExtraReason,
    FindingKind,
    Found,
    Happening,
    Opened,
    Passed,
    Peeled,
    TakenUp,
)
from models.garment.progress import Progress, Recipe, advance, begin
from models.job.reader import read_job
from models.planning.hits.effects import with_effects
from models.planning.rework.incident import Mending, Pressed, Trouble
from models.planning.search.solve_job import plan_hits
from tests.held_clock import MORNING
from tests.random_jobs import random_job


class LoggedGarment:
    """A garment on its way through its log, event by event, as the floor writes it."""

    def __init__(self, recipe: Recipe) -> None:
        self.progress = begin(recipe)
        self.happens(TakenUp())

    def happens(self, *what: Happening) -> None:
        for one in what:
            seq = self.progress.seq + 1
            event = Event(
                UUID(int=seq), seq, UUID(int=seq), MORNING + timedelta(seconds=seq), "1", "Tor", one
            )
            self.progress = advance(self.progress, event)

    @staticmethod
    def _event(seq: int, what: Happening) -> Event:
        at = MORNING + timedelta(seconds=seq)
        return Event(UUID(int=seq), seq, UUID(int=seq), at, "press 1", "Tor", what)

    def press(self, seconds: int) -> None:
        self.happens(Closed(self.progress.hit.dwell_s), Opened(seconds))
        for step in self.progress.to_peel:
            self.happens(Peeled((step.piece,), step.when))
        self.happens(AllPeeled())

    def mend(self, reason: ExtraReason, trouble: Trouble, mending: Mending) -> None:
        """The extra hits are stored; the record is then just what they were planned for."""
        before = self.progress
        pieces = tuple(sorted(trouble.pieces))
        needs_s = tuple(sorted(trouble.lifted_s.items()))
        self.happens(Found(FindingKind.LIFT, pieces))
        self.happens(ExtraAdded(reason, mending.hits, needs_s, trouble.replaced, mending.rest))
        assumed = Pressed(before.recipe.job, before.records, before.peeled).after_trouble(trouble)
        assert self.progress.records == assumed.records
        assert self.progress.peeled == assumed.peeled

    def goes_on(self) -> None:
        self.happens(Completed() if self.progress.is_last_step else Passed())


def as_pressed(progress: Progress) -> bool:
    """Whether the hit in hand says just what it will do to the garment as its log tells it."""
    told = with_effects(progress.hit, progress.recipe.job, progress.records, progress.peeled)
    return told == progress.hit


def work_through(recipe: Recipe, dice: random.Random, mishaps: int) -> Progress:
    """A garment with up to so many mishaps, at hits and on pieces that the dice choose."""
    garment = LoggedGarment(recipe)
    while garment.progress.state == State.LAYING:
        assert as_pressed(garment.progress), garment.progress.step
        opens_early = mishaps > 0 and dice.random() < 0.2
        dwell_s = garment.progress.hit.dwell_s
        garment.press(dice.randint(0, dwell_s) if opens_early else dwell_s)
        mishaps -= opens_early
        if missing_seconds(garment.progress):
            mending = remainder(garment.progress)
            garment.happens(ExtraAdded(ExtraReason.REMAINDER, mending.hits, rest=mending.rest))
        elif mishaps > 0 and dice.random() < 0.5:
            mishaps -= 1
            dice.choice((lift, lay_anew))(garment, dice)
        else:
            garment.goes_on()
    return garment.progress


def lift(garment: LoggedGarment, dice: random.Random) -> None:
    """A piece that was pressed, in part or whole, lifts, and some seconds are asked for."""
    progress = garment.progress
    piece = dice.choice([name for name, record in progress.records.items() if any(record.counted_s)])
    lifted_s = seconds_again(progress.recipe.job, [piece], dice.choice((None, 7)))
    garment.mend(ExtraReason.REPRESS, Trouble(lifted_s=lifted_s), repressing(progress, lifted_s))


def lay_anew(garment: LoggedGarment, dice: random.Random) -> None:
    progress = garment.progress
    piece = dice.choice([name for name, record in progress.records.items() if record.laid])
    trouble = Trouble(replaced=(piece,))
    garment.mend(ExtraReason.REPLACEMENT, trouble, replacing(progress, (piece,)))


@cache
def demo_recipe() -> Recipe:
    job = read_job(demo_job_path())
    return Recipe(job, plan_hits(job, effort=0.1))


def test_the_log_of_the_demo_says_what_the_planner_of_extra_hits_assumes() -> None:
    ends = 0
    for seed in range(40):
        with suppress(NoExtraHitError):
            done = work_through(demo_recipe(), random.Random(seed), mishaps=3)
            assert all(record.finished for record in done.records.values())
            ends += done.state == State.COMPLETE
    assert ends > 10


@pytest.mark.parametrize("seed", range(25))
def test_the_log_of_a_random_job_says_what_the_planner_of_extra_hits_assumes(seed: int) -> None:
    job = random_job(seed, pieces=7, sides=2)
    with suppress(NoExtraHitError, NoSoundSequenceError):
        recipe = Recipe(job, plan_hits(job, effort=0.1))
        done = work_through(recipe, random.Random(seed), mishaps=3)
        assert all(record.finished for record in done.records.values())


def test_a_band_of_several_parts_lifts_where_it_was_pressed_and_nowhere_else() -> None:
    """The wave band of the demo lifts at the check of the first hit that presses a part of it."""
    garment = LoggedGarment(demo_recipe())
    while not any(garment.progress.records["wave-band"].counted_s):
        if garment.progress.state != State.LAYING:
            garment.goes_on()
        garment.press(garment.progress.hit.dwell_s)
    before = garment.progress
    lifted_s = seconds_again(before.recipe.job, ["wave-band"])
    mending = repressing(before, lifted_s)
    garment.mend(ExtraReason.REPRESS, Trouble(lifted_s=lifted_s), mending)

    pressed_parts = sum(seconds > 0 for seconds in before.records["wave-band"].counted_s)
    assert 0 < pressed_parts < len(before.records["wave-band"].counted_s)
    assert [hit.dwell_s for hit in mending.hits] == [15]  # the next one gives this part its last 5 s
    assert mending.rest is None
    assert hits_ahead(garment.progress) == hits_ahead(before)

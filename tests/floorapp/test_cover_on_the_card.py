"""The card says over what the cover sheet goes, and orders no bare platen where one is wanted."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from floorapp.flow import Flow
from floorapp.screens.garment_presenter import card_of
from floorapp.screens.why_presenter import why_view
from floorapp.views import Setting, Tap, Tone
from models.garment.cycle import State
from models.garment.progress import Recipe
from models.geometry import Box
from models.job.job import Job
from models.plan.plan import Plan, PlanStatus, Totals
from models.planning.assembly.at_press import RECKONED_BARE
from models.planning.search.solve_job import plan_hits
from models.store.store import Store
from printables.batch_tags import tags_of_batch
from tests.floorapp.press_operator import PressOperator
from tests.floorapp.taps import press, state_of, tap, tap_primary
from tests.floorapp.what_is_told import plain
from tests.held_clock import HeldClock
from tests.sample_jobs import TWILL
from tests.small_floor import codes_of
from tests.troubled_vests import LEFT, RIGHT, a_job

COVERED = replace(TWILL, key="printed-felt", label="Printed felt", cover=True)
BANNER = a_job(("banner", COVERED, Box(50, 200, 780, 60)))
FROZEN_BARE = Plan(PlanStatus.OPTIMAL, 2, (replace(LEFT, cover=True), RIGHT), Totals(2, 0, 0, 40, 0))
"""As it was planned while only the hit that lays such a piece went under a cover sheet."""
COVER_ON = Setting("Cover on", "over Printed felt", Tone.ATTENTION)


def a_recipe(job: Job, *, frozen_bare: bool) -> Recipe:
    return Recipe(job, FROZEN_BARE if frozen_bare else plan_hits(job))


@pytest.fixture(params=[False, True], ids=["planned-now", "planned-before"])
def recipe(request: pytest.FixtureRequest) -> Recipe:
    return a_recipe(BANNER, frozen_bare=request.param)


def reasons_of(flow: Flow) -> list[str]:
    return [line.text for group in why_view(flow).groups for line in group.lines]


def cover_of(flow: Flow) -> list[Setting]:
    return [setting for setting in card_of(flow).settings if setting.big.startswith("Cover")]


def at_the_second_part(flow: Flow, store: Store, clock: HeldClock) -> None:
    flow.scan(codes_of(store)[0])
    press(flow, clock)
    tap_primary(flow)
    assert state_of(flow) == State.LAYING


def test_both_parts_of_a_banner_are_ordered_under_the_cover_sheet(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    flow.scan(codes_of(store)[0])
    first = cover_of(flow)
    at_the_second_part(flow, store, clock)

    assert first == cover_of(flow) == [COVER_ON]


def test_the_rest_of_an_early_opening_is_ordered_under_the_cover_sheet(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    at_the_second_part(flow, store, clock)
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(8)
    tap(flow, Tap.OPENED_EARLY)
    flow.enter_seconds(8)

    assert flow.in_hand.progress.step.label == "2+1"
    assert cover_of(flow) == [COVER_ON]


def test_the_sheet_that_is_on_stays_on_for_the_next_garment(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    at_the_second_part(flow, store, clock)
    tap(flow, Tap.CLOSE_PRESS)

    assert flow.press.running.last_settings[""].cover


def test_in_the_window_too_the_second_part_is_never_ordered_bare(
    sit_down: Callable[..., PressOperator], store: Store
) -> None:
    operator = sit_down()
    operator.scan(codes_of(store)[0])
    operator.press()
    operator.tap("All down")

    assert operator.sees("Cover on")
    assert operator.sees("over Printed felt")
    assert not operator.sees("bare platen")


def test_the_tags_of_the_batch_tell_the_cover_sheet_of_both_parts(store: Store) -> None:
    assert all(plain(tag.hits_line).count("cover") == 2 for tag in tags_of_batch(store, "LC-0147"))


def test_a_hit_planned_bare_says_that_its_seconds_were_reckoned_without_the_sheet(
    flow: Flow, store: Store, clock: HeldClock, recipe: Recipe
) -> None:
    at_the_second_part(flow, store, clock)
    was_planned_bare = recipe.plan is FROZEN_BARE
    tap(flow, Tap.WHY)

    assert (card_of(flow).warning == RECKONED_BARE) == was_planned_bare
    assert (RECKONED_BARE in reasons_of(flow)) == was_planned_bare
    assert "Cover sheet: banner must not be pressed bare." in reasons_of(flow)

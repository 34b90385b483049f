"""The check: all down, a finding, a hold."""

from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.finding_presenter import finding_view
from floorapp.screens.garment_presenter import card_of, garment_view
from floorapp.screens.presenter import primary_of
from floorapp.views import Tap
from models.garment.cycle import State
from models.garment.events import ExtraReason, FindingKind
from models.store.store import Store
from tests.floorapp.taps import state_of, tap, tap_primary, to_the_check
from tests.held_clock import HeldClock
from tests.sample_jobs import BACK, crew_vest_recipe
from tests.small_floor import codes_of, flow_on, loaded_store


def test_the_rung_can_be_ticked_only_at_the_check(flow: Flow, store: Store, clock: HeldClock) -> None:
    flow.scan(codes_of(store)[0])
    before = [rung.can_tick for rung in garment_view(flow).rungs]
    to_the_check(flow, clock, codes_of(store)[0])

    assert before == [False, False]
    assert [rung.can_tick for rung in garment_view(flow).rungs] == [True, False]


def test_a_lifted_piece_is_pressed_again_right_away(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.LOOK_CLOSER, "anchor")
    tap(flow, Tap.CHOOSE_KIND, FindingKind.LIFT.value)
    tap_primary(flow)
    progress = flow.in_hand.progress

    assert progress.state == State.LAYING
    assert progress.step.extra == ExtraReason.REPRESS
    assert "anchor" in progress.hit.count
    assert card_of(flow).heading.startswith("Hit 1+1 of")


def test_a_scorched_piece_is_not_offered_another_hit(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.LOOK_CLOSER, "anchor")
    tap(flow, Tap.CHOOSE_KIND, FindingKind.SCORCH.value)
    primary = primary_of(flow)

    assert primary is not None
    assert primary.action.tap == Tap.ASK_HOLD


def test_the_button_that_turns_the_map_names_the_side_that_it_shows(clock: HeldClock, tmp_path: Path) -> None:
    recipe = crew_vest_recipe()
    sides = (BACK, replace(BACK, name="front"))
    with closing(
        loaded_store(tmp_path, clock, replace(recipe, job=replace(recipe.job, sides=sides)))
    ) as store:
        flow = flow_on(store, clock, tmp_path)
        to_the_check(flow, clock, codes_of(store)[0])
        tap(flow, Tap.LOOK_CLOSER, "anchor")
        seen = []
        for _ in sides:
            view = finding_view(flow)
            turn = next(choice for choice in view.choices if choice.action.tap == Tap.TURN_MAP)
            seen.append((view.map.side.name, turn.text))
            flow.act(turn.action)

    assert seen == [("back", "Show the front"), ("front", "Show the back")]


def test_a_finding_is_not_stored_before_it_is_decided(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    events = len(flow.in_hand.log)
    tap(flow, Tap.LOOK_CLOSER, "anchor")
    tap(flow, Tap.BACK)

    assert len(store.garment(flow.in_hand.row.code).log) == events
    assert flow.screen == ScreenName.GARMENT


def test_a_held_garment_goes_on_where_it_was(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.HOLD, "a piece of the kit is missing")
    held = card_of(flow)
    tap(flow, Tap.RELEASE)

    assert held.heading == "Held"
    assert "kit" in held.body
    assert state_of(flow) == State.CHECKING


def test_a_hold_does_not_make_a_finding_good(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.LOOK_CLOSER, "anchor")
    tap(flow, Tap.CHOOSE_KIND, FindingKind.LIFT.value)
    tap(flow, Tap.HOLD, "lifts")
    tap(flow, Tap.RELEASE)

    assert "Found before" in [group.heading for group in card_of(flow).groups]


def test_a_garment_that_is_short_cannot_be_let_go_as_it_is(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.PASS)
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(4)
    tap(flow, Tap.OPENED_EARLY)
    flow.enter_seconds(4)
    tap(flow, Tap.TAKE_BACK)
    tap(flow, Tap.LOOK_CLOSER, "life-ring")

    assert Tap.ACCEPT not in [choice.action.tap for choice in finding_view(flow).choices]


def test_a_garment_held_before_it_was_begun_says_so_and_is_begun(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.TAKE_BACK)
    tap(flow, Tap.HOLD, "the wrong size")
    held = card_of(flow)
    tap(flow, Tap.RELEASE)

    assert held.body == "the wrong size. It has not been begun."
    assert "Begin it" in [choice.text for choice in held.choices]
    assert state_of(flow) == State.LAYING
    assert [row.code for row in flow.in_work] == [flow.in_hand.row.code]


@pytest.mark.parametrize(("decided", "told"), [(Tap.SPOIL, "the spoiling"), (Tap.HOLD, "the hold")])
def test_what_was_decided_about_a_finding_is_what_can_be_taken_back(
    flow: Flow, store: Store, clock: HeldClock, *, decided: Tap, told: str
) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.LOOK_CLOSER, "anchor")
    tap(flow, decided, "scorched")

    assert f"Take back {told}" in [choice.text for choice in card_of(flow).choices]

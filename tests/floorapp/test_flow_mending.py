"""What is done on the screens about a piece that is not right, or a hit that took too long."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from floorapp.flow import Flow
from floorapp.screens.finding_presenter import finding_view
from floorapp.screens.garment_presenter import card_of
from floorapp.views import Tap
from models.garment.cycle import State
from models.garment.events import ExtraReason, FindingKind
from models.job.job import Peel
from models.planning.rework import plan_rework as extra_hit
from models.planning.rework.search import Answer, fewest_closings
from models.store.store import Store
from tests.floorapp.taps import state_of, tap, tap_primary, to_the_check
from tests.held_clock import HeldClock
from tests.sample_jobs import TWILL, crew_vest_recipe
from tests.small_floor import codes_of, flow_on, loaded_store


def at_a_lift(flow: Flow, store: Store, clock: HeldClock) -> None:
    """The check of the first hit, the anchor found lifting."""
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.LOOK_CLOSER, "anchor")
    tap(flow, Tap.CHOOSE_KIND, FindingKind.LIFT.value)


def tap_words(flow: Flow, words: str) -> None:
    """The button of the Finding screen with these words."""
    view = finding_view(flow)
    buttons = (*view.steps, *view.choices, view.primary)
    flow.act(next(button.action for button in buttons if button.text == words))


def test_the_operator_can_ask_for_fewer_seconds(flow: Flow, store: Store, clock: HeldClock) -> None:
    at_a_lift(flow, store, clock)
    for _ in range(4):
        tap_words(flow, "1 s less")
    tap_words(flow, "1 s more")
    offered = finding_view(flow).primary.text
    tap_primary(flow)

    assert offered == "Press again: 12 s, cover sheet on"
    assert flow.in_hand.progress.hit.dwell_s == 12


def test_the_screen_says_where_fewer_extra_hits_may_do(
    flow: Flow, store: Store, clock: HeldClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    at_a_lift(flow, store, clock)
    proved = finding_view(flow).told
    monkeypatch.setattr(extra_hit, "fewest_closings", not_proved)
    tap_words(flow, "1 s less")

    assert "Fewer extra hits may do" not in proved
    assert "Fewer extra hits may do: not every way was tried." in finding_view(flow).told


def not_proved(*side: Any) -> Answer:
    """What is found, as if nothing had been proved of it."""
    return replace(fewest_closings(*side), at_least=0)


def test_extra_hits_are_sought_once_for_what_is_marked_however_often_they_are_shown(
    flow: Flow, store: Store, clock: HeldClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = []

    def counted(*args: Any) -> Answer | None:
        asked.append(args)
        return fewest_closings(*args)

    monkeypatch.setattr(extra_hit, "fewest_closings", counted)
    at_a_lift(flow, store, clock)
    first = [finding_view(flow) for _ in range(3)]
    tap_words(flow, "1 s less")
    fewer = [finding_view(flow) for _ in range(3)]

    assert len(asked) == 2
    assert first[0] == first[2]
    assert fewer[0] == fewer[2] != first[0]


def test_no_more_than_the_least_and_no_less_than_the_shortest_closing_can_be_asked_for(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    at_a_lift(flow, store, clock)
    tap_words(flow, "1 s more")
    most = finding_view(flow).primary.text
    for _ in range(20):
        tap_words(flow, "1 s less")

    assert most == "Press again: 15 s, cover sheet on"
    assert finding_view(flow).primary.text == "Press again: 3 s, cover sheet on"


def test_seconds_asked_for_are_those_of_one_finding(flow: Flow, store: Store, clock: HeldClock) -> None:
    at_a_lift(flow, store, clock)
    tap_words(flow, "1 s less")
    tap(flow, Tap.MARK_PIECE, "wave")

    assert flow.finding.draft.seconds is None


def test_seconds_are_asked_for_only_where_pressing_mends(flow: Flow, store: Store, clock: HeldClock) -> None:
    at_a_lift(flow, store, clock)
    lifting = finding_view(flow).steps
    tap(flow, Tap.CHOOSE_KIND, FindingKind.SCORCH.value)

    assert len(lifting) == 2
    assert finding_view(flow).steps == ()


def test_a_scorched_piece_can_be_replaced(flow: Flow, store: Store, clock: HeldClock) -> None:
    at_a_lift(flow, store, clock)
    tap(flow, Tap.CHOOSE_KIND, FindingKind.SCORCH.value)
    tap_words(flow, "Replace the piece")

    assert card_of(flow).groups[0].heading.startswith("Lay 1 piece")
    assert flow.in_hand.progress.step.extra == ExtraReason.REPLACEMENT


def test_a_replacement_can_be_taken_back(flow: Flow, store: Store, clock: HeldClock) -> None:
    at_a_lift(flow, store, clock)
    before = flow.in_hand.progress
    tap_words(flow, "Replace the piece")
    tap(flow, Tap.TAKE_BACK)

    assert flow.in_hand.progress.records == before.records
    assert flow.in_hand.progress.steps == before.steps
    assert flow.in_hand.progress.peeled == before.peeled


def test_the_finding_screen_tells_what_becomes_of_the_hits_still_to_come(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    at_a_lift(flow, store, clock)

    assert "Then no hit follows, instead of 1." in finding_view(flow).told


def pressed_too_long(flow: Flow, store: Store, clock: HeldClock, seconds: int) -> None:
    """The check of the first hit, in which the press stayed closed for so many seconds."""
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(seconds)
    tap(flow, Tap.OPENED_EARLY)
    flow.enter_seconds(seconds)
    tap(flow, Tap.PEEL, Peel.HOT.value)
    tap(flow, Tap.PEEL, Peel.COLD.value)


def test_the_check_tells_that_too_long_a_hit_changes_those_still_to_come(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    pressed_too_long(flow, store, clock, seconds=58)
    told = [line.text for group in card_of(flow).groups for line in group.lines]
    tap_primary(flow)

    assert "no hit follows, instead of 1" in told
    assert state_of(flow) == State.COMPLETE


def test_where_nothing_is_left_within_the_limits_the_check_says_why(tmp_path: Path, clock: HeldClock) -> None:
    """The ring wants its last seconds in the second hit, which the wave in its hole no longer bears."""
    recipe = crew_vest_recipe()
    slow = replace(TWILL, least_s=43, longest_s=43, total_s=200)
    job = replace(
        recipe.job, materials=tuple(slow if m.key == TWILL.key else m for m in recipe.job.materials)
    )
    store = loaded_store(tmp_path, clock, replace(recipe, job=job))
    flow = flow_on(store, clock, tmp_path)
    pressed_too_long(flow, store, clock, seconds=38)
    card = card_of(flow)
    tap_primary(flow)
    store.close()

    assert card.groups[0].lines[0].text == (
        "wave has had 38 of its 40 s by then; 5 s of a hit ahead would be too much"
    )
    assert flow.screen == "finding"

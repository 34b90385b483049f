"""Slips of a finger or a foot: nothing is taken up, mended, held or let go that nobody meant."""

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.finding_presenter import FindingView, finding_view
from floorapp.screens.garment_presenter import card_of, garment_view
from floorapp.screens.map_presenter import map_of_step
from floorapp.screens.presenter import primary_of
from floorapp.screens.reason_presenter import reason_view
from floorapp.screens.review_presenter import review_view
from floorapp.views import Tap, Tone
from floorapp.widget_views import Role, RungState
from models.garment.cycle import State
from models.garment.events import FindingKind, Found, Held, Spoiled
from models.job.job import Peel
from models.store.store import Store
from tests.floorapp.taps import press, state_of, tap, tap_primary, to_the_check
from tests.held_clock import HeldClock
from tests.sample_jobs import crew_vest_recipe
from tests.small_floor import codes_of, flow_on, loaded_store


def finding(flow: Flow, kind: FindingKind, piece: str = "anchor") -> FindingView:
    tap(flow, Tap.LOOK_CLOSER, piece)
    tap(flow, Tap.CHOOSE_KIND, kind.value)
    return finding_view(flow)


def ways(flow: Flow) -> list[Tap]:
    return [choice.action.tap for choice in card_of(flow).choices]


# ---- a look


def test_a_garment_looked_at_from_the_review_is_not_taken_up(flow: Flow, store: Store) -> None:
    tap(flow, Tap.TO_REVIEW, "LC-0147")
    flow.act(review_view(flow).rows[0].action)

    assert flow.screen == ScreenName.GARMENT
    assert flow.in_hand.row.code == codes_of(store)[0]
    assert store.garment(codes_of(store)[0]).log == ()


def test_a_foot_that_comes_down_on_a_look_goes_back_and_stores_nothing(flow: Flow, store: Store) -> None:
    tap(flow, Tap.TO_REVIEW, "LC-0147")
    tap(flow, Tap.LOOK_AT_GARMENT, codes_of(store)[0])
    tap_primary(flow)

    assert flow.screen == ScreenName.REVIEW
    assert store.garment(codes_of(store)[0]).log == ()


def test_a_foot_on_what_can_be_changed_about_a_garment_goes_back_too(flow: Flow, store: Store) -> None:
    tap(flow, Tap.TO_REVIEW, "LC-0147")
    tap(flow, Tap.CHANGE_GARMENT, codes_of(store)[0])
    tap_primary(flow)

    assert flow.screen == ScreenName.REVIEW
    assert store.garment(codes_of(store)[0]).log == ()


def test_a_garment_looked_at_is_taken_up_by_its_button(flow: Flow, store: Store) -> None:
    tap(flow, Tap.TO_REVIEW, "LC-0147")
    tap(flow, Tap.LOOK_AT_GARMENT, codes_of(store)[0])
    flow.act(card_of(flow).answers[0].action)

    assert state_of(flow) == State.LAYING
    assert card_of(flow).heading == "Hit 1 of 2: lay"


def test_a_scan_takes_a_garment_up_at_once(flow: Flow, store: Store) -> None:
    tap(flow, Tap.TO_REVIEW, "LC-0147")
    flow.scan(codes_of(store)[0])

    assert state_of(flow) == State.LAYING
    assert flow.in_hand.progress.station == "Station 1"


def test_a_look_at_another_station_s_hit_neither_asks_nor_claims_the_press(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    other = flow_on(store, clock, tmp_path, station="Station 2")
    other.scan(codes_of(store)[0])
    tap(other, Tap.CLOSE_PRESS)
    tap(flow, Tap.LOOK_AT_GARMENT, codes_of(store)[0])

    assert "pressing, at Station 2" in card_of(flow).body
    assert flow.pressing == ()
    assert not garment_view(flow).can_mark


# ---- ways to the floor


def test_every_card_of_a_garment_has_a_way_to_the_floor(flow: Flow, store: Store, clock: HeldClock) -> None:
    offered = dict(ways_to_the_floor(flow, clock, codes_of(store)[0]))

    assert list(offered) == [
        State.LAYING, State.PEELING, State.RESTING, State.CHECKING, State.HELD, State.SPOILED,
    ]  # fmt: skip
    assert all(offered.values())


def ways_to_the_floor(flow: Flow, clock: HeldClock, code: str) -> Iterator[tuple[State, bool]]:
    def state_and_way() -> tuple[State, bool]:
        primary = card_of(flow).primary
        return state_of(flow), Tap.TO_FLOOR in [*ways(flow), primary and primary.action.tap]

    flow.scan(code)
    yield state_and_way()
    press(flow, clock)
    yield state_and_way()
    tap(flow, Tap.PEEL, Peel.HOT.value)
    flow.scan(code)
    yield state_and_way()
    tap(flow, Tap.PEEL, Peel.COLD.value)
    yield state_and_way()
    tap(flow, Tap.HOLD, "somebody has to be asked")
    yield state_and_way()
    tap(flow, Tap.SPOIL, "torn")
    yield state_and_way()


def test_a_question_about_a_hit_does_not_keep_anybody_from_the_floor(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(300)
    tap(flow, Tap.PRESS_IS_OPEN)

    assert card_of(flow).heading == "Hit 1 of 2: when was it opened?"
    assert Tap.TO_FLOOR in ways(flow)


# ---- a finding


def test_a_finding_opens_with_nothing_chosen(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.LOOK_CLOSER)
    view = finding_view(flow)

    assert not any(kind.is_chosen for kind in view.kinds)
    assert all(kind.is_choice for kind in view.kinds)
    assert all(entry.role != Role.MARKED for entry in view.map.pieces)
    assert primary_of(flow) is None


def test_a_piece_tapped_on_the_map_is_marked_but_what_it_has_is_not_guessed(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.LOOK_CLOSER, "anchor")

    assert finding_view(flow).marked == "anchor"
    assert not any(kind.is_chosen for kind in finding_view(flow).kinds)
    assert primary_of(flow) is None


@pytest.mark.parametrize("early", [Tap.PRESS_AGAIN, Tap.REPLACE, Tap.ACCEPT])
def test_nothing_is_done_about_a_finding_that_nobody_has_told(
    flow: Flow, store: Store, clock: HeldClock, early: Tap
) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.LOOK_CLOSER, "anchor")
    tap(flow, early)

    assert state_of(flow) == State.CHECKING
    assert flow.notice is not None
    assert flow.notice.text.startswith("choose what was found")


# ---- a hold and a spoiling


def test_a_foot_after_a_hold_does_not_release_it(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.HOLD, "somebody has to be asked")
    tap_primary(flow)

    assert flow.screen == ScreenName.FLOOR
    assert store.garment(codes_of(store)[0]).progress.state == State.HELD


def test_a_hold_asks_for_its_reason_and_keeps_it(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.LOOK_CLOSER)
    tap(flow, Tap.ASK_HOLD)
    nothing_yet = primary_of(flow)
    flow.act(reason_view(flow).reasons[0].action)
    tap_primary(flow)

    assert nothing_yet is None
    last = store.garment(codes_of(store)[0]).log[-1].what
    assert last == Held("A piece of the kit is missing")
    assert card_of(flow).body.startswith("A piece of the kit is missing.")


def test_a_finding_is_the_reason_of_its_hold_and_is_stored_with_it(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    finding(flow, FindingKind.SCORCH)
    tap_primary(flow)
    reasons = reason_view(flow).reasons
    tap_primary(flow)
    *_, found, held = (event.what for event in store.garment(codes_of(store)[0]).log)

    assert [reason.text for reason in reasons if reason.is_chosen] == ["Scorched: anchor"]
    assert (found, held) == (Found(FindingKind.SCORCH, ("anchor",)), Held("Scorched: anchor"))


def test_the_way_back_from_a_reason_keeps_what_was_found(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    finding(flow, FindingKind.SCORCH)
    tap(flow, Tap.ASK_SPOIL, "Scorched: anchor")
    tap(flow, Tap.BACK)

    assert flow.screen == ScreenName.FINDING
    assert finding_view(flow).marked == "anchor"


def test_a_spoiling_is_no_primary_action_and_has_a_reason_that_somebody_chose(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    finding(flow, FindingKind.SCORCH)
    tap(flow, Tap.ASK_SPOIL, "Scorched: anchor")
    before = reason_view(flow)
    flow.act(before.reasons[0].action)
    after = reason_view(flow)
    flow.act(after.ends[-1].action)

    assert [end.text for end in before.ends] == ["Back"]
    assert [end.text for end in after.ends] == ["Back", "Spoil it"]
    assert before.primary is after.primary is None
    assert store.garment(codes_of(store)[0]).log[-1].what == Spoiled("Scorched: anchor")


@pytest.mark.parametrize("decided", [Tap.HOLD, Tap.SPOIL])
def test_without_a_reason_nothing_is_held_or_spoiled(flow: Flow, store: Store, decided: Tap) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, decided, "  ")

    assert state_of(flow) == State.LAYING
    assert flow.notice is not None
    assert flow.notice.text.startswith("nothing says why the garment is")


# ---- the check


def told(flow: Flow) -> dict[str, list[str]]:
    return {group.heading: [line.text for line in group.lines] for group in card_of(flow).groups}


def test_only_what_this_hit_has_finished_is_to_be_rubbed(flow: Flow, store: Store, clock: HeldClock) -> None:
    """The ring still gets its last 5 s from the second hit; in that one anchor and wave are done already."""
    to_the_check(flow, clock, codes_of(store)[0])
    first, rubbed_first = told(flow), on_map(flow, Role.RUB)
    tap(flow, Tap.PASS)
    press(flow, clock)
    second, rubbed_second = told(flow), on_map(flow, Role.RUB)

    assert first["Rub what was just pressed"] == ["1 × Raised foam film: anchor", "1 × Glitter film: wave"]
    assert first["Do not rub: a later hit finishes it"] == ["1 × Printed twill: Life ring"]
    assert second == {"Rub what was just pressed": ["1 × Printed twill: Life ring"]}
    assert (rubbed_first, rubbed_second) == ({"anchor", "wave"}, {"life-ring"})


def on_map(flow: Flow, role: Role) -> set[str]:
    view = map_of_step(flow.in_hand.progress, flow.clock.utc_now())
    return {entry.piece.id for entry in view.pieces if entry.role == role}


def let_go_scorched(flow: Flow, clock: HeldClock, code: str) -> None:
    to_the_check(flow, clock, code)
    finding(flow, FindingKind.SCORCH)
    tap(flow, Tap.ACCEPT)


def test_a_scorched_piece_that_was_let_go_has_no_tick_on_map_and_ladder(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    let_go_scorched(flow, clock, codes_of(store)[0])

    assert state_of(flow) == State.LAYING
    assert on_map(flow, Role.DOWN) == {"wave"}
    assert on_map(flow, Role.FAULTY) == {"anchor"}
    assert garment_view(flow).rungs[0].state == RungState.FAULTY


def test_a_done_garment_says_what_was_let_go(flow: Flow, store: Store, clock: HeldClock) -> None:
    let_go_scorched(flow, clock, codes_of(store)[0])
    press(flow, clock)
    tap(flow, Tap.PASS)

    assert state_of(flow) == State.COMPLETE
    assert told(flow) == {"Let go as it is": ["Scorched: anchor"]}
    assert "all pieces" not in card_of(flow).body
    tap(flow, Tap.TO_REVIEW, "LC-0147")
    row = review_view(flow).rows[0]
    assert (row.state, row.tone) == ("done", Tone.ATTENTION)
    assert row.told.startswith("1 piece not right")


def test_a_scorched_piece_is_not_ticked_while_somebody_has_to_decide(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    finding(flow, FindingKind.SCORCH)
    tap(flow, Tap.HOLD, "scorched")
    held = on_map(flow, Role.FAULTY)
    tap(flow, Tap.RELEASE)
    primary = primary_of(flow)

    assert held == on_map(flow, Role.FAULTY) == {"anchor"}
    assert not any(rung.can_tick for rung in garment_view(flow).rungs)
    assert primary is not None
    assert primary.text == "All else is down"


def test_a_piece_that_lifted_has_its_tick_again_once_it_was_pressed_again(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    finding(flow, FindingKind.LIFT)
    tap_primary(flow)
    press(flow, clock)
    tap(flow, Tap.PASS)

    assert state_of(flow) == State.COMPLETE
    assert on_map(flow, Role.FAULTY) == set()
    assert "anchor" in on_map(flow, Role.DOWN)
    assert {rung.state for rung in garment_view(flow).rungs} == {RungState.DONE}


def test_a_scorch_stays_where_the_same_piece_is_pressed_again_for_a_lift(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    finding(flow, FindingKind.SCORCH)
    tap(flow, Tap.HOLD, "scorched")
    tap(flow, Tap.RELEASE)
    finding(flow, FindingKind.LIFT)
    tap_primary(flow)

    assert flow.in_hand.progress.faults == {("anchor", FindingKind.SCORCH)}


def test_a_new_piece_is_not_scorched(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    finding(flow, FindingKind.SCORCH)
    tap(flow, Tap.REPLACE)

    assert flow.in_hand.progress.faults == frozenset()


def test_a_finding_on_two_sides_keeps_hold_spoil_and_back_at_the_end(
    clock: HeldClock, tmp_path: Path
) -> None:
    """Whatever else is offered stands apart from them."""
    recipe = crew_vest_recipe()
    sides = (*recipe.job.sides, replace(recipe.job.sides[0], name="front"))
    with closing(
        loaded_store(tmp_path, clock, replace(recipe, job=replace(recipe.job, sides=sides)))
    ) as store:
        flow = flow_on(store, clock, tmp_path)
        to_the_check(flow, clock, codes_of(store)[0])
        tap(flow, Tap.LOOK_CLOSER)
        ends = [finding_view(flow).ends, finding(flow, FindingKind.LIFT).ends]

    assert [[end.text for end in shown] for shown in ends] == 2 * [["Hold it …", "Spoil it …", "Back"]]


def test_a_scorch_found_while_peeling_is_never_said_to_be_mended_by_pressing(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    flow.scan(codes_of(store)[0])
    press(flow, clock)
    tap(flow, Tap.LOOK_CLOSER, flow.in_hand.progress.hit.count[0])
    tap(flow, Tap.CHOOSE_KIND, FindingKind.SCORCH.value)

    assert finding_view(flow).told == "Scorched: another hit does not mend this."


@pytest.mark.parametrize("looked_from", [Tap.TO_FIND, Tap.TO_REVIEW])
def test_the_way_back_from_a_look_leads_to_where_it_began(flow: Flow, store: Store, looked_from: Tap) -> None:
    tap(flow, looked_from, "LC-0147")
    before = flow.screen
    tap(flow, Tap.LOOK_AT_GARMENT, codes_of(store)[0])
    tap(flow, Tap.BACK)

    assert flow.screen == before

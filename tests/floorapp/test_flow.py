"""The app without its window: a garment goes through its sequence by what is tapped."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from floorapp.flow import Flow, ScreenName
from floorapp.screens.floor_presenter import rail_of
from floorapp.screens.garment_presenter import card_of, running_of
from floorapp.screens.presenter import primary_of
from floorapp.views import Action, Cue, Tap
from models.garment.cycle import State
from models.garment.events import ExtraReason, FindingKind
from models.job.job import Peel, Pressure
from models.store.store import Store
from models.tags.code import ALPHABET
from tests.held_clock import HeldClock
from tests.small_floor import codes_of, flow_on, loaded_store


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def store(tmp_path: Path, clock: HeldClock) -> Iterator[Store]:
    store = loaded_store(tmp_path, clock)
    yield store
    store.close()


@pytest.fixture
def flow(store: Store, clock: HeldClock, tmp_path: Path) -> Flow:
    return flow_on(store, clock, tmp_path)


def tap(flow: Flow, tap: Tap, value: str = "") -> None:
    flow.act(Action(tap, value))


def tap_primary(flow: Flow) -> None:
    button = primary_of(flow)
    assert button is not None
    flow.act(button.action)


def state_of(flow: Flow) -> State:
    return flow.in_hand.progress.state


def press(flow: Flow, clock: HeldClock) -> None:
    """Lays, closes, lets the seconds run and opens."""
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(flow.in_hand.progress.hit.dwell_s)
    tap(flow, Tap.PRESS_IS_OPEN)


def to_the_check(flow: Flow, clock: HeldClock, code: str) -> None:
    """The first hit of the sample: one hot peel, one cold one after its rest."""
    flow.scan(code)
    press(flow, clock)
    tap(flow, Tap.PEEL, Peel.HOT.value)
    clock.advance(60)
    flow.scan(code)
    tap(flow, Tap.PEEL, Peel.COLD.value)


def test_a_scan_opens_the_garment_at_its_first_hit(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])

    assert flow.screen == ScreenName.GARMENT
    assert card_of(flow).heading == "Hit 1 of 2: lay"


def test_a_garment_scanned_again_opens_where_it_was(flow: Flow, store: Store, clock: HeldClock) -> None:
    first, second = codes_of(store)
    to_the_check(flow, clock, first)
    flow.scan(second)
    flow.scan(first)

    assert card_of(flow).heading == "Hit 1 of 2: check"


@pytest.mark.parametrize(
    ("scanned", "told"),
    [
        ("HELLO", "“L” is in no tag code"),
        ("3467", "8 characters"),
    ],
)
def test_what_is_no_code_is_told_in_a_line_and_the_screen_stays(flow: Flow, scanned: str, told: str) -> None:
    flow.scan(scanned)

    assert flow.screen == ScreenName.FLOOR
    assert flow.notice is not None
    assert told in flow.notice.text
    assert "\n" not in flow.notice.text


def test_a_mistyped_code_is_told_apart_from_an_unknown_one(flow: Flow, store: Store) -> None:
    code = codes_of(store)[0]
    wrong = ALPHABET[(ALPHABET.index(code[4]) + 1) % len(ALPHABET)]
    flow.scan(code[:4] + wrong + code[5:])
    mistyped = flow.notice.text if flow.notice else ""
    flow.scan(other_code_of(store))
    unknown = flow.notice.text if flow.notice else ""

    assert mistyped
    assert unknown
    assert mistyped.split(";")[0] != unknown.split(";")[0]


def other_code_of(store: Store) -> str:
    """A sound code of this shop that no garment has."""
    from random import Random

    from models.tags.code import new_code

    return new_code(store.shop_code, Random(99))


def test_a_code_of_another_shop_is_refused(flow: Flow, store: Store) -> None:
    from random import Random

    from models.tags.code import new_code, new_shop_code

    random = Random(4)
    other = next(shop for shop in iter(lambda: new_shop_code(random), "") if shop != store.shop_code)
    flow.scan(new_code(other, random))

    assert flow.notice is not None
    assert "shop" in flow.notice.text


def test_the_countdown_runs_from_the_closing_to_the_dwell(flow: Flow, store: Store, clock: HeldClock) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(7)
    running = running_of(flow)

    assert running is not None
    assert running.left_s == 8
    assert running.primary is None


def test_the_end_of_a_hit_is_called_once(flow: Flow, store: Store, clock: HeldClock) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(15)
    flow.tick()
    flow.tick()

    assert flow.take_cues() == [Cue.HIT_OVER]


def test_a_hot_peel_is_called_when_the_press_is_open(flow: Flow, store: Store, clock: HeldClock) -> None:
    flow.scan(codes_of(store)[0])
    press(flow, clock)

    assert Cue.PEEL_NOW in flow.take_cues()


def test_hot_pieces_come_off_first_and_the_cold_ones_send_the_garment_to_rest(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    flow.scan(codes_of(store)[0])
    press(flow, clock)
    tap_primary(flow)

    assert state_of(flow) == State.RESTING
    assert flow.screen == ScreenName.FLOOR
    assert [item.left_s for item in rail_of(flow)] == [60]


def test_several_garments_rest_and_each_calls_when_it_is_ready(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    for code in codes_of(store):
        flow.scan(code)
        press(flow, clock)
        tap(flow, Tap.PEEL, Peel.HOT.value)
    flow.take_cues()
    clock.advance(45)
    flow.tick()
    first = flow.take_cues()
    clock.advance(15)
    flow.tick()

    assert first == [Cue.REST_OVER]
    assert flow.take_cues() == [Cue.REST_OVER]


def test_a_garment_works_while_another_rests(flow: Flow, store: Store, clock: HeldClock) -> None:
    first, second = codes_of(store)
    flow.scan(first)
    press(flow, clock)
    tap(flow, Tap.PEEL, Peel.HOT.value)
    flow.scan(second)

    assert state_of(flow) == State.LAYING
    assert [item.code for item in rail_of(flow)] == [first]


def test_all_hits_checked_complete_the_garment(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap_primary(flow)
    press(flow, clock)
    tap_primary(flow)

    assert state_of(flow) == State.COMPLETE
    assert card_of(flow).heading == "Done"


def test_the_rung_can_be_ticked_only_at_the_check(flow: Flow, store: Store, clock: HeldClock) -> None:
    from floorapp.screens.garment_presenter import rungs_of

    flow.scan(codes_of(store)[0])
    before = [rung.can_tick for rung in rungs_of(flow.in_hand)]
    to_the_check(flow, clock, codes_of(store)[0])

    assert before == [False, False]
    assert [rung.can_tick for rung in rungs_of(flow.in_hand)] == [True, False]


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
    assert primary.action.tap == Tap.HOLD


def test_a_finding_is_not_stored_before_it_is_decided(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    events = len(flow.in_hand.log)
    tap(flow, Tap.LOOK_CLOSER, "anchor")
    tap(flow, Tap.BACK)

    assert len(store.garment(flow.in_hand.row.code).log) == events
    assert flow.screen == ScreenName.GARMENT


def test_opened_early_asks_for_the_seconds_and_plans_the_rest_in(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(9)
    tap(flow, Tap.OPENED_EARLY)
    asked = flow.screen
    flow.enter_seconds(9)
    progress = flow.in_hand.progress

    assert asked == ScreenName.SECONDS_ENTRY
    assert progress.step.extra == ExtraReason.REMAINDER
    assert progress.hit.dwell_s == 6
    assert progress.state == State.LAYING


def test_a_tap_can_be_taken_back_and_nothing_is_deleted(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    tap(flow, Tap.TAKE_BACK)

    assert state_of(flow) == State.LAYING
    assert running_of(flow) is None
    assert len(store.garment(flow.in_hand.row.code).log) == 3


def test_nothing_to_take_back_is_a_line(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.TAKE_BACK)
    tap(flow, Tap.TAKE_BACK)

    assert flow.notice is not None


def test_a_running_hit_reopened_asks_whether_it_was_finished(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(200)
    reopened = flow_on(store, clock, tmp_path)
    reopened.scan(code)

    assert reopened.is_interrupted
    assert card_of(reopened).heading == "Hit 1 of 2: was it finished?"
    assert [button.action.tap for button in card_of(reopened).answers] == [
        Tap.PRESS_IS_OPEN,
        Tap.OPENED_EARLY,
        Tap.NEVER_CLOSED,
    ]


@pytest.mark.parametrize(
    ("answer", "state"),
    [(Tap.PRESS_IS_OPEN, State.PEELING), (Tap.NEVER_CLOSED, State.LAYING)],
)
def test_the_answer_after_an_interruption_is_acted_on(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path, *, answer: Tap, state: State
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    reopened = flow_on(store, clock, tmp_path)
    reopened.scan(code)
    tap(reopened, answer)

    assert state_of(reopened) == state


def test_a_machine_that_slept_through_a_hit_asks_as_well(flow: Flow, store: Store, clock: HeldClock) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.sleep_machine(600)

    assert flow.is_interrupted
    assert running_of(flow) is None


def test_a_held_garment_goes_on_where_it_was(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.HOLD, "a piece of the kit is missing")
    held = card_of(flow)
    tap_primary(flow)

    assert held.heading == "Held"
    assert "kit" in held.body
    assert state_of(flow) == State.CHECKING


def test_a_spoiled_garment_says_so_when_it_is_scanned(flow: Flow, store: Store, clock: HeldClock) -> None:
    code = codes_of(store)[0]
    to_the_check(flow, clock, code)
    tap(flow, Tap.SPOIL, "scorched through")
    tap(flow, Tap.TO_FLOOR)
    flow.scan(code)

    assert card_of(flow).heading == "Spoiled"
    assert "scorched through" in card_of(flow).body


def test_a_garment_that_another_station_has_is_told(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    elsewhere = flow_on(store, clock, tmp_path, station="Station 2")
    elsewhere.scan(code)

    assert elsewhere.notice is not None
    assert "Station 1" in elsewhere.notice.text


def test_a_station_that_lost_its_garment_cannot_work_it_unknowing(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    elsewhere = flow_on(store, clock, tmp_path, station="Station 2")
    elsewhere.scan(code)
    tap(flow, Tap.CLOSE_PRESS)

    assert flow.notice is not None
    assert store.garment(code).progress.state == State.LAYING
    assert flow.in_hand.progress.seq == store.garment(code).progress.seq


def test_a_changed_temperature_stands_out(flow: Flow, store: Store, clock: HeldClock) -> None:
    from floorapp.flow import PressSetting
    from floorapp.views import Tone

    flow.last_setting = PressSetting(160, Pressure.MEDIUM, pad=True, cover=False)
    flow.scan(codes_of(store)[0])
    heat = card_of(flow).settings[0]

    assert heat.tone == Tone.ATTENTION
    assert "160 °C" in heat.small


def test_the_review_opens_from_the_floor(flow: Flow) -> None:
    tap(flow, Tap.TO_REVIEW, "LC-0147")

    assert flow.screen == ScreenName.REVIEW
    assert flow.review.review is not None
    assert len(flow.review.review.garments) == 2


def test_a_hold_does_not_make_a_finding_good(flow: Flow, store: Store, clock: HeldClock) -> None:
    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.LOOK_CLOSER, "anchor")
    tap(flow, Tap.HOLD, "lifts")
    tap_primary(flow)

    assert any("still open" in group.heading for group in card_of(flow).groups)


def test_never_closed_goes_back_before_the_closing_whoever_looked_since(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    elsewhere = flow_on(store, clock, tmp_path, station="Station 2")
    elsewhere.scan(code)
    tap(elsewhere, Tap.NEVER_CLOSED)

    assert state_of(elsewhere) == State.LAYING


def test_a_countdown_is_not_shown_for_another_closing(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    first, second = codes_of(store)
    flow.scan(first)
    tap(flow, Tap.CLOSE_PRESS)
    flow.scan(second)
    elsewhere = flow_on(store, clock, tmp_path, station="Station 2")
    elsewhere.scan(first)
    clock.advance(15)
    tap(elsewhere, Tap.NEVER_CLOSED)
    clock.advance(5)
    tap(elsewhere, Tap.CLOSE_PRESS)
    flow.scan(first)

    assert running_of(flow) is None
    assert flow.is_interrupted


def test_a_garment_that_is_short_cannot_be_let_go_as_it_is(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    from floorapp.screens.finding_presenter import finding_view

    to_the_check(flow, clock, codes_of(store)[0])
    tap(flow, Tap.PASS)
    tap(flow, Tap.CLOSE_PRESS)
    tap(flow, Tap.OPENED_EARLY)
    flow.enter_seconds(4)
    tap(flow, Tap.TAKE_BACK)
    tap(flow, Tap.LOOK_CLOSER, "life-ring")

    assert Tap.ACCEPT not in [choice.action.tap for choice in finding_view(flow).choices]


def test_after_the_scan_is_taken_back_the_press_can_still_be_closed(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.TAKE_BACK)
    tap_primary(flow)

    assert state_of(flow) == State.PRESSING


def test_a_resting_garment_called_during_another_peel_opens(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second = codes_of(store)
    flow.scan(first)
    press(flow, clock)
    tap(flow, Tap.PEEL, Peel.HOT.value)
    flow.scan(second)
    press(flow, clock)
    flow.scan(first)

    assert flow.screen == ScreenName.GARMENT
    assert flow.in_hand.row.code == first

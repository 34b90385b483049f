"""The next garment, as the screens call it, and the ends of the batches."""

from datetime import timedelta
from pathlib import Path

import pytest

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.call_presenter import passes_words
from floorapp.screens.floor_presenter import floor_view
from floorapp.screens.garment_presenter import card_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.screens.review_presenter import review_view
from floorapp.views import Tap, Tone
from models.garment.cycle import State
from models.garment.progress import Recipe
from models.job.job import Peel
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.rules.compare_policies import passes
from models.store.store import Store
from tests.floorapp.taps import called, press, tap, to_rest, wait_for_the_rest
from tests.held_clock import HeldClock
from tests.small_floor import called_by, codes_of, flow_on, rested_vests


@pytest.fixture
def recipe() -> Recipe:
    """Three vests whose first hit has a cold peel."""
    return rested_vests(3)


def test_a_fresh_floor_calls_its_first_garment(flow: Flow, store: Store) -> None:
    flow.tick()
    view = called(flow)
    assert view.heading == "Next: press hit 1"
    assert view.action.value == codes_of(store)[0]


def test_a_rest_that_ends_does_not_change_what_is_called(flow: Flow, store: Store, clock: HeldClock) -> None:
    """The rail calls what has rested; the hands are on their way to what was called before."""
    first, second, _ = codes_of(store)
    to_rest(flow, clock, first)
    flow.tick()
    before = called(flow)
    for _ in range(30):
        clock.advance(6)
        flow.look_around()
        flow.tick()

    assert before.action.value == second
    assert called(flow) == before


def test_while_one_rests_the_floor_screen_calls_the_next_by_code_size_and_place(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second, _ = codes_of(store)
    to_rest(flow, clock, first)

    view = floor_view(flow).call
    assert view is not None
    assert (view.heading, view.tone) == ("Next: press hit 1", Tone.PRESS)
    assert view.name == called_by(store, second)
    assert view.tag == "LC-0147 · 2\N{NO-BREAK SPACE}of\N{NO-BREAK SPACE}3"
    assert view.why.startswith("Same setting; ")


def test_a_tap_on_what_is_called_opens_it(flow: Flow, store: Store, clock: HeldClock) -> None:
    first, second, _ = codes_of(store)
    to_rest(flow, clock, first)
    flow.act(called(flow).action)

    assert flow.screen == ScreenName.GARMENT
    assert flow.in_hand.row.code == second


def test_another_may_be_scanned_than_was_called(flow: Flow, store: Store, clock: HeldClock) -> None:
    first, _, third = codes_of(store)
    to_rest(flow, clock, first)
    flow.scan(third)

    assert flow.in_hand.row.code == third
    assert flow.notice is None


def test_when_all_rest_the_call_says_how_soon(flow: Flow, store: Store, clock: HeldClock) -> None:
    for code in codes_of(store)[1:]:
        flow.scan(code)
        tap(flow, Tap.HOLD, "a kit is missing")
    to_rest(flow, clock, codes_of(store)[0])

    assert called(flow).heading == "Next in 1:05: peel and check"  # 5 s after the opening
    assert called(flow).tone == Tone.REST


def test_a_running_hit_names_what_can_be_peeled_meanwhile(flow: Flow, store: Store, clock: HeldClock) -> None:
    first, second, _ = codes_of(store)
    to_rest(flow, clock, first)
    clock.advance(75)
    flow.scan(second)
    tap(flow, Tap.CLOSE_PRESS)
    flow.tick()

    running = running_of(flow)
    assert running is not None
    assert running.choices[0].text == f"Meanwhile peel and check: {called_by(store, first)}"
    flow.act(running.choices[0].action)
    assert flow.in_hand.row.code == first


def test_a_running_hit_names_nothing_while_nothing_has_rested(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second, _ = codes_of(store)
    to_rest(flow, clock, first)
    flow.scan(second)
    tap(flow, Tap.CLOSE_PRESS)
    flow.tick()

    running = running_of(flow)
    assert running is not None
    assert not any("Meanwhile" in choice.text for choice in running.choices)


def test_a_resting_garment_s_card_calls_the_next(flow: Flow, store: Store, clock: HeldClock) -> None:
    first, second, _ = codes_of(store)
    to_rest(flow, clock, first)
    flow.scan(first)
    flow.tick()

    assert flow.in_hand.progress.state == State.RESTING
    group = card_of(flow).groups[0]
    assert group.heading == f"Next: press hit 1 · {called_by(store, second)}"


def test_a_batch_in_work_says_when_it_will_be_done_on_floor_and_review(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    to_rest(flow, clock, codes_of(store)[0])
    flow.tick()  # first the call, then the outlook
    (batch,) = floor_view(flow).batches
    tap(flow, Tap.TO_REVIEW, "LC-0147")

    assert batch.ends.startswith("done about ")
    assert batch.ends.endswith("if nobody pauses; from 2 measured times")
    assert review_view(flow).ends.startswith("Done about ")
    assert "whole before the next would take" in review_view(flow).ends


def test_the_end_is_told_without_what_is_held(flow: Flow, store: Store, clock: HeldClock) -> None:
    first, second, _ = codes_of(store)
    to_rest(flow, clock, first)
    flow.scan(second)
    tap(flow, Tap.HOLD, "a kit is missing")
    tap(flow, Tap.TO_FLOOR)
    flow.tick()
    flow.tick()

    (batch,) = floor_view(flow).batches
    assert " without the 1 held, if nobody pauses" in batch.ends


def test_a_batch_of_which_all_that_is_left_is_held_has_no_end(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    to_rest(flow, clock, codes_of(store)[0])
    flow.tick()
    for code in codes_of(store):
        flow.scan(code)
        tap(flow, Tap.HOLD, "a kit is missing")
    tap(flow, Tap.TO_FLOOR)

    (batch,) = floor_view(flow).batches
    assert batch.ends == ""


def test_with_the_whole_batch_worked_the_call_goes(flow: Flow, store: Store, clock: HeldClock) -> None:
    for code in codes_of(store)[1:]:
        flow.scan(code)
        tap(flow, Tap.SPOIL, "torn")
    first = codes_of(store)[0]
    to_rest(flow, clock, first)
    flow.scan(first)
    wait_for_the_rest(flow, clock)
    tap(flow, Tap.PEEL, Peel.COLD.value)
    tap(flow, Tap.PASS)
    press(flow, clock)
    tap(flow, Tap.PASS)
    tap(flow, Tap.TO_FLOOR)
    flow.tick()

    assert store.garment(first).progress.state == State.COMPLETE
    assert floor_view(flow).call is None


def shop_of(garments: int, *temperatures_c: float) -> Shop:
    visits = tuple(Visit(Setting("", c), 10, 15, 5, 60, 10) for c in temperatures_c)
    return Shop(
        (Press("", 6, 20, temperatures_c[0]),), tuple(Garment(f"G{n}", visits) for n in range(garments))
    )


def test_where_setting_by_setting_is_best_the_review_says_so() -> None:
    told = passes_words(passes(shop_of(6, 149, 160)))
    assert told.startswith("All garments at 149 °C (300 °F), then at 160 °C (320 °F). ")


def test_with_one_setting_only_the_time_saved_is_told() -> None:
    told = passes_words(passes(shop_of(6, 149, 149)))
    assert told.startswith("Each garment whole before the next would take 20 min, this order 7 min")


def test_a_second_station_does_not_call_what_the_first_has_in_hand(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    first, second, third = codes_of(store)
    to_rest(flow, clock, first)
    other = flow_on(store, clock, tmp_path, "Station 2")
    other.scan(second)
    clock.advance(timedelta(seconds=1).total_seconds())
    flow.look_around()
    flow.tick()

    assert called(flow).action.value == third

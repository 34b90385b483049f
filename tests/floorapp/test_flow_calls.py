"""The next garment, as the screens call it, and the ends of the batches."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from floorapp.background import AtOnce
from floorapp.call_flow import OUTLOOK_EVERY_NS, CallFlow
from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.call_presenter import call_view, open_view, passes_words
from floorapp.screens.floor_presenter import floor_view
from floorapp.screens.garment_presenter import card_of
from floorapp.screens.presenter import primary_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.screens.review_presenter import review_view
from floorapp.views import Tap, Tone
from floorapp.widget_views import CallView
from models.errors import StorageError
from models.floor.calling import Call, Outlook
from models.garment.cycle import State
from models.job.job import GarmentOrder, Peel
from models.rotation.passes import passes
from models.rotation.shop import Garment, Press, Setting, Shop, Visit
from models.store.store import Store
from models.tags.code import spoken
from tests.floorapp.taps import press, tap, tap_primary, wait_for_the_rest
from tests.held_clock import HeldClock
from tests.sample_jobs import rested_recipe
from tests.small_floor import codes_of, flow_on, loaded_store

VESTS = 3


@pytest.fixture
def store(tmp_path: Path, clock: HeldClock) -> Iterator[Store]:
    """Three vests whose first hit has a cold peel."""
    orders = tuple(GarmentOrder(n, "M") for n in range(1, VESTS + 1))
    recipe = rested_recipe()
    store = loaded_store(tmp_path, clock, replace(recipe, job=replace(recipe.job, garments=orders)))
    yield store
    store.close()


def to_rest(flow: Flow, clock: HeldClock, code: str) -> None:
    """Laid, pressed, hot ones off: the flow is on the Floor screen again."""
    flow.scan(code)
    clock.advance(20)
    press(flow, clock)
    clock.advance(5)
    tap(flow, Tap.PEEL, Peel.HOT.value)
    flow.tick()


def called(flow: Flow) -> CallView:
    view = call_view(flow)
    assert view is not None
    return view


def test_nothing_is_called_before_the_first_scan(flow: Flow) -> None:
    flow.tick()
    assert floor_view(flow).call is None


def test_while_one_rests_the_floor_screen_calls_the_next_by_code_size_and_place(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second, _ = codes_of(store)
    to_rest(flow, clock, first)

    view = floor_view(flow).call
    assert view is not None
    assert (view.heading, view.tone) == ("Next: press hit 1", Tone.PRESS)
    assert view.name == f"{spoken(second)} · size M · 2 of 3"
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

    assert called(flow).heading == "Next in 1:10: peel and check"
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
    assert running.choices[0].text == f"Meanwhile peel and check {spoken(first)}"
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
    assert group.heading == f"Next: press hit 1 · {spoken(second)} · size M · 2 of 3"


def plain(text: str) -> str:
    """Without the blanks at which no line may end."""
    return text.replace("\N{NO-BREAK SPACE}", " ")


def leave_under_the_press(flow: Flow, clock: HeldClock, code: str, over_s: int) -> None:
    """Closed, and not opened when its hit is over."""
    flow.scan(code)
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(flow.in_hand.progress.hit.dwell_s + over_s)
    tap(flow, Tap.TO_FLOOR)
    flow.tick()


def test_a_resting_garment_s_card_calls_the_press_to_open_first(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second, _ = codes_of(store)
    to_rest(flow, clock, first)
    leave_under_the_press(flow, clock, second, over_s=5)
    flow.scan(first)

    assert flow.in_hand.progress.state == State.RESTING
    assert card_of(flow).groups[0].heading == f"Open now: the press · {spoken(second)} · size M"
    primary = primary_of(flow)
    assert primary is not None
    assert plain(primary.text) == f"Open now: {spoken(second)}"
    tap_primary(flow)
    assert flow.in_hand.row.code == second


def test_a_running_hit_names_another_press_that_is_to_be_opened(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second, _ = codes_of(store)
    leave_under_the_press(flow, clock, first, over_s=5)
    flow.scan(second)
    tap(flow, Tap.CLOSE_PRESS)

    running = running_of(flow)
    assert running is not None
    assert plain(running.choices[0].text) == f"Open now: {spoken(first)}"
    flow.act(running.choices[0].action)
    assert flow.in_hand.row.code == first


def test_of_two_presses_to_open_the_one_that_waits_longer_is_called(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    first, second, _ = codes_of(store)
    leave_under_the_press(flow, clock, second, over_s=0)
    leave_under_the_press(flow, clock, first, over_s=9)

    assert called(flow).action.value == second


def test_of_several_presses_the_one_to_open_is_named(clock: HeldClock, tmp_path: Path) -> None:
    recipe = rested_recipe()
    hits = tuple(replace(hit, press="wide press") for hit in recipe.plan.hits)
    store = loaded_store(tmp_path / "two", clock, replace(recipe, plan=replace(recipe.plan, hits=hits)))
    flow = flow_on(store, clock, tmp_path)
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.CLOSE_PRESS)
    clock.advance(flow.in_hand.progress.hit.dwell_s)
    tap(flow, Tap.TO_FLOOR)

    assert called(flow).heading == "Open now: wide press"
    store.close()


def test_a_garment_on_its_own_screen_is_not_called_there(flow: Flow, store: Store, clock: HeldClock) -> None:
    first, *_ = codes_of(store)
    leave_under_the_press(flow, clock, first, over_s=5)
    flow.scan(first)

    assert open_view(flow) is None


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
    assert told.startswith("All garments at 149 °C, then at 160 °C. ")


def test_with_one_setting_only_the_time_saved_is_told() -> None:
    told = passes_words(passes(shop_of(6, 149, 149)))
    assert told.startswith("Each garment whole before the next would take 20 min, this order 7 min")


class Counted:
    """Counts how often it is asked; the floor has nothing to call."""

    def __init__(self) -> None:
        self.calls = self.outlooks = 0

    def call(self) -> Call | None:
        self.calls += 1
        return None

    def outlook(self) -> Outlook | None:
        self.outlooks += 1
        return None


class Unreadable(Counted):
    def call(self) -> Call | None:
        raise StorageError("the disk is full")


class Waiting:
    """A background that has begun work and not ended it."""

    def run(self, *_: object) -> None:
        """Nothing comes back."""

    def tell(self, *_: object) -> None:
        """Nothing comes back."""


def test_the_call_is_worked_out_once_for_each_event(clock: HeldClock) -> None:
    counted = Counted()
    calls = CallFlow(counted, clock, AtOnce())
    for _ in range(3):
        calls.tick(is_call_shown=True, is_outlook_shown=False)
    calls.moved()
    calls.tick(is_call_shown=True, is_outlook_shown=False)

    assert counted.calls == 2


def test_nothing_is_worked_out_for_a_screen_that_does_not_show_it(clock: HeldClock) -> None:
    counted = Counted()
    CallFlow(counted, clock, AtOnce()).tick(is_call_shown=False, is_outlook_shown=False)

    assert (counted.calls, counted.outlooks) == (0, 0)


def test_the_outlook_is_worked_out_now_and_then(clock: HeldClock) -> None:
    counted = Counted()
    calls = CallFlow(counted, clock, AtOnce())
    for _ in range(3):
        calls.tick(is_call_shown=False, is_outlook_shown=True)
    clock.advance(OUTLOOK_EVERY_NS / 1e9)
    calls.tick(is_call_shown=False, is_outlook_shown=True)

    assert counted.outlooks == 2


def test_a_floor_that_cannot_be_read_has_no_call_and_is_tried_again(clock: HeldClock) -> None:
    calls = CallFlow(Unreadable(), clock, AtOnce())
    calls.tick(is_call_shown=True, is_outlook_shown=False)
    calls.tick(is_call_shown=False, is_outlook_shown=True)

    assert calls.call is None


def test_only_one_is_worked_out_at_a_time(clock: HeldClock) -> None:
    begun: list[object] = []

    class Slow(Waiting):
        def run(self, *work: object) -> None:
            begun.append(work)

    calls = CallFlow(Counted(), clock, Slow())
    calls.tick(is_call_shown=True, is_outlook_shown=True)
    calls.moved()
    calls.tick(is_call_shown=True, is_outlook_shown=True)

    assert len(begun) == 1


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

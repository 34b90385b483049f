"""A garment that rests: for how long, how that was found, and what a hand says that finds it cold or warm."""

import re
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.floor_presenter import rail_of
from floorapp.screens.garment_presenter import card_of
from floorapp.screens.heat_presenter import learned_words
from floorapp.screens.peel_presenter import rest_words
from floorapp.screens.why_presenter import why_view
from floorapp.views import Cue, Tap
from models.floor.resting import BY_HABIT_S, Basis, Rest
from models.garment.cycle import State
from models.garment.progress import Recipe
from models.job.job import Peel
from models.learning.learned import Factor
from models.ranges import Estimate
from models.recipe.piece_rest import PieceRest
from models.recipe.places import Place
from models.rotation.simulation.simulator import Act
from models.store.store import Store
from tests.floorapp.taps import press, state_of, tap, tap_primary, wait_for_the_rest
from tests.held_clock import HeldClock
from tests.sample_jobs import rested_recipe
from tests.small_floor import codes_of, flow_on, loaded_store, rested_vests

GARMENTS = 5


@pytest.fixture
def recipe() -> Recipe:
    """Five vests whose rests were estimated."""
    return rested_vests(GARMENTS)


@pytest.fixture
def resting(flow: Flow, store: Store, clock: HeldClock) -> Flow:
    """The first vest has just gone to the rail."""
    to_rest(flow, clock, codes_of(store)[0])
    return flow


def to_rest(flow: Flow, clock: HeldClock, code: str) -> None:
    flow.scan(code)
    press(flow, clock)
    tap(flow, Tap.PEEL, Peel.HOT.value)


def lines_of(flow: Flow) -> list[str]:
    return [line.text for group in card_of(flow).groups for line in group.lines]


def choices_of(flow: Flow) -> list[str]:
    return [button.text for button in card_of(flow).choices]


def test_the_rail_counts_the_estimated_rest(resting: Flow) -> None:
    assert [item.left_s for item in rail_of(resting)] == [70]


def test_before_it_goes_to_rest_the_card_says_how_long_and_that_it_is_an_estimate(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    flow.scan(codes_of(store)[0])
    press(flow, clock)

    told = "70 s (42 to 116), a first estimate"
    assert told in lines_of(flow)


def test_while_it_rests_the_card_says_the_same(resting: Flow, store: Store) -> None:
    resting.scan(codes_of(store)[0])

    assert "70 s (42 to 116), a first estimate" in lines_of(resting)


def test_a_hand_that_finds_it_cold_before_its_time_peels_it(
    resting: Flow, store: Store, clock: HeldClock
) -> None:
    clock.advance(40)
    resting.scan(codes_of(store)[0])
    assert "Cold already: they are off" in choices_of(resting)
    tap(resting, Tap.PEEL, Peel.COLD.value)

    assert state_of(resting) == State.CHECKING


def test_a_hand_that_finds_it_warm_sends_it_back_and_it_calls_again(
    resting: Flow, store: Store, clock: HeldClock
) -> None:
    wait_for_the_rest(resting, clock)
    resting.tick()
    resting.scan(codes_of(store)[0])
    assert "Still warm: rest it 0:46 more" in choices_of(resting)
    tap(resting, Tap.REST_ON)
    assert state_of(resting) == State.RESTING
    tap(resting, Tap.TO_FLOOR)
    left_s = [item.left_s for item in rail_of(resting)]
    clock.advance(46)
    resting.tick()

    assert left_s == [46]
    assert resting.signals.take() == [Cue.PEEL_NOW, Cue.REST_OVER, Cue.REST_OVER]


def test_sent_back_by_mistake_is_taken_back(resting: Flow, store: Store, clock: HeldClock) -> None:
    wait_for_the_rest(resting, clock)
    resting.scan(codes_of(store)[0])
    tap(resting, Tap.REST_ON)
    tap(resting, Tap.TAKE_BACK)

    assert card_of(resting).primary is not None
    assert "Still warm: rest it 0:46 more" in choices_of(resting)


def after_all_others_were_cold_early(flow: Flow, store: Store, clock: HeldClock) -> str:
    """The code of the last garment; hands have found each before it cold after 40 s."""
    *earlier, last = codes_of(store)
    for code in earlier:
        to_rest(flow, clock, code)
        clock.advance(40)
        flow.scan(code)
        tap(flow, Tap.PEEL, Peel.COLD.value)
        tap_primary(flow)
    return last


def test_what_one_station_learned_another_rests_by(
    flow: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    last = after_all_others_were_cold_early(flow, store, clock)
    other = flow_on(store, clock, tmp_path, "Station 2")
    other.scan(last)
    press(other, clock)

    (told,) = [line for line in lines_of(other) if "rests here" in line]
    assert told.endswith(f"from {GARMENTS - 1} rests here")
    tap_primary(other)
    assert 40 <= rail_of(other)[0].left_s <= 50  # type: ignore[operator]  # it is on the rail


def seen_here(flow: Flow, code: str) -> list[str]:
    """What Why tells of the rests that the floor has seen, beside the hit of this garment."""
    flow.scan(code)
    tap(flow, Tap.WHY)
    groups = why_view(flow).groups
    return [line.text for group in groups if group.heading == "Rests seen here" for line in group.lines]


def test_why_tells_what_the_floor_makes_of_the_estimate_with_its_band_and_its_n(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    last = after_all_others_were_cold_early(flow, store, clock)

    (line,) = seen_here(flow, last)
    told = re.fullmatch(
        r"Seen here: (0\.\d\d) times the estimate \((0\.\d\d) to (0\.\d\d)\), from 4 rests, used\.", line
    )
    assert told is not None
    middle, low, high = map(float, told.groups())
    assert low < middle < high
    assert middle == pytest.approx(40 / 70.5, rel=0.1)


def test_why_tells_nothing_of_rests_where_none_was_seen(flow: Flow, store: Store) -> None:
    assert seen_here(flow, codes_of(store)[0]) == []


def test_rests_too_few_to_go_by_are_told_as_not_used_yet() -> None:
    few = Rest(Place.TABLE, Estimate(42.0, 70.5, 116.0), Basis.ESTIMATE, 2, Factor(1.1, 0.9, 1.3, 2))
    assert learned_words(few, "rest") == (
        "Seen here: 1.10 times the estimate (0.90 to 1.30), from 2 rests, not used yet."
    )


def warm_ring_and_cold_anchor() -> Recipe:
    """Two vests of which the ring peels warm and the anchor cold."""
    recipe = rested_recipe()
    first, *others = recipe.job.materials
    ring = replace(first, peel=Peel.WARM, carrier=True, least_s=15)
    wait = PieceRest("life-ring", Peel.WARM, 20.0, 33.0, 49.0)
    return replace(recipe, job=replace(recipe.job, materials=(ring, *others)), rests=(*recipe.rests, wait))


@pytest.fixture
def peels_warm(tmp_path: Path, clock: HeldClock) -> Iterator[Store]:
    """Two vests whose carriers peel warm; how long the anchor's waits on the table was estimated."""
    recipe = rested_recipe()
    materials = tuple(replace(m, peel=Peel.WARM) if m.carrier else m for m in recipe.job.materials)
    rests = (PieceRest("anchor", Peel.WARM, 20.0, 33.0, 49.0),)
    warm = replace(recipe, job=replace(recipe.job, materials=materials), rests=rests)
    store = loaded_store(tmp_path / "warm", clock, warm)
    yield store
    store.close()


def test_a_warm_peel_says_where_it_gets_warm_when_and_how_that_is_known(
    peels_warm: Store, tmp_path: Path, clock: HeldClock
) -> None:
    flow = flow_on(peels_warm, clock, tmp_path)
    flow.scan(codes_of(peels_warm)[0])
    press(flow, clock)
    card = card_of(flow)

    assert card.body.startswith("Off the press and flat on the table until it is warm.")
    assert [group.heading for group in card.groups] == ["Warm, after about 33 s (20 to 49)"]
    assert "a first estimate" in lines_of(flow)


def opened_to_peel_warm(store: Store, folder: Path, clock: HeldClock) -> Flow:
    """The first vest has just been opened; its carriers come off warm after 33 s."""
    flow = flow_on(store, clock, folder)
    flow.scan(codes_of(store)[0])
    press(flow, clock)
    return flow


def test_a_warm_wait_counts_on_its_card_and_on_the_rail(
    peels_warm: Store, tmp_path: Path, clock: HeldClock
) -> None:
    flow = opened_to_peel_warm(peels_warm, tmp_path, clock)
    clock.advance(10)
    on_card = card_of(flow).heading
    tap(flow, Tap.TO_FLOOR)
    (item,) = rail_of(flow)

    assert on_card == "Hit 1 of 2: warm in 0:23"
    assert (item.left_s, item.is_warm, item.is_pressing) == (23, True, False)


def test_a_warm_wait_stays_on_the_rail_while_another_garment_is_on_the_screen(
    peels_warm: Store, tmp_path: Path, clock: HeldClock
) -> None:
    flow = opened_to_peel_warm(peels_warm, tmp_path, clock)
    flow.scan(codes_of(peels_warm)[1])

    assert [item.code for item in rail_of(flow)] == [codes_of(peels_warm)[0]]


def test_what_can_be_peeled_warm_calls_as_a_peel_until_it_is_taken(
    peels_warm: Store, tmp_path: Path, clock: HeldClock
) -> None:
    flow = opened_to_peel_warm(peels_warm, tmp_path, clock)
    flow.tick()
    at_the_opening = flow.signals.take()
    clock.advance(33)
    flow.tick()
    when_warm = flow.signals.take()
    clock.advance(30)
    flow.tick()
    again = flow.signals.take()
    tap(flow, Tap.PEEL, Peel.WARM.value)
    clock.advance(60)
    flow.tick()

    assert (at_the_opening, when_warm, again) == ([], [Cue.PEEL_NOW], [Cue.PEEL_NOW])
    assert flow.signals.take() == []


def test_until_it_is_warm_the_primary_action_peels_nothing(
    peels_warm: Store, tmp_path: Path, clock: HeldClock
) -> None:
    flow = opened_to_peel_warm(peels_warm, tmp_path, clock)
    early = card_of(flow)
    clock.advance(33)
    due = card_of(flow)

    assert early.primary is not None
    assert early.primary.action.tap == Tap.TO_FLOOR
    assert "Warm already: they are off" in [button.text for button in early.choices]
    assert due.primary is not None
    assert due.primary.text == "Warm ones off"


def test_a_warm_wait_is_known_after_a_restart_and_at_other_stations(
    peels_warm: Store, tmp_path: Path, clock: HeldClock
) -> None:
    opened_to_peel_warm(peels_warm, tmp_path, clock)
    clock.advance(10)
    again = flow_on(peels_warm, clock, tmp_path)
    elsewhere = flow_on(peels_warm, clock, tmp_path, "Station 2")

    assert [item.left_s for item in rail_of(again)] == [23]
    assert [item.left_s for item in rail_of(elsewhere)] == [23]


def test_a_garment_that_waits_to_be_peeled_warm_is_called(
    peels_warm: Store, tmp_path: Path, clock: HeldClock
) -> None:
    first, second = codes_of(peels_warm)
    flow = opened_to_peel_warm(peels_warm, tmp_path, clock)
    flow.work.hold(flow.work.find(second), "a kit is missing")
    tap(flow, Tap.TO_FLOOR)
    flow.tick()
    call = flow.calls.call

    assert call is not None
    assert (call.row.code, call.act) == (first, Act.FINISH)
    assert (call.at - clock.utc_now()).total_seconds() == pytest.approx(33, abs=1)


def test_the_rest_of_what_peels_cold_goes_on_through_the_warm_wait(tmp_path: Path, clock: HeldClock) -> None:
    """41 s of the warm wait are 41 s of the 70 s of the rest."""
    with closing(loaded_store(tmp_path / "both", clock, warm_ring_and_cold_anchor())) as store:
        flow = opened_to_peel_warm(store, tmp_path, clock)
        tap(flow, Tap.PEEL, Peel.HOT.value)
        clock.advance(41)
        tap(flow, Tap.PEEL, Peel.WARM.value)

    assert state_of(flow) == State.RESTING
    assert [item.left_s for item in rail_of(flow)] == [29]


def test_a_rest_of_another_run_is_told_with_its_doubt(
    resting: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    code = codes_of(store)[0]
    own = rail_of(resting)[0].is_doubtful
    again = flow_on(store, clock, tmp_path)
    on_rail = rail_of(again)[0].is_doubtful
    again.scan(code)
    card = card_of(again)

    assert (own, on_rail) == (False, True)
    assert card.heading == "Hit 1 of 2: cold in ≈1:10"
    assert card.warning.startswith("≈ counted from before the app was opened")


def test_a_garment_sent_back_by_this_run_has_no_doubt_any_more(
    resting: Flow, store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    wait_for_the_rest(resting, clock)
    again = flow_on(store, clock, tmp_path)
    again.scan(codes_of(store)[0])
    tap(again, Tap.REST_ON)
    tap(again, Tap.TO_FLOOR)

    assert [(item.left_s, item.is_doubtful) for item in rail_of(again)] == [(46, False)]


def test_a_warm_peel_without_an_estimate_is_counted_by_hand(
    peels_warm: Store, tmp_path: Path, clock: HeldClock
) -> None:
    flow = flow_on(peels_warm, clock, tmp_path, rests=Place.HUNG)
    flow.scan(codes_of(peels_warm)[0])
    press(flow, clock)

    assert [group.heading for group in card_of(flow).groups] == ["When it is warm: count to ten first"]


def test_a_station_that_hangs_its_garments_says_so_before_and_while_they_rest(
    tmp_path: Path, clock: HeldClock
) -> None:
    recipe = rested_recipe()
    hung = PieceRest("anchor", Peel.COLD, 60.0, 90.0, 120.0, place=Place.HUNG)
    store = loaded_store(tmp_path / "hung", clock, replace(recipe, rests=(*recipe.rests, hung)))
    flow = flow_on(store, clock, tmp_path, rests=Place.HUNG)
    code = codes_of(store)[0]
    flow.scan(code)
    press(flow, clock)
    before = lines_of(flow)
    tap(flow, Tap.PEEL, Peel.HOT.value)
    rail = [item.left_s for item in rail_of(flow)]
    flow.scan(code)
    body = card_of(flow).body
    elsewhere = flow_on(store, clock, tmp_path, "Station 2")
    elsewhere.scan(code)
    body_elsewhere = card_of(elsewhere).body
    store.close()

    assert "90 s (60 to 120), a first estimate" in before
    assert rail == [90]
    assert body.startswith("Leave it hung until it is cold.")
    assert body_elsewhere == body


def test_a_batch_from_before_rests_were_estimated_says_so() -> None:
    assert rest_words(Rest(Place.TABLE, BY_HABIT_S, Basis.HABIT)) == "60 s by habit: none was estimated"


def test_few_rests_are_counted_beside_the_estimate() -> None:
    few = Rest(Place.TABLE, Estimate(42.0, 70.5, 116.0), Basis.ESTIMATE, 2)
    assert rest_words(few) == "70 s (42 to 116), an estimate, 2 seen here"


def test_a_rest_sends_to_the_floor_for_the_next(resting: Flow) -> None:
    assert resting.screen == ScreenName.FLOOR


def test_with_hot_and_warm_ones_to_come_off_first_the_rest_is_not_told_yet(
    tmp_path: Path, clock: HeldClock
) -> None:
    recipe = rested_recipe()
    first, *others = recipe.job.materials
    warm_ring = replace(first, peel=Peel.WARM, carrier=True, least_s=15)
    store = loaded_store(
        tmp_path / "all", clock, replace(recipe, job=replace(recipe.job, materials=(warm_ring, *others)))
    )
    flow = flow_on(store, clock, tmp_path)
    flow.scan(codes_of(store)[0])
    press(flow, clock)
    at_first = lines_of(flow)
    tap_primary(flow)
    then = lines_of(flow)
    store.close()

    assert not [line for line in at_first if "estimate" in line]
    assert [line for line in then if "estimate" in line]

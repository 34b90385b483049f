"""What is read off a garment's log: rests, peels, and whether the check then found a lift."""

from dataclasses import replace
from datetime import timedelta

import pytest

from models.garment.events import (
    AllPeeled,
    Closed,
    FindingKind,
    Found,
    Happening,
    Held,
    Opened,
    Passed,
    Peeled,
    Rested,
    RestEnded,
    Spoiled,
    TakenUp,
)
from models.garment.progress import Recipe
from models.job.job import Peel
from models.learning.learned import RestKey, RestObservation, Told
from models.learning.lift_rates import PeelObservation, lift_rates
from models.learning.observations import peel_observations, rest_observations
from models.recipe.piece_rest import PieceRest
from models.recipe.places import Place
from tests.event_log import EventLog, checking, complete, peeling, pressing
from tests.sample_jobs import crew_vest_recipe

ESTIMATE_S = 50.0
RESTS = (PieceRest("anchor", Peel.COLD, 30.0, ESTIMATE_S, 80.0),)
RECIPE = replace(crew_vest_recipe(), rests=RESTS)
ANCHOR_OFF = Peeled(("anchor",), Peel.COLD)


def rests(log: EventLog, recipe: Recipe = RECIPE) -> tuple[RestObservation, ...]:
    return rest_observations(recipe, log.events)


def peels(log: EventLog) -> tuple[PeelObservation, ...]:
    return peel_observations(RECIPE, log.events)


def rested_for(due_s: int, how: Peel = Peel.COLD) -> EventLog:
    """Off the press ten seconds after the opening, and peeled ten seconds later."""
    log = peeling().tap(Peeled(("wave",), Peel.HOT), Rested(due_s))
    return log.tap(RestEnded(), Peeled(("anchor",), how), AllPeeled())


def sent_back() -> EventLog:
    """Called after ten seconds and still warm, peeled ten seconds later."""
    log = peeling().tap(Peeled(("wave",), Peel.HOT), Rested(10)).tap(Rested(5))
    return log.tap(RestEnded(), Peeled(("anchor",), Peel.COLD), AllPeeled()).tap(Passed())


def test_a_cold_peel_before_it_was_due_that_stayed_down_was_called_ready():
    (seen,) = rests(rested_for(60).tap(Passed()))
    assert (seen.told, seen.rested_s, seen.estimate_s) == (Told.READY, 10.0, ESTIMATE_S)
    assert (seen.key.material, seen.key.place) == ("raised-foam", Place.TABLE)


def test_a_cold_peel_after_it_was_due_says_that_no_longer_was_needed():
    (seen,) = rests(rested_for(5).tap(Passed()))
    assert seen.told == Told.WELL


def from_the_opening(due_s: int) -> Rested:
    return Rested(due_s, counts_from_opening=True)


def test_a_rest_that_counts_from_the_opening_is_seen_from_there():
    log = peeling().tap(Peeled(("wave",), Peel.HOT), from_the_opening(60))
    (seen,) = rests(log.tap(RestEnded(), ANCHOR_OFF, AllPeeled()).tap(Passed()))
    assert (seen.told, seen.rested_s) == (Told.READY, 20.0)  # ten on the press, ten off it


def test_a_rest_that_counts_from_the_opening_tells_something_after_a_warm_wait_too():
    log = peeled_warm().tap(from_the_opening(60))
    seen = rests(log.tap(RestEnded(), ANCHOR_OFF, AllPeeled()).tap(Passed()))
    assert [(rest.key.until, rest.rested_s) for rest in seen] == [(Peel.COLD, 30.0)]


def test_a_piece_that_lifted_says_that_longer_was_needed():
    (seen,) = rests(rested_for(60).tap(Found(FindingKind.LIFT, ("anchor",)), Spoiled("lifted")))
    assert seen.told == Told.LIFTED


def test_a_garment_that_was_sent_back_once_needed_a_time_between_that_and_its_new_end():
    """Warm after 10 s, due after 15 s, cold after 20 s: the mean of 10 and 15 in proportion."""
    (seen,) = rests(sent_back())
    assert seen.told == Told.BETWEEN
    assert seen.rested_s == pytest.approx(12.247, abs=0.001)


def test_what_was_sent_back_and_then_called_ready_by_hand_is_one_rest():
    log = peeling().tap(Peeled(("wave",), Peel.HOT), Rested(10)).tap(Rested(60))
    log.tap(RestEnded(), Peeled(("anchor",), Peel.COLD), AllPeeled()).tap(Passed())
    assert [(seen.told, seen.rested_s) for seen in rests(log)] == [(Told.READY, 20.0)]


@pytest.mark.parametrize("told_early", [Rested(5), Peeled(("anchor",), Peel.COLD)])
def test_where_a_clock_was_set_back_meanwhile_nothing_is_seen(told_early: Happening):
    by = timedelta(minutes=2)
    events = [replace(e, at=e.at - by) if e.what == told_early else e for e in sent_back().events]
    assert rest_observations(RECIPE, events) == ()


def test_what_is_cold_when_the_press_opens_has_no_rest_to_learn():
    cold = PieceRest("wave", Peel.COLD, 0.0, 0.0, 0.0)
    log = pressing().tap(Opened(15)).tap(Rested(60))
    log.tap(RestEnded(), Peeled(("anchor", "wave"), Peel.COLD), AllPeeled()).tap(Passed())
    both = rests(log, replace(RECIPE, rests=(*RESTS, cold)))
    assert [seen.key.material for seen in both] == ["raised-foam"]


def test_a_garment_that_lay_on_the_press_for_longer_than_it_should_rest_tells_nothing():
    brief = replace(RECIPE, rests=(PieceRest("anchor", Peel.COLD, 4.0, 9.0, 15.0),))
    assert rests(rested_for(60).tap(Passed()), brief) == ()
    assert len(rests(rested_for(60).tap(Passed()))) == 1


def test_the_hand_judges_the_material_that_rests_longest():
    """The other one was cold before it: that it stayed down only says that it needed no longer."""
    log = pressing().tap(Opened(15)).tap(Rested(60))
    log.tap(RestEnded(), Peeled(("anchor", "wave"), Peel.COLD), AllPeeled()).tap(Passed())
    both = replace(RECIPE, rests=(*RESTS, PieceRest("wave", Peel.COLD, 20.0, 30.0, 40.0)))
    assert [(seen.key.material, seen.told) for seen in rests(log, both)] == [
        ("raised-foam", Told.READY),
        ("glitter-film", Told.WELL),
    ]


def test_a_lift_found_after_the_garment_was_passed_still_belongs_to_its_peel():
    log = rested_for(60).tap(Passed()).tap(Found(FindingKind.LIFT, ("anchor",)), Held("lifts after all"))
    assert [seen.told for seen in rests(log)] == [Told.LIFTED]


def test_a_lift_found_after_the_next_closing_does_not():
    log = rested_for(60).tap(Passed()).tap(Closed(5)).tap(Opened(5), AllPeeled())
    log.tap(Found(FindingKind.LIFT, ("anchor",)), Spoiled("lifts"))
    assert [seen.told for seen in rests(log)] == [Told.READY]


def test_another_finding_is_no_lift():
    (seen,) = rests(rested_for(60).tap(Found(FindingKind.SCORCH, ("anchor",)), Spoiled("scorched")))
    assert seen.told == Told.READY


def test_before_the_check_nothing_is_known():
    assert rests(checking()) == ()
    assert peels(checking()) == ()


def test_a_cold_piece_that_was_tried_warm_is_no_rest_but_a_peel():
    log = rested_for(60, Peel.WARM).tap(Passed())
    assert rests(log) == ()
    assert [(seen.material, seen.how) for seen in peels(log)] == [
        ("glitter-film", Peel.HOT),
        ("raised-foam", Peel.WARM),
    ]


def test_a_tap_taken_back_was_no_peel():
    log = (
        rested_for(60).take_back().tap(RestEnded(), Peeled(("anchor",), Peel.WARM), AllPeeled()).tap(Passed())
    )
    assert [seen.how for seen in peels(log)] == [Peel.HOT, Peel.WARM]


def test_where_no_rest_was_estimated_none_was_observed():
    assert rests(complete(), crew_vest_recipe()) == ()


def test_a_rest_is_learned_under_the_place_where_the_garment_rested():
    (anchor,) = RESTS
    hung = replace(anchor, median_s=65.0, place=Place.HUNG)
    log = peeling().tap(Peeled(("wave",), Peel.HOT), Rested(60, Place.HUNG))
    log.tap(RestEnded(), Peeled(("anchor",), Peel.COLD), AllPeeled()).tap(Passed())
    (seen,) = rests(log, replace(RECIPE, rests=(anchor, hung)))
    assert (seen.key.place, seen.estimate_s) == (Place.HUNG, 65.0)


def test_a_rest_where_none_was_estimated_tells_nothing():
    log = peeling().tap(Peeled(("wave",), Peel.HOT), Rested(60, Place.HUNG))
    log.tap(RestEnded(), Peeled(("anchor",), Peel.COLD), AllPeeled()).tap(Passed())
    assert rests(log) == ()


UNTIL_WARM = replace(RECIPE, rests=(PieceRest("wave", Peel.WARM, 20.0, 33.0, 49.0, place=Place.HUNG),))


def peeled_warm(waits: int = 1, place: Place | None = Place.HUNG) -> EventLog:
    """The wave came off warm, ten seconds after the opening for each of these waits."""
    log = pressing().tap(Opened(10))
    for _ in range(waits - 1):
        log.tap(TakenUp())
    return log.tap(Peeled(("wave",), Peel.WARM, place))


def test_a_warm_peel_that_stayed_down_says_that_no_longer_was_needed():
    (seen,) = rests(
        peeled_warm().tap(Rested(60)).tap(RestEnded(), ANCHOR_OFF, AllPeeled()).tap(Passed()), UNTIL_WARM
    )
    assert seen.key == RestKey("glitter-film", "quilted polyamide", Place.HUNG, Peel.WARM)
    assert (seen.told, seen.rested_s, seen.estimate_s) == (Told.WELL, 10.0, 33.0)


def test_a_rest_after_a_wait_until_warm_tells_nothing_for_the_garment_had_begun_to_cool():
    log = peeled_warm().tap(Rested(60)).tap(RestEnded(), ANCHOR_OFF, AllPeeled()).tap(Passed())
    both = replace(RECIPE, rests=(*RESTS, *UNTIL_WARM.rests))
    assert [seen.key.until for seen in rests(log, both)] == [Peel.WARM]


@pytest.mark.parametrize(("waits", "told"), [(3, [Told.LIFTED]), (6, [])])
def test_a_lift_after_a_warm_peel_says_that_longer_was_needed_unless_it_may_have_been_too_cold(waits, told):
    log = peeled_warm(waits).tap(Rested(60)).tap(RestEnded(), ANCHOR_OFF, AllPeeled())
    log.tap(Found(FindingKind.LIFT, ("wave",)), Spoiled("lifted"))
    assert [(seen.told) for seen in rests(log, UNTIL_WARM)] == told


def test_a_warm_peel_from_before_its_place_was_told_tells_nothing():
    log = peeled_warm(place=None).tap(Rested(60)).tap(RestEnded(), ANCHOR_OFF, AllPeeled()).tap(Passed())
    assert rests(log, UNTIL_WARM) == ()


def test_a_warm_peel_where_no_wait_was_estimated_tells_nothing():
    log = (
        peeled_warm(place=Place.TABLE).tap(Rested(60)).tap(RestEnded(), ANCHOR_OFF, AllPeeled()).tap(Passed())
    )
    assert rests(log, UNTIL_WARM) == ()


def test_lift_rates_stand_by_how_the_pieces_were_really_peeled_with_their_interval():
    cold = [PeelObservation("raised-foam", "polyamide", Peel.COLD, n < 1) for n in range(20)]
    warm = [PeelObservation("raised-foam", "polyamide", Peel.WARM, n < 2) for n in range(10)]
    first, second = lift_rates([*cold, *warm])
    assert [(rate.how, rate.lifted, rate.of) for rate in (first, second)] == [
        (Peel.WARM, 2, 10),
        (Peel.COLD, 1, 20),
    ]
    assert first.interval.low < first.share < first.interval.high


def test_materials_and_fabrics_are_told_apart():
    seen = [
        PeelObservation("raised-foam", "polyamide", Peel.COLD, False),
        PeelObservation("raised-foam", "canvas", Peel.COLD, True),
        PeelObservation("glitter-film", "canvas", Peel.COLD, False),
    ]
    assert [(rate.material, rate.fabric) for rate in lift_rates(seen)] == [
        ("glitter-film", "canvas"),
        ("raised-foam", "canvas"),
        ("raised-foam", "polyamide"),
    ]


def test_every_piece_of_a_whole_garment_is_seen_once():
    assert sorted((seen.material, seen.lifted) for seen in peels(complete())) == [
        ("glitter-film", False),
        ("raised-foam", False),
    ]

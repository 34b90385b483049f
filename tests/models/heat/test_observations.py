"""What is read off a garment's log: rests, peels, and whether the check then found a lift."""

from collections.abc import Sequence

from models.garment.events import (
    AllPeeled,
    Event,
    FindingKind,
    Found,
    Opened,
    Passed,
    Peeled,
    Rested,
    RestEnded,
    Spoiled,
)
from models.heat.learned import RestObservation, Told
from models.heat.lift_rates import PeelObservation, lift_rates
from models.heat.observations import EstimateS, peel_observations, rest_observations
from models.job.job import Peel
from models.planning.plan import Hit
from tests.event_log import EventLog, checking, complete, peeling, pressing
from tests.sample_jobs import crew_vest_recipe

RECIPE = crew_vest_recipe()
ESTIMATE_S = 50.0


def rests(events: Sequence[Event]) -> tuple[RestObservation, ...]:
    return rest_observations(RECIPE, events, always(ESTIMATE_S), "on a table")


def always(seconds: float) -> EstimateS:
    def estimate_s(hit: Hit, pieces: tuple[str, ...]) -> float:
        return seconds

    return estimate_s


def peels(log: EventLog) -> tuple[PeelObservation, ...]:
    return peel_observations(RECIPE, log.events)


def rested_for(due_s: int, how: Peel = Peel.COLD) -> EventLog:
    """Rested ten seconds after the opening, and peeled ten seconds later."""
    log = peeling().tap(Peeled(("wave",), Peel.HOT), Rested(due_s))
    return log.tap(RestEnded(), Peeled(("anchor",), how), AllPeeled())


def test_a_cold_peel_before_it_was_due_that_stayed_down_was_called_ready():
    (seen,) = rests(rested_for(60).tap(Passed()).events)
    assert (seen.told, seen.rested_s, seen.estimate_s) == (Told.READY, 20.0, ESTIMATE_S)
    assert (seen.key.material, seen.key.place) == ("raised-foam", "on a table")


def test_a_cold_peel_after_it_was_due_says_that_no_longer_was_needed():
    (seen,) = rests(rested_for(5).tap(Passed()).events)
    assert seen.told == Told.WELL


def test_a_piece_that_lifted_says_that_longer_was_needed():
    (seen,) = rests(rested_for(60).tap(Found(FindingKind.LIFT, ("anchor",)), Spoiled("lifted")).events)
    assert seen.told == Told.LIFTED


def test_a_rest_counts_from_the_opening_even_where_the_tap_came_late():
    """Closed for 4 s and told 10 s after the closing: it had been open for 6 s by then."""
    log = pressing().tap(Opened(4, judged=True)).tap(Peeled(("wave",), Peel.HOT), Rested(60))
    log.tap(RestEnded(), Peeled(("anchor",), Peel.COLD), AllPeeled()).tap(Passed())
    (seen,) = rests(log.events)
    assert seen.rested_s == 26.0


def test_another_finding_is_no_lift():
    (seen,) = rests(rested_for(60).tap(Found(FindingKind.SCORCH, ("anchor",)), Spoiled("scorched")).events)
    assert seen.told == Told.READY


def test_before_the_check_nothing_is_known():
    assert rests(checking().events) == ()
    assert peels(checking()) == ()


def test_a_cold_piece_that_was_tried_warm_is_no_rest_but_a_peel():
    log = rested_for(60, Peel.WARM).tap(Passed())
    assert rests(log.events) == ()
    assert [(seen.material, seen.how) for seen in peels(log)] == [
        ("glitter-film", Peel.HOT),
        ("raised-foam", Peel.WARM),
    ]


def test_a_tap_taken_back_was_no_peel():
    log = (
        rested_for(60).take_back().tap(RestEnded(), Peeled(("anchor",), Peel.WARM), AllPeeled()).tap(Passed())
    )
    assert [seen.how for seen in peels(log)] == [Peel.HOT, Peel.WARM]


def test_the_estimate_is_asked_for_the_hit_and_the_pieces_that_rested():
    asked: list[tuple[int, tuple[str, ...]]] = []

    def estimate_s(hit: Hit, pieces: tuple[str, ...]) -> float:
        asked.append((hit.n, pieces))
        return ESTIMATE_S

    rest_observations(RECIPE, complete().events, estimate_s, "hung")
    assert asked == [(1, ("anchor",))]


def test_where_no_rest_was_estimated_none_was_observed():
    assert rest_observations(RECIPE, complete().events, always(0.0), "hung") == ()


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

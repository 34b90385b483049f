"""How long a garment rests: the estimate of its batch, or what the floor has shown since."""

from dataclasses import replace

import pytest

from models.floor.resting import SHORTEST_REST_ON_S, Basis, cold_rest, keys_of, warm_wait
from models.job.job import Peel
from models.learning.learned import FEWEST, Belief, RestKey, RestObservation, Told, beliefs_from
from models.recipe.piece_rest import PieceRest
from models.recipe.places import Place
from tests.held_clock import MORNING
from tests.sample_jobs import crew_vest_recipe, rested_recipe

RECIPE = rested_recipe()
(ANCHOR,) = RECIPE.rests
TABLE = Place.TABLE
FOAM = RestKey("raised-foam", "quilted polyamide", TABLE)


def taught(*rested_s: float) -> dict[RestKey, Belief]:
    return beliefs_from(RestObservation(FOAM, 70.5, s, Told.READY, MORNING) for s in rested_s)


def test_before_anything_was_seen_a_garment_rests_as_estimated():
    rest = cold_rest(RECIPE, ["anchor"], {}, TABLE)
    assert (rest.seconds, rest.band_s, rest.basis, rest.n) == (70, ANCHOR.seconds, Basis.ESTIMATE, 0)


def test_rests_that_are_worth_more_than_the_estimate_take_its_place():
    rest = cold_rest(RECIPE, ["anchor"], taught(*[100.0] * 8), TABLE)
    assert (rest.basis, rest.n) == (Basis.LEARNED, 8)
    assert 90 < rest.seconds <= 100


def test_fewer_rests_are_told_and_do_not_count_yet():
    rest = cold_rest(RECIPE, ["anchor"], taught(*[100.0] * (FEWEST - 1)), TABLE)
    assert (rest.basis, rest.n, rest.seconds) == (Basis.ESTIMATE, FEWEST - 1, 70)


def test_the_piece_that_rests_longest_decides():
    wave = PieceRest("wave", Peel.COLD, 60.0, 90.0, 150.0)
    recipe = replace(RECIPE, rests=(ANCHOR, wave))
    assert cold_rest(recipe, ["anchor", "wave"], {}, TABLE).seconds == 90
    assert cold_rest(recipe, ["anchor"], {}, TABLE).seconds == 70


def test_what_was_learned_of_one_material_says_nothing_of_another():
    wave = PieceRest("wave", Peel.COLD, 60.0, 90.0, 150.0)
    recipe = replace(RECIPE, rests=(ANCHOR, wave))
    rest = cold_rest(recipe, ["anchor", "wave"], taught(*[40.0] * 8), TABLE)
    assert (rest.seconds, rest.basis, rest.n) == (90, Basis.ESTIMATE, 0)


def test_a_rest_until_warm_is_no_rest_until_cold():
    recipe = replace(RECIPE, rests=(replace(ANCHOR, until=Peel.WARM),))
    assert cold_rest(recipe, ["anchor"], {}, TABLE).basis == Basis.HABIT


def test_a_batch_from_before_rests_were_estimated_rests_a_minute():
    """Common practice, no source."""
    rest = cold_rest(crew_vest_recipe(), ["anchor"], {}, TABLE)
    assert (rest.seconds, rest.basis) == (60, Basis.HABIT)


def test_a_garment_that_is_still_warm_rests_on_to_the_end_of_the_band():
    assert cold_rest(RECIPE, ["anchor"], {}, TABLE).longer_s == 46


def test_it_rests_on_for_some_seconds_at_least():
    sharp = replace(RECIPE, rests=(replace(ANCHOR, high_s=71.0),))
    assert cold_rest(sharp, ["anchor"], {}, TABLE).longer_s == SHORTEST_REST_ON_S


HUNG = replace(ANCHOR, median_s=90.0, place=Place.HUNG)
WARM = replace(ANCHOR, median_s=30.0, until=Peel.WARM)
EVERYWHERE = replace(RECIPE, rests=(ANCHOR, HUNG))


@pytest.mark.parametrize(
    ("rests", "keys"),
    [
        ((), ()),
        ((ANCHOR, ANCHOR), (FOAM,)),
        ((ANCHOR, HUNG), (FOAM,)),
        ((ANCHOR, WARM), (FOAM, replace(FOAM, until=Peel.WARM))),
    ],
)
def test_rests_are_learned_by_material_fabric_place_and_peel(rests, keys):
    assert keys_of(replace(RECIPE, rests=rests), {TABLE}) == keys


def test_a_garment_that_hangs_rests_as_long_as_hung_ones_do():
    assert cold_rest(EVERYWHERE, ["anchor"], {}, Place.HUNG).seconds == 90
    assert cold_rest(EVERYWHERE, ["anchor"], {}, TABLE).seconds == 70


def test_what_was_learned_on_the_table_says_nothing_of_one_that_hangs():
    rest = cold_rest(EVERYWHERE, ["anchor"], taught(*[40.0] * 8), Place.HUNG)
    assert (rest.seconds, rest.basis, rest.n) == (90, Basis.ESTIMATE, 0)


def test_where_only_the_table_was_estimated_a_garment_hangs_for_a_minute():
    rest = cold_rest(RECIPE, ["anchor"], {}, Place.HUNG)
    assert (rest.place, rest.seconds, rest.basis) == (Place.HUNG, 60, Basis.HABIT)


def test_what_peels_warm_waits_as_estimated_or_as_the_floor_has_shown():
    recipe = replace(RECIPE, rests=(ANCHOR, WARM))
    key = replace(FOAM, until=Peel.WARM)
    beliefs = beliefs_from(RestObservation(key, 30.0, 20.0, Told.WELL, MORNING) for _ in range(30))
    estimated, learned = (warm_wait(recipe, ["anchor"], known, TABLE) for known in ({}, beliefs))
    assert estimated is not None
    assert (estimated.seconds, estimated.basis) == (30, Basis.ESTIMATE)
    assert learned is not None
    assert (learned.seconds < 25, learned.basis) == (True, Basis.LEARNED)


def test_what_was_never_estimated_waits_by_the_hand_alone():
    assert warm_wait(RECIPE, ["anchor"], {}, TABLE) is None

"""Extra hits for what an early opening left out."""

from dataclasses import replace

from models.geometry import Box
from models.job.job import Peel
from models.plan.plan import PeelStep
from models.planning.hits.piece_record import after_hit, untouched
from models.planning.rework.incident import Trouble
from models.planning.rework.plan_rework import seconds_short
from tests.judged_extra_hits import judged, short
from tests.sample_jobs import (
    FOAM,
)
from tests.troubled_vests import BADGE, FINISH_BADGE, FIRST, JOB, LAY_BADGE, SECOND, a_job, pressed


def test_a_hit_opened_early_leaves_short_what_it_should_have_brought_down() -> None:
    records = pressed(JOB, (FIRST, 12))
    assert seconds_short(JOB, records, FIRST, (SECOND,))["anchor"] == (3,)


def test_what_comes_down_later_is_short_only_of_what_the_rest_does_not_give() -> None:
    records = pressed(JOB, (FIRST, 12))
    assert seconds_short(JOB, records, FIRST, (SECOND,))["life-ring"] == (3,)


def test_what_had_its_least_before_the_early_opening_misses_nothing() -> None:
    records = pressed(JOB, (FIRST, 12))
    assert "wave" not in seconds_short(JOB, records, FIRST, (SECOND,))


def test_a_hit_held_for_its_dwell_leaves_nothing_short() -> None:
    assert seconds_short(JOB, pressed(JOB, (FIRST, 15)), FIRST, (SECOND,)) == {}
    assert seconds_short(JOB, pressed(JOB, (FIRST, 15), (SECOND, 5)), SECOND, ()) == {}


def test_a_piece_with_a_carrier_must_be_down_in_its_hit_even_if_a_later_hit_counts() -> None:
    counts_again = replace(SECOND, count=("life-ring", "anchor"))
    records = pressed(JOB, (FIRST, 12))
    assert seconds_short(JOB, records, FIRST, (counts_again,))["anchor"] == (3,)


def test_what_is_not_laid_is_not_short() -> None:
    assert seconds_short(JOB, untouched(JOB), FIRST, (SECOND,)) == {}


def test_one_extra_hit_gives_all_pieces_the_seconds_of_an_early_opening() -> None:
    records = pressed(JOB, (FIRST, 12))
    missed = seconds_short(JOB, records, FIRST, (SECOND,))
    (hit,) = judged(JOB, records, frozenset({"wave"}), (SECOND,), Trouble(short_s=missed))
    assert hit.dwell_s == 3
    assert hit.count == ("life-ring", "anchor")
    assert hit.touch_again == ("wave",)
    assert hit.peel == (PeelStep("anchor", Peel.COLD),)


def test_a_few_missing_seconds_are_given_as_the_shortest_closing() -> None:
    (hit,) = judged(JOB, pressed(JOB, (FIRST, 14)), frozenset({"wave"}), (SECOND,), short(anchor=(1,)))
    assert hit.dwell_s == JOB.press.shortest_s


def test_a_second_press_cut_short_is_wanted_whole() -> None:
    records = pressed(BADGE, (LAY_BADGE, 20), (FINISH_BADGE, 3))
    assert seconds_short(BADGE, records, FINISH_BADGE, ()) == {"badge": (5,)}


def test_a_second_press_that_is_still_ahead_is_not_short() -> None:
    assert seconds_short(BADGE, pressed(BADGE, (LAY_BADGE, 20)), LAY_BADGE, (FINISH_BADGE,)) == {}


def test_a_peeled_piece_whose_second_press_is_ahead_is_not_short() -> None:
    film = replace(FOAM, finish_s=5)
    job = a_job(("badge", film, Box(200, 200, 100, 60)))
    lay = replace(LAY_BADGE, dwell_s=15, peel=(PeelStep("badge", Peel.COLD),))
    assert seconds_short(job, pressed(job, (lay, 15)), lay, (FINISH_BADGE,)) == {}
    assert seconds_short(job, pressed(job, (lay, 11)), lay, (FINISH_BADGE,)) == {"badge": (4,)}


def test_a_second_press_ahead_does_not_make_up_for_the_first_one() -> None:
    assert seconds_short(BADGE, pressed(BADGE, (LAY_BADGE, 15)), LAY_BADGE, (FINISH_BADGE,)) == {
        "badge": (5,)
    }


def test_a_missed_second_press_is_given_in_one_go_under_a_cover() -> None:
    records = pressed(BADGE, (LAY_BADGE, 20), (FINISH_BADGE, 3))
    (hit,) = judged(BADGE, records, frozenset(), (), short(badge=(5,)))
    assert (hit.dwell_s, hit.cover, hit.count) == (5, True, ("badge",))
    assert after_hit(records, BADGE, hit, 5)["badge"].finished

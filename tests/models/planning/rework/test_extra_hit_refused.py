"""Where there is no extra hit, and what is said then."""

from dataclasses import replace

from models.geometry import Box
from models.job.job import Pressure, Zone, ZoneKind
from models.planning.hits.piece_record import untouched
from tests.judged_extra_hits import all_down
from tests.sample_jobs import (
    BACK,
    FOAM,
    TWILL,
)
from tests.troubled_vests import FIRST, JOB, LAY_BADGE, SECOND, a_job, heated, pressed, refusal


def test_a_piece_near_its_total_is_not_pressed_again() -> None:
    records = all_down(JOB, anchor=55)
    assert refusal(JOB, records, {"anchor": 15}) == (
        "anchor has had 55 of its 60 s; another 15 s would be too much"
    )


def test_seconds_too_few_for_the_shortest_closing_are_refused_in_the_pieces_own_words() -> None:
    assert refusal(JOB, all_down(JOB, anchor=58), {"anchor": 1}) == (
        "anchor has had 58 of its 60 s; another 3 s would be too much"
    )


def test_the_hits_ahead_count_towards_the_total() -> None:
    records = heated(pressed(JOB, (FIRST, 15)), anchor=46)
    assert refusal(JOB, records, {"anchor": 15}, (SECOND,)) == (
        "anchor has had 46 of its 60 s, and the hits ahead add 5; another 15 s would be too much"
    )


def test_seconds_that_the_hits_ahead_cannot_spare_are_not_given_before_them() -> None:
    """The hull, still to come, takes another pressure, and cannot be pressed without the anchor."""
    light = replace(TWILL, key="light", pressures=(Pressure.LIGHT,))
    job = a_job(("anchor", FOAM, Box(200, 200, 60, 60)), ("hull", light, Box(100, 100, 300, 300)))
    lay_hull = replace(LAY_BADGE, n=2, pressure=Pressure.LIGHT, lay=("hull",), count=("hull",))
    records = heated(pressed(job, (replace(LAY_BADGE, lay=("anchor",)), 20)), anchor=40)
    assert refusal(job, records, {"anchor": 15}, (lay_hull,)) == (
        "anchor has had 40 of its 60 s, and the hits ahead add 20; another 15 s would be too much"
    )


def test_a_neighbour_near_its_total_is_in_the_way() -> None:
    job = a_job(("hull", TWILL, Box(100, 100, 300, 300)), ("anchor", FOAM, Box(200, 200, 60, 60)))
    records = all_down(job, hull=50)
    assert refusal(job, records, {"anchor": 15}) == (
        "anchor cannot be hit without hull: hull has had 50 of its 60 s; another 15 s would be too much"
    )


def test_a_piece_that_is_not_down_may_not_be_half_pressed_by_an_extra_hit() -> None:
    light = replace(TWILL, key="light", pressures=(Pressure.LIGHT,))
    job = a_job(("hull", light, Box(100, 100, 300, 300)), ("anchor", FOAM, Box(200, 200, 60, 60)))
    records = all_down(job)
    records["hull"] = replace(records["hull"], counted_s=(10,))
    assert refusal(job, records, {"anchor": 15}) == (
        "anchor cannot be hit without touching hull, which is not down yet"
    )


def test_two_lifted_pieces_of_different_settings_can_be_in_each_others_way() -> None:
    light = replace(TWILL, key="light", pressures=(Pressure.LIGHT,))
    job = a_job(("hull", light, Box(100, 100, 300, 300)), ("anchor", FOAM, Box(200, 200, 60, 60)))
    assert refusal(job, all_down(job), {"anchor": 15, "hull": 20}).startswith(
        "hull cannot be hit without touching anchor, which is not down either"
    )


def test_a_neighbour_that_bears_less_heat_is_in_the_way() -> None:
    tender = replace(TWILL, key="tender", lowest_c=130, set_c=135, hottest_c=140)
    job = a_job(("hull", tender, Box(100, 100, 300, 300)), ("anchor", FOAM, Box(200, 200, 60, 60)))
    assert refusal(job, all_down(job), {"anchor": 15}) == (
        "anchor wants at least 145 °C; hull, under the same platen, bears 140 °C"
    )


def test_metal_all_around_is_in_the_way() -> None:
    zips = (
        Zone(ZoneKind.KEEP_OUT, Box(100, 0, 20, 700), "left zip"),
        Zone(ZoneKind.KEEP_OUT, Box(400, 0, 20, 700), "right zip"),
    )
    job = a_job(("anchor", FOAM, Box(200, 200, 60, 60)), side=replace(BACK, zones=zips))
    assert refusal(job, all_down(job), {"anchor": 15}) == (
        "the platen cannot hold anchor without coming down on left zip and right zip"
    )


def test_a_piece_that_is_not_laid_cannot_have_an_extra_hit() -> None:
    assert refusal(JOB, untouched(JOB), {"anchor": 15}) == "not laid yet, so nothing to press again: anchor"

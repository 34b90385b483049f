"""What a closing does to each piece's adhesive, on the sample vests and in the order that the trade knows."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.demo import demo_job_path, second_demo_job_path
from models.geometry import Box
from models.heat.estimates.delays import delays
from models.heat.estimates.heat_through import heat_through, to_heat_c
from models.heat.estimates.hit_heat import NEEDED_AT_HEAT_S, hit_heat
from models.heat.layup.stack import Ground, Role, stack_of
from models.heat.layup.substances import body_of
from models.job.job import Pressure, Thermal
from models.job.reader import read_job
from models.plan.plan import PeelStep
from models.planning.search.solve_job import plan_hits
from models.ranges import Case, exactly
from models.recipe.heat_finding import NEVER_S
from tests.sample_jobs import (
    BACK,
    FABRIC,
    FOAM,
    GLITTER,
    TWILL,
    box_piece,
    crew_vest_job,
    crew_vest_plan,
    job_of,
)

FIRST = crew_vest_plan().hits[0]


def seconds_to_heat(material=TWILL, platen_c=149.0, pressure=Pressure.MEDIUM, fabric=FABRIC, **stack):
    stacked = stack_of(fabric, material, platen_c, pressure, **stack)
    return heat_through(stacked).seconds_to(to_heat_c(material)).median


@pytest.mark.parametrize("material", [TWILL, FOAM, GLITTER])
def test_a_material_at_its_usual_setting_is_up_to_heat_for_seconds_within_its_least_dwell(material):
    """Common practice, no source: such recipes hold, so the estimate may not call them cold."""
    to_heat_s = seconds_to_heat(material, ground=Ground(carrier=material.carrier))
    assert 1 < to_heat_s < material.least_s - NEEDED_AT_HEAT_S


def test_the_first_hit_of_the_vests_tells_each_counted_piece_the_slowest_first():
    heat = hit_heat(crew_vest_job(), FIRST)
    assert [piece.piece for piece in heat.pieces] == ["anchor", "life-ring", "wave"]
    assert heat.slowest == heat.pieces[0]


def test_a_dwell_leaves_at_heat_what_the_warming_up_has_not_taken():
    piece = hit_heat(crew_vest_job(), FIRST).pieces[0]
    assert piece.at_heat_s.median == pytest.approx(15 - piece.to_heat_s.median)
    assert piece.at_heat_s.low <= piece.at_heat_s.median <= piece.at_heat_s.high


def test_a_dwell_that_is_too_short_tells_the_seconds_missing():
    piece = hit_heat(crew_vest_job(), replace(FIRST, dwell_s=5)).pieces[0]
    assert piece.missing_s == pytest.approx(piece.to_heat_s.median + NEEDED_AT_HEAT_S - 5)


def test_the_curve_runs_from_the_room_up_to_the_opening():
    piece = hit_heat(crew_vest_job(), FIRST).pieces[0]
    first, last = piece.curve[0], piece.curve[-1]
    assert (first.at_s, last.at_s) == (0.0, 15.0)
    assert first.likely_c == pytest.approx(22.0)
    likely_c = [point.likely_c for point in piece.curve]
    assert likely_c == sorted(likely_c)
    assert piece.to_heat_c < last.likely_c < 149


def test_a_cover_sheet_a_seam_and_a_pad_each_make_it_slower():
    plain_s = seconds_to_heat()
    for ground in (Ground(cover_sheets=1), Ground(seam=True), Ground(pad=True), Ground(carrier=True)):
        assert seconds_to_heat(ground=ground) > plain_s, ground


def test_a_second_cover_sheet_adds_seconds_of_its_own():
    first_s, second_s = (seconds_to_heat(ground=Ground(cover_sheets=n)) for n in (1, 2))
    assert second_s - first_s > 0.5


def test_what_was_measured_of_a_material_stands_above_its_kind():
    leading = replace(FOAM, thermal=Thermal(conductivity_w_per_mk=0.3))
    assert seconds_to_heat(leading) < seconds_to_heat(FOAM)


def test_a_measured_number_is_exact_and_what_was_not_measured_keeps_its_range():
    body = body_of(replace(FOAM, thermal=Thermal(density_kg_per_m3=500)))
    assert body.density_kg_per_m3 == exactly(500)
    assert body.heat_j_per_kgk == body_of(FOAM).heat_j_per_kgk
    assert "from the job file" in body.source


def test_firmer_pressure_heats_sooner():
    light_s, medium_s, firm_s = (seconds_to_heat(pressure=pressure) for pressure in Pressure)
    assert firm_s < medium_s < light_s


def test_heavier_cloth_heats_later():
    assert seconds_to_heat(fabric=replace(FABRIC, grams_per_m2=480)) > seconds_to_heat()


def test_a_piece_over_the_seam_is_told_what_the_seam_adds():
    job = job_of((box_piece("anchor", FOAM, Box(250, 110, 60, 60)),), (FOAM,))
    hit = replace(FIRST, lay=("anchor",), count=("anchor",), peel=(PeelStep("anchor", FOAM.peel),))
    found = delays(job, hit, "anchor")
    assert [delay.by for delay in found] == ["seam", "one more cover sheet"]
    assert all(delay.seconds > 0 for delay in found)


def test_away_from_the_seam_the_pad_lies_under_the_piece():
    found = delays(crew_vest_job(), FIRST, "anchor")
    assert [delay.by for delay in found] == ["pad", "one more cover sheet"]


def test_each_part_of_a_piece_that_must_not_be_pressed_bare_is_slowed_by_the_cover_sheet():
    felt = replace(TWILL, cover=True)
    banner, plain = box_piece("banner", felt, Box(10, 300, 540, 60)), replace(BACK, zones=())
    job = job_of((banner,), (felt,), sides=(plain,))
    hits = plan_hits(job).hits
    bare_s = hit_heat(job, replace(hits[0], cover=False)).pieces[0].to_heat_s.median
    assert len(hits) == 2
    for hit in hits:
        assert [delay.by for delay in delays(job, hit, "banner")] == ["cover sheet", "one more cover sheet"]
        assert hit_heat(job, hit).pieces[0].to_heat_s.median > bare_s


def test_a_piece_on_another_tells_how_hot_the_lower_adhesive_gets_again():
    lower, upper = (
        box_piece("anchor", FOAM, Box(250, 300, 60, 60)),
        box_piece("wave", GLITTER, Box(255, 310, 40, 20)),
    )
    hit = replace(FIRST, lay=("wave",), count=("wave",), touch_again=("anchor",), peel=())
    (piece,) = hit_heat(job_of((lower, upper), (FOAM, GLITTER)), hit).pieces
    (reheated,) = piece.reheated
    assert reheated.material == FOAM.key
    assert 22 < reheated.hottest_c.median < piece.curve[-1].likely_c


def test_a_piece_that_is_only_touched_again_is_told_apart_with_its_heat():
    second = replace(FIRST, lay=(), count=("life-ring",), touch_again=("anchor",), cover=True, peel=())
    heat = hit_heat(crew_vest_job(), second)
    assert [piece.piece for piece in heat.pieces] == ["life-ring"]
    assert [piece.piece for piece in heat.again] == ["anchor"]


@pytest.mark.parametrize("path", [demo_job_path(), second_demo_job_path()], ids=lambda path: path.stem)
def test_every_material_of_the_demo_jobs_is_heated_enough_by_its_own_recipe(path):
    job = read_job(path)
    for material in job.materials:
        ground = Ground(carrier=material.carrier, pad=True)
        to_heat_s = seconds_to_heat(material, material.set_c, fabric=job.fabric, ground=ground)
        assert to_heat_s + NEEDED_AT_HEAT_S <= material.least_s, material.key


def test_the_far_side_of_the_cloth_stays_cooler_than_the_adhesive():
    for piece in hit_heat(crew_vest_job(), FIRST).pieces:
        assert piece.far_side_c.median < piece.curve[-1].likely_c


def test_a_platen_below_the_heat_that_the_adhesive_wants_never_gets_it_there():
    assert seconds_to_heat(platen_c=110.0) == NEVER_S


def test_a_peeled_piece_has_no_carrier_over_it_any_more():
    second = replace(FIRST, lay=(), count=("anchor",), cover=False, peel=())
    finishing = job_of(
        (box_piece("anchor", replace(FOAM, finish_s=5), Box(250, 260, 60, 60)),), (replace(FOAM, finish_s=5),)
    )
    not_yet_down = job_of((box_piece("anchor", FOAM, Box(250, 260, 60, 60)),), (FOAM,))
    (bare,), (carried,) = hit_heat(finishing, second).pieces, hit_heat(not_yet_down, second).pieces
    assert bare.to_heat_s.median < carried.to_heat_s.median


def test_the_lowest_ply_over_a_seam_is_the_third():
    stack = stack_of(FABRIC, TWILL, 149.0, Pressure.MEDIUM, ground=Ground(seam=True))
    assert [sheet.role for sheet in stack.sheets].count(Role.CLOTH) == 3
    assert stack.garment == range(stack.cloth + 1)


@settings(max_examples=25, deadline=None)
@given(
    thickness_mm=st.floats(0.05, 1.5),
    carrier=st.booleans(),
    grams_per_m2=st.floats(80, 600),
    fabric_mm=st.floats(0.2, 3.0),
    ground=st.builds(Ground, cover_sheets=st.integers(0, 2), seam=st.booleans()),
)
def test_the_quick_case_is_never_slower_than_the_slow_one(
    thickness_mm, carrier, grams_per_m2, fabric_mm, ground
):
    material = replace(FOAM, thickness_mm=thickness_mm, carrier=carrier)
    fabric = replace(FABRIC, grams_per_m2=grams_per_m2, thickness_mm=fabric_mm)
    stack = stack_of(fabric, material, 149.0, Pressure.MEDIUM, ground=replace(ground, carrier=carrier))
    band = heat_through(stack).seconds_to(to_heat_c(material))
    assert band.low <= band.median <= band.high


def test_the_job_files_own_weight_is_the_weight_of_every_case():
    stack = stack_of(FABRIC, TWILL, 149.0, Pressure.MEDIUM)
    likely = stack.layers(Case.LIKELY)[stack.cloth]
    assert likely.thickness_m * likely.heat_j_per_m3k == pytest.approx(0.240 * 1300)

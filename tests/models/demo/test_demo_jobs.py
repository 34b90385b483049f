"""The two demo jobs, on which the project is shown; their facts of the trade: common practice, no source."""

from pathlib import Path

import pytest

from models.demo import demo_job_path, second_demo_job_path
from models.job.job import Job, Peel, ZoneKind
from models.job.reader import read_job
from models.job.stacking import stacked_pairs
from models.plan.plan import Hit, Plan
from models.planning.hits.coverage import parts_of
from models.planning.search.solve_job import plan_hits
from tests.rule_checker import broken_rules


@pytest.fixture(scope="module")
def vests() -> Job:
    return read_job(demo_job_path())


@pytest.fixture(scope="module")
def plan(vests: Job) -> Plan:
    return plan_hits(vests)


def box_round_all(job: Job, side: str) -> tuple[float, float]:
    boxes = [piece.box for piece in job.pieces if piece.side == side]
    width = max(box.right for box in boxes) - min(box.x for box in boxes)
    height = max(box.bottom for box in boxes) - min(box.y for box in boxes)
    return width, height


def hit_that_lays(plan: Plan, piece: str) -> Hit:
    return next(hit for hit in plan.hits if piece in hit.lay)


@pytest.mark.parametrize("path", [demo_job_path(), second_demo_job_path()], ids=lambda path: path.stem)
def test_the_demos_have_a_sound_plan(path: Path):
    job = read_job(path)
    assert broken_rules(job, plan_hits(job)) == []


def test_the_vests_are_24_by_roster_in_four_sizes(vests):
    sizes = [garment.size for garment in vests.garments]
    assert {size: sizes.count(size) for size in sizes} == {"S": 5, "M": 9, "L": 6, "XL": 4}


def test_the_crew_writes_its_names_in_four_scripts(vests):
    names = " ".join(garment.wearer for garment in vests.garments)
    assert all(letter in names for letter in "éøłñ")
    assert all(name in names for name in ("Καλογιάννη", "Береговская", "浜野"))


def test_two_vests_are_spare_and_have_no_wearer(vests):
    assert [garment.size for garment in vests.garments if not garment.wearer] == ["XL", "XL"]


def test_the_back_as_a_whole_is_larger_than_the_platen(vests):
    width, height = box_round_all(vests, "back")
    assert width > vests.press.platen_width_mm
    assert height > vests.press.platen_height_mm


def test_one_piece_is_pressed_in_several_parts(vests):
    assert {piece.id for piece in vests.pieces if len(parts_of(piece, vests.presses)) > 1} == {"wave-band"}


def test_glitter_lies_on_foam_on_both_sides(vests):
    assert set(stacked_pairs(vests)) == {("flame", "lantern"), ("ring-light", "anchor-ring")}


def test_a_zip_keeps_the_platen_off_and_a_seam_and_a_pocket_want_a_pad(vests):
    kinds = {zone.label: zone.kind for side in vests.sides for zone in side.zones}
    assert kinds == {"yoke seam": ZoneKind.RAISED, "zip": ZoneKind.KEEP_OUT, "pocket": ZoneKind.RAISED}


def test_every_side_is_drawn_within_its_size(vests):
    for side in vests.sides:
        assert side.outline is not None
        assert (side.outline.box.width, side.outline.box.height) == (side.width_mm, side.height_mm)


def test_twill_foam_and_glitter_share_a_hit_of_15_seconds(vests, plan):
    hit = hit_that_lays(plan, "signal")
    assert {vests.material_of(piece).key for piece in hit.lay} >= {
        "printed-twill",
        "raised-foam",
        "glitter-film",
    }
    assert (hit.dwell_s, hit.temperature_c) == (15, pytest.approx(149.5, abs=0.5))


def test_the_twill_gets_its_last_5_seconds_under_a_cover_sheet(plan):
    first = hit_that_lays(plan, "watch-ring")
    later = next(hit for hit in plan.hits if hit.n > first.n and "watch-ring" in hit.count)
    assert (later.dwell_s, later.cover) == (5, True)


def test_glitter_is_peeled_hot_before_the_foam_rests_for_its_cold_peel(plan):
    first, *_, last = hit_that_lays(plan, "signal").peel
    assert (first.piece, first.when) == ("signal", Peel.HOT)
    assert (last.piece, last.when) == ("knot", Peel.COLD)


def test_the_first_hit_says_why_it_leaves_pieces_under_it_for_later(plan):
    assert plan.hits[0].why[3:6] == (
        "Lifebuoy, bottom not yet: laid now, it would lie under the platen again before its turn.",
        "flame not yet: it lies on lantern, which must be down before.",
        "2 more are laid later.",
    )


def test_the_vests_take_five_to_nine_hits(plan):
    assert 5 <= len(plan.hits) <= 9


def test_the_aprons_are_12_by_size_and_written_in_inches():
    aprons = read_job(second_demo_job_path())
    assert len(aprons.garments) == 12
    assert aprons.press.platen_width_mm == pytest.approx(406.4)
    assert aprons.material("plain-film").set_c == 150

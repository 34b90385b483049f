"""What really happened to each piece, hit by hit."""

from dataclasses import replace

from models.geometry import Box
from models.job.job import Job
from models.planning.hits.piece_record import after_hit, after_lift, untouched
from tests.sample_jobs import BACK, TWILL, box_piece, crew_vest_job, crew_vest_plan, job_of

JOB = crew_vest_job()
FIRST, SECOND = crew_vest_plan().hits
FINISHING = replace(TWILL, finish_s=5)


def test_a_new_garment_has_nothing_laid_and_nothing_down() -> None:
    records = untouched(JOB)
    assert not any(record.laid or record.down for record in records.values())
    assert records["life-ring"].missing_s == 20


def test_a_hit_that_does_not_lay_a_piece_does_not_heat_it() -> None:
    records = after_hit(untouched(JOB), JOB, replace(FIRST, lay=("life-ring",)), 15)
    assert records["life-ring"].heated_s == (15,)
    assert records["anchor"].heated_s == (0,)


def test_the_first_hit_brings_down_what_has_its_seconds() -> None:
    records = after_hit(untouched(JOB), JOB, FIRST, 15)
    assert {piece for piece, record in records.items() if record.down} == {"anchor", "wave"}
    assert records["life-ring"].missing_s == 5


def test_a_hit_opened_early_counts_the_seconds_really_done() -> None:
    records = after_hit(untouched(JOB), JOB, FIRST, 9)
    assert {piece: record.missing_s for piece, record in records.items()} == {
        "life-ring": 11,
        "anchor": 6,
        "wave": 1,
    }


def test_seconds_add_up_over_hits() -> None:
    records = after_hit(after_hit(untouched(JOB), JOB, FIRST, 15), JOB, SECOND, 5)
    assert records["life-ring"].down
    assert {record.heated_s for record in records.values()} == {(20,)}


def test_a_touch_at_a_wrong_setting_heats_without_counting() -> None:
    too_cool = replace(FIRST, temperature_c=140)
    record = after_hit(untouched(JOB), JOB, too_cool, 15)["life-ring"]
    assert (record.heated_s, record.counted_s) == ((15,), (0,))


def test_a_lifted_piece_wants_its_seconds_anew_and_keeps_its_heat() -> None:
    pressed = after_hit(untouched(JOB), JOB, FIRST, 15)
    lifted = after_lift(pressed, {"anchor": 12})
    assert not lifted["anchor"].down
    assert lifted["anchor"].lifted
    assert lifted["anchor"].missing_s == 12
    assert lifted["anchor"].heated_s == (15,)
    assert lifted["wave"] == pressed["wave"]


def test_records_are_not_changed_by_a_hit() -> None:
    before = untouched(JOB)
    after_hit(before, JOB, FIRST, 15)
    assert before == untouched(JOB)


def badge_job(box: Box) -> Job:
    """One piece that wants a second press of 5 s."""
    return job_of([box_piece("badge", FINISHING, box)], [FINISHING], sides=(replace(BACK, width_mm=900),))


LAY_BADGE = replace(FIRST, lay=("badge",), dwell_s=20)
COVERED = replace(LAY_BADGE, lay=(), cover=True)
ONE_PART = badge_job(Box(200, 200, 100, 60))
TWO_PARTS = badge_job(Box(80, 200, 600, 60))


def test_a_piece_that_wants_a_second_press_is_down_before_it_is_finished() -> None:
    record = after_hit(untouched(ONE_PART), ONE_PART, LAY_BADGE, 20)["badge"]
    assert record.down
    assert not record.finished


def test_a_second_press_under_a_cover_finishes() -> None:
    down = after_hit(untouched(ONE_PART), ONE_PART, LAY_BADGE, 20)
    assert after_hit(down, ONE_PART, COVERED, 5)["badge"].finished


def test_a_second_press_without_a_cover_does_not_finish() -> None:
    down = after_hit(untouched(ONE_PART), ONE_PART, LAY_BADGE, 20)
    assert not after_hit(down, ONE_PART, replace(COVERED, cover=False), 5)["badge"].finished


def test_a_second_press_that_is_cut_short_does_not_finish() -> None:
    records = after_hit(untouched(ONE_PART), ONE_PART, LAY_BADGE, 20)
    for _ in range(2):
        records = after_hit(records, ONE_PART, COVERED, 4)
    assert not records["badge"].finished


def test_the_hit_that_brings_a_piece_down_is_not_its_second_press() -> None:
    covered_from_the_first = replace(LAY_BADGE, cover=True)
    record = after_hit(untouched(ONE_PART), ONE_PART, covered_from_the_first, 20)["badge"]
    assert record.down
    assert not record.finished


def test_each_part_of_a_large_piece_wants_its_own_second_press() -> None:
    right = replace(COVERED, platen=Box(380, 70, 400, 500))
    records = after_hit(untouched(TWO_PARTS), TWO_PARTS, LAY_BADGE, 20)
    records = after_hit(records, TWO_PARTS, right, 20)
    assert records["badge"].down
    records = after_hit(records, TWO_PARTS, COVERED, 5)
    assert records["badge"].finish_due_s == (0, 5)
    assert after_hit(records, TWO_PARTS, right, 5)["badge"].finished

"""What is told to free pieces holds for the whole job: other pieces, other clashes, other sides."""

from dataclasses import replace

import pytest

from models.errors import NoSoundSequenceError
from models.geometry import Box
from models.job.job import Job, Zone, ZoneKind
from models.planning.conflicts.smallest_change import mends, mends_of_these_alone
from models.planning.problem.side import side_work
from models.planning.search.solve_job import plan_hits
from tests.rule_checker import broken_rules
from tests.sample_jobs import BACK, FOAM, TWILL, box_piece, job_of

PLAIN = replace(BACK, zones=())
FRONT = replace(PLAIN, name="front")
TOUCHY = replace(FOAM, key="touchy-film", label="Touchy film", carrier_safe=False)
TOGETHER = "with the first change of each line made, the job has a plan"
AT_ONCE = "with the first change made, no plan is found at once: plan again then"


def lights(*rows: float, gap_mm: float = 3, side: str = "back") -> list:
    """Pairs of lights too near to each other, one pair a row, the first 200 mm from the left edge."""
    return [
        box_piece(f"{name}-{y:g}", TOUCHY, Box(x, y, 60, 40), side)
        for y in rows
        for name, x in (("port", 200), ("starboard", 260 + gap_mm))
    ]


def job_with(pieces, *materials, sides=(PLAIN,)) -> Job:
    return job_of(pieces, (TOUCHY, *materials), sides=sides)


def refusal_of(job: Job) -> list[str]:
    with pytest.raises(NoSoundSequenceError) as refused:
        plan_hits(job)
    return str(refused.value).splitlines()


def never() -> bool:
    return False


def told_for(job: Job, *clashing: int) -> list[str]:
    return [mend.told for mend in mends(side_work(job, job.sides[0]), clashing, never)]


def with_own_margins(job: Job, **margins_mm: float) -> Job:
    """The job with the carriers of these pieces trimmed, as a person would write it down."""
    trimmed = {name.replace("_", "-"): mm for name, mm in margins_mm.items()}
    materials = [replace(TOUCHY, key=f"for {name}", carrier_margin_mm=mm) for name, mm in trimmed.items()]
    pieces = [replace(p, material=f"for {p.id}") if p.id in trimmed else p for p in job.pieces]
    return replace(job, pieces=tuple(pieces), materials=(*job.materials, *materials))


# ---- the other pieces of the side


def a_buoy_left_of_the_lights(gap_mm: float) -> Job:
    return job_with([*lights(300), box_piece("buoy", TOUCHY, Box(200 - gap_mm - 40, 300, 40, 40))])


def test_a_piece_is_moved_where_it_does_not_run_into_a_third_one():
    assert "move port 300 3 mm left" in told_for(a_buoy_left_of_the_lights(gap_mm=9), 0, 1)
    assert "move starboard 300 3 mm right" in told_for(a_buoy_left_of_the_lights(gap_mm=8), 0, 1)


def test_what_frees_the_clashing_pieces_alone_would_have_run_into_it():
    job = a_buoy_left_of_the_lights(gap_mm=8)
    alone = mends_of_these_alone(side_work(job, PLAIN), (0, 1), never)
    assert "move port 300 3 mm left" in [mend.told for mend in alone]


def test_with_each_change_that_is_told_the_whole_job_keeps_every_rule():
    job = a_buoy_left_of_the_lights(gap_mm=8)
    jobs = [mend.job for mend in mends(side_work(job, PLAIN), (0, 1), never)]
    assert [len(job.pieces) for job in jobs] == [3, 3, 3]
    assert [broken_rules(job, plan_hits(job)) for job in jobs] == [[], [], []]


# ---- the other sides

METAL = tuple(
    Zone(ZoneKind.KEEP_OUT, Box(x, 0, width, 700), "buckles") for x, width in ((0, 190), (310, 250))
)
TENDER = replace(TWILL, key="tender", label="Tender twill", total_s=24)


def a_patch_between_metal_and(banner_width_mm: float) -> Job:
    patch = box_piece("patch", TWILL, Box(200, 300, 100, 60))
    banner = box_piece("banner", TENDER, Box(100, 300, banner_width_mm, 60), "front")
    return job_with([patch, banner], TWILL, TENDER, sides=(replace(PLAIN, zones=METAL), FRONT))


def test_a_platen_is_told_that_suits_the_pieces_of_all_sides():
    assert told_for(a_patch_between_metal_and(banner_width_mm=100), 0) == ["take a platen of 120 × 500 mm"]


def test_a_platen_is_not_told_that_would_heat_a_piece_of_another_side_for_too_long():
    assert told_for(a_patch_between_metal_and(banner_width_mm=235), 0) == []


def test_a_change_that_frees_its_own_pieces_only_is_told_as_one_that_does_not_do():
    (line,) = refusal_of(a_patch_between_metal_and(banner_width_mm=235))
    assert line.endswith(
        "; to free that alone, take a platen of 120 × 500 mm; "
        "but no single change that was tried gives the job a plan"
    )


# ---- the other clashes


def test_clashes_of_which_each_needs_a_change_are_told_to_be_free_with_all_changes_made():
    job = job_with([*lights(300), *lights(100, side="front")], sides=(PLAIN, FRONT))
    *lines, together = refusal_of(job)
    assert all(
        f"trim the carrier of port {y} to 3 mm" in line for line, y in zip(lines, (300, 100), strict=True)
    )
    assert together == TOGETHER
    assert plan_hits(with_own_margins(job, port_300=3, port_100=3))


def test_with_one_of_these_changes_left_out_there_is_no_plan():
    job = job_with([*lights(300), *lights(100, side="front")], sides=(PLAIN, FRONT))
    assert len(refusal_of(with_own_margins(job, port_300=3))) == 1


def test_a_change_that_frees_two_clashes_is_not_told_twice():
    places = {"middle": 200, "left": 137, "right": 263}
    pieces = [box_piece(name, TOUCHY, Box(x, 300, 60, 40)) for name, x in places.items()]
    first, second, together = refusal_of(job_with(pieces))
    assert "trim the carrier of middle to 3 mm" in first
    assert second.endswith("the first change above frees them too")
    assert together == TOGETHER


def test_more_clashes_than_are_read_at_once_are_counted():
    lines = refusal_of(job_with(lights(50, 200, 350, 500, 600)))
    assert len(lines) == 4
    assert lines[-1] == "2 more like these: make these changes first, and plan again"


def test_pieces_that_no_change_of_others_frees_keep_a_plan_from_being_promised():
    thirsty = replace(TWILL, key="thirsty", label="Thirsty twill", least_s=50, longest_s=25, total_s=200)
    frail = replace(TWILL, key="frail", label="Frail film", total_s=45, takes_on_top=frozenset({"thirsty"}))
    base = box_piece("base", frail, Box(300, 560, 60, 60))
    on_it = box_piece("on-it", thirsty, Box(310, 570, 40, 40))
    line, together = refusal_of(job_with([*lights(100), base, on_it], thirsty, frail))
    assert "trim the carrier of port 100 to 3 mm" in line
    assert together == AT_ONCE

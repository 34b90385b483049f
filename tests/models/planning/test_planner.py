"""Garments of all sizes are worked alike where that costs no hit; where they are not, the plan says why."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import NoSequenceExistsError, NoSoundSequenceError
from models.geometry import Box
from models.job.job import GarmentOrder, Job, Side, SideInSize, Zone, ZoneKind
from models.job.sizes import job_for_most, job_for_size, sizes_of
from models.plan.plan import plan_from_json, plan_to_json
from models.plan.progress import SoFar
from models.planning.planner import plan_sizes
from models.planning.search.solve_job import plan_hits
from tests.random_jobs import in_sizes, random_job
from tests.rule_checker import broken_rules
from tests.sample_jobs import BACK, FOAM, TWILL, box_piece, crew_vest_job, job_of

EFFORT = 0.5
GARMENTS = tuple(GarmentOrder(n, size) for n, size in enumerate("SMMML", start=1))


def vests(*sizes: SideInSize) -> Job:
    return replace(crew_vest_job(), sides=(replace(BACK, sizes=sizes),), garments=GARMENTS)


def two_lights(*sizes: SideInSize, zones: tuple[Zone, ...] = ()) -> Job:
    """Two foam lights, 300 mm apart from edge to edge, which one platen of 400 × 500 mm can hold."""
    pieces = [
        box_piece("port-light", FOAM, Box(100, 300, 40, 40)),
        box_piece("lamp", FOAM, Box(440, 300, 40, 40)),
    ]
    side = Side("back", 560, 700, zones, sizes=sizes)
    return job_of(pieces, (FOAM,), sides=(side,), garments=GARMENTS)


def size(name: str, *zones: Zone, shift: tuple[float, float] = (0.0, 0.0)) -> SideInSize:
    return SideInSize(name, 560, 700, zones, shift)


def snap(x: float, y: float) -> Zone:
    return Zone(ZoneKind.KEEP_OUT, Box(x, y, 10, 10), "snap")


def test_a_job_that_says_nothing_of_sizes_has_the_plan_it_always_had() -> None:
    assert plan_sizes(crew_vest_job()) == plan_hits(crew_vest_job())


def test_pieces_that_only_shift_are_worked_alike() -> None:
    job = vests(size("S", *BACK.zones, shift=(-10, 20)))
    plan = plan_sizes(job)
    small = plan.of_size("S")

    assert [hit.platen for hit in small.hits] == [hit.platen.moved(-10, 20) for hit in plan.hits]
    assert [hit.lay for hit in small.hits] == [hit.lay for hit in plan.hits]
    assert plan.differs == ()


def test_the_plan_itself_is_that_of_most_garments() -> None:
    job = vests(size("M", *BACK.zones, shift=(-10, 20)))

    assert broken_rules(job_for_most(job), plan_sizes(job).of_size("M")) == []
    assert plan_sizes(job).hits == plan_sizes(job).of_size("M").hits


def test_a_pad_goes_in_only_where_the_size_has_its_seam_under_the_platen() -> None:
    plan = plan_sizes(vests(size("S")))

    assert [hit.pad for hit in plan.of_size("M").hits] == [True, True]
    assert [hit.pad for hit in plan.of_size("S").hits] == [False, False]
    assert plan.differs == ("Size S: the same hits, but hit 1 without a pad and hit 2 without a pad.",)


def test_metal_in_one_size_moves_the_platen_in_all_so_that_they_stay_alike() -> None:
    near = plan_sizes(two_lights()).hits[0].platen
    job = two_lights(size("S", snap(near.x + 200, near.bottom - 15)))
    plan = plan_sizes(job)

    assert plan.of_size("S").hits == plan.of_size("M").hits
    assert all(broken_rules(job_for_size(job, each), plan.of_size(each)) == [] for each in "SML")


def test_a_size_in_which_metal_lies_between_the_pieces_has_hits_of_its_own() -> None:
    plan = plan_sizes(two_lights(size("L", snap(285, 315))))

    assert [len(plan.of_size(each).hits) for each in "SML"] == [1, 1, 2]
    assert plan.differs == (
        "Size L has another sequence than size M (2 hits, not 1): "
        "hit 1 of size M would come down on the snap in size L.",
    )


def test_a_size_with_more_room_is_not_given_the_hits_of_the_crowded_ones() -> None:
    plan = plan_sizes(two_lights(size("S"), zones=(snap(285, 315),)))

    assert [len(plan.of_size(each).hits) for each in "SML"] == [1, 2, 2]
    assert "hit 1 of size S would come down on the snap in size M" in plan.differs[0]


def test_sizes_of_as_many_hits_that_no_sequence_suits_are_told() -> None:
    above, below = Box(0, 395, 560, 10), Box(0, 255, 560, 10)
    tall = box_piece("mast", TWILL, Box(200, 300, 40, 60))
    metal = [Zone(ZoneKind.KEEP_OUT, box, "zip") for box in (above, below)]
    side = Side("back", 560, 700, (metal[0],), sizes=(size("L", metal[1]),))
    plan = plan_sizes(job_of([tall], (TWILL,), sides=(side,), garments=GARMENTS))

    assert [len(plan.of_size(each).hits) for each in "SML"] == [1, 1, 1]
    assert plan.differs == (
        "Size L has another sequence than size M: hit 1 of size M would come down on the zip in size L.",
    )


def test_a_size_without_a_sound_sequence_is_named() -> None:
    with pytest.raises(NoSequenceExistsError, match=r"^size L: "):
        plan_sizes(two_lights(size("L", snap(450, 315))))


def test_planning_the_same_sizes_twice_gives_the_same_plan() -> None:
    job = two_lights(size("L", snap(285, 315)), size("S", shift=(5, 5)))

    assert plan_sizes(job) == plan_sizes(job)


def test_planning_tells_its_plans_and_can_be_stopped_for_all_sizes() -> None:
    told: list[SoFar] = []
    job = two_lights(size("L", snap(285, 315)))
    plan = plan_sizes(job, progress=told.append, stop=lambda: True)

    assert {len(best.plan.hits) for best in told} == {1, 2}
    assert all(broken_rules(job_for_size(job, each), plan.of_size(each)) == [] for each in "SML")


def test_planning_tells_for_which_sizes_its_plans_are_and_which_are_to_come() -> None:
    told: list[SoFar] = []
    plan_sizes(two_lights(size("L", snap(285, 315))), progress=told.append)

    assert [(best.sizes, best.to_come) for best in _without_repeats(told)] == [
        (("M", "S"), ("L",)),
        (("L",), ()),
    ]
    assert [best.is_of_most for best in _without_repeats(told)] == [True, False]


def test_planning_tells_when_it_seeks_one_sequence_for_sizes_that_each_have_their_own() -> None:
    told: list[SoFar] = []
    near = plan_sizes(two_lights()).hits[0].platen
    beside = Zone(ZoneKind.KEEP_OUT, Box(near.x + 200, near.bottom - 15, 10, 10), "snap")
    away = plan_sizes(two_lights(zones=(beside,))).hits[0].platen
    other = Zone(ZoneKind.KEEP_OUT, Box(away.x + 200, away.y + 5, 10, 10), "snap")
    plan_sizes(two_lights(size("S", beside), size("L", other)), progress=told.append)

    assert any(best.are_alike for best in told)


def test_plans_are_told_where_the_size_has_its_platen() -> None:
    told: list[SoFar] = []
    job = vests(*(size(each, *BACK.zones, shift=(-10, 20)) for each in "SML"))
    plan = plan_sizes(job, progress=told.append)

    assert told[-1].plan.hits == plan.hits


def test_no_time_is_spent_on_one_sequence_for_sizes_in_which_metal_lies_under_a_piece_of_the_others() -> None:
    above, below = Box(0, 395, 560, 10), Box(0, 255, 560, 10)
    tall = box_piece("mast", TWILL, Box(200, 300, 40, 60))
    zips = [Zone(ZoneKind.KEEP_OUT, box, "zip") for box in (above, below)]
    told: list[SoFar] = []
    side = Side("back", 560, 700, (zips[0],), sizes=(size("L", zips[1]),))
    plan_sizes(job_of([tall], (TWILL,), sides=(side,), garments=GARMENTS), progress=told.append)

    assert not any(best.are_alike for best in told)


def _without_repeats(told: list[SoFar]) -> list[SoFar]:
    """The first that is told for each sizes."""
    return list({best.sizes: best for best in reversed(told)}.values())[::-1]


def test_the_plans_of_all_sizes_come_back_from_their_json() -> None:
    plan = plan_sizes(two_lights(size("L", snap(285, 315)), size("S", shift=(5, 5))))

    assert plan_from_json(plan_to_json(plan)) == plan
    assert [other["sizes"] for other in plan_to_json(plan)["sizes"]] == [["S"], ["L"]]


def test_the_json_of_a_job_without_sizes_has_no_word_of_them() -> None:
    assert {"sizes", "differs"}.isdisjoint(plan_to_json(plan_sizes(crew_vest_job())))


@given(seed=st.integers(0, 2**32 - 1))
@settings(max_examples=10, deadline=None)
def test_each_size_has_a_sound_sequence_of_its_fewest_hits(seed: int) -> None:
    job = in_sizes(random_job(seed, pieces=5), seed)
    try:
        plan = plan_sizes(job, effort=EFFORT)
    except NoSoundSequenceError:
        assert any(_cannot_be_planned(job_for_size(job, each)) for each in sizes_of(job))
        return
    for each in sizes_of(job):
        own = job_for_size(job, each)
        assert broken_rules(own, plan.of_size(each)) == []
        assert len(plan.of_size(each).hits) <= len(plan_hits(own, effort=EFFORT).hits)


def _cannot_be_planned(job: Job) -> bool:
    try:
        plan_hits(job, effort=EFFORT)
    except NoSoundSequenceError:
        return True
    return False

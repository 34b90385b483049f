"""Extra hits on random garments, found sound by the independent judge."""

import random
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from models.errors import NoExtraHitError, NoSoundSequenceError
from models.geometry import Box
from models.job.job import Job
from models.plan.plan import Hit
from models.planning.hits.piece_record import PieceRecord, Records, untouched
from models.planning.rework.incident import Trouble
from models.planning.rework.plan_rework import plan_extra_hits
from tests.garment_on_its_way import PressedGarment
from tests.judged_extra_hits import all_down, judged, lifted
from tests.pressed_garment import Garment
from tests.random_jobs import jobs, random_job
from tests.rule_checker import broken_rules_of_extra
from tests.sample_jobs import crew_vest_job, crew_vest_plan


@st.composite
def garments_with_lifts(
    draw: st.DrawFn, max_sides: int = 3
) -> tuple[Job, dict[str, PieceRecord], dict[str, int]]:
    """A random job, all its pieces down after more or less heat, and the seconds of some that lift."""
    job = draw(jobs(max_pieces=10, max_sides=max_sides))
    dice = random.Random(draw(st.integers(0, 2**32 - 1)))
    least = {piece.id: job.material_of(piece.id).least_s for piece in job.pieces}
    heated = {p: dice.choice((s, dice.randint(s, job.material_of(p).total_s))) for p, s in least.items()}
    lifting = dice.sample(sorted(least), min(len(least), dice.randint(1, 4)))
    return job, all_down(job, **heated), {piece: least[piece] for piece in lifting}


@settings(max_examples=60, deadline=None)
@given(garments_with_lifts())
def test_extra_hits_of_random_garments_break_no_rule(
    garment: tuple[Job, dict[str, PieceRecord], dict[str, int]],
) -> None:
    job, records, needs = garment
    with suppress(NoExtraHitError):
        judged(job, records, frozenset(records), (), lifted(needs))


def test_random_garments_that_were_heated_no_more_than_they_want_are_mostly_mended() -> None:
    """The property above is not empty: a planner that always refuses fails here."""
    mended = 0
    for seed in range(40):
        job = random_job(seed, pieces=6)
        piece = random.Random(seed).choice(job.pieces).id
        with suppress(NoExtraHitError):
            mended += bool(judged(job, all_down(job), frozenset(untouched(job)), (), _lift_of(job, piece)))
    assert mended >= 36


def _lift_of(job: Job, piece: str) -> Trouble:
    return lifted({piece: job.material_of(piece).least_s})


@settings(max_examples=40, deadline=None)
@given(garments_with_lifts(max_sides=1), st.randoms(use_true_random=False))
def test_where_a_single_hit_does_a_single_hit_is_found(
    garment: tuple[Job, dict[str, PieceRecord], dict[str, int]], dice: random.Random
) -> None:
    """Hits thrown at random over the lifted pieces: where one of them is sound, the answer is one hit too."""
    job, records, needs = garment
    try:
        found = len(plan_extra_hits(job, records, frozenset(records), (), lifted(needs)).hits)
    except NoExtraHitError:
        found = 0
    for _ in range(40 if _fit_under_one_platen(job, needs) else 0):
        thrown = thrown_hit(job, needs, dice)
        assert found == 1 or not _is_sound(thrown, job, records, needs), thrown


def test_hits_thrown_at_random_are_now_and_then_sound() -> None:
    """The property above is not empty."""
    sound = 0
    for seed in range(20):
        job, dice = random_job(seed, pieces=4), random.Random(seed)
        piece = dice.choice(job.pieces).id
        needs = {piece: job.material_of(piece).least_s}
        if _fit_under_one_platen(job, needs):
            sound += any(
                _is_sound(thrown_hit(job, needs, dice), job, all_down(job), needs) for _ in range(10)
            )
    assert sound >= 5


def _is_sound(thrown: Hit, job: Job, records: Records, needs: Mapping[str, int]) -> bool:
    tried = Garment(job)
    tried.take_over(records, frozenset(records))
    broken = broken_rules_of_extra(tried, (thrown,), (), lifted_s=needs)
    return not any(_forbids(sentence) for sentence in broken)


def _forbids(sentence: str) -> bool:
    """Whether the judge speaks of more than the thrown hit's empty lists, cover and pad."""
    return "short of" in sentence or ("breaks rule" in sentence and "rule 9" not in sentence)


def _joint_box(job: Job, names: Iterable[str]) -> Box:
    boxes = [job.piece(name).box for name in names]
    left, top = min(box.x for box in boxes), min(box.y for box in boxes)
    return Box(left, top, max(b.right for b in boxes) - left, max(b.bottom for b in boxes) - top)


def _fit_under_one_platen(job: Job, names: Iterable[str]) -> bool:
    box = _joint_box(job, names)
    return box.width <= job.press.platen_width_mm and box.height <= job.press.platen_height_mm


def thrown_hit(job: Job, needs_s: Mapping[str, int], dice: random.Random) -> Hit:
    """A closing somewhere over the lifted pieces, at the setting of one of them; its lists are left empty."""
    box, press = _joint_box(job, needs_s), job.press
    x = round(dice.uniform(box.right - press.platen_width_mm, box.x))
    y = round(dice.uniform(box.bottom - press.platen_height_mm, box.y))
    material = job.material_of(dice.choice(sorted(needs_s)))
    return replace(
        crew_vest_plan().hits[0],
        platen=Box(x, y, press.platen_width_mm, press.platen_height_mm),
        temperature_c=dice.choice((material.lowest_c, material.set_c, material.hottest_c)),
        pressure=dice.choice(material.pressures),
        dwell_s=max(needs_s.values()),
        lay=(),
        count=(),
        peel=(),
    )


@settings(max_examples=60, deadline=None)
@given(jobs(max_pieces=7, max_sides=2), st.randoms(use_true_random=False))
def test_mishaps_do_no_harm_and_all_ends_finished(job: Job, dice: random.Random) -> None:
    """Unless no extra hit is left within the rules, when the garment is held or spoiled."""
    with suppress(NoExtraHitError, NoSoundSequenceError):
        assert all(record.finished for record in worked_with_mishaps(job, dice).values())


def worked_with_mishaps(job: Job, dice: random.Random) -> Records:
    """The records of a garment that went to its last hit, with up to three accidents on the way."""
    garment = PressedGarment(job)
    accidents = 3
    while garment.ahead:
        opens_early = accidents > 0 and dice.random() < 0.4
        accidents -= opens_early
        dwell_s = garment.next_dwell_s
        garment.press_next(dice.randint(0, dwell_s) if opens_early else dwell_s)
        down = [piece for piece, record in garment.records.items() if record.down]
        if down and accidents > 0 and dice.random() < 0.2:
            accidents -= 1
            mend = dice.choice((garment.lift, garment.replace))
            mend(dice.choice(down))
    return garment.records


def test_most_garments_with_mishaps_are_brought_to_their_end() -> None:
    ended = 0
    for seed in range(24):
        with suppress(NoExtraHitError, NoSoundSequenceError):
            ended += bool(worked_with_mishaps(random_job(seed, pieces=5), random.Random(seed)))
    assert ended >= 18


def test_several_pieces_in_trouble_at_once_are_mended_without_harm() -> None:
    """Up to four pieces lift or are replaced together after each of three hits; then the rest is pressed."""
    finished = 0
    for seed in range(20):
        dice = random.Random(seed)
        garment = PressedGarment(random_job(seed, pieces=7, sides=2), effort=0)
        with suppress(NoExtraHitError):
            for _ in range(min(3, len(garment.ahead))):
                garment.press_next(garment.next_dwell_s)
                garment.mend_several(dice)
            while garment.ahead:
                garment.press_next(garment.next_dwell_s)
            assert all(record.finished for record in garment.records.values())
            finished += 1
    assert finished >= 8


def test_a_garment_with_accidents_can_end_finished() -> None:
    """The property above is not empty: with the sample job it runs to its end."""
    garment = PressedGarment(crew_vest_job())
    garment.press_next(garment.next_dwell_s - 4)
    while garment.ahead:
        garment.press_next(garment.next_dwell_s)
    assert all(record.finished for record in garment.records.values())


def worn(garment: PressedGarment, dice: random.Random) -> Records:
    """The garment's records, some of its laid pieces near the end of what they bear."""
    return {
        piece: _worn(record, garment.job.material_of(piece).total_s - dice.choice((15, 20, 25)))
        if record.laid and dice.random() < 0.6
        else record
        for piece, record in garment.records.items()
    }


def _worn(record: PieceRecord, heated_s: int) -> PieceRecord:
    return replace(record, heated_s=tuple(max(s, heated_s) for s in record.heated_s))


def test_what_is_planned_anew_breaks_no_rule_and_ends_finished() -> None:
    """Pieces lift that bear little more: now and then only another rest of the sequence has room for them."""
    planned_anew = 0
    for seed in range(30):
        dice = random.Random(seed)
        garment = PressedGarment(random_job(seed + 900, pieces=6, sides=1), effort=0)
        for _ in range(dice.randint(1, max(1, len(garment.ahead) - 1))):
            garment.press_next(garment.next_dwell_s)
        garment.records = worn(garment, dice)
        with suppress(NoExtraHitError):
            planned_anew += garment.plan_the_rest()
            down = [piece for piece, record in garment.records.items() if record.down]
            frozen = garment.ahead
            mending = garment.lift(dice.choice(down or sorted(garment.records)))
            planned_anew += mending.rest is not None and not closings(mending.rest) <= closings(frozen)
    assert planned_anew > 0


def closings(hits: Iterable[Hit]) -> set[tuple[object, ...]]:
    return {(hit.platen, hit.temperature_c, hit.dwell_s) for hit in hits}

"""What becomes of the hits ahead where extra ones come first."""

from dataclasses import replace

from models.geometry import Box
from models.job.job import Pressure, Zone, ZoneKind
from tests.judged_extra_hits import all_down, judged_mending, lifted
from tests.sample_jobs import (
    FOAM,
    TWILL,
    box_piece,
)
from tests.troubled_vests import (
    BANNER,
    FIRST,
    JOB,
    LAY_BADGE,
    LEFT,
    PEELED,
    PLAIN_BACK,
    RIGHT,
    SECOND,
    a_job,
    heated,
    pressed,
    replaced,
)


def test_hits_ahead_that_stay_sound_stay_as_frozen() -> None:
    trouble = lifted(banner=20)
    assert judged_mending(BANNER, pressed(BANNER, (LEFT, 20)), frozenset(), (RIGHT,), trouble).rest is None


def test_a_hit_ahead_that_has_nothing_left_to_do_is_left_out() -> None:
    """The platen cannot but press the life ring with the anchor, and so gives it its last 5 s."""
    mending = judged_mending(JOB, pressed(JOB, (FIRST, 15)), PEELED, (SECOND,), lifted(anchor=15))
    assert mending.rest == ()


def test_hits_ahead_that_would_be_too_much_are_planned_anew_with_the_extra_ones() -> None:
    """The anchor bears 15 s more, and the life ring's last 5 s cannot but heat it too."""
    records = heated(pressed(JOB, (FIRST, 15)), anchor=45)
    mending = judged_mending(JOB, records, PEELED, (SECOND,), lifted(anchor=15))
    assert [hit.count for hit in mending.hits] == [("life-ring", "anchor")]
    assert mending.rest == ()


def test_a_piece_still_in_work_is_brought_down_first_where_it_is_in_the_way() -> None:
    """Beside the zip the anchor is not hit without the hull, which is not down and takes another pressure."""
    side = replace(PLAIN_BACK, zones=(Zone(ZoneKind.KEEP_OUT, Box(300, 0, 20, 700), "zip"),))
    light = replace(TWILL, key="light", pressures=(Pressure.LIGHT,))
    job = a_job(("anchor", FOAM, Box(200, 200, 60, 60)), ("hull", light, Box(100, 200, 60, 60)), side=side)
    records = all_down(job)
    records["hull"] = replace(records["hull"], counted_s=(5,), heated_s=(5,))
    press_hull = replace(
        LAY_BADGE, platen=Box(-210, 0, 400, 500), pressure=Pressure.LIGHT, lay=(), count=("hull",), dwell_s=15
    )
    mending = judged_mending(job, records, frozenset({"anchor"}), (press_hull,), lifted(anchor=15))
    assert [hit.count for hit in mending.hits] == [("hull",), ("anchor",)]
    assert mending.hits[0].why[0] == "hull: down before its turn, as it is in the way of anchor."
    assert mending.rest == ()


def test_a_side_whose_hits_ahead_give_all_the_seconds_takes_no_extra_hit() -> None:
    """The badge on the front lifts half way; on the back the life ring gets its last seconds ahead anyway."""
    front = replace(PLAIN_BACK, name="front")
    badge = box_piece("badge", TWILL, Box(200, 200, 60, 60), side="front")
    job = replace(JOB, pieces=(*JOB.pieces, badge), sides=(*JOB.sides, front))
    records = {**pressed(job, (FIRST, 15)), "badge": all_down(job)["badge"]}
    mending = judged_mending(
        job, records, PEELED | {"badge"}, (SECOND,), lifted({"badge": 20, "life-ring": 5})
    )
    assert [hit.count for hit in mending.hits] == [("badge",)]
    assert mending.rest is None


def test_hits_on_other_sides_stay_where_one_side_is_planned_anew() -> None:
    front = replace(PLAIN_BACK, name="front")
    badge = box_piece("badge", TWILL, Box(200, 200, 60, 60), side="front")
    job = replace(JOB, pieces=(*JOB.pieces, badge), sides=(*JOB.sides, front))
    third = replace(
        FIRST, n=3, side="front", dwell_s=20, lay=("badge",), count=("badge",), pad=False, peel=()
    )
    records = heated(pressed(job, (FIRST, 15)), anchor=45)
    mending = judged_mending(job, records, PEELED, (SECOND, third), lifted(anchor=15))
    assert mending.rest == (third,)


def test_a_hit_ahead_gets_the_cover_that_a_piece_now_down_needs() -> None:
    """A guarded hull that is new is down after the extra hit, and the next hit heats it again."""
    guarded = replace(TWILL, key="guarded-twill", guard=True)
    job = a_job(("hull", guarded, Box(100, 200, 60, 60)), ("badge", TWILL, Box(250, 200, 60, 60)))
    half = replace(LAY_BADGE, dwell_s=15, lay=("hull",), count=("hull",), pad=False)
    bare = replace(LAY_BADGE, n=2, count=("hull", "badge"), pad=False)
    mending = judged_mending(job, pressed(job, (half, 15)), frozenset(), (bare,), replaced("hull"))
    (hit,) = mending.rest or ()
    assert replace(hit, why=bare.why) == replace(bare, count=("badge",), touch_again=("hull",), cover=True)
    assert "Cover sheet: hull must not be heated again without." in hit.why

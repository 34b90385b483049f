"""Judges what a plan says of itself: the lists of its hits, what they peel, its totals, how sure it is."""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from models.job.job import Job, Peel
from models.plan.plan import Hit, Plan, PlanStatus, Totals
from tests.pressed_garment import Garment

PEEL_RANK = {Peel.HOT: 0, Peel.WARM: 1, Peel.COLD: 2}


def wrong_lists(garment: Garment, hit: Hit) -> Iterator[str]:
    wanted, allowed = _count_bounds(garment, hit)
    for piece in sorted(wanted - set(hit.count)):
        yield f"hit {hit.n} does not list {piece} in count, for which it counts"
    for piece in sorted(set(hit.count) - allowed):
        yield f"hit {hit.n} lists {piece} in count, for which it does not count"
    again = {piece for piece in garment.touched(hit) if garment.is_finished(piece)}
    if set(hit.touch_again) != again:
        yield f"hit {hit.n} lists {_list(hit.touch_again)} in touch_again, and touches {_list(again)} again"
    for name, listed in (("count", hit.count), ("touch_again", hit.touch_again)):
        if len(set(listed)) != len(listed):
            yield f"hit {hit.n} lists a piece twice in {name}"
    if not hit.why or not all(reason.strip() for reason in hit.why):
        yield f"hit {hit.n} does not say why it is there"


def _count_bounds(garment: Garment, hit: Hit) -> tuple[set[str], set[str]]:
    """The pieces that `count` must list, and those it may.

    They differ in one case only: a part that already has its seconds is counted again while another part of
    the same piece still lacks some.
    """
    wanted, allowed = set[str](), set[str]()
    for piece in garment.lying_in(hit):
        counted = garment.counted_parts(piece, hit)
        if garment.is_down(piece):
            gains = bool(garment.finishing_parts(piece, hit)) and hit.cover
            allows = gains
        else:
            gains = any(garment.counted_s[piece][k] < garment.needed_s[piece] for k in counted)
            allows = bool(counted)
        wanted |= {piece} if gains else set()
        allowed |= {piece} if allows else set()
    return wanted, allowed


def wrong_peel(garment: Garment, hit: Hit) -> Iterator[str]:
    due = {p for p in garment.brought_down(hit) if p in garment.carriers and p not in garment.peeled}
    listed = [step.piece for step in hit.peel]
    if set(listed) != due or len(set(listed)) != len(listed):
        yield f"hit {hit.n} lists {_list(listed)} to peel, and brings down {_list(due)} with a carrier on"
    for step in hit.peel:
        if step.when != (own := garment.materials[step.piece].peel):
            yield f"hit {hit.n} peels {step.piece} {step.when}, which peels {own}"
    ranks = [PEEL_RANK.get(step.when, -1) for step in hit.peel]
    if ranks != sorted(ranks):
        yield f"hit {hit.n} does not peel in the order hot, warm, cold"


def _list(pieces: Iterable[str]) -> str:
    return ", ".join(sorted(pieces)) or "nothing"


def wrong_totals(garment: Garment, plan: Plan) -> Iterator[str]:
    counted = _recount(garment.job, plan)
    if plan.totals != counted:
        yield f"the totals say {plan.totals}, and the hits give {counted}"
    if plan.lower_bound > len(plan.hits):
        yield f"the lower bound {plan.lower_bound} lies above the {len(plan.hits)} hits"
    if plan.lower_bound < (1 if plan.hits else 0):
        yield f"the lower bound {plan.lower_bound} is none"
    if plan.status == PlanStatus.OPTIMAL and plan.lower_bound != len(plan.hits):
        yield f"the plan is called optimal with {len(plan.hits)} hits and a lower bound of {plan.lower_bound}"


def _recount(job: Job, plan: Plan) -> Totals:
    garment, reheats = Garment(job), 0
    for hit in plan.hits:
        reheats += sum(
            garment.is_finished(piece) for piece in garment.touched(hit) if piece in garment.pieces
        )
        garment.press(hit)
    return Totals(
        hits=len(plan.hits),
        temperature_changes=sum(
            _changes_on(press.name, plan) for press in (garment.job.press, *garment.job.more_presses)
        ),
        side_changes=sum(a.side != b.side for a, b in pairwise(plan.hits)),
        dwell_s=sum(hit.dwell_s for hit in plan.hits),
        reheats=reheats,
        walks=sum(a.press != b.press for a, b in pairwise(plan.hits)),
    )


def _changes_on(press: str, plan: Plan) -> int:
    own = [hit.temperature_c for hit in plan.hits if hit.press == press]
    return sum(a != b for a, b in pairwise(own))

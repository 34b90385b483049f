"""Judges a plan by the written rules of a sound hit sequence, and by nothing of the planner's.

Every broken rule is one sentence that names the hit, the rule and the pieces.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from models.job.job import Job, Material, Press, ZoneKind
from models.plan.plan import Hit, Plan
from tests.pressed_garment import Garment, overlap, platen_of, shape_of, share_area, stacked_pairs
from tests.rule_checker_lists import wrong_lists, wrong_peel, wrong_totals

NOTHING: Mapping[str, Any] = MappingProxyType({})


def broken_rules(job: Job, plan: Plan) -> list[str]:
    """Every rule that the plan breaks, in the order of its hits; an empty list for a sound plan."""
    broken = [*_unsound_job(job)]
    garment = Garment(job)
    for number, hit in enumerate(plan.hits, start=1):
        if hit.n != number:
            broken.append(f"hit {hit.n} stands at place {number}: hits are numbered 1 to n")
        broken += _unknown_names(job, hit) or judge_hit(garment, hit, HIT_RULES)
        garment.press(hit)
    return [*broken, *_ends_unfinished(garment, plan), *wrong_totals(garment, plan)]


def broken_rules_of_extra(
    garment: Garment,
    extra: Sequence[Hit],
    rest: Sequence[Hit],
    *,
    lifted_s: Mapping[str, int] = NOTHING,
    replaced: Iterable[str] = (),
    short_s: Mapping[str, Sequence[int]] = NOTHING,
) -> list[str]:
    """Every rule that extra hits and the rest after them break, and what they leave undone.

    `garment` has taken over what really happened to it, the trouble left out; it is pressed on here. A piece
    that was down and lifted wants its `lifted_s` again, a piece `replaced` all its seconds, a part opened
    early what it is short of: the extra hits have to give all that. After the rest, all must be finished.
    """
    needy = {*lifted_s, *replaced, *short_s}
    broken = [f"{piece} cannot want an extra hit: it is not laid" for piece in needy - garment.laid]
    goals = _goals_s(garment, lifted_s, replaced, short_s)
    for hit in extra:
        broken += _unknown_names(garment.job, hit) or judge_hit(garment, hit, HIT_RULES)
        garment.press(hit)
    for piece, seconds in goals.items():
        if any(has < wants for has, wants in zip(garment.counted_s[piece], seconds, strict=True)):
            broken.append(f"the extra hits leave {piece} short of its seconds")
    for hit in rest:
        broken += _unknown_names(garment.job, hit) or judge_hit(garment, hit, HIT_RULES)
        garment.press(hit)
    return [*broken, *_left_unfinished(garment, "the rest")]


def _goals_s(
    garment: Garment,
    lifted_s: Mapping[str, int],
    replaced: Iterable[str],
    short_s: Mapping[str, Sequence[int]],
) -> dict[str, list[int]]:
    """The counted seconds that each part has to reach in the extra hits; the trouble happens here."""
    goals = {}
    for piece, seconds in short_s.items():
        counted = garment.counted_s[piece]
        goals[piece] = [min(garment.needed_s[piece], c + s) for c, s in zip(counted, seconds, strict=True)]
    for piece, again_s in lifted_s.items():
        if garment.is_down(piece):  # else the hits after the extra ones may bring it down, as they were to
            goals[piece] = [garment.needed_s[piece] for _ in garment.parts[piece]]
        garment.lift(piece, again_s)
    for piece in replaced:
        garment.take_off(piece)
        goals[piece] = [garment.needed_s[piece] for _ in garment.parts[piece]]
    return goals


def harm_of(garment: Garment, hit: Hit) -> list[str]:
    """What a hit would do against the rules to a garment as it really is, whatever the hit's lists say."""
    return judge_hit(garment, hit, HARM_RULES)


def heated_bare(garment: Garment, hit: Hit) -> list[str]:
    """What a hit without a cover sheet would heat bare that must not be, on a garment as it really is."""
    return [] if hit.cover else _not_to_be_heated_bare(garment, hit)


Rule = Callable[[Garment, Hit], Iterable[str]]


def judge_hit(garment: Garment, hit: Hit, rules: Iterable[Rule]) -> list[str]:
    return [sentence for rule in rules for sentence in rule(garment, hit)]


def _says(hit: Hit, rule: int, what: str) -> str:
    return f"hit {hit.n} breaks rule {rule}: {what}"


# ---- the job, before any hit


def _unsound_job(job: Job) -> Iterator[str]:
    shapes = {piece.id: shape_of(piece) for piece in job.pieces}
    for piece in job.pieces:
        if not shapes[piece.id].is_valid or shapes[piece.id].area <= 0:
            yield f"the job breaks rule 8: the outline of {piece.id} crosses itself or has no area"
    for upper, lower in stacked_pairs(job, shapes):
        if not _takes(job.material_of(lower), job.material_of(upper)):
            yield f"the job breaks rule 1: {upper} may not lie on {lower}"


def _takes(lower: Material, upper: Material) -> bool:
    return "any" in lower.takes_on_top or upper.key in lower.takes_on_top


def _unknown_names(job: Job, hit: Hit) -> list[str]:
    known = {piece.id for piece in job.pieces}
    named = [*hit.lay, *hit.count, *hit.touch_again, *(step.piece for step in hit.peel)]
    strangers = [
        f"hit {hit.n} names {name}, a piece the job does not have" for name in named if name not in known
    ]
    if hit.side not in {side.name for side in job.sides}:
        strangers.append(f"hit {hit.n} is on {hit.side}, a side the job does not have")
    return strangers


# ---- rules 2 and 3: laying


def _base_first(garment: Garment, hit: Hit) -> Iterator[str]:
    for upper, lower in garment.stacked:
        if upper in hit.lay and not garment.is_down(lower):
            yield _says(hit, 2, f"{upper} is laid on {lower}, which was not down before")


def _clear_carriers(garment: Garment, hit: Hit) -> Iterator[str]:
    stacked = set(garment.stacked)
    for piece in hit.lay:
        for other in _others_on_side(garment, hit, piece):
            yield from _carrier_clash(garment, hit, piece, other, is_stacked=(piece, other) in stacked)


def _others_on_side(garment: Garment, hit: Hit, piece: str) -> list[str]:
    side = garment.pieces[piece].side
    return [o for o in garment.lying_in(hit) if o != piece and garment.pieces[o].side == side]


def _carrier_clash(garment: Garment, hit: Hit, piece: str, other: str, *, is_stacked: bool) -> Iterator[str]:
    was_down = garment.is_down(other)
    others_carrier = None if other in garment.peeled else garment.carriers.get(other)
    if others_carrier is not None and not was_down and overlap(others_carrier, garment.shapes[piece]):
        yield _says(hit, 3, f"(a) {piece} is laid where the carrier of {other} lies")
    carrier = garment.carriers.get(piece)
    if carrier is None or not overlap(carrier, garment.shapes[other]):
        return
    if not was_down:
        yield _says(hit, 3, f"(b) the carrier of {piece} lies on {other}, which was not down before")
    elif not garment.materials[other].carrier_safe and not is_stacked:
        yield _says(hit, 3, f"(c) the carrier of {piece} lies on {other}, which takes no carrier")


# ---- rules 4 to 7: heat, halves, seconds, metal


def _too_hot(garment: Garment, hit: Hit) -> Iterator[str]:
    press, fabric = _press_of(garment, hit), garment.job.fabric
    if not press.lowest_c <= hit.temperature_c <= press.hottest_c:
        yield _says(hit, 4, f"the press cannot be set to {hit.temperature_c} °C")
    if hit.temperature_c > fabric.hottest_c:
        yield _says(hit, 4, f"{hit.temperature_c} °C is too hot for {fabric.name}")
    for piece in garment.touched(hit):
        if hit.temperature_c > garment.materials[piece].hottest_c:
            yield _says(hit, 4, f"{hit.temperature_c} °C is too hot for {piece}")


def _half_pressed(garment: Garment, hit: Hit) -> Iterator[str]:
    for piece in garment.touched(hit):
        is_one_part = len(garment.parts[piece]) == 1
        if is_one_part and not garment.is_down(piece) and not garment.counted_parts(piece, hit):
            yield _says(hit, 5, f"{piece} is not down, and is touched without being counted")


def _too_short_or_long(garment: Garment, hit: Hit) -> Iterator[str]:
    if hit.dwell_s != int(hit.dwell_s):
        yield _says(hit, 6, f"{hit.dwell_s} s are not whole seconds")
    if hit.dwell_s < max(press.shortest_s for press in _presses(garment)):
        yield _says(hit, 6, f"{hit.dwell_s} s is shorter than the press can close")
    for piece in garment.touched(hit):
        if hit.dwell_s > garment.materials[piece].longest_s:
            yield _says(hit, 6, f"{hit.dwell_s} s at once is too long for {piece}")
    yield from _too_long_in_all(garment, hit)


def _laid_too_shortly(garment: Garment, hit: Hit) -> Iterator[str]:
    for piece in hit.lay:
        first_s = garment.materials[piece].first_s
        if hit.dwell_s < first_s:
            yield _says(hit, 6, f"{hit.dwell_s} s is too short for {piece} to hold, which takes {first_s} s")


def _too_long_in_all(garment: Garment, hit: Hit) -> Iterator[str]:
    for piece in garment.touched(hit):
        total = max(garment.heated_s[piece][k] for k in garment.touched_parts(piece, hit)) + hit.dwell_s
        if total > garment.materials[piece].total_s:
            yield _says(hit, 6, f"{piece} has then been heated for {total} s in all, which is too long")


def _on_metal(garment: Garment, hit: Hit) -> Iterator[str]:
    for zone in _zones_under(garment, hit, ZoneKind.KEEP_OUT):
        yield _says(hit, 7, f"the platen comes down on {zone}")


def _zones_under(garment: Garment, hit: Hit, kind: ZoneKind) -> list[str]:
    zones = garment.job.side(hit.side).zones_of(kind)
    bounds = [(z.label or kind.value, (z.box.x, z.box.y, z.box.right, z.box.bottom)) for z in zones]
    return [label for label, area in bounds if share_area(area, platen_of(hit))]


# ---- rule 8: laid once, where the hit is


def _laid_wrongly(garment: Garment, hit: Hit) -> Iterator[str]:
    for piece in hit.lay:
        if piece in garment.laid or hit.lay.count(piece) > 1:
            yield _says(hit, 8, f"{piece} is laid a second time")
        if not garment.touched_parts(piece, hit):
            yield _says(hit, 8, f"{piece} is laid for a hit that does not touch it")


def _ends_unfinished(garment: Garment, plan: Plan) -> Iterator[str]:
    return _left_unfinished(garment, f"hit {len(plan.hits)}")


def _left_unfinished(garment: Garment, last: str) -> Iterator[str]:
    for piece in garment.pieces:
        if piece not in garment.laid:
            yield f"the plan breaks rule 8: {piece} is never laid"
        elif not garment.is_down(piece):
            yield f"the plan breaks rule 8: {piece} is not down after {last}"
        elif not garment.is_finished(piece):
            yield f"the plan breaks rule 8: {piece} never gets its second press under a cover sheet"


# ---- rules 9 and 10: cover, pad, platen


def _wrong_cover(garment: Garment, hit: Hit) -> Iterator[str]:
    reasons = _not_to_be_heated_bare(garment, hit)
    touched = garment.touched(hit)
    reasons += [f"it is the second press of {p}" for p in touched if garment.finishing_parts(p, hit)]
    if reasons and not hit.cover:
        yield _says(hit, 9, f"the cover sheet is missing: {', '.join(reasons)}")
    if hit.cover and not reasons:
        yield _says(hit, 9, "a cover sheet is asked for that no piece wants")


def _not_to_be_heated_bare(garment: Garment, hit: Hit) -> list[str]:
    touched, materials = garment.touched(hit), garment.materials
    reasons = [f"{p} needs guarding" for p in touched if garment.has_been_down(p) and materials[p].guard]
    uncovered = [p for p in touched if materials[p].cover and not garment.is_down(p)]
    return [*reasons, *(f"{p} wants a cover until it is down" for p in uncovered)]


def _wrong_pad(garment: Garment, hit: Hit) -> Iterator[str]:
    raised = _zones_under(garment, hit, ZoneKind.RAISED)
    if raised and not hit.pad:
        yield _says(hit, 9, f"the pad is missing over {', '.join(raised)}")
    if hit.pad and not raised:
        yield _says(hit, 9, "a pad is asked for where nothing is raised")


def _presses(garment: Garment) -> tuple[Press, ...]:
    return (garment.job.press, *garment.job.more_presses)


def _press_of(garment: Garment, hit: Hit) -> Press:
    return next(press for press in _presses(garment) if press.name == hit.press)


def _wrong_platen(garment: Garment, hit: Hit) -> Iterator[str]:
    press = _press_of(garment, hit)
    if (hit.platen.width, hit.platen.height) != (press.platen_width_mm, press.platen_height_mm):
        yield _says(hit, 10, "its platen is not the press's platen")
    if hit.platen.x != int(hit.platen.x) or hit.platen.y != int(hit.platen.y):
        yield _says(hit, 10, "the platen's corner does not lie on whole mm")


HARM_RULES: tuple[Rule, ...] = (
    _base_first,
    _clear_carriers,
    _too_hot,
    _half_pressed,
    _too_long_in_all,
    _on_metal,
)
HIT_RULES: tuple[Rule, ...] = (
    _base_first,
    _clear_carriers,
    _laid_wrongly,
    _too_hot,
    _half_pressed,
    _too_short_or_long,
    _laid_too_shortly,
    _on_metal,
    _wrong_cover,
    _wrong_pad,
    _wrong_platen,
    wrong_lists,
    wrong_peel,
)

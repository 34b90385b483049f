"""Why each hit is as it is, in a few short sentences for the person at the press.

They are told from the limits that really bind: what the pieces under the platen want and bear.
"""

from collections.abc import Iterator, Sequence

from models.job.job import Material
from models.plan.plan import Hit
from models.planning.explain.setting_reasons import heat_bounds
from models.planning.problem.bitset import members
from models.planning.problem.resolved_hit import Stroke
from models.text import in_a_row

MOST_NOT_YET = 2
"""More pieces than these are not told one by one."""


def why_hit(hit: Hit, stroke: Stroke, later: Sequence[Stroke]) -> tuple[str, ...]:
    """The sentences for `hit`, which `stroke` is: who, how long, how hot, and who not yet.

    `later` are the strokes that follow it on its side.
    """
    who_and_how = (_who(hit, stroke), _seconds(hit, stroke), _temperature(hit, stroke))
    return (*who_and_how, *_few(list(_not_yet(hit, stroke, later))))


def _few(not_yet: Sequence[str]) -> Iterator[str]:
    yield from not_yet[:MOST_NOT_YET]
    more = len(not_yet) - MOST_NOT_YET
    if more > 0:
        yield f"{more} more {'is' if more == 1 else 'are'} laid later."


def _who(hit: Hit, stroke: Stroke) -> str:
    work = stroke.work
    counted = [piece for piece, drawn in enumerate(work.pieces) if drawn.id in hit.count]
    second = [_with_parts(stroke, piece) for piece in counted if stroke.before.down >> piece & 1]
    first = [piece for piece in counted if not stroke.before.down >> piece & 1]
    said = [_pressed(stroke, first)] if first else []
    said += [f"second press, under a cover sheet, of {in_a_row(second)}"] if second else []
    return f"{'; '.join(said)}."


def _pressed(stroke: Stroke, pieces: Sequence[int]) -> str:
    labels = [_with_parts(stroke, piece) for piece in pieces]
    if len(labels) > 1:
        return f"{in_a_row(labels)}: they fit under one platen and take one setting"
    still = list(_still_to_press(stroke, pieces[0]))
    if not still:
        return f"{labels[0]} by itself: all else is down"
    if any(_could_share(stroke, pieces[0], other) for other in still):
        return f"{labels[0]} by itself: what could share its hit waits, or is pressed with others"
    return f"{labels[0]} by itself: nothing that is still to be pressed can share a hit with it"


def _still_to_press(stroke: Stroke, but: int) -> Iterator[int]:
    return (piece for piece in members(stroke.work.every_piece & ~stroke.before.down) if piece != but)


def _could_share(stroke: Stroke, piece: int, other: int) -> bool:
    """Whether some closing could press a part of both."""
    work, one, two = stroke.work, stroke.work.materials[piece], stroke.work.materials[other]
    own, others = work.parts_of(1 << piece) & stroke.wanted, work.parts_of(1 << other)
    is_set_alike = max(one.lowest_c, two.lowest_c) <= min(one.hottest_c, two.hottest_c, work.job.hottest_c)
    is_pressed_alike = not set(one.pressures).isdisjoint(two.pressures)
    return is_set_alike and is_pressed_alike and work.can_be_held_together(own, others)


def _with_parts(stroke: Stroke, piece: int) -> str:
    """The piece's label; of one that is worked in parts, also which share of them this is."""
    label, parts = stroke.work.pieces[piece].label, stroke.work.parts_of_piece[piece]
    pressed, in_all = (parts & stroke.wanted).bit_count(), parts.bit_count()
    return f"{label} ({pressed} of its {in_all} parts)" if in_all > 1 else label


def _seconds(hit: Hit, stroke: Stroke) -> str:
    """What sets the dwell: what bears no more, what wants no less, or neither."""
    dwell_s, missing_s = hit.dwell_s, stroke.before.missing_s
    later = [
        f"{_label(stroke, k)} {missing_s[k] - dwell_s} s"
        for k in members(stroke.wanted)
        if missing_s[k] > dwell_s
    ]
    to_come = f"; still to come: {in_a_row(later)}" if later else ""
    return f"{dwell_s} s: {(later and _most(hit, stroke)) or _least(hit, stroke)}{to_come}."


def _most(hit: Hit, stroke: Stroke) -> str:
    """Who under the platen bears no second more, at once or in all; empty where all bear more."""
    for k in members(stroke.touched):
        material, left_s = stroke.work.parts[k].material, stroke.before.left_s[k]
        if material.longest_s == hit.dwell_s:
            return f"{_label(stroke, k)} bears no more at once"
        if left_s == hit.dwell_s:
            return f"{_label(stroke, k)} bears no more than {material.total_s} s in all"
    return ""


def _least(hit: Hit, stroke: Stroke) -> str:
    """Who wants no second less; where nobody does, how many are wanted or why so few are given."""
    for k in members(stroke.wanted):
        if _wants_s(stroke, k) == hit.dwell_s:
            return _want(stroke, k)
    for piece in members(stroke.closing.laid):
        if stroke.work.materials[piece].first_s == hit.dwell_s:
            return f"{stroke.work.pieces[piece].label} wants them at once to begin with, so that it holds"
    if hit.dwell_s == stroke.work.shortest_s:
        return "a shorter closing heats nothing"
    longest = max(members(stroke.wanted), key=lambda k: _wants_s(stroke, k))
    if _wants_s(stroke, longest) < hit.dwell_s:
        return f"{_label(stroke, longest)} wants {_wants_s(stroke, longest)} of them at the least"
    return f"a share of what {_label(stroke, longest)} wants, divided among its hits"


def _want(stroke: Stroke, part: int) -> str:
    material, missing_s = stroke.work.parts[part].material, stroke.before.missing_s[part]
    label = _label(stroke, part)
    if not missing_s:
        return f"{label} wants a second press of {material.finish_s} s"
    if missing_s < material.least_s:
        return f"{label} has had {material.least_s - missing_s} of its {material.least_s} s"
    return f"{label} wants them at the least"


def _wants_s(stroke: Stroke, part: int) -> int:
    missing_s = stroke.before.missing_s[part]
    return missing_s or stroke.work.parts[part].material.finish_s


def _temperature(hit: Hit, stroke: Stroke) -> str:
    wanted, touched = _materials(stroke, stroke.wanted), _materials(stroke, stroke.touched)
    return heat_bounds(hit, stroke.work.job, wanted, touched)


def _not_yet(hit: Hit, stroke: Stroke, later: Sequence[Stroke]) -> Iterator[str]:
    """The pieces wholly under the platen that are laid later, each with what it waits for."""
    work = stroke.work
    for piece in members(work.every_piece & ~stroke.before.laid & ~stroke.closing.laid):
        if all(hit.platen.holds(work.parts[k].box) for k in members(work.parts_of_piece[piece])):
            waits = _waits_for(hit, stroke, piece) or _its_turn(hit, stroke, piece, later)
            if waits:
                yield f"{work.pieces[piece].label} not yet: {waits}."


def _waits_for(hit: Hit, stroke: Stroke, piece: int) -> str:
    """What bars the piece from being laid for this hit; empty where nothing does."""
    work, material = stroke.work, stroke.work.materials[piece]
    for first in members(work.order.after[piece] & ~stroke.before.down):
        if (piece, first) in work.order.stacked:
            return f"it lies on {work.pieces[first].label}, which must be down before"
        return f"the carrier of {work.pieces[first].label} may not lie on it"
    in_work = stroke.before.in_work | stroke.closing.laid
    for other in members(work.order.apart[piece] & in_work):
        return f"a carrier would lie between it and {work.pieces[other].label}"
    if not material.lowest_c <= hit.temperature_c <= material.hottest_c:
        return f"it wants {material.lowest_c:g} to {material.hottest_c:g} °C"
    if hit.pressure not in material.pressures:
        return f"it wants {' or '.join(material.pressures)} pressure"
    if hit.dwell_s > material.longest_s:
        return f"it bears {material.longest_s} s at once"
    if hit.dwell_s < material.first_s:
        return f"it holds only after {material.first_s} s"
    return ""


def _its_turn(hit: Hit, stroke: Stroke, piece: int, later: Sequence[Stroke]) -> str:
    """What speaks for laying the piece later, though nothing bars it now; empty where nothing is gained."""
    work, parts = stroke.work, stroke.work.parts_of_piece[piece]
    turn = next((n for n, other in enumerate(later) if other.closing.laid >> piece & 1), len(later))
    if any(other.closing.way.touched & parts for other in later[:turn]):
        return "laid now, it would lie under the platen again before its turn"
    if hit.dwell_s < work.materials[piece].least_s:
        return f"it wants {work.materials[piece].least_s} s, and this hit gives {hit.dwell_s}"
    with_it = work.pieces_of(later[turn].wanted) & ~(1 << piece) if turn < len(later) else 0
    labels = [work.pieces[other].label for other in members(with_it)]
    return f"it has its turn with {in_a_row(labels)}" if labels else ""


def _materials(stroke: Stroke, parts: int) -> list[Material]:
    return [stroke.work.parts[k].material for k in members(parts)]


def _label(stroke: Stroke, part: int) -> str:
    return stroke.work.pieces[stroke.work.parts[part].piece].label

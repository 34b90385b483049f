"""The fewest extra hits on a tiny garment, by trying every closing one after the other.

Every corner at which anything changes, every temperature at the end of a window, every pressure, every whole
second and every set of new pieces to lay is tried; the rules are the independent judge's. It is meant for
three pieces at the most, of materials that take a few seconds.
"""

import copy
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import chain, combinations, product

from models.geometry import Box
from models.plan.plan import Hit
from tests.pressed_garment import Garment
from tests.rule_checker import harm_of
from tests.sample_jobs import crew_vest_plan


def all_finished(garment: Garment) -> bool:
    return all(garment.is_finished(piece) for piece in garment.pieces)


def fewest_extra_hits(
    garment: Garment, most: int, is_mended: Callable[[Garment], bool] = all_finished
) -> int | None:
    """How many closings it takes until the garment is mended; None where more than `most`."""
    bare = list(_closings(garment))
    states = {_key(garment): garment}
    for count in range(1, most + 1):
        if any(_mending(state, bare, is_mended) for state in states.values()):
            return count
        if count < most:
            states = {
                _key(after): after
                for state in states.values()
                for _, after in _steps(state, bare, sound=True)
            }
    return None


def end_finished_after(garment: Garment, ahead: Sequence[Hit]) -> bool:
    """Whether the hits ahead, just as they are, do no harm to the garment and finish all of it."""
    for hit in ahead:
        if harm_of(garment, hit):
            return False
        garment = _after(garment, replace(hit, cover=True))
    return all_finished(garment)


def _mending(garment: Garment, bare: Sequence[Hit], is_mended: Callable[[Garment], bool]) -> bool:
    return any(
        is_mended(after) and _is_sound(garment, hit) for hit, after in _steps(garment, bare, sound=False)
    )


def _steps(garment: Garment, bare: Sequence[Hit], *, sound: bool) -> Iterator[tuple[Hit, Garment]]:
    """Every hit that may come next, and the garment after it; `sound` asks the judge before."""
    waiting = [piece for piece in garment.pieces if piece not in garment.laid]
    for hit in bare:
        under = [piece for piece in waiting if garment.touched_parts(piece, hit)]
        for lay in _subsets(under):
            laying = replace(hit, lay=lay)
            if not sound or _is_sound(garment, laying):
                yield laying, _after(garment, laying)


def _is_sound(garment: Garment, hit: Hit) -> bool:
    longest_s = min((garment.materials[piece].longest_s for piece in garment.touched(hit)), default=0)
    return _shortest_s(garment, hit) <= hit.dwell_s <= longest_s and not harm_of(garment, hit)


def _shortest_s(garment: Garment, hit: Hit) -> int:
    """What is laid for the hit has to hold after it."""
    return max((garment.materials[piece].first_s for piece in hit.lay), default=0)


def _after(garment: Garment, hit: Hit) -> Garment:
    after = copy.copy(garment)
    after.laid, after.peeled = set(garment.laid), set(garment.peeled)
    for name in ("counted_s", "heated_s", "finish_due"):
        setattr(after, name, {piece: list(parts) for piece, parts in getattr(garment, name).items()})
    after.press(hit)
    return after


def _key(garment: Garment) -> str:
    seconds = (garment.counted_s, garment.heated_s, garment.finish_due)
    return str((sorted(garment.laid), sorted(garment.peeled), seconds))


def _closings(garment: Garment) -> Iterator[Hit]:
    """One closing, always under a cover sheet, of each kind: what it touches, scorches and counts for."""
    job, press = garment.job, garment.job.press
    heats = {t for m in job.materials for t in (m.lowest_c, m.hottest_c)}
    xs = _corners([(piece.box.x, piece.box.right) for piece in job.pieces], press.platen_width_mm)
    ys = _corners([(piece.box.y, piece.box.bottom) for piece in job.pieces], press.platen_height_mm)
    seconds = range(press.shortest_s, max(m.longest_s for m in job.materials) + 1)
    pressures = {p for m in job.materials for p in m.pressures}
    seen = set()
    for x, y, heat, pressure in product(xs, ys, sorted(heats), sorted(pressures)):
        hit = replace(
            crew_vest_plan().hits[0],
            platen=Box(x, y, press.platen_width_mm, press.platen_height_mm),
            temperature_c=heat,
            pressure=pressure,
            lay=(),
            cover=True,
        )
        touched = tuple(piece for piece in garment.pieces if garment.touched_parts(piece, hit))
        counted = tuple(piece for piece in touched if garment.counted_parts(piece, hit))
        scorched = tuple(piece for piece in touched if heat > garment.materials[piece].hottest_c)
        if counted and (touched, counted, scorched) not in seen:
            seen.add((touched, counted, scorched))
            yield from (replace(hit, dwell_s=dwell_s) for dwell_s in seconds)


def _corners(spans: Iterable[tuple[float, float]], length_mm: float) -> list[int]:
    """Where what is touched or held changes, and 1 mm to either side."""
    edges = {round(edge) for span in spans for end in span for edge in (end, end - length_mm)}
    return sorted({edge + by for edge in edges for by in (-1, 0, 1)})


def _subsets(names: Sequence[str]) -> Iterator[tuple[str, ...]]:
    return chain.from_iterable(combinations(names, count) for count in range(len(names) + 1))

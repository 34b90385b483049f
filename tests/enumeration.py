"""The best that a tiny job can have, by trying everything, written from the rules of a sound sequence alone.

Every press, every corner on whole mm, every whole degree, every pressure, every number of seconds and every
set of pieces to lay is tried; what works alike in all of them is tried once. Only hits that lay something or
count for something are: another only heats, and a sequence without it is as sound. It is meant for four
pieces at the most, on all sides together, of materials that take a few seconds.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Set
from dataclasses import dataclass, replace
from itertools import combinations, permutations, product
from typing import NamedTuple

from models.job.job import Job, Press, Pressure, ZoneKind
from tests.pressed_garment import Bounds, lies_inside, overlap, parts_in, shape_of, share_area

FAR_MM = 1e6


@dataclass(frozen=True)
class Had:
    """What a part of a laid piece has had."""

    counted_s: int = 0
    heated_s: int = 0
    is_pressed_again: bool = False


State = tuple[tuple[Had, ...], ...]
"""For each piece of a side what its parts have had; no parts before it is laid."""

Whole = tuple[State, ...]
"""The state of each side."""

Costs = dict["Stand", "Cost"]
"""The least cost of the garment as it is by how the shop stands then."""

Part = tuple[int, int]
"""The number of a piece on its side, and of a part of it."""


class Heat(NamedTuple):
    """Set temperatures that work alike. No degree is of two kinds: another kind is a change.

    The materials of the job, by their numbers.
    """

    in_window: frozenset[int]
    too_hot_for: frozenset[int]


class Stand(NamedTuple):
    """The press and the side of the last hit, none before the first, and what each press was last set to."""

    press: int | None
    side: int | None
    set_to: tuple[Heat | None, ...]


class Cost(NamedTuple):
    """What is best among sequences of as many hits, smallest first."""

    walks: int = 0
    temperature_changes: int = 0
    side_changes: int = 0
    dwell_s: int = 0
    reheats: int = 0


class Best(NamedTuple):
    hits: int
    cost: Cost


@dataclass(frozen=True)
class Closing:
    """What the platen of a press does at one place and setting, and at all others that work alike."""

    press: int
    touched: frozenset[Part]
    counted: frozenset[Part]
    heat: Heat

    def touches(self, piece: int) -> bool:
        return any(k == piece for k, _ in self.touched)


class Step(NamedTuple):
    """A hit, and what comes of it."""

    after: State
    press: int
    heat: Heat
    dwell_s: int
    reheats: int


def best_of(job: Job) -> Best | None:
    """None where no sound sequence exists."""
    return _Garment(job).best()


class _Garment:
    def __init__(self, job: Job) -> None:
        self.presses = 1 + len(job.more_presses)
        self.sides = [_Side(job, side.name) for side in job.sides]
        self._known_steps: dict[tuple[int, State], list[Step]] = {}

    def best(self) -> Best | None:
        """Breadth first: what can be reached in one hit, in two …, each at the least cost by how it stands.

        What was reached in fewer hits is not looked at again: it would end in fewer.
        """
        bare: Whole = tuple(tuple(() for _ in side.parts) for side in self.sides)
        hits, seen = 0, {bare}
        unset = Stand(None, None, (None,) * self.presses)
        reached: dict[Whole, Costs] = {bare: {unset: Cost()}}
        while reached and not any(map(self._is_finished, reached)):
            reached = self._reached_next(reached, seen)
            seen |= reached.keys()
            hits += 1
        costs = [min(costs.values()) for whole, costs in reached.items() if self._is_finished(whole)]
        return Best(hits, min(costs)) if costs else None

    def _reached_next(self, reached: Mapping[Whole, Costs], seen: Set[Whole]) -> dict[Whole, Costs]:
        following: dict[Whole, Costs] = {}
        for whole, costs in reached.items():
            for side, step in self._steps(whole):
                after = (*whole[:side], step.after, *whole[side + 1 :])
                if after not in seen:
                    known = following.setdefault(after, {})
                    for last, so_far in costs.items():
                        stand, cost = _onward(last, side, step), _with(so_far, side, step, last)
                        known[stand] = min(cost, known.get(stand, cost))
        return following

    def _steps(self, whole: Whole) -> Iterator[tuple[int, Step]]:
        for side, state in enumerate(whole):
            if (side, state) not in self._known_steps:
                self._known_steps[side, state] = list(self.sides[side].steps(state))
            for step in self._known_steps[side, state]:
                yield side, step

    def _is_finished(self, whole: Whole) -> bool:
        return all(side.is_finished(state) for side, state in zip(self.sides, whole, strict=True))


class _Side:
    def __init__(self, job: Job, side: str) -> None:
        self.job = job
        pieces = [piece for piece in job.pieces if piece.side == side]
        self.materials = [job.material(piece.material) for piece in pieces]
        self.shapes = [shape_of(piece) for piece in pieces]
        self.numbers = range(len(pieces))
        drawn = zip(self.shapes, self.materials, strict=True)
        self.parts = [parts_in(shape.bounds, job, material) for shape, material in drawn]
        pairs = list(permutations(self.numbers, 2))
        self.stacked = {(k, n) for k, n in pairs if k > n and overlap(self.shapes[k], self.shapes[n])}
        self.carried = {(k, n) for k, n in pairs if self._carrier_reaches(k, n)}
        zones = job.side(side).zones_of(ZoneKind.KEEP_OUT)
        self.metal = [(z.box.x, z.box.y, z.box.right, z.box.bottom) for z in zones]
        self.shortest_s = max(press.shortest_s for press in self._presses())
        self.closings = list(dict.fromkeys(self._closings()))

    # ---- the garment

    def _kind(self, piece: int) -> int:
        """The number of its material in the job."""
        return self.job.materials.index(self.materials[piece])

    def _is_down(self, state: State, piece: int) -> bool:
        least_s = self.materials[piece].least_s
        return bool(state[piece]) and all(part.counted_s >= least_s for part in state[piece])

    def is_finished(self, state: State) -> bool:
        return all(self._is_piece_finished(state, k) for k in self.numbers)

    def _is_piece_finished(self, state: State, piece: int) -> bool:
        is_pressed_again = all(part.is_pressed_again for part in state[piece])
        return self._is_down(state, piece) and (is_pressed_again or not self.materials[piece].finish_s)

    # ---- one hit more

    def steps(self, state: State) -> Iterator[Step]:
        for closing in self.closings:
            bare = [k for k, parts in enumerate(state) if not parts and closing.touches(k)]
            for laid in _subsets(bare):
                with_laid = self._laid(state, laid)
                if self._may_be_laid(state, laid) and self._bears(state, with_laid, closing):
                    again = sum(
                        closing.touches(k) and self._is_piece_finished(state, k) for k in self.numbers
                    )
                    for dwell_s, after in self._pressed(state, with_laid, closing, is_useful=bool(laid)):
                        yield Step(after, closing.press, closing.heat, dwell_s, again)

    def _laid(self, state: State, laid: tuple[int, ...]) -> State:
        return tuple(
            tuple(Had() for _ in self.parts[k]) if k in laid else parts for k, parts in enumerate(state)
        )

    def _may_be_laid(self, state: State, laid: tuple[int, ...]) -> bool:
        """Rules 1 to 3; `state` is before the hit."""
        lying = [k for k, parts in enumerate(state) if parts or k in laid]
        return all(
            all(self._is_base(state, lower, piece) for upper, lower in self.stacked if upper == piece)
            and all(self._is_clear(state, piece, other) for other in lying if other != piece)
            for piece in laid
        )

    def _is_base(self, state: State, lower: int, upper: int) -> bool:
        return self._is_down(state, lower) and self.materials[lower].takes(self.materials[upper])

    def _is_clear(self, state: State, piece: int, other: int) -> bool:
        """Of the other's carrier, and the other of the piece's own."""
        is_down = self._is_down(state, other)
        if not is_down and (other, piece) in self.carried:
            return False
        if (piece, other) not in self.carried:
            return True
        return is_down and (self.materials[other].carrier_safe or (piece, other) in self.stacked)

    def _carrier_reaches(self, piece: int, other: int) -> bool:
        margin_mm = self.materials[piece].carrier_margin_mm
        carrier = self.shapes[piece].buffer(margin_mm)
        return self.materials[piece].carrier and overlap(carrier, self.shapes[other])

    def _bears(self, before: State, state: State, closing: Closing) -> bool:
        """Rules 4 and 5."""
        return all(
            self._kind(k) not in closing.heat.too_hot_for
            and (len(self.parts[k]) > 1 or self._is_down(before, k) or (k, n) in closing.counted)
            for k, n in closing.touched
            if state[k]
        )

    def _pressed(
        self, before: State, state: State, closing: Closing, *, is_useful: bool
    ) -> Iterator[tuple[int, State]]:
        """Rule 6: every number of seconds that all touched pieces bear."""
        was_down = [self._is_down(before, k) for k in self.numbers]
        touched = [(k, n) for k, n in closing.touched if state[k]]
        limits = [
            min(self.materials[k].longest_s, self.materials[k].total_s - state[k][n].heated_s)
            for k, n in touched
        ]
        laid = [k for k in self.numbers if state[k] and not before[k]]
        shortest_s = max([self.shortest_s, *(self.materials[k].first_s for k in laid)])
        for dwell_s in range(shortest_s, min(limits, default=0) + 1):
            after = tuple(
                tuple(
                    self._part_after(had, (k, n), closing, was_down=was_down[k], dwell_s=dwell_s)
                    for n, had in enumerate(parts)
                )
                for k, parts in enumerate(state)
            )
            if is_useful or _gain(before) != _gain(after):
                yield dwell_s, after

    def _part_after(self, had: Had, part: Part, closing: Closing, *, was_down: bool, dwell_s: int) -> Had:
        if part not in closing.touched:
            return had
        material, heated = self.materials[part[0]], replace(had, heated_s=had.heated_s + dwell_s)
        if part not in closing.counted:
            return heated
        if was_down:
            return replace(heated, is_pressed_again=had.is_pressed_again or dwell_s >= material.finish_s)
        return replace(heated, counted_s=min(material.least_s, had.counted_s + dwell_s))

    # ---- where and how the press can close

    def _presses(self) -> tuple[Press, ...]:
        return (self.job.press, *self.job.more_presses)

    def _closings(self) -> Iterator[Closing]:
        for n, press in enumerate(self._presses()):
            for under, heat, pressure in product(self._places(press), self._heats(press), Pressure):
                touched, held = under
                takes = {k for k, m in enumerate(self.materials) if pressure in m.pressures}
                counted = frozenset(
                    (k, part) for k, part in held if k in takes and self._kind(k) in heat.in_window
                )
                yield Closing(n, touched, counted, heat)

    def _heats(self, press: Press) -> set[Heat]:
        hottest_c = math.floor(min(press.hottest_c, self.job.fabric.hottest_c))
        numbered = list(enumerate(self.job.materials))
        return {
            Heat(
                frozenset(k for k, m in numbered if m.lowest_c <= celsius <= m.hottest_c),
                frozenset(k for k, m in numbered if celsius > m.hottest_c),
            )
            for celsius in range(math.ceil(press.lowest_c), hottest_c + 1)
        }

    def _places(self, press: Press) -> set[tuple[frozenset[Part], frozenset[Part]]]:
        """The parts that the platen touches, and those it holds, wherever it keeps off metal (rule 7)."""
        width, height = press.platen_width_mm, press.platen_height_mm
        columns = self._corners([(x, -FAR_MM, x + width, FAR_MM) for x in self._whole_mm(0, width)])
        rows = self._corners([(-FAR_MM, y, FAR_MM, y + height) for y in self._whole_mm(1, height)])
        platens = [(column[0], row[1], column[2], row[3]) for column in columns for row in rows]
        clear = [platen for platen in platens if not any(share_area(platen, m) for m in self.metal)]
        return {self._under(platen) for platen in clear}

    def _whole_mm(self, axis: int, length_mm: float) -> range:
        """Every corner from which the platen reaches a piece."""
        bounds = [shape.bounds for shape in self.shapes]
        first = min((b[axis] for b in bounds), default=0) - length_mm
        last = max((b[axis + 2] for b in bounds), default=0)
        return range(math.floor(first), math.ceil(last) + 1)

    def _corners(self, strips: Iterable[Bounds]) -> list[Bounds]:
        """One strip of each kind, by what it touches and holds, metal included."""
        kinds = {
            (self._under(strip), tuple(share_area(strip, metal) for metal in self.metal)): strip
            for strip in strips
        }
        return list(kinds.values())

    def _under(self, platen: Bounds) -> tuple[frozenset[Part], frozenset[Part]]:
        parts = {(k, n): part for k, row in enumerate(self.parts) for n, part in enumerate(row)}
        touched = frozenset(number for number, part in parts.items() if share_area(part, platen))
        held = frozenset(number for number, part in parts.items() if lies_inside(part, platen))
        return touched, held


def _with(cost: Cost, side: int, step: Step, last: Stand) -> Cost:
    """A walk from press to press costs; so does another heat on a press that was set before."""
    return Cost(
        cost.walks + (last.press not in (None, step.press)),
        cost.temperature_changes + (last.set_to[step.press] not in (None, step.heat)),
        cost.side_changes + (last.side not in (None, side)),
        cost.dwell_s + step.dwell_s,
        cost.reheats + step.reheats,
    )


def _onward(last: Stand, side: int, step: Step) -> Stand:
    before, after = last.set_to[: step.press], last.set_to[step.press + 1 :]
    return Stand(step.press, side, (*before, step.heat, *after))


def _gain(state: State) -> list[list[tuple[int, bool]]]:
    """What a state has that heat alone does not give."""
    return [[(part.counted_s, part.is_pressed_again) for part in parts] for parts in state]


def _subsets(pieces: list[int]) -> Iterator[tuple[int, ...]]:
    for count in range(len(pieces) + 1):
        yield from combinations(pieces, count)

"""In which order the sides' hits follow one another, and at which temperatures.

Fewest changes of the set temperature first, then fewest changes of side. Within a side the order stays. Hits
that follow one another on a side and bear the same temperatures stay together: whatever comes between them
could as well come after them.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, product
from math import prod

from models.planning.strokes import Stroke

MOST_STATES = 20_000
"""With more ways than these to stand among the sides, the sides follow one another whole."""

Places = tuple[int, ...]  # how many bouts of each side are done


@dataclass(frozen=True, slots=True)
class _Bout:
    """Strokes of one side that follow one another and can all be set to the same `temperatures`."""

    strokes: tuple[Stroke, ...]
    temperatures: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class _Reached:
    """The best way to come to a state: what it cost, and the bouts with their temperatures, last first."""

    cost: tuple[int, int]
    last: _Bout | None = None
    temperature_c: float = 0
    side: int = -1
    before: "_Reached | None" = None


def interleaved(sides: Sequence[Sequence[Stroke]]) -> list[tuple[Stroke, float]]:
    """Every stroke with its set temperature, in the order in which to press."""
    temperatures = sorted({stroke.lowest_c for strokes in sides for stroke in strokes})
    bouts = [_bouts(strokes, temperatures) for strokes in sides]
    if prod(len(of_side) + 1 for of_side in bouts) > MOST_STATES:
        bouts = [[bout for of_side in bouts for bout in of_side]]
    runs = _runs(_walked_back(_best_walk(bouts)))
    return [(stroke, temperature_c) for run in runs for temperature_c in (_best_set(run),) for stroke in run]


def _bouts(strokes: Sequence[Stroke], temperatures: Sequence[float]) -> list[_Bout]:
    def borne(stroke: Stroke) -> tuple[float, ...]:
        return tuple(t for t in temperatures if stroke.lowest_c <= t <= stroke.hottest_c)

    return [_Bout(tuple(together), alike) for alike, together in groupby(strokes, key=borne)]


def _best_walk(sides: Sequence[Sequence[_Bout]]) -> _Reached:
    start: Places = tuple(0 for _ in sides)
    reached: dict[Places, dict[tuple[int, float], _Reached]] = {start: {(-1, 0.0): _Reached((0, 0))}}
    for places in product(*(range(len(bouts) + 1) for bouts in sides)):
        for state in reached.get(places, {}).values():
            for following, onward in _onward(sides, places, state):
                states = reached.setdefault(following, {})
                key = (onward.side, onward.temperature_c)
                if key not in states or onward.cost < states[key].cost:
                    states[key] = onward
    ends = reached[tuple(len(bouts) for bouts in sides)]
    return min(ends.values(), key=lambda end: end.cost)


def _onward(
    sides: Sequence[Sequence[_Bout]], places: Places, state: _Reached
) -> Iterator[tuple[Places, _Reached]]:
    for side, bouts in enumerate(sides):
        if places[side] < len(bouts):
            bout = bouts[places[side]]
            following = (*places[:side], places[side] + 1, *places[side + 1 :])
            for temperature_c in bout.temperatures:
                yield following, _step(state, side, bout, temperature_c)


def _step(state: _Reached, side: int, bout: _Bout, temperature_c: float) -> _Reached:
    begins = state.last is None
    heats = not begins and temperature_c != state.temperature_c
    turns = not begins and side != state.side
    cost = (state.cost[0] + heats, state.cost[1] + turns)
    return _Reached(cost, bout, temperature_c, side, state)


def _walked_back(end: _Reached) -> list[_Reached]:
    walk = []
    while end.before is not None:
        walk.append(end)
        end = end.before
    return walk[::-1]


def _runs(walk: Sequence[_Reached]) -> list[list[Stroke]]:
    """The strokes, those together that follow one another at one temperature."""
    runs: list[list[Stroke]] = []
    for k, step in enumerate(walk):
        if k == 0 or step.temperature_c != walk[k - 1].temperature_c:
            runs.append([])
        if step.last is not None:
            runs[-1].extend(step.last.strokes)
    return runs


def _best_set(run: Sequence[Stroke]) -> float:
    """The temperature for all of them that is nearest to what their materials are best set to."""
    lowest = max(stroke.lowest_c for stroke in run)
    hottest = min(stroke.hottest_c for stroke in run)
    wanted = [set_c for stroke in run for set_c in stroke.set_c]
    tried = {min(max(set_c, lowest), hottest) for set_c in wanted}
    return min(tried, key=lambda t: (sum(abs(t - set_c) for set_c in wanted), t))

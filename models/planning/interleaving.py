"""In which order the sides' hits follow one another, and at which temperatures.

Fewest changes of the set temperature first, then fewest changes of side. Within a side the order stays.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import prod

from models.planning.strokes import Stroke

MOST_STATES = 20_000
"""With more ways than these to stand among the sides, the sides follow one another whole."""

Places = tuple[int, ...]  # how many strokes of each side are done


@dataclass(frozen=True, slots=True)
class _Reached:
    """The best way to come to a state: what it cost, and the strokes with their temperatures, last first."""

    cost: tuple[int, int]
    last: Stroke | None = None
    temperature_c: float = 0
    side: int = -1
    before: "_Reached | None" = None


def interleaved(sides: Sequence[Sequence[Stroke]]) -> list[tuple[Stroke, float]]:
    """Every stroke with its set temperature, in the order in which to press."""
    if prod(len(strokes) + 1 for strokes in sides) > MOST_STATES:
        sides = [[stroke for strokes in sides for stroke in strokes]]
    runs = _runs(_walked_back(_best_walk(sides)))
    return [(stroke, temperature_c) for run in runs for temperature_c in (_best_set(run),) for stroke in run]


def _best_walk(sides: Sequence[Sequence[Stroke]]) -> _Reached:
    temperatures = sorted({stroke.lowest_c for strokes in sides for stroke in strokes})
    start: Places = tuple(0 for _ in sides)
    reached: dict[Places, dict[tuple[int, float], _Reached]] = {start: {(-1, 0.0): _Reached((0, 0))}}
    for places in product(*(range(len(strokes) + 1) for strokes in sides)):
        for state in reached.get(places, {}).values():
            for following, onward in _onward(sides, places, state, temperatures):
                states = reached.setdefault(following, {})
                key = (onward.side, onward.temperature_c)
                if key not in states or onward.cost < states[key].cost:
                    states[key] = onward
    ends = reached[tuple(len(strokes) for strokes in sides)]
    return min(ends.values(), key=lambda end: end.cost)


def _onward(
    sides: Sequence[Sequence[Stroke]], places: Places, state: _Reached, temperatures: Sequence[float]
) -> Iterator[tuple[Places, _Reached]]:
    for side, strokes in enumerate(sides):
        if places[side] == len(strokes):
            continue
        stroke = strokes[places[side]]
        following = (*places[:side], places[side] + 1, *places[side + 1 :])
        for temperature_c in temperatures:
            if stroke.lowest_c <= temperature_c <= stroke.hottest_c:
                yield following, _step(state, side, stroke, temperature_c)


def _step(state: _Reached, side: int, stroke: Stroke, temperature_c: float) -> _Reached:
    begins = state.last is None
    heats = not begins and temperature_c != state.temperature_c
    turns = not begins and side != state.side
    cost = (state.cost[0] + heats, state.cost[1] + turns)
    return _Reached(cost, stroke, temperature_c, side, state)


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
            runs[-1].append(step.last)
    return runs


def _best_set(run: Sequence[Stroke]) -> float:
    """The temperature for all of them that is nearest to what their materials are best set to."""
    lowest = max(stroke.lowest_c for stroke in run)
    hottest = min(stroke.hottest_c for stroke in run)
    wanted = [set_c for stroke in run for set_c in stroke.set_c]
    tried = {min(max(set_c, lowest), hottest) for set_c in wanted}
    return min(tried, key=lambda t: (sum(abs(t - set_c) for set_c in wanted), t))

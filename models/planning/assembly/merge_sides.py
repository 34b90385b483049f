"""In which order the sides' hits follow one another, on which presses, and at which temperatures.

Fewest walks from press to press first, then fewest changes of a press's set temperature, then fewest changes
of side. Within a side the order stays. Hits that follow one another on a side and can be set alike stay
together: whatever comes between them could as well come after them.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, product
from math import prod

from models.planning.problem.resolved_hit import Stroke

MOST_STATES = 20_000
"""With more ways than these to stand among the sides, the sides follow one another whole."""

Places = tuple[int, ...]  # how many bouts of each side are done
Cost = tuple[int, int, int]  # walks, changes of temperature, changes of side
SetTo = tuple[float | None, ...]  # of each press [°C]; None while it has not been used


@dataclass(frozen=True, slots=True)
class Setting:
    """A press, by its number in the job, and what it is set to."""

    press: int
    temperature_c: float


@dataclass(frozen=True, slots=True)
class _Bout:
    """Strokes of one side that follow one another and can all be pressed at the same `settings`."""

    strokes: tuple[Stroke, ...]
    settings: tuple[Setting, ...]


@dataclass(frozen=True, slots=True)
class _Reached:
    """The best way to come to a state: its cost, the last bout, how it was pressed and what came before."""

    cost: Cost
    set_to: SetTo
    bout: _Bout | None = None
    setting: Setting | None = None
    side: int = -1
    before: "_Reached | None" = None


State = tuple[int, Setting | None, SetTo]


def interleaved(sides: Sequence[Sequence[Stroke]]) -> list[tuple[Stroke, Setting]]:
    """Every stroke with its setting, in the order in which to press."""
    candidates = _candidates([stroke for strokes in sides for stroke in strokes])
    bouts = [_bouts(strokes, candidates) for strokes in sides]
    best = _best_walk([[bout for of_side in bouts for bout in of_side]])
    if prod(len(of_side) + 1 for of_side in bouts) <= MOST_STATES:
        best = _best_walk(bouts, known=best)
    return list(_best_set(_walked_back(best)))


def _candidates(strokes: Sequence[Stroke]) -> list[Setting]:
    """Hits that can be set alike can all be set to the highest of their lowest temperatures."""
    lowest = {Setting(press, window[0]) for stroke in strokes for press, window in stroke.windows.items()}
    return sorted(lowest, key=lambda setting: (setting.press, setting.temperature_c))


def _bouts(strokes: Sequence[Stroke], candidates: Sequence[Setting]) -> list[_Bout]:
    def borne(stroke: Stroke) -> tuple[Setting, ...]:
        return tuple(setting for setting in candidates if _suits(stroke, setting))

    return [_Bout(tuple(together), alike) for alike, together in groupby(strokes, key=borne)]


def _suits(stroke: Stroke, setting: Setting) -> bool:
    if setting.press not in stroke.windows:
        return False
    lowest_c, hottest_c = stroke.windows[setting.press]
    return lowest_c <= setting.temperature_c <= hottest_c


def _best_walk(sides: Sequence[Sequence[_Bout]], known: _Reached | None = None) -> _Reached:
    """The best way through all bouts: the `known` one, unless another one costs less."""
    to_come = [_costs_to_come(bouts) for bouts in sides] if known is not None else []

    def may_be_best(places: Places, state: _Reached) -> bool:
        return known is None or _costs_at_least(state, places, to_come) < known.cost

    ends = _states_reached(sides, may_be_best).get(tuple(len(bouts) for bouts in sides), {})
    return min([*ends.values(), *([known] if known is not None else [])], key=lambda end: end.cost)


def _states_reached(
    sides: Sequence[Sequence[_Bout]], may_be_best: Callable[[Places, _Reached], bool]
) -> dict[Places, dict[State, _Reached]]:
    """For every number of bouts done of each side, the states in which one can be then."""
    presses = 1 + max((s.press for bouts in sides for bout in bouts for s in bout.settings), default=0)
    unset: SetTo = (None,) * presses
    start: Places = tuple(0 for _ in sides)
    reached: dict[Places, dict[State, _Reached]] = {start: {(-1, None, unset): _Reached((0, 0, 0), unset)}}
    for places in product(*(range(len(bouts) + 1) for bouts in sides)):
        for state in reached.get(places, {}).values():
            for following, onward in _onward(sides, places, state):
                if may_be_best(following, onward):
                    states = reached.setdefault(following, {})
                    key = (onward.side, onward.setting, onward.set_to)
                    if key not in states or onward.cost < states[key].cost:
                        states[key] = onward
    return reached


def _costs_to_come(bouts: Sequence[_Bout]) -> list[Cost]:
    """For every number of bouts done, what the others of the side cost at the least.

    A walk costs as much backwards, and what is done between the bouts on other sides spares none of it.
    """
    reached = _states_reached([bouts[::-1]], lambda *_: True)
    return [min(state.cost for state in reached[n,].values()) for n in range(len(bouts), -1, -1)]


def _costs_at_least(state: _Reached, places: Places, to_come: Sequence[Sequence[Cost]]) -> Cost:
    """What any way costs that leads through the state; the sides still to come are turned to once each."""
    walks, heats, _ = max(costs[done] for costs, done in zip(to_come, places, strict=True))
    turns = sum(
        done < len(costs) - 1 and side != state.side
        for side, (costs, done) in enumerate(zip(to_come, places, strict=True))
    )
    return (state.cost[0] + walks, state.cost[1] + heats, state.cost[2] + turns)


def _onward(
    sides: Sequence[Sequence[_Bout]], places: Places, state: _Reached
) -> Iterator[tuple[Places, _Reached]]:
    for side, bouts in enumerate(sides):
        if places[side] < len(bouts):
            bout = bouts[places[side]]
            following = (*places[:side], places[side] + 1, *places[side + 1 :])
            for setting in bout.settings:
                yield following, _step(state, side, bout, setting)


def _step(state: _Reached, side: int, bout: _Bout, setting: Setting) -> _Reached:
    walks = state.setting is not None and setting.press != state.setting.press
    heats = state.set_to[setting.press] not in (None, setting.temperature_c)
    turns = state.bout is not None and side != state.side
    cost = (state.cost[0] + walks, state.cost[1] + heats, state.cost[2] + turns)
    before, after = state.set_to[: setting.press], state.set_to[setting.press + 1 :]
    return _Reached(cost, (*before, setting.temperature_c, *after), bout, setting, side, state)


def _walked_back(end: _Reached) -> list[tuple[Setting, _Bout]]:
    walk = []
    while end.before is not None and end.setting is not None and end.bout is not None:
        walk.append((end.setting, end.bout))
        end = end.before
    return walk[::-1]


def _best_set(walk: Sequence[tuple[Setting, _Bout]]) -> Iterator[tuple[Stroke, Setting]]:
    """The strokes, those that a press makes in a row at one setting set to what their materials like best."""
    row_of_press: dict[int, tuple[float, list[Stroke]]] = {}
    placed: list[tuple[int, list[Stroke], _Bout]] = []
    for setting, bout in walk:
        was_c, row = row_of_press.get(setting.press, (None, []))
        if was_c != setting.temperature_c:
            row = []
        row_of_press[setting.press] = (setting.temperature_c, row)
        row.extend(bout.strokes)
        placed.append((setting.press, row, bout))
    for press, row, bout in placed:
        setting = Setting(press, _best_temperature(row, press))
        yield from ((stroke, setting) for stroke in bout.strokes)


def _best_temperature(row: Sequence[Stroke], press: int) -> float:
    """The temperature for all of them that is nearest to what their materials are best set to."""
    lowest = max(stroke.windows[press][0] for stroke in row)
    hottest = min(stroke.windows[press][1] for stroke in row)
    wanted = [set_c for stroke in row for set_c in stroke.set_c]
    tried = {min(max(set_c, lowest), hottest) for set_c in wanted}
    return min(tried, key=lambda t: (sum(abs(t - set_c) for set_c in wanted), t))

"""The settings that a garment's hits go through in a row, and what such a course costs.

A step of a course is a press and what it is set to. A garment goes along a course if each of its sides has a
sequence that takes the steps in this order; a side may leave some of them out.
"""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from models.job.job import Job, Material, Press


@dataclass(frozen=True, slots=True)
class Step:
    """A press, by its number in the job, and what it is set to; at None whatever a hit wants."""

    press: int
    temperature_c: float | None = None


Course = tuple[Step, ...]
SetTo = dict[int, float | None]  # by press


def settings_of(job: Job, spared: Collection[str] = ()) -> list[Step]:
    """The settings worth going through: whatever a course does with another, it can do with one of these.

    To suit more materials is better, but for those that are `spared`.
    """
    used = [job.material(key) for key in dict.fromkeys(piece.material for piece in job.pieces)]
    return [
        Step(number, temperature_c)
        for number, press in enumerate(job.presses)
        for temperature_c in _temperatures(job, press, used, spared)
    ]


def courses(steps: Sequence[Step], walks: int, changes: int) -> Iterator[Course]:
    """Every course with just so many walks from press to press and so many changes of temperature."""
    for step in steps:
        yield from _onward((step,), {step.press: step.temperature_c}, steps, (walks, changes))


def side_changes(visits: Sequence[Collection[int]]) -> int:
    """The fewest changes of side, where each side is worked in some steps, told by number, of one course."""
    last_steps: dict[int, int] = {}  # the fewest so far, by the side that was worked last
    for step in sorted({step for steps in visits for step in steps}):
        here = [side for side, steps in enumerate(visits) if step in steps]
        last_steps = {end: _fewest_to(end, here, last_steps) for end in here}
    return min(last_steps.values(), default=0)


def _fewest_to(end: int, here: Sequence[int], before: dict[int, int]) -> int:
    """Of the sides worked in one step, `end` comes last; the first of them may be the one from before."""
    costs = [
        cost + (last not in here or (last == end and len(here) > 1)) for last, cost in before.items()
    ] or [0]
    return min(costs) + len(here) - 1


def _onward(so_far: Course, set_to: SetTo, steps: Sequence[Step], left: tuple[int, int]) -> Iterator[Course]:
    walks, changes = left
    if not walks and not changes:
        yield so_far
        return
    for step in steps:
        if step != so_far[-1]:
            walks_left = walks - (step.press != so_far[-1].press)
            changes_left = changes - (set_to.get(step.press, step.temperature_c) != step.temperature_c)
            if min(walks_left, changes_left) >= 0:
                now = {**set_to, step.press: step.temperature_c}
                yield from _onward((*so_far, step), now, steps, (walks_left, changes_left))


def _temperatures(job: Job, press: Press, used: Sequence[Material], spared: Collection[str]) -> list[float]:
    """Materials that share a temperature share the highest of their lowest ones, so these will do."""
    hottest_c = min(press.hottest_c, job.fabric.hottest_c)
    lowest = sorted({max(material.lowest_c, press.lowest_c) for material in used})
    heats = [_heat(c, used) for c in lowest if c <= hottest_c]
    return [
        heat.temperature_c
        for heat in heats
        if heat.suited and not any(other.betters(heat, spared) for other in heats if other != heat)
    ]


@dataclass(frozen=True, slots=True)
class _Heat:
    """The materials that can be pressed at a temperature, and those that it does not scorch."""

    temperature_c: float
    suited: frozenset[str]
    borne: frozenset[str]

    def betters(self, other: "_Heat", spared: Collection[str]) -> bool:
        more = self.suited - other.suited
        return self.borne >= other.borne and self.suited >= other.suited and more.isdisjoint(spared)


def _heat(temperature_c: float, used: Sequence[Material]) -> _Heat:
    borne = frozenset(m.key for m in used if temperature_c <= m.hottest_c)
    suited = frozenset(m.key for m in used if m.key in borne and m.lowest_c <= temperature_c)
    return _Heat(temperature_c, suited, borne)

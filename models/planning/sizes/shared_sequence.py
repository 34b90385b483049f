"""One sequence for as many garment sizes as can share it without any of them taking a hit more.

From size to size the pieces of a side keep their places among each other, and only the metal lies elsewhere.
So all sizes are planned in one frame, that of the pieces as the job file places them: a sequence suits
several sizes if the platen comes down on the metal of none.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

from models.errors import NoSoundSequenceError
from models.job.job import Job, Side, Zone, ZoneKind
from models.job.sizes import side_in_size, sizes_of
from models.plan.plan import Hit, Plan
from models.planning.problem.patterns import Way, ways_to_hit
from models.planning.problem.side import side_work


@dataclass(frozen=True, slots=True)
class Layout:
    """Sizes with the same metal around their pieces; `job` is that of the first of them, in the frame."""

    sizes: tuple[str, ...]
    job: Job


@dataclass(frozen=True, slots=True)
class Planned:
    """A layout and the sequence that is best for it alone, in the frame."""

    layout: Layout
    plan: Plan


@dataclass(frozen=True, slots=True)
class Shared:
    """Layouts that are worked alike, with their sequence in the frame."""

    members: tuple[Planned, ...]
    plan: Plan

    @property
    def sizes(self) -> tuple[str, ...]:
        return tuple(size for member in self.members for size in member.layout.sizes)


class Planner(Protocol):
    """Plans jobs in the frame; raises NoSoundSequenceError where one has no sequence."""

    def alone(self, layout: Layout) -> Plan: ...

    def alike(self, job: Job, sizes: tuple[str, ...], most_hits: int) -> Plan:
        """The plan for these sizes together; any plan at all where more hits than `most_hits` are needed."""


def shared_sequences(layouts: Sequence[Layout], planner: Planner) -> tuple[Shared, ...]:
    """The sequences of all layouts, that of the first first; each takes the fewest hits for each its sizes.

    Raises NoSoundSequenceError, which names the size, where a size has no sound sequence.
    """
    left = [_planned(layout, planner) for layout in layouts]
    shared = []
    while left:
        together = _together(left, planner)
        shared.append(together)
        left = [planned for planned in left if planned not in together.members]
    return tuple(shared)


def layouts_of(job: Job) -> list[Layout]:
    """The sizes of the job by where their metal lies, that of most garments first."""
    alike: dict[object, Layout] = {}
    for size in sizes_of(job):
        framed = in_frame(job, size)
        metal = tuple(frozenset(zone.box for zone in _metal(side)) for side in framed.sides)
        known = alike.get(metal, Layout((), framed))
        alike[metal] = replace(known, sizes=(*known.sizes, size))
    return list(alike.values())


def in_frame(job: Job, size: str) -> Job:
    """The job with its pieces as the file places them and the zones of `size` moved to suit them."""
    return replace(job, sides=tuple(_side_in_frame(side, size) for side in job.sides))


def clashes(plan: Plan, job: Job) -> Iterator[tuple[Hit, Zone]]:
    """The hits that come down on a keep-out of the job, each with one of those it meets."""
    for hit in plan.hits:
        for zone in _metal(job.side(hit.side)):
            if hit.platen.shares_area_with(zone.box):
                yield hit, zone
                break


def _planned(layout: Layout, planner: Planner) -> Planned:
    try:
        return Planned(layout, planner.alone(layout))
    except NoSoundSequenceError as error:
        size = f"size {', '.join(layout.sizes)}"
        raise type(error)("\n".join(f"{size}: {line}" for line in str(error).splitlines())) from None


def _together(left: Sequence[Planned], planner: Planner) -> Shared:
    """The first of `left` with all others that can share a sequence with it: at once, or else one by one."""
    first, *others = left
    others = [planned for planned in others if len(planned.plan.hits) == len(first.plan.hits)]
    together = _joined(Shared((first,), first.plan), others, planner)
    if len(others) > 1:
        for other in others:
            together = _joined(together, [other], planner)
    return together


def _joined(shared: Shared, others: Sequence[Planned], planner: Planner) -> Shared:
    """With those of the others that are not among them yet, if one sequence suits all."""
    new = [planned for planned in others if planned not in shared.members]
    if not new:
        return shared
    joined = replace(shared, members=(*shared.members, *new))
    jobs = [member.layout.job for member in joined.members]
    for plan in (shared.plan, *(planned.plan for planned in new)):
        if not any(clash for job in jobs for clash in clashes(plan, job)):
            return replace(joined, plan=plan)
    around = _planned_around(_around_all_metal(jobs), joined.sizes, len(shared.plan.hits), planner)
    return shared if around is None else replace(joined, plan=around)


def _planned_around(job: Job, sizes: tuple[str, ...], most_hits: int, planner: Planner) -> Plan | None:
    """A plan of no more hits for the job around the metal of all these sizes."""
    if not _leaves_room(job):
        return None
    try:
        plan = planner.alike(job, sizes, most_hits)
    except NoSoundSequenceError:
        return None
    return plan if len(plan.hits) <= most_hits else None


def _leaves_room(job: Job) -> bool:
    """Whether each part of each piece can be pressed somewhere."""
    works = (side_work(job, side) for side in job.sides)
    return all(_counted(ways_to_hit(work)) == work.every_part for work in works)


def _counted(ways: Sequence[Way]) -> int:
    counted = 0
    for way in ways:
        counted |= way.counted
    return counted


def _around_all_metal(jobs: Sequence[Job]) -> Job:
    first, *others = jobs
    sides = []
    for side in first.sides:
        elsewhere = [zone for job in others for zone in _metal(job.side(side.name))]
        sides.append(replace(side, zones=tuple(dict.fromkeys((*side.zones, *elsewhere)))))
    return replace(first, sides=tuple(sides))


def _side_in_frame(side: Side, size: str) -> Side:
    in_size = side_in_size(side, size)
    across, down = in_size.shift_mm
    zones = tuple(replace(zone, box=zone.box.moved(-across, -down)) for zone in in_size.zones)
    return Side(side.name, in_size.width_mm, in_size.height_mm, zones)


def _metal(side: Side) -> tuple[Zone, ...]:
    return side.zones_of(ZoneKind.KEEP_OUT)

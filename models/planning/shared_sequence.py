"""One sequence for as many garment sizes as can share it without any of them taking a hit more.

From size to size the pieces of a side keep their places among each other, and only the metal lies elsewhere.
So all sizes are planned in one frame, that of the pieces as the job file places them: a sequence suits
several sizes if the platen comes down on the metal of none.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from models.errors import NoSoundSequenceError
from models.job.job import Job, Side, Zone, ZoneKind
from models.job.sizes import side_in_size, sizes_of
from models.planning.plan import Hit, Plan

PlanJob = Callable[[Job], Plan]


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


def shared_sequences(job: Job, plan_job: PlanJob) -> tuple[Shared, ...]:
    """The sequences of all sizes, that of most garments first; each takes the fewest hits for each its sizes.

    Raises NoSoundSequenceError, which names the size, where a size has no sound sequence.
    """
    left = [_planned(layout, plan_job) for layout in layouts_of(job)]
    shared = []
    while left:
        together = _together(left, plan_job)
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


def _planned(layout: Layout, plan_job: PlanJob) -> Planned:
    try:
        return Planned(layout, plan_job(layout.job))
    except NoSoundSequenceError as error:
        raise type(error)(f"size {', '.join(layout.sizes)}: {error}") from None


def _together(left: Sequence[Planned], plan_job: PlanJob) -> Shared:
    """The first of `left` with all others that can share a sequence with it."""
    first, *others = left
    fewest = len(first.plan.hits)
    others = [planned for planned in others if len(planned.plan.hits) == fewest]
    together = Shared((first,), first.plan)
    for tried in (others, *([other] for other in others)):
        members = (*together.members, *(planned for planned in tried if planned not in together.members))
        common = _common(members, plan_job)
        if common is not None and len(common.hits) <= fewest:
            together = Shared(members, common)
    return together


def _common(members: Sequence[Planned], plan_job: PlanJob) -> Plan | None:
    """A sequence that suits all: that of one of them, or else one planned around the metal of all."""
    jobs = [member.layout.job for member in members]
    for member in members:
        if not any(clash for job in jobs for clash in clashes(member.plan, job)):
            return member.plan
    try:
        return plan_job(_around_all_metal(jobs))
    except NoSoundSequenceError:
        return None


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

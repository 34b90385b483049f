"""How long a garment has to rest after a hit until its carriers come off and it can be handled."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from models.errors import CalculationError
from models.heat.estimates.curves import Curve
from models.heat.estimates.heat_through import HeatThrough, heat_through
from models.heat.estimates.sampling import curve_of
from models.heat.layup.placed import Below, ground_of, materials_below, stack_on
from models.heat.layup.stack import ROOM_C
from models.heat.physics.conduction import grid_of
from models.heat.physics.cooling import Cooling, HotBody, cool_each
from models.heat.physics.handling import BARE_HANDS_C, COLD_PEEL_C, WARM_PEEL_C
from models.heat.physics.losses import Surroundings
from models.job.job import Job, Peel
from models.plan.plan import Hit
from models.ranges import Case, Estimate
from models.recipe.places import REST_PLACE, Place

Courses = Sequence[Cooling]
"""The quick, the likely and the slow one."""
NO_REST = Estimate(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class RestEstimate:
    """Seconds from the opening until the carriers can be peeled `until`, of the piece that rests longest.

    `warm_s` and `cold_s` are the seconds until no place of the garment is hotter than that, whatever the
    carriers want, and the curve is of its hottest place. `bare_hands_s` errs to the safe side: it takes the
    garment as hot as the platen all through, as one that was pressed before may be, so it is never shorter
    for a thicker piece. All of it is an estimate: feel the fabric's back, wear gloves, and follow the local
    rules.
    """

    piece: str
    place: Place
    until: Peel
    low_s: float
    median_s: float
    high_s: float
    start_c: float  # of the hottest place
    warm_s: Estimate
    cold_s: Estimate
    bare_hands_s: Estimate
    curve: Curve

    @property
    def seconds(self) -> Estimate:
        """The rest with its band, as models.learning.learned takes it."""
        return Estimate(self.low_s, self.median_s, self.high_s)


def rest_of(
    job: Job, hit: Hit, pieces: Sequence[str] = (), place: Place = REST_PLACE, room_c: float = ROOM_C
) -> RestEstimate:
    """The rest after `hit` until the carriers of `pieces` come off, or of those peeled after it.

    Raises:
        CalculationError: nothing is peeled after the hit and no piece was named, or the room is too warm.
    """
    named = tuple(pieces) or tuple(step.piece for step in hit.peel)
    if not named:
        raise CalculationError(f"nothing is peeled after hit {hit.n}: name the pieces that rest")
    below = materials_below(job)
    rests = (_rests(job, hit, piece, below, (_surroundings(hit, place, room_c),)) for piece in named)
    return max((rest for (rest,) in rests), key=lambda rest: (rest.median_s, rest.cold_s.median))


def rests_everywhere(job: Job, hit: Hit, piece: str, room_c: float = ROOM_C) -> tuple[RestEstimate, ...]:
    """The rest of one piece after `hit`, at each place that a garment can rest.

    Raises CalculationError where the room is too warm.
    """
    everywhere = tuple(_surroundings(hit, place, room_c) for place in Place)
    return _rests(job, hit, piece, materials_below(job), everywhere)


def _rests(
    job: Job, hit: Hit, piece: str, below: Below, rooms: Sequence[Surroundings]
) -> tuple[RestEstimate, ...]:
    """All their courses are worked out side by side: they share the steps, and so most of the work."""
    warmed = heat_through(stack_on(job, hit, piece, below, ground_of(job, hit, piece)))
    as_opened = [body for around in rooms for body in _as_opened(warmed, hit.dwell_s, around)]
    soaked = [_hot_all_through(body, hit.temperature_c) for body in as_opened]
    courses = _by_three(cool_each([*as_opened, *soaked], COLD_PEEL_C))
    until = job.material_of(piece).peel
    return tuple(
        _rest(piece, until, around.place, courses[n], courses[n + len(rooms)])
        for n, around in enumerate(rooms)
    )


def _by_three(courses: Sequence[Cooling]) -> list[Courses]:
    cases = len(Case)
    return [courses[first : first + cases] for first in range(0, len(courses), cases)]


def _as_opened(warmed: HeatThrough, dwell_s: float, around: Surroundings) -> Iterator[HotBody]:
    """For the quick, the likely and the slow course: cooler and lighter, or hotter and heavier."""
    for case, cells_c in zip(Case, warmed.garment_c(dwell_s), strict=True):
        layers = warmed.stack.layers(case)
        grid = grid_of([layers[place] for place in warmed.stack.garment])
        yield HotBody(
            replace(grid, start_c=cells_c),
            partial(around.upper_loss_w_per_m2, haste=case.value),
            partial(around.lower_loss_w_per_m2, haste=case.value),
        )


def _hot_all_through(body: HotBody, platen_c: float) -> HotBody:
    return replace(body, grid=replace(body.grid, start_c=np.full_like(body.grid.start_c, platen_c)))


def _rest(piece: str, until: Peel, place: Place, opened: Courses, soaked: Courses) -> RestEstimate:
    warm_s, cold_s = (_when(opened, at) for at in (WARM_PEEL_C, COLD_PEEL_C))
    rest_s = {Peel.WARM: warm_s, Peel.COLD: cold_s}.get(until, NO_REST)
    return RestEstimate(
        piece=piece,
        place=place,
        until=until,
        low_s=rest_s.low,
        median_s=rest_s.median,
        high_s=rest_s.high,
        start_c=float(opened[1].hottest_c[0]),
        warm_s=warm_s,
        cold_s=cold_s,
        bare_hands_s=_when(soaked, BARE_HANDS_C),
        curve=_curve(opened, cold_s.high),
    )


def _when(courses: Courses, at_c: float) -> Estimate:
    return Estimate(*(course.seconds_to(at_c) for course in courses))


def _curve(courses: Courses, seconds: float) -> Curve:
    quick, likely, slow = ((course.times_s, course.hottest_c) for course in courses)
    return curve_of(seconds, quick, likely, slow)


def _surroundings(hit: Hit, place: Place, room_c: float) -> Surroundings:
    """The platen's area is what is warm, so it is what the air rises along."""
    return Surroundings(place, room_c, hit.platen.width / 1000, hit.platen.height / 1000)

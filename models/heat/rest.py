"""How long a garment has to rest after a hit until its carriers come off and it can be handled."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial

from models.errors import CalculationError
from models.heat.cooling import Cooling, Surroundings, cool_down, loss_w_per_m2
from models.heat.curves import Curve
from models.heat.handling import BARE_HANDS_C, COLD_PEEL_C, WARM_PEEL_C
from models.heat.heat_through import HeatThrough, heat_through
from models.heat.placed import Below, ground_of, materials_below, stack_on
from models.heat.places import REST_PLACE, Place
from models.heat.ranges import Case, Estimate
from models.heat.sampling import curve_of
from models.heat.stack import ROOM_C
from models.job.job import Job, Peel
from models.planning.plan import Hit

NO_REST = Estimate(0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True)
class RestEstimate:
    """Seconds from the opening until the carriers can be peeled `until`, of the piece that rests longest.

    `warm_s`, `cold_s` and `bare_hands_s` are the seconds to each of those temperatures, whatever the carriers
    want. All of it is an estimate: feel the fabric's back, wear gloves, and follow the local rules.
    """

    piece: str
    place: Place
    until: Peel
    low_s: float
    median_s: float
    high_s: float
    start_c: float
    warm_s: Estimate
    cold_s: Estimate
    bare_hands_s: Estimate
    curve: Curve

    @property
    def seconds(self) -> Estimate:
        """The rest with its band, as models.heat.learned takes it."""
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
    around = _surroundings(hit, place, room_c)
    rests = (_rest(job, hit, piece, _warmed(job, hit, piece, below), around) for piece in named)
    return max(rests, key=lambda rest: (rest.median_s, rest.cold_s.median))


def rests_everywhere(job: Job, hit: Hit, piece: str, room_c: float = ROOM_C) -> tuple[RestEstimate, ...]:
    """The rest of one piece after `hit`, at each place that a garment can rest.

    Raises CalculationError where the room is too warm.
    """
    warmed = _warmed(job, hit, piece, materials_below(job))
    return tuple(_rest(job, hit, piece, warmed, _surroundings(hit, place, room_c)) for place in Place)


def _warmed(job: Job, hit: Hit, piece: str, below: Below) -> HeatThrough:
    return heat_through(stack_on(job, hit, piece, below, ground_of(job, hit, piece)))


def _rest(job: Job, hit: Hit, piece: str, warmed: HeatThrough, around: Surroundings) -> RestEstimate:
    courses = _courses(warmed, hit.dwell_s, around)
    warm_s, cold_s, bare_hands_s = (_when(courses, at) for at in (WARM_PEEL_C, COLD_PEEL_C, BARE_HANDS_C))
    until = job.material_of(piece).peel
    rest_s = {Peel.WARM: warm_s, Peel.COLD: cold_s}.get(until, NO_REST)
    return RestEstimate(
        piece=piece,
        place=around.place,
        until=until,
        low_s=rest_s.low,
        median_s=rest_s.median,
        high_s=rest_s.high,
        start_c=float(courses[1].cloth_c[0]),
        warm_s=warm_s,
        cold_s=cold_s,
        bare_hands_s=bare_hands_s,
        curve=_curve(courses, cold_s.high),
    )


def _courses(warmed: HeatThrough, dwell_s: float, around: Surroundings) -> list[Cooling]:
    """The quick, the likely and the slow course: cooler from the start and lighter, or hotter and heavier.

    Each goes on below cold, nearly to the room, so that no curve of it levels out there.
    """
    garment_c = warmed.garment_c(dwell_s)
    starts_c = (garment_c.low, garment_c.median, garment_c.high)
    lowest_c = min(COLD_PEEL_C, around.room_c + (COLD_PEEL_C - around.room_c) / 10)
    courses = []
    for case, start_c in zip(Case, starts_c, strict=True):
        layers = [warmed.stack.layers(case)[place] for place in warmed.stack.garment]
        capacity = sum(layer.thickness_m * layer.heat_j_per_m3k for layer in layers)
        loss = partial(loss_w_per_m2, around=around, haste=case.value)
        courses.append(cool_down(start_c, lowest_c, capacity, loss))
    return courses


def _when(courses: Iterable[Cooling], cloth_c: float) -> Estimate:
    return Estimate(*(course.seconds_to(cloth_c) for course in courses))


def _curve(courses: Iterable[Cooling], seconds: float) -> Curve:
    quick, likely, slow = ((course.times_s, course.cloth_c) for course in courses)
    return curve_of(seconds, quick, likely, slow)


def _surroundings(hit: Hit, place: Place, room_c: float) -> Surroundings:
    """The platen's area is what is warm, so it is what the air rises along."""
    return Surroundings(place, room_c, hit.platen.width / 1000, hit.platen.height / 1000)

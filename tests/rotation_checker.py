"""Judges whether a course can be worked in its shop. It shares no code with what makes courses.

It goes through the finished course: each garment's own order and rests, each press with one garment at a time
and its changes of heat, and everybody's hands.
"""

from collections.abc import Iterator
from itertools import chain

from models.rotation.problem.shop import Garment, Press, Shop
from models.rotation.simulation.simulator import Act, Course

NEAR_S = 1e-6
"""What sums of seconds may differ by."""


def faults_of(shop: Shop, course: Course) -> list[str]:
    """What is wrong with the course, in words; empty where it can be worked."""
    return [
        *_unknown(shop, course),
        *chain.from_iterable(_garment_faults(shop, course, index) for index in range(len(shop.garments))),
        *chain.from_iterable(_press_faults(press, course) for press in shop.presses),
        *_people_faults(shop, course),
        *_end_faults(shop, course),
    ]


def _unknown(shop: Shop, course: Course) -> Iterator[str]:
    """What is at no place or in no time of this shop."""
    names = {press.name for press in shop.presses}
    for step in course.steps:
        if step.setting.press not in names:
            yield f"there is no press {step.setting.press}"
        if step.act != Act.CHANGE and not 0 <= step.garment < len(shop.garments):
            yield f"there is no garment {step.garment}"
        if step.start_s < -NEAR_S:
            yield f"{step.act} begins in the past"


def _garment_faults(shop: Shop, course: Course, index: int) -> Iterator[str]:
    """Its steps are those that its visits ask for, in their order, each after its rest."""
    garment = shop.garments[index]
    steps = [step for step in course.steps if step.garment == index and step.act != Act.CHANGE]
    wanted = list(_wanted(garment))
    taken = [(step.act, step.visit) for step in steps if step.end_s > step.start_s or step.act == Act.PRESS]
    if taken != wanted:
        yield f"{garment.code} goes {taken}, not {wanted}"
        return
    free_s = garment.ready_s
    for step in steps:
        visit = garment.visits[step.visit]
        if step.start_s < free_s - NEAR_S:
            yield f"{garment.code}: {step.act} {step.visit} at {step.start_s}, before {free_s}"
        lasts_s = visit.lay_s + visit.dwell_s + visit.off_s if step.act == Act.PRESS else visit.finish_s
        if abs(step.end_s - step.start_s - lasts_s) > NEAR_S:
            yield f"{garment.code}: {step.act} {step.visit} does not last {lasts_s}"
        if step.setting != visit.setting:
            yield f"{garment.code}: {step.act} {step.visit} at another setting"
        free_s = step.end_s + (visit.rest_s if step.act == Act.PRESS else 0.0)


def _wanted(garment: Garment) -> Iterator[tuple[Act, int]]:
    for n, visit in enumerate(garment.visits):
        for time in range(1 + (n in garment.repeats)):
            if not (garment.is_off and n == time == 0):
                yield Act.PRESS, n
            if visit.finish_s > 0:
                yield Act.FINISH, n


def _press_faults(press: Press, course: Course) -> Iterator[str]:
    """One garment at a time, each at its own heat, which takes its time to reach from a known one."""
    stands_c, free_s = press.temperature_c, press.free_s
    here = [step for step in course.steps if step.setting.press == press.name and step.act != Act.FINISH]
    on_it = sorted(here, key=lambda step: (step.start_s, step.end_s))
    for step in on_it:
        wanted_c = step.setting.temperature_c
        if step.start_s < free_s - NEAR_S:
            yield f"{press.name} is taken until {free_s}, but {step.act} begins at {step.start_s}"
        needs_s = _seconds_to(press, stands_c, wanted_c)
        is_known = stands_c is not None
        if is_known and step.act == Act.CHANGE and abs(step.end_s - step.start_s - needs_s) > NEAR_S:
            yield f"{press.name} takes {needs_s} to {wanted_c}, not {step.end_s - step.start_s}"
        if step.act == Act.PRESS and needs_s > 0:
            yield f"{press.name} stands at {stands_c} for a hit at {wanted_c}"
        stands_c, free_s = wanted_c, step.end_s


def _seconds_to(press: Press, stands_c: float | None, wanted_c: float) -> float:
    if stands_c is None:
        return 0.0
    return max(
        (wanted_c - stands_c) * press.heating_s_per_degree, (stands_c - wanted_c) * press.cooling_s_per_degree
    )


def _people_faults(shop: Shop, course: Course) -> Iterator[str]:
    """Everybody's hands are counted at each beginning and end; who ends is free for what begins."""
    turns = [(span.start_s, span.end_s) for span in shop.taken]
    for step in course.steps:
        if step.act == Act.FINISH:
            turns.append((step.start_s, step.end_s))
        elif step.act == Act.PRESS:
            visit = shop.garments[step.garment].visits[step.visit]
            turns.append((step.start_s, step.start_s + visit.lay_s))
            turns.append((step.end_s - visit.off_s, step.end_s))
    turns = [(start_s, end_s) for start_s, end_s in turns if end_s - start_s > NEAR_S]
    counts = [(end_s - NEAR_S, -1) for _, end_s in turns] + [(start_s, 1) for start_s, _ in turns]
    busy = 0
    for at_s, change in sorted(counts):
        busy += change
        if busy > shop.people:
            yield f"{busy} people are at work at {at_s}, of {shop.people}"


def _end_faults(shop: Shop, course: Course) -> Iterator[str]:
    ends_s = [step.end_s for step in course.steps if step.act != Act.CHANGE]
    for step in course.steps:
        if step.act == Act.PRESS:
            ends_s.append(step.end_s + shop.garments[step.garment].visits[step.visit].rest_s)
    ends_s += [garment.ready_s for garment in shop.garments]
    if abs(max(ends_s, default=0.0) - course.end_s) > NEAR_S:
        yield f"it is said to end at {course.end_s}, but ends at {max(ends_s, default=0.0)}"

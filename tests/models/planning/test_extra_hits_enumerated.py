"""Extra hits of tiny garments against everything that could be tried."""

import random
from collections import Counter
from dataclasses import replace

import pytest

from models.errors import NoExtraHitError
from models.geometry import Box
from models.job.job import Job, Material, Pressure
from models.planning.trouble import Trouble
from tests.extra_enumeration import fewest_extra_hits
from tests.judged_extra_hits import all_down, judged
from tests.pressed_garment import Garment
from tests.sample_jobs import BACK, FOAM, GLITTER, PRESS, TWILL, box_piece, job_of


def quick(material: Material, longest_s: int = 6) -> Material:
    """The material with seconds so few that all of them can be tried."""
    return replace(material, least_s=4, longest_s=longest_s, total_s=12)


MATERIALS = (
    quick(TWILL),
    quick(FOAM),
    quick(GLITTER, longest_s=5),
    quick(replace(FOAM, key="light-foam", pressures=(Pressure.LIGHT,))),
    quick(replace(GLITTER, key="cool-film", set_c=135, lowest_c=130, hottest_c=150)),
)
PLACES = [Box(x, y, 60, 60) for x in (100, 164, 300) for y in (100, 164, 300)]
CASES = 60
MOST_HITS = 3  # so many are tried before a no is believed


def tiny_garment(dice: random.Random) -> tuple[Job, dict[str, int], Trouble]:
    """Two or three pieces, side by side or apart, what each has been heated, and which of them want more."""
    count = dice.randint(2, 3)
    chosen: list[Material] = [dice.choice(MATERIALS) for _ in range(count)]
    names = ("anchor", "buoy", "lamp")[:count]
    pieces = [
        box_piece(name, material, box)
        for name, material, box in zip(names, chosen, dice.sample(PLACES, count), strict=True)
    ]
    side = replace(BACK, zones=(), width_mm=900)
    press = replace(PRESS, platen_width_mm=260, platen_height_mm=260)
    job = job_of(pieces, list({m.key: m for m in chosen}.values()), sides=(side,), press=press)
    heated = {name: dice.choice((4, 4, 6, 9)) for name in names}
    wants = {name: dice.choice(("lift", "replace", "replace", "nothing")) for name in names}
    wants[dice.choice(names)] = "replace"
    lifts = {name: 4 for name in names if wants[name] == "lift"}
    return job, heated, Trouble(lifted_s=lifts, replaced=tuple(n for n in names if wants[n] == "replace"))


def troubled(job: Job, heated: dict[str, int], trouble: Trouble) -> Garment:
    garment = Garment(job)
    garment.take_over(all_down(job, **heated), frozenset(heated))
    for piece, again_s in trouble.lifted_s.items():
        garment.lift(piece, again_s)
    for piece in trouble.replaced:
        garment.take_off(piece)
    return garment


@pytest.mark.parametrize("seed", range(CASES))
def test_no_fewer_extra_hits_do_and_a_no_is_a_no(seed: int) -> None:
    job, heated, trouble = tiny_garment(random.Random(seed))
    garment = troubled(job, heated, trouble)
    found = _answer(job, heated, trouble)
    assert fewest_extra_hits(garment, found - 1 if found else MOST_HITS) is None


def test_the_tiny_garments_are_of_every_kind() -> None:
    """Some take one hit, some more, some none do: each answer above is really asked for."""
    answers = Counter(_answer(*tiny_garment(random.Random(seed))) for seed in range(CASES))
    assert min(answers[0], answers[1], answers[2]) >= 5


def _answer(job: Job, heated: dict[str, int], trouble: Trouble) -> int:
    """The number of extra hits; 0 for a no."""
    try:
        return len(judged(job, all_down(job, **heated), frozenset(heated), (), trouble))
    except NoExtraHitError:
        return 0

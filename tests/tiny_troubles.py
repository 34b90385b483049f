"""Tiny garments on which something went wrong, of materials whose few seconds can all be tried."""

import random
from collections.abc import Callable
from dataclasses import dataclass, replace

from models.geometry import Box
from models.job.job import Job, Material, Pressure
from models.plan.plan import Hit
from models.planning.hits.piece_record import PieceRecord
from models.planning.rework.incident import Trouble
from tests.judged_extra_hits import all_down
from tests.pressed_garment import Garment
from tests.sample_jobs import BACK, FOAM, GLITTER, PRESS, TWILL, box_piece, crew_vest_plan, job_of


def quick(material: Material, longest_s: int = 6) -> Material:
    return replace(material, least_s=4, longest_s=longest_s, total_s=12)


LIGHT_FOAM = quick(replace(FOAM, key="light-foam", pressures=(Pressure.LIGHT,)))
MATERIALS = (
    quick(TWILL),
    quick(FOAM),
    quick(GLITTER, longest_s=5),
    LIGHT_FOAM,
    quick(replace(GLITTER, key="cool-film", set_c=135, lowest_c=130, hottest_c=150)),
)
PRESSED_TWICE = tuple(replace(m, key=f"twice-{m.key}", finish_s=3, total_s=16) for m in MATERIALS[:3])
SLOW_TO_HOLD = tuple(
    replace(m, key=f"slow-{m.key}", least_s=6, first_s=5, longest_s=8, total_s=16) for m in MATERIALS[:2]
)
NAMES = ("anchor", "buoy", "lamp")
PLACES = [Box(x, y, 60, 60) for x in (100, 164, 300) for y in (100, 164, 300)]
SMALL_PRESS = replace(PRESS, platen_width_mm=260, platen_height_mm=260)


@dataclass(frozen=True, slots=True)
class Scene:
    """A garment as it is before the trouble is taken into account, and the hits that were still to come."""

    job: Job
    records: dict[str, PieceRecord]
    trouble: Trouble
    ahead: tuple[Hit, ...] = ()

    @property
    def peeled(self) -> frozenset[str]:
        return frozenset(name for name, record in self.records.items() if record.down)

    def troubled(self) -> Garment:
        """The garment once what lifted has, and what is replaced is off it."""
        garment = Garment(self.job)
        garment.take_over(self.records, self.peeled)
        for piece, again_s in self.trouble.lifted_s.items():
            garment.lift(piece, again_s)
        for piece in self.trouble.replaced:
            garment.take_off(piece)
        return garment


def side_by_side(dice: random.Random) -> Scene:
    """Two or three pieces, of which one at least is new."""
    count = dice.randint(2, 3)
    return _all_down(dice, _job(dice.choices(MATERIALS, k=count), dice.sample(PLACES, count)))


def pressed_twice(dice: random.Random) -> Scene:
    """Two pieces, of which one at least wants a second press after its peel."""
    chosen = [dice.choice(PRESSED_TWICE), dice.choice((*PRESSED_TWICE, *MATERIALS))]
    return _all_down(dice, _job(chosen, dice.sample(PLACES, 2)))


def slow_to_hold(dice: random.Random) -> Scene:
    """A large piece that wants a long first hit, and one or two beside it that bear no long one."""
    count = dice.randint(2, 3)
    chosen = [dice.choice(SLOW_TO_HOLD), *dice.choices((MATERIALS[2], *SLOW_TO_HOLD), k=count - 1)]
    places = [dice.choice((Box(50, 50, 240, 100), Box(50, 50, 340, 60))), *dice.sample(PLACES[3:], count - 1)]
    return _all_down(dice, _job(chosen, places))


def stacked(dice: random.Random) -> Scene:
    """A glitter film on a foam, and a third piece; the lower one is never replaced alone."""
    chosen = [quick(FOAM), quick(GLITTER, longest_s=5), dice.choice(MATERIALS)]
    places = [PLACES[0], Box(115, 115, 30, 30), dice.choice(PLACES[1:])]
    scene = _all_down(dice, _job(chosen, places))
    replaced = scene.trouble.replaced
    if "anchor" in replaced and "buoy" not in replaced:
        lifted_s = {name: s for name, s in scene.trouble.lifted_s.items() if name != "buoy"}
        return replace(scene, trouble=Trouble(lifted_s=lifted_s, replaced=(*replaced, "buoy")))
    return scene


def larger_than_the_platen(dice: random.Random) -> Scene:
    """A piece worked in two parts, and one beside it or far off."""
    chosen = [dice.choice(MATERIALS), dice.choice(MATERIALS)]
    place = dice.choice([Box(100, 174, 60, 60), Box(300, 174, 60, 60), Box(100, 400, 60, 60)])
    return _all_down(dice, _job(chosen, [Box(100, 100, 340, 60), place]))


def in_work(dice: random.Random) -> Scene:
    """A piece that is not down yet and in the way, as a hit ahead of it will bring it down."""
    count = dice.randint(2, 3)
    chosen = [dice.choice((LIGHT_FOAM, *MATERIALS)) for _ in range(count)]
    scene = _all_down(dice, _job(chosen, dice.sample(PLACES, count)), most_s=8)
    name, had_s = NAMES[0], dice.choice((0, 2, 3))
    record = replace(scene.records[name], counted_s=(had_s,), heated_s=(had_s,))
    others = Trouble(
        lifted_s={p: s for p, s in scene.trouble.lifted_s.items() if p != name} or {NAMES[1]: 4},
        replaced=tuple(p for p in scene.trouble.replaced if p not in {name, NAMES[1]}),
    )
    return replace(
        scene, records={**scene.records, name: record}, trouble=others, ahead=(_over(scene.job, name, 4),)
    )


Kind = Callable[[random.Random], Scene]
KINDS: tuple[Kind, ...] = (
    side_by_side,
    pressed_twice,
    slow_to_hold,
    stacked,
    larger_than_the_platen,
    in_work,
)


def _job(chosen: list[Material], places: list[Box]) -> Job:
    named = zip(NAMES[: len(chosen)], chosen, places, strict=True)
    pieces = [box_piece(name, material, box) for name, material, box in named]
    side = replace(BACK, zones=(), width_mm=900)
    return job_of(pieces, list({m.key: m for m in chosen}.values()), sides=(side,), press=SMALL_PRESS)


def _all_down(dice: random.Random, job: Job, most_s: int = 9) -> Scene:
    """Every piece finished after more or less heat; one of them is replaced, others are as the dice fall."""
    names = [piece.id for piece in job.pieces]
    least_s = {name: job.material_of(name).least_s for name in names}
    heated = {name: max(least_s[name], dice.choice((4, 4, 6, most_s))) for name in names}
    wants = {name: dice.choice(("lift", "replace", "replace", "nothing")) for name in names}
    wants[dice.choice(names)] = "replace"
    lifted_s = {name: least_s[name] for name in names if wants[name] == "lift"}
    replaced = tuple(name for name in names if wants[name] == "replace")
    return Scene(job, all_down(job, **heated), Trouble(lifted_s=lifted_s, replaced=replaced))


def _over(job: Job, name: str, dwell_s: int) -> Hit:
    """A hit with the piece in the middle of the platen, at the piece's own setting."""
    material, (x, y) = job.material_of(name), job.piece(name).box.centre
    return replace(
        crew_vest_plan().hits[0],
        platen=Box(round(x) - 130, round(y) - 130, 260, 260),
        temperature_c=material.set_c,
        pressure=material.pressures[0],
        dwell_s=dwell_s,
        lay=(),
        count=(name,),
        touch_again=(),
        peel=(),
        pad=False,
    )

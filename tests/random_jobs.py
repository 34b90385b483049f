"""Plausible jobs from a seed: the same seed gives the same job, on every machine.

Every job keeps rule 1 (what may lie on what), and each of its pieces alone has room for the platen between
the keep-outs. That a sound hit sequence exists for all of them together is not promised.
"""

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import replace

from hypothesis import strategies as st

from models.geometry import Box, Outline, Point, Polygon
from models.job.job import (
    ANY_MATERIAL,
    GarmentOrder,
    Job,
    Material,
    Peel,
    Piece,
    Press,
    Pressure,
    Side,
    SideInSize,
    Zone,
    ZoneKind,
)
from tests.pressed_garment import Bounds, overlap, parts_in, shape_of, share_area
from tests.sample_jobs import FOAM, GLITTER, PRESS, TWILL, job_of, ring_of

THIN_FILM = replace(
    TWILL,
    key="thin-film",
    label="Thin film",
    set_c=150,
    lowest_c=140,
    hottest_c=160,
    least_s=10,
    longest_s=20,
    finish_s=5,
    pressures=(Pressure.MEDIUM, Pressure.LIGHT),
    peel=Peel.WARM,
    carrier=True,
    carrier_margin_mm=4,
    takes_on_top=frozenset({ANY_MATERIAL}),
)
TRANSFER = replace(
    THIN_FILM,
    key="ink-transfer",
    label="Ink transfer",
    set_c=140,
    lowest_c=130,
    hottest_c=150,
    least_s=8,
    longest_s=12,
    total_s=45,
    pressures=(Pressure.FIRM, Pressure.MEDIUM),
    peel=Peel.HOT,
    guard=True,
    carrier_safe=False,
)
FLOCK = replace(
    THIN_FILM,
    key="flock",
    label="Flock film",
    set_c=155,
    lowest_c=150,
    hottest_c=165,
    finish_s=0,
    pressures=(Pressure.FIRM,),
    peel=Peel.COLD,
    takes_on_top=frozenset(),
)
PATCH = replace(
    TWILL,
    key="woven-patch",
    label="Woven patch",
    set_c=150,
    hottest_c=170,
    least_s=15,
    longest_s=30,
    total_s=90,
    takes_on_top=frozenset({"thin-film", "glitter-film"}),
    cover=True,
)
MATERIALS = (TWILL, FOAM, GLITTER, THIN_FILM, TRANSFER, FLOCK, PATCH)
SIDE_NAMES = ("back", "front", "left sleeve", "right sleeve")
NARROW = replace(PRESS, platen_width_mm=120.0, platen_height_mm=400.0, hottest_c=150.0)
SMALL_PLATEN = replace(PRESS, platen_width_mm=300, platen_height_mm=250)
HEATS_C = {  # lowest, hottest
    "printed-twill": (150, 165),
    "raised-foam": (140, 165),
    "glitter-film": (130, 140),
    "thin-film": (150, 160),
    "ink-transfer": (130, 145),
    "flock": (140, 165),
    "woven-patch": (130, 165),
}
TRIES = 60


def random_job(seed: int, pieces: int = 8, sides: int = 1, materials: Sequence[Material] = MATERIALS) -> Job:
    """A job of up to `pieces` pieces on `sides` sides: a piece that finds no allowed place is left out."""
    dice = random.Random(seed)
    press = dice.choice((PRESS, SMALL_PLATEN))
    made_sides = tuple(_side(dice, name) for name in SIDE_NAMES[:sides])
    bare = job_of((), materials, press=press, sides=made_sides, reference=f"RJ-{seed}")
    placed: tuple[Piece, ...] = ()
    for n in range(1, pieces + 1):
        placed += _placed_piece(dice, f"piece-{n}", bare, placed)
    return replace(bare, pieces=placed)


def in_two_heats(job: Job) -> Job:
    """The job with materials of which some are scorched by what others want at the least."""
    return replace(job, materials=tuple(_in_its_heat(material) for material in job.materials))


def _in_its_heat(material: Material) -> Material:
    lowest_c, hottest_c = HEATS_C[material.key]
    return replace(material, lowest_c=lowest_c, hottest_c=hottest_c, set_c=(lowest_c + hottest_c) / 2)


def holding_at_first(job: Job) -> Job:
    """The job with materials that hold only after three quarters of what they want in all."""
    return replace(job, materials=tuple(replace(m, first_s=m.least_s * 3 // 4) for m in job.materials))


def pressed_under_cover(job: Job, seed: int) -> Job:
    """The job with most of its materials wanting a cover sheet until they are down."""
    dice = random.Random(seed)
    return replace(job, materials=tuple(replace(m, cover=dice.random() < 0.7) for m in job.materials))


def with_second_press(job: Job) -> Job:
    """The job in a shop that has a press with a narrow platen as well."""
    wide = replace(job.press, name="wide")
    narrow = replace(NARROW, name="narrow", shortest_s=job.press.shortest_s)
    return replace(job, press=wide, more_presses=(narrow,))


def between_rivets(job: Job, seed: int) -> Job:
    """The job with a rivet at each side of one of its pieces; just the narrow platen has room between."""
    dice = random.Random(seed)
    fitting = [piece for piece in job.pieces if piece.box.width <= NARROW.platen_width_mm - 4]
    if not fitting:
        return job
    piece = dice.choice(fitting)
    x, y = (round(v) for v in piece.box.centre)
    gap = int(NARROW.platen_width_mm / 2) + 1
    rivets = [Zone(ZoneKind.KEEP_OUT, Box(at, y, 8, 1), "rivet") for at in (x - gap - 8, x + gap)]
    sides = [replace(s, zones=(*s.zones, *rivets)) if s.name == piece.side else s for s in job.sides]
    return replace(job, sides=tuple(sides))


@st.composite
def jobs(draw: st.DrawFn, max_pieces: int = 8, max_sides: int = 3) -> Job:
    """Any random job of at least one piece; few pieces and one side at one heat are the simplest."""
    seed = draw(st.integers(0, 2**32 - 1))
    pieces = draw(st.integers(1, max_pieces))
    job = random_job(seed, pieces, draw(st.integers(1, max_sides)))
    return in_two_heats(job) if draw(st.booleans()) else job


def in_sizes(job: Job, seed: int) -> Job:
    """The job for garments of three sizes, whose sides, seams and metal are not the same."""
    dice = random.Random(seed)
    sides = tuple(replace(side, sizes=tuple(_in_sizes(dice, side))) for side in job.sides)
    garments = tuple(GarmentOrder(n, size) for n, size in enumerate("SMMMLL", start=1))
    return replace(job, sides=sides, garments=garments)


def _in_sizes(dice: random.Random, side: Side) -> Iterator[SideInSize]:
    for size in dice.sample("SML", dice.randint(1, 3)):
        wider, longer = dice.randrange(-40, 60, 10), dice.randrange(-40, 60, 10)
        shift = (float(dice.choice((0, wider // 2))), float(dice.randrange(-20, 30, 5)))
        zones = tuple(
            replace(zone, box=zone.box.moved(dice.choice((0, wider)), dice.choice((0, longer))))
            for zone in side.zones
        )
        if dice.random() < 0.5:
            metal = Box(dice.randrange(0, int(side.width_mm), 20), dice.randrange(100, 500, 20), 10, 10)
            zones = (*zones, Zone(ZoneKind.KEEP_OUT, metal, "rivet"))
        yield SideInSize(size, side.width_mm + wider, side.height_mm + longer, zones, shift)


def _side(dice: random.Random, name: str) -> Side:
    width, height = (560, 700) if dice.random() < 0.7 else (dice.randrange(200, 500, 20), 600)
    zones = []
    if dice.random() < 0.6:
        zones.append(Zone(ZoneKind.RAISED, Box(0, dice.randrange(60, 300, 10), width, 12), "seam"))
    if dice.random() < 0.4:
        zones.append(Zone(ZoneKind.KEEP_OUT, Box(dice.choice((-30, width)), 0, 30, height), "zip"))
    if dice.random() < 0.2:
        zones.append(Zone(ZoneKind.KEEP_OUT, Box(dice.randrange(0, width, 20), height - 60, 20, 20), "snap"))
    return Side(name, width, height, tuple(zones))


def _placed_piece(
    dice: random.Random, name: str, job: Job, placed: tuple[Piece, ...]
) -> tuple[Piece] | tuple[()]:
    for _ in range(TRIES):
        side, material = dice.choice(job.sides), dice.choice(job.materials)
        piece = Piece(name, name, side.name, material.key, _outline(dice, _centre(dice, side, placed)))
        if _lies_on_side(piece, side) and _has_room(piece, job) and _may_lie(piece, job, placed):
            return (piece,)
    return ()


def _centre(dice: random.Random, side: Side, placed: Sequence[Piece]) -> Point:
    """Mostly anywhere, now and then on a piece that lies there already."""
    below = [piece for piece in placed if piece.side == side.name]
    if below and dice.random() < 0.3:
        x, y = dice.choice(below).box.centre
        return (round(x), round(y))
    return (dice.randrange(20, int(side.width_mm) - 20, 5), dice.randrange(20, int(side.height_mm) - 20, 5))


def _outline(dice: random.Random, centre: Point) -> Outline:
    kind = dice.random()
    if kind < 0.4:
        width, height = dice.randrange(20, 200, 5), dice.randrange(20, 120, 5)
        return _turned(dice, _box_at(centre, width, height), centre)
    if kind < 0.5:  # larger than the platen, one way or both
        return Outline((Polygon(ring_of(_box_at(centre, dice.randrange(320, 520, 20), 80))),))
    if kind < 0.6:  # a ring with a hole, in which other pieces may lie
        size = dice.randrange(140, 260, 20)
        hole = ring_of(_box_at(centre, size - 60, size - 60))
        return Outline((Polygon(ring_of(_box_at(centre, size, size)), (hole,)),))
    corners = 32 if kind < 0.8 else dice.choice((3, 5, 6))
    return Outline((_regular_polygon(centre, dice.randrange(15, 80, 5), corners),))


def _box_at(centre: Point, width: float, height: float) -> Box:
    return Box(centre[0] - width / 2, centre[1] - height / 2, width, height)


def _turned(dice: random.Random, box: Box, centre: Point) -> Outline:
    angle = math.radians(dice.choice((0, 0, 90, 30, 45)))
    ring = tuple(
        (
            centre[0] + (x - centre[0]) * math.cos(angle) - (y - centre[1]) * math.sin(angle),
            centre[1] + (x - centre[0]) * math.sin(angle) + (y - centre[1]) * math.cos(angle),
        )
        for x, y in ring_of(box)
    )
    return Outline((Polygon(ring),))


def _regular_polygon(centre: Point, radius: float, corners: int) -> Polygon:
    turns = [2 * math.pi * k / corners for k in range(corners)]
    return Polygon(tuple((centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns))


def _lies_on_side(piece: Piece, side: Side) -> bool:
    """The middle of its box lies on the side: no more than half of it hangs over an edge."""
    x, y = piece.box.centre
    return 0 <= x <= side.width_mm and 0 <= y <= side.height_mm


def _has_room(piece: Piece, job: Job) -> bool:
    """Whether the platen can hold each part of the piece without coming down on a keep-out."""
    zones = job.side(piece.side).zones_of(ZoneKind.KEEP_OUT)
    metal = [(zone.box.x, zone.box.y, zone.box.right, zone.box.bottom) for zone in zones]
    parts = parts_in(shape_of(piece).bounds, job, job.material(piece.material))
    return all(_part_has_room(part, metal, job.press) for part in parts)


def _part_has_room(part: Bounds, metal: Sequence[Bounds], press: Press) -> bool:
    width, height = press.platen_width_mm, press.platen_height_mm
    xs = range(math.ceil(part[2] - width), math.floor(part[0]) + 1)
    ys = range(math.ceil(part[3] - height), math.floor(part[1]) + 1)
    corners = [(x, y) for x in {*xs[::10], *xs[-1:]} for y in {*ys[::10], *ys[-1:]}]
    return any(not any(share_area((x, y, x + width, y + height), zone) for zone in metal) for x, y in corners)


def _may_lie(piece: Piece, job: Job, placed: Sequence[Piece]) -> bool:
    """Rule 1 between the piece and those below it."""
    shape, material = shape_of(piece), job.material(piece.material)
    return all(
        job.material(lower.material).takes(material)
        for lower in placed
        if lower.side == piece.side and overlap(shape, shape_of(lower))
    )

"""Small jobs and plans for tests, built directly as dataclasses, and the pieces to build others from.

The sample is the back of a lightship crew's vest: a twill life ring, and in its hole a foam anchor and a
glitter wave. All three share a first hit of 15 s; the twill then gets its last 5 s in a second one, in which
the platen cannot but touch the other two again.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from models.garment.progress import Recipe
from models.geometry import Box, Outline, Polygon, Ring
from models.job.job import (
    Fabric,
    GarmentOrder,
    Job,
    Material,
    Peel,
    Piece,
    Press,
    Pressure,
    Side,
    Zone,
    ZoneKind,
)
from models.plan.plan import Hit, PeelStep, Plan, PlanStatus, Totals
from models.recipe.piece_rest import PieceRest

PRESS = Press(
    platen_width_mm=400,
    platen_height_mm=500,
    lowest_c=100,
    hottest_c=220,
    handling_s=15,
    shortest_s=3,
    heating_s_per_degree=6,
    cooling_s_per_degree=20,
)
FABRIC = Fabric("quilted polyamide", hottest_c=160, grams_per_m2=240, thickness_mm=0.9)
YOKE_SEAM = Zone(ZoneKind.RAISED, Box(0, 120, 560, 12), "yoke seam")
BACK = Side("back", width_mm=560, height_mm=700, zones=(YOKE_SEAM,))

TWILL = Material(
    key="printed-twill",
    label="Printed twill",
    set_c=149,
    lowest_c=145,
    hottest_c=155,
    least_s=20,
    longest_s=25,
    total_s=60,
    finish_s=0,
    pressures=(Pressure.MEDIUM, Pressure.FIRM),
    peel=Peel.NONE,
    carrier=False,
    carrier_margin_mm=0,
    takes_on_top=frozenset(),
    guard=False,
    cover=False,
    carrier_safe=True,
    thickness_mm=0.4,
)
FOAM = replace(
    TWILL,
    key="raised-foam",
    label="Raised foam film",
    hottest_c=160,
    least_s=15,
    peel=Peel.COLD,
    carrier=True,
    carrier_margin_mm=6,
    takes_on_top=frozenset({"glitter-film"}),
    thickness_mm=0.5,
)
GLITTER = replace(
    FOAM,
    key="glitter-film",
    label="Glitter film",
    set_c=150,
    hottest_c=155,
    least_s=10,
    longest_s=15,
    total_s=40,
    pressures=(Pressure.MEDIUM,),
    peel=Peel.HOT,
    takes_on_top=frozenset(),
    guard=True,
    carrier_safe=False,
    thickness_mm=0.3,
)


def ring_of(box: Box) -> Ring:
    return ((box.x, box.y), (box.right, box.y), (box.right, box.bottom), (box.x, box.bottom))


def box_piece(piece_id: str, material: Material, box: Box, side: str = "back") -> Piece:
    """A rectangular piece that fills `box`."""
    outline = Outline((Polygon(ring_of(box)),))
    return Piece(piece_id, piece_id.replace("-", " "), side, material.key, outline)


def job_of(pieces: Sequence[Piece], materials: Sequence[Material], **changes: Any) -> Job:
    """A job of these pieces on the sample's press, fabric and back, with `changes` to its fields."""
    job = Job(
        name="Lightship crew vests",
        reference="LC-0147",
        due=None,
        press=PRESS,
        fabric=FABRIC,
        sides=(BACK,),
        materials=tuple(materials),
        pieces=tuple(pieces),
        garments=(GarmentOrder(1, "M", "Ines Okafor", "4"), GarmentOrder(2, "L", "Tor Lindqvist", "7")),
    )
    return replace(job, **changes)


def crew_vest_job() -> Job:
    """Three pieces on one side, for two garments; the ring has to hold after the hit it is laid for."""
    twill = replace(TWILL, first_s=15)
    ring = Polygon(ring_of(Box(130, 170, 300, 300)), holes=(ring_of(Box(200, 240, 160, 160)),))
    life_ring = Piece("life-ring", "Life ring", "back", TWILL.key, Outline((ring,)))
    anchor = box_piece("anchor", FOAM, Box(250, 260, 60, 60))
    wave = box_piece("wave", GLITTER, Box(220, 350, 120, 30))
    return job_of((life_ring, anchor, wave), (twill, FOAM, GLITTER))


def crew_vest_plan() -> Plan:
    """The two hits of crew_vest_job."""
    first = Hit(
        n=1,
        side="back",
        platen=Box(80, 70, 400, 500),
        temperature_c=149,
        pressure=Pressure.MEDIUM,
        dwell_s=15,
        lay=("life-ring", "anchor", "wave"),
        count=("life-ring", "anchor", "wave"),
        touch_again=(),
        cover=False,
        pad=True,
        peel=(PeelStep("wave", Peel.HOT), PeelStep("anchor", Peel.COLD)),
        why=("All three pieces share one setting for the wave's longest 15 s.",),
    )
    second = replace(
        first,
        n=2,
        dwell_s=5,
        lay=(),
        count=("life-ring",),
        touch_again=("anchor", "wave"),
        cover=True,
        peel=(),
        why=("The life ring wants 20 s and has had 15.",),
    )
    return Plan(
        PlanStatus.OPTIMAL,
        lower_bound=2,
        hits=(first, second),
        totals=Totals(hits=2, temperature_changes=0, side_changes=0, dwell_s=20, reheats=2),
    )


def crew_vest_recipe() -> Recipe:
    """As a batch that was loaded before heat and rests were estimated."""
    return Recipe(crew_vest_job(), crew_vest_plan())


def rested_recipe() -> Recipe:
    """The same with a rest of 70 s estimated for the anchor."""
    return replace(crew_vest_recipe(), rests=(PieceRest("anchor", Peel.COLD, 42.0, 70.5, 116.0),))


WARM_S = 43.0


def warm_recipe() -> Recipe:
    """The same with an anchor that peels warm, WARM_S after the opening as was estimated."""
    recipe = crew_vest_recipe()
    materials = tuple(replace(m, peel=Peel.WARM) if m.peel == Peel.COLD else m for m in recipe.job.materials)
    first, *others = recipe.plan.hits
    peel = tuple(replace(step, when=Peel.WARM) if step.when == Peel.COLD else step for step in first.peel)
    plan = replace(recipe.plan, hits=(replace(first, peel=peel), *others))
    rests = (PieceRest("anchor", Peel.WARM, 30.0, WARM_S, 60.0),)
    return replace(recipe, job=replace(recipe.job, materials=materials), plan=plan, rests=rests)

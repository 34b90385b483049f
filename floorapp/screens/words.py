"""How numbers, pieces and settings are said on every screen."""

from collections import Counter
from collections.abc import Iterable
from datetime import datetime
from math import ceil

from models.garment.cycle import EventKind
from models.garment.events import FindingKind
from models.garment.progress import Progress
from models.job.job import Job, Material, Peel, ZoneKind
from models.plan.plan import Hit, Plan, PlanStatus
from models.planning.hits.effects import under_cover
from models.ranges import Estimate
from models.recipe.heat_finding import NEVER_S, HeatFinding
from models.recipe.places import Place
from models.units import celsius_to_fahrenheit, in_both_degrees

PLACE_WORDS = {
    Place.TABLE: "flat on the table",
    Place.HUNG: "hung",
    Place.PRESS: "on the open press",
}
FINDING_WORDS = {
    FindingKind.LIFT: "Lifts",
    FindingKind.SHIFT: "Shifted",
    FindingKind.SCORCH: "Scorched",
    FindingKind.WRINKLE: "Wrinkled",
    FindingKind.INK_BLEED: "Ink bled",
    FindingKind.PRESS_MARK: "Press mark",
    FindingKind.MISSING: "Missing",
    FindingKind.WRONG: "Wrong piece",
}

TAP_WORDS = {
    EventKind.TAKEN_UP: "the scan",
    EventKind.CLOSED: "the closing",
    EventKind.OPENED: "the opening",
    EventKind.PEELED: "the peel",
    EventKind.RESTED: "the resting",
    EventKind.REST_ENDED: "the peel",
    EventKind.PASSED: "“all down”",
    EventKind.COMPLETED: "“all down”",
    EventKind.FOUND: "the finding",
    EventKind.EXTRA_ADDED: "the extra hit",
    EventKind.REPLANNED: "“all down”",
    EventKind.HELD: "the hold",
    EventKind.RELEASED: "going on",
    EventKind.SPOILED: "the spoiling",
}
"""How the first event of a tap is named where it can be taken back."""


def minutes(seconds: int) -> str:
    """A time as m:ss."""
    return f"{seconds // 60}:{seconds % 60:02d}"


def whole_seconds_to(at: datetime | None, now: datetime) -> int:
    """Whole seconds until then, as a countdown shows them; 0 if that is over, or nothing is waited for."""
    return max(0, ceil((at - now).total_seconds())) if at is not None else 0


def heading_of(progress: Progress, phase: str) -> str:
    return f"Hit {progress.step.label} of {progress.steps[-1].label}: {phase}"


def celsius(temperature_c: float) -> str:
    return f"{temperature_c:.0f} °C"


def fahrenheit(temperature_c: float) -> str:
    return f"{celsius_to_fahrenheit(temperature_c):.0f} °F"


def degrees(temperature_c: float) -> str:
    """Both of them, neither parted from its unit at the end of a line."""
    return in_both_degrees(temperature_c).replace(" °", "\N{NO-BREAK SPACE}°")


def about(estimate: Estimate, unit: str) -> str:
    """An estimate with its band: about 8 s (4 to 17).

    >>> about(Estimate(3.9, 7.8, 17.1), "s")
    'about 8 s (4 to 17)'
    """
    high = "never" if estimate.high == NEVER_S else f"{estimate.high:.0f}"
    return f"about {estimate.median:.0f} {unit} ({estimate.low:.0f} to {high})"


def about_degrees(estimate: Estimate) -> str:
    """An estimated temperature with its band, in both degrees.

    >>> about_degrees(Estimate(70.0, 86.0, 100.0))
    'about 86 °C (70 to 100), that is about 187 °F (158 to 212)'
    """
    low, median, high = map(celsius_to_fahrenheit, (estimate.low, estimate.median, estimate.high))
    return f"{about(estimate, '°C')}, that is {about(Estimate(low, median, high), '°F')}"


def count_of(number: int, one: str) -> str:
    """`1 piece`, `3 pieces`."""
    return f"{number} {one}" if number == 1 else f"{number} {one}s"


def pieces_by_material(job: Job, pieces: Iterable[str]) -> list[tuple[Material, list[str]]]:
    """The pieces' labels under their material, both in file order."""
    wanted = set(pieces)
    groups: dict[str, list[str]] = {}
    for piece in job.pieces:
        if piece.id in wanted:
            groups.setdefault(piece.material, []).append(piece.label)
    return [(job.material(key), labels) for key, labels in groups.items()]


def listed(labels: Iterable[str]) -> str:
    """Labels in a row; the same label several times is counted."""
    counted = Counter(labels)
    return ", ".join(label if number == 1 else f"{number} × {label}" for label, number in counted.items())


def material_line(material: Material, labels: list[str]) -> str:
    return f"{len(labels)} × {material.label}: {listed(labels)}"


def raised_under(job: Job, hit: Hit) -> str:
    """The names of the seams and pockets that the platen comes down on."""
    zones = job.side(hit.side).zones_of(ZoneKind.RAISED)
    return listed(zone.label for zone in zones if hit.platen.shares_area_with(zone.box))


def covered_under(progress: Progress) -> str:
    """The materials for which the cover sheet is on in the hit in hand."""
    job = progress.recipe.job
    covered = under_cover(progress.hit, job, progress.before_hit)
    return listed(material.label for material, _ in pieces_by_material(job, (p.id for p in covered)))


def peel_words(hit: Hit) -> str:
    """What is peeled after the hit, in a few words for the countdown."""
    counted = Counter(step.when for step in hit.peel)
    if not counted:
        return "nothing to peel"
    return "then peel " + ", ".join(f"{counted[w]}\N{NO-BREAK SPACE}{w.value}" for w in Peel if counted[w])


def heat_finding_words(finding: HeatFinding) -> str:
    """What gets too little time at heat, with the garment sizes where it is not about all."""
    return f"size {', '.join(finding.sizes)}: {finding.text}" if finding.sizes else finding.text


def plan_words(plan: Plan) -> str:
    """How sure the plan is of its number of hits."""
    hits = count_of(plan.totals.hits, "hit")
    if plan.status == PlanStatus.OPTIMAL:
        return f"The plan has {hits}; fewer are proved impossible."
    return f"The plan has {hits}, and no plan has fewer than {plan.lower_bound}."

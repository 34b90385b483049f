"""The check on the Garment screen: what to look at, what is short, what was closed too long."""

from collections.abc import Iterable

from floorapp.screens.map_presenter import pieces_to_rub
from floorapp.screens.words import (
    FINDING_WORDS,
    count_of,
    heading_of,
    listed,
    material_line,
    pieces_by_material,
)
from floorapp.views import Action, Button, Card, Group, Line, Tap, Tone
from models.errors import NoExtraHitError
from models.floor.mending import hits_ahead, missing_seconds, remainder, rest_anew
from models.floor.openings import seconds_of_last_hit, too_long_at_once, too_long_in_all
from models.garment.cycle import State
from models.garment.events import FindingKind
from models.garment.progress import Progress
from models.job.job import Job
from models.plan.plan import Hit
from models.store.records import StoredGarment

WRONG = Button("Something is wrong", Action(Tap.LOOK_CLOSER))


def check_card(garment: StoredGarment) -> Card:
    progress = garment.progress
    missing = short_pieces(garment)
    if missing:
        return _short_card(progress, missing)
    try:
        rest = rest_anew(progress)
    except NoExtraHitError as error:
        return _no_way_on_card(garment, str(error))
    last = progress.is_last_step or rest == ()
    down = "All else is down" if progress.open_findings else "All down"
    rub = "Rub each edge of the filled pieces once. " if pieces_to_rub(progress) else ""
    return Card(
        heading=heading_of(progress, "check"),
        body=f"{rub}Tap on the map what is not right.",
        groups=(
            *too_long_groups(garment),
            *_rest_groups(progress, rest),
            *_rub_groups(progress),
            *fault_groups(progress, "Found before"),
        ),
        choices=(WRONG,),
        primary=Button(f"{down}. It is done" if last else down, Action(Tap.PASS), Tone.DONE),
    )


def _rub_groups(progress: Progress) -> tuple[Group, ...]:
    """What this hit has finished is rubbed; what still gets seconds from another hit is left alone."""
    job, later = progress.recipe.job, [p for p in progress.hit.count if not progress.records[p].down]
    rub = Group("Rub what was just pressed", _piece_lines(job, pieces_to_rub(progress)))
    leave = Group("Do not rub: a later hit finishes it", _piece_lines(job, later))
    return tuple(group for group in (rub, leave) if group.lines)


def _piece_lines(job: Job, pieces: Iterable[str]) -> tuple[Line, ...]:
    return tuple(
        Line(material_line(material, labels)) for material, labels in pieces_by_material(job, pieces)
    )


def _no_way_on_card(garment: StoredGarment, reason: str) -> Card:
    """After too long a hit: what is ahead would be too much, and nothing else is left within the rules."""
    return Card(
        heading_of(garment.progress, "check"),
        body="The hits still to come would be too much. Somebody has to decide.",
        groups=(Group("No way on within the limits", (Line(reason),), Tone.HELD), *too_long_groups(garment)),
        primary=Button("Hold or spoil it", Action(Tap.LOOK_CLOSER), Tone.HELD),
    )


def _rest_groups(progress: Progress, rest: tuple[Hit, ...] | None) -> tuple[Group, ...]:
    if rest is None:
        return ()
    still = f"{count_of(len(rest), 'hit')} still to come" if rest else "no hit follows"
    line = Line(f"{still}, instead of {len(hits_ahead(progress))}")
    return (Group("Pressed too long for the hits ahead: they are planned anew", (line,), Tone.ATTENTION),)


def too_long_groups(garment: StoredGarment) -> tuple[Group, ...]:
    """What was heated longer than its material takes: it may look good and not be."""
    lines = (*_too_long_at_once(garment), *_too_long_in_all(garment.progress))
    heading = "Closed too long: look for scorch, bleeding and press marks"
    return (Group(heading, lines, Tone.HELD),) if lines else ()


def _too_long_at_once(garment: StoredGarment) -> list[Line]:
    job, seconds = garment.progress.recipe.job, seconds_of_last_hit(garment.log)
    return [
        Line(f"{seconds} s in one hit, at most {material.longest_s} s: {material.label}, {listed(labels)}")
        for material, labels in pieces_by_material(job, too_long_at_once(garment))
    ]


def _too_long_in_all(progress: Progress) -> list[Line]:
    job = progress.recipe.job
    return [
        Line(f"{heated_s} s in all, at most {job.material_of(piece).total_s} s: {job.piece(piece).label}")
        for piece, heated_s in too_long_in_all(progress).items()
    ]


def fault_groups(progress: Progress, heading: str) -> tuple[Group, ...]:
    """What was found and is not mended: neither a hold nor letting it go makes it good."""
    labels: dict[FindingKind, list[str]] = {}
    for piece, kind in sorted(progress.faults):
        labels.setdefault(kind, []).append(progress.recipe.job.piece(piece).label)
    lines = tuple(Line(f"{FINDING_WORDS[kind]}: {listed(names)}") for kind, names in labels.items())
    return (Group(heading, lines, Tone.HELD),) if lines else ()


def _short_card(progress: Progress, missing: dict[str, int]) -> Card:
    """After an early opening: the missing seconds are pressed, or the reason says why they cannot be."""
    job = progress.recipe.job
    lines = tuple(Line(f"{job.piece(piece).label}: {seconds} s short") for piece, seconds in missing.items())
    groups = (Group("Opened early, not down yet", lines, Tone.HELD),)
    try:
        hits = remainder(progress).hits
    except NoExtraHitError as error:
        return Card(
            heading_of(progress, "not down"),
            body=str(error),
            groups=groups,
            primary=Button("Hold or spoil it", Action(Tap.LOOK_CLOSER), Tone.HELD),
        )
    seconds = " + ".join(f"{hit.dwell_s} s" for hit in hits)
    return Card(
        heading_of(progress, "not down yet"),
        groups=groups,
        choices=(WRONG,),
        primary=Button(f"Press it on: {seconds}", Action(Tap.PRESS_REMAINDER), Tone.PRESS),
    )


def short_pieces(garment: StoredGarment) -> dict[str, int]:
    """Seconds that an early opening left out, by piece; empty but in the check that follows one."""
    progress = garment.progress
    return missing_seconds(progress) if progress.state == State.CHECKING else {}

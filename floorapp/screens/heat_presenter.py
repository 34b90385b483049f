"""What the estimates say of a hit's heat and of the rest after it: two curves, and lines of words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING

from floorapp.screens.words import PLACE_WORDS, about, about_degrees, count_of, heat_finding_words, listed
from floorapp.views import Group, Line, Tone
from floorapp.why_flow import Why
from floorapp.widget_views import CurveView, Level
from models.floor.resting import Basis, Rest
from models.garment.progress import Progress
from models.heat.physics.handling import BARE_HANDS_C, COLD_PEEL_C, WARM_PEEL_C
from models.job.job import Job, Peel
from models.planning.assembly.at_press import RECKONED_BARE
from models.recipe.heat_finding import NEVER_S, HeatFinding
from models.units import in_both_degrees

if TYPE_CHECKING:
    from models.heat.estimates.delays import Delay
    from models.heat.estimates.hit_heat import HitHeat, PieceHeat
    from models.heat.estimates.hit_report import HitReport
    from models.heat.estimates.rest import RestEstimate

WORKING = "working it out …"
GIVES_WAY = (
    "Estimates; a band holds for about 8 in 10 garments. Gloves on. The material maker's sheet and your "
    "local rules come first."
)
WHILE_PRESSED, AFTERWARDS = "Adhesive, pressed", "Garment, at rest"
REST_LEVELS = (Level(WARM_PEEL_C, "warm"), Level(COLD_PEEL_C, "cold"))


@dataclass(frozen=True, slots=True)
class HeatView:
    """`warnings` come before everything else that is told of a hit, `groups` after its reasons."""

    curves: tuple[CurveView, CurveView]
    warnings: tuple[Group, ...] = ()
    groups: tuple[Group, ...] = ()


def heat_view(why: Why) -> HeatView:
    if why.report is None:
        return _without_report(why.refusal)
    report = why.report
    return HeatView(
        curves=(_hit_curve(why.job, report.heat), _rest_curve(report.rest)),
        warnings=too_little_groups(report.findings),
        groups=(
            Group("Heat, an estimate", tuple(map(Line, _hit_lines(why, report))), Tone.PRESS),
            Group("Rest, an estimate", tuple(map(Line, _rest_lines(why.job, report))), Tone.REST),
        ),
    )


def learned_words(rest: Rest | None, one: str) -> str:
    """What the floor has shown of the estimate, with its band and from how many; nothing if nothing was."""
    if rest is None or rest.factor is None or not rest.n:
        return ""
    factor = rest.factor
    seen = f"{factor.median:.2f} times the estimate ({factor.low:.2f} to {factor.high:.2f})"
    used = "used" if rest.basis == Basis.LEARNED else "not used yet"
    return f"Seen here: {seen}, from {count_of(rest.n, one)}, {used}."


def too_little_groups(findings: Sequence[HeatFinding]) -> tuple[Group, ...]:
    """What gets too little time at heat, in a box of its own; none where nothing does."""
    lines = tuple(Line(heat_finding_words(finding)) for finding in findings)
    return (Group("Too little time at heat", lines, Tone.ATTENTION),) if lines else ()


def too_little_in_short(progress: Progress) -> str:
    """The same in a line, for the hit in hand; of an extra hit nothing was estimated, and of one that goes
    under a cover sheet against its plan, that it was reckoned without.
    """
    job, hit = progress.recipe.job, progress.step.hit
    if progress.hit.cover and not hit.cover:
        return RECKONED_BARE
    if hit not in progress.recipe.plan.hits:
        return ""
    found = [finding for finding in progress.recipe.heat_findings if finding.hit_n == hit.n]
    short = (f"{job.piece(finding.piece).label} {_short(finding)}" for finding in found)
    return f"Too little heat, an estimate: {', '.join(short)}" if found else ""


def _short(finding: HeatFinding) -> str:
    return "in any dwell" if finding.missing_s == NEVER_S else f"{ceil(finding.missing_s)} s short"


def _without_report(refusal: str) -> HeatView:
    waiting = "no estimate" if refusal else WORKING
    pressed = CurveView(WHILE_PRESSED, Tone.PRESS, waiting=waiting)
    afterwards = CurveView(AFTERWARDS, Tone.REST, waiting=waiting)
    told = (Group("No estimate of its heat", (Line(refusal),), Tone.HELD),) if refusal else ()
    return HeatView((pressed, afterwards), groups=told)


def _hit_curve(job: Job, heat: "HitHeat") -> CurveView:
    slowest = heat.slowest
    if slowest is None:
        return CurveView(WHILE_PRESSED, Tone.PRESS, waiting="nothing new is heated")
    heading = f"Adhesive of {job.piece(slowest.piece).label}"
    return CurveView(heading, Tone.PRESS, slowest.curve, (Level(slowest.to_heat_c, "at heat"),))


def _rest_curve(rest: "RestEstimate") -> CurveView:
    return CurveView(PLACE_WORDS[rest.place].capitalize(), Tone.REST, rest.curve, REST_LEVELS)


def _hit_lines(why: Why, report: "HitReport") -> Iterator[str]:
    heat = report.heat
    if heat.slowest is not None:
        yield _slowest_words(why.job, heat.slowest)
        yield from _enough_words(report, heat.slowest)
        if heat.slowest.to_heat_s.median < NEVER_S:
            yield from _delay_words(report.delays)
    yield from _back_words([*heat.pieces, *heat.again])
    yield from _again_words(why.job, heat)


def _slowest_words(job: Job, slowest: "PieceHeat") -> str:
    label, target = job.piece(slowest.piece).label, in_both_degrees(slowest.to_heat_c)
    if slowest.to_heat_s.median == NEVER_S:
        return f"{label} is the slowest: at this setting its adhesive never gets hot enough, {target}."
    after, left = about(slowest.to_heat_s, "s"), about(slowest.at_heat_s, "s")
    return f"{label} is the slowest: up to heat, {target}, after {after}, then at heat for {left}."


def _enough_words(report: "HitReport", slowest: "PieceHeat") -> Iterator[str]:
    """What of it all hits together make; an extra hit is told by itself."""
    if report.is_planned and not report.findings:
        yield "Over all its hits, every piece here has the time at heat that it wants."
    elif not report.is_planned and 0 < slowest.missing_s < NEVER_S:
        yield f"By itself this hit is about {slowest.missing_s:.0f} s short; what came before is not counted."


def _delay_words(delays: Sequence["Delay"]) -> Iterator[str]:
    *there, more = delays
    if there:
        yield "Slower by: " + ", ".join(f"{delay.by} {delay.seconds:.1f} s" for delay in there) + "."
    if more.seconds == NEVER_S:
        yield f"With {more.by} it would never get hot enough."
    else:
        yield f"{more.by.capitalize()} would take {more.seconds:.1f} s longer."


def _back_words(pieces: Sequence["PieceHeat"]) -> Iterator[str]:
    """Of the hottest place under the platen."""
    if pieces:
        hottest = max((piece.far_side_c for piece in pieces), key=lambda far_side_c: far_side_c.median)
        yield f"Back of the fabric when the press opens: {about_degrees(hottest)}."


def _again_words(job: Job, heat: "HitHeat") -> Iterator[str]:
    """Adhesives that were down before: of pieces that are touched again, and of those below this hit's."""
    again = {job.piece(piece.piece).label: piece.curve[-1].likely_c for piece in heat.again}
    for piece in heat.pieces:
        for below in piece.reheated:
            label = f"{job.material(below.material).label} below {job.piece(piece.piece).label}"
            again[label] = below.hottest_c.median
    if again:
        told = listed(f"{label} to about {in_both_degrees(likely_c)}" for label, likely_c in again.items())
        yield f"Heated again: {told}."


def _rest_lines(job: Job, report: "HitReport") -> Iterator[str]:
    rest = report.rest
    hottest = in_both_degrees(rest.start_c)
    yield f"At its hottest place about {hottest} when opened, then {PLACE_WORDS[rest.place]}:"
    yield f"warm, {in_both_degrees(WARM_PEEL_C)}, after {about(rest.warm_s, 's')}"
    yield f"cold, {in_both_degrees(COLD_PEEL_C)}, after {about(rest.cold_s, 's')}"
    yield f"cold elsewhere: {', '.join(map(_cold_at, report.elsewhere))}"
    hands = f"{in_both_degrees(BARE_HANDS_C)}, were it as hot all through as the platen"
    yield f"bare hands for a minute: {hands}, after {about(rest.bare_hands_s, 's')}"
    if rest.until in {Peel.WARM, Peel.COLD}:
        yield f"{job.piece(rest.piece).label} rests longest: it peels {rest.until.value}."


def _cold_at(rest: "RestEstimate") -> str:
    return f"{rest.cold_s.median:.0f} s {PLACE_WORDS[rest.place]}"

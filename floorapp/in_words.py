"""A plan and a review as a person reads them on a terminal."""

from collections.abc import Iterator, Sequence

from floorapp.screens.remedy_words import remedy_words
from floorapp.screens.words import (
    PLACE_WORDS,
    about,
    count_of,
    heat_finding_words,
    pieces_by_material,
    plan_words,
)
from models.job.job import Job, Peel
from models.job.sizes import sizes_of
from models.learning.lift_rates import LiftRate
from models.plan.plan import Hit, Plan, PlanOfSizes, are_worked_alike
from models.quality.key_figures import KeyFigures
from models.quality.review import Review, Tally
from models.recipe.heat_finding import HeatFinding
from models.recipe.piece_rest import PieceRest, longest_rest
from models.recipe.places import FLOOR_PLACES
from models.tags.code import spoken
from models.units import in_both_degrees

CAUTION = (
    "Hot platen, pinching press, fumes: follow the material maker's data sheet and local rules; "
    "trained staff only."
)


def plan_in_words(
    job: Job, plan: Plan, heat_findings: Sequence[HeatFinding] = (), rests: Sequence[PieceRest] = ()
) -> str:
    """Hit by hit: what to lay, the settings, what to peel after which rest, and why; the sizes that differ;
    too little heat.
    """
    each = f"{count_of(len(plan.hits), 'hit')} each"
    heading = f"{job.name} ({job.reference}): {count_of(len(job.garments), 'garment')}, {each}"
    if plan.sizes:
        heading = f"{heading} in size {sizes_of(job)[0]}"
    told = "\n".join([heading, plan_words(plan), *plan.why_not_fewer, *plan.differs])
    hits = _hit_blocks(job, plan, _rests_in(sizes_of(job)[:1], rests))
    others = [block for other in plan.sizes for block in _other_sizes(job, plan, other, rests)]
    return "\n\n".join([told, *hits, *others, *_heat_block(heat_findings), CAUTION])


def _rests_in(sizes: Sequence[str], rests: Sequence[PieceRest]) -> list[PieceRest]:
    return [rest for rest in rests if any(map(rest.is_about, sizes))]


def _hit_blocks(job: Job, plan: Plan, rests: Sequence[PieceRest]) -> list[str]:
    return ["\n".join(_hit_lines(job, hit, len(plan.hits), rests)) for hit in plan.hits]


def _other_sizes(job: Job, plan: Plan, other: PlanOfSizes, rests: Sequence[PieceRest]) -> Iterator[str]:
    """Where the platen comes down in these sizes; of another sequence, all its hits."""
    who = ", ".join(other.sizes)
    if not are_worked_alike(plan, other.plan):
        yield f"Size {who}: {plan_words(other.plan)}"
        yield from _hit_blocks(job, other.plan, _rests_in(other.sizes[:1], rests))
        return
    rows = [_row(f"hit {hit.n}", "; ".join(_place(hit))) for hit in other.plan.hits]
    yield "\n".join([f"Size {who}, worked alike:", *rows])


def _heat_block(findings: Sequence[HeatFinding]) -> Iterator[str]:
    if findings:
        rows = [_row(f"hit {finding.hit_n}", heat_finding_words(finding)) for finding in findings]
        yield "\n".join(["Too little time at heat, an estimate; no dwell was changed:", *rows])


def _place(hit: Hit) -> Iterator[str]:
    yield f"corner at {hit.platen.x:g}, {hit.platen.y:g} mm"
    if hit.pad:
        yield "pad underneath"


def _hit_lines(job: Job, hit: Hit, of: int, rests: Sequence[PieceRest]) -> Iterator[str]:
    platen = hit.platen
    yield f"Hit {hit.n} of {of}, {hit.side}: {', '.join(_settings(hit))}"
    yield _row("platen", f"{platen.width:g} × {platen.height:g} mm, corner at {platen.x:g}, {platen.y:g} mm")
    for material, labels in pieces_by_material(job, hit.lay):
        yield _row("lay", f"{material.label}: {'; '.join(labels)}")
    if hit.touch_again:
        yield _row("heats again", _labels(job, hit.touch_again))
    for step in hit.peel:
        yield _row(f"peel {step.when.value}", _labels(job, [step.piece]))
    yield from _rest_rows(hit, rests)
    for reason in hit.why:
        yield _row("why", reason)


def _rest_rows(hit: Hit, rests: Sequence[PieceRest]) -> Iterator[str]:
    """Of the pieces that peel warm, and of those that peel cold, the one that rests longest at each place."""
    peeled = [step.piece for step in hit.peel]
    for until in (Peel.WARM, Peel.COLD):
        longest = [longest_rest(rests, peeled, until, place) for place in FLOOR_PLACES]
        told = [f"{about(rest.seconds, 's')} {PLACE_WORDS[rest.place]}" for rest in longest if rest]
        if told:
            yield _row("rest", f"{until.value} after {', '.join(told)}, an estimate")


def _settings(hit: Hit) -> Iterator[str]:
    if hit.press:
        yield f"press {hit.press}"
    yield in_both_degrees(hit.temperature_c)
    yield f"{hit.dwell_s} s"
    yield f"{hit.pressure.value} pressure"
    if hit.cover:
        yield "cover sheet on top"
    if hit.pad:
        yield "pad underneath"


def _labels(job: Job, pieces: Sequence[str]) -> str:
    """A semicolon between them, since a label may have a comma of its own."""
    return "; ".join(job.piece(piece).label for piece in pieces)


def review_in_words(title: str, review: Review) -> str:
    """The counts, the key figures, the findings and the list of garments."""
    states = [f"{count} {state.value}" for state, count in review.by_state.items() if count]
    parts = [
        title,
        _row("ordered", "; ".join(_order_words(review))),
        _row("garments", ", ".join(states) or "none"),
        *_size_rows(review),
        *_figure_rows(review.figures),
    ]
    tallies = (("found", review.by_kind), ("on", review.by_material), ("where", review.by_place))
    parts += [_row(name, _ranking(ranking)) for name, ranking in tallies if ranking]
    return "\n".join([*parts, *_lift_rows(review), "", *_garment_rows(review)])


def _order_words(review: Review) -> Iterator[str]:
    """What was asked for, and what has changed of it since the batch was loaded."""
    yield count_of(review.ordered, "garment")
    if review.remade:
        yield f"{review.remade} made again"
    if review.taken_out:
        yield f"{review.taken_out} taken out"


def _size_rows(review: Review) -> Iterator[str]:
    for size, counts in review.by_size.items():
        told = ", ".join(f"{count} {state.value}" for state, count in counts.items() if count)
        yield _row(f"size {size}", told)


def _figure_rows(figures: KeyFigures) -> Iterator[str]:
    interval = figures.first_pass_interval
    reach = f" (95 % sure: {interval.low:.0%} to {interval.high:.0%})" if interval else ""
    good = f"{figures.good_first_pass} of {figures.produced} inspected"
    yield _row("first pass", f"{_percent(figures.first_pass_yield)}, {good}{reach}")
    yield _row("rework", f"{_percent(figures.rework_ratio)}, {figures.reworked} pressed again")
    yield _row("scrap", f"{_percent(figures.scrap_ratio)}, {figures.spoiled} spoiled")


def _percent(ratio: float | None) -> str:
    return "no figure yet" if ratio is None else f"{ratio:.1%}"


def _ranking(tallies: Sequence[Tally]) -> str:
    return ", ".join(f"{tally.name} {tally.count}" for tally in tallies)


def _lift_rows(review: Review) -> Iterator[str]:
    """Those of the batch, and of all batches on its fabric where there are several."""
    yield from (_row("lifted", _lift_rate(rate)) for rate in review.lift_rates)
    lifts = review.lifts_on_fabric
    if lifts is not None and lifts.batches > 1:
        yield f"{lifts.fabric}, over {lifts.batches} batches:"
        yield from (_row("lifted", _lift_rate(rate)) for rate in lifts.rates)


def _lift_rate(rate: LiftRate) -> str:
    reach = f"95 % sure: {rate.interval.low:.0%} to {rate.interval.high:.0%}"
    return f"{rate.material}, peeled {rate.how.value}: {rate.lifted} of {rate.of}, {rate.share:.0%} ({reach})"


def _garment_rows(review: Review) -> Iterator[str]:
    for line in review.garments:
        wearer = " ".join(word for word in (line.number, line.wearer) if word)
        state = "taken out" if line.taken_out else line.state.value
        told = f"{line.n:>4}  {spoken(line.code)}  {line.size:<4}  {state:<9}  {wearer}".rstrip()
        yield "  ".join([told, *remedy_words(line)])


def _row(name: str, text: str) -> str:
    return f"  {name:<12} {text}"

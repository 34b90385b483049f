"""The fold: a garment's events, in order, become what it is doing now."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from uuid import UUID

from models.errors import IllegalEventError
from models.garment.cycle import State, next_state
from models.garment.events import (
    Closed,
    Completed,
    Event,
    ExtraAdded,
    ExtraReason,
    FindingKind,
    Found,
    Happening,
    Held,
    Opened,
    Passed,
    Peeled,
    Replanned,
    Rested,
    RestEnded,
    Spoiled,
    TakenBack,
    TakenUp,
    kind_of,
)
from models.job.job import Job, Peel
from models.job.sizes import job_for_size
from models.plan.plan import PEEL_ORDER, Hit, PeelStep, Plan
from models.planning.assembly.at_press import as_ordered
from models.planning.hits.piece_record import PieceRecord, after_hit, after_lift, after_replacement, untouched
from models.recipe.heat_finding import HeatFinding
from models.recipe.piece_rest import PieceRest
from models.recipe.places import Place


@dataclass(frozen=True, slots=True)
class Recipe:
    """What a batch froze when it was loaded: the job with every setting in it, the hit sequence, and what was
    estimated of its heat.
    """

    job: Job
    plan: Plan
    heat_findings: tuple[HeatFinding, ...] = ()
    rests: tuple[PieceRest, ...] = ()

    def of_size(self, size: str) -> "Recipe":
        """What a garment of `size` is made by: the sides as they are in it, and its own hits."""
        findings = tuple(finding for finding in self.heat_findings if finding.is_about(size))
        rests = tuple(rest for rest in self.rests if rest.is_about(size))
        return Recipe(job_for_size(self.job, size), self.plan.of_size(size), findings, rests)


@dataclass(frozen=True, slots=True)
class Step:
    """One rung of the garment's ladder: a planned hit, or an extra one with its reason."""

    label: str
    hit: Hit
    extra: ExtraReason | None = None


@dataclass(frozen=True, slots=True)
class Progress:
    """Where a garment stands. `position` is the step in hand, or the last one once it is complete, and
    `before_hit` are the records from before its hit.

    `faults` are the pieces with what was found on them and no extra hit has mended since.
    """

    recipe: Recipe
    state: State
    steps: tuple[Step, ...]
    position: int
    records: dict[str, PieceRecord]
    before_hit: dict[str, PieceRecord]
    peeled: frozenset[str] = frozenset()
    before_hold: State | None = None
    closed_at: datetime | None = None
    opened_at: datetime | None = None  # for the last time, as far as it is known
    warm_at: datetime | None = None  # when what peels warm can come off
    rest_ends_at: datetime | None = None
    rested: bool = False  # since the press last went up
    rest_place: Place | None = None  # where it rests, or has rested since then
    findings: tuple[Found, ...] = ()
    open_findings: tuple[Found, ...] = ()
    faults: frozenset[tuple[str, FindingKind]] = frozenset()
    reason: str = ""  # why it is held or spoiled
    station: str = ""
    seq: int = 0

    @property
    def step(self) -> Step:
        return self.steps[self.position]

    @property
    def hit(self) -> Hit:
        """The step's hit as it is ordered at the press: under a cover sheet where a piece wants one."""
        return as_ordered(self.step.hit, self.recipe.job, self.before_hit)

    @property
    def is_last_step(self) -> bool:
        return self.position == len(self.steps) - 1

    @property
    def repressed(self) -> bool:
        """Whether a piece was pressed again or anew, which makes it rework."""
        return any(step.extra in {ExtraReason.REPRESS, ExtraReason.REPLACEMENT} for step in self.steps)

    @property
    def done_steps(self) -> int:
        return self.position + (1 if self.state == State.COMPLETE else 0)

    @property
    def to_peel(self) -> tuple[PeelStep, ...]:
        """The carriers that come off now, hot ones first."""
        job = self.recipe.job
        waiting = [
            PeelStep(piece.id, job.material(piece.material).peel)
            for piece in job.pieces
            if job.material(piece.material).carrier
            and self.records[piece.id].down
            and piece.id not in self.peeled
        ]
        return tuple(sorted(waiting, key=lambda step: PEEL_ORDER.index(step.when)))

    @property
    def faulty(self) -> frozenset[str]:
        """Return the pieces that are not right, whether somebody still has to decide or has let them go."""
        return frozenset(piece for piece, _ in self.faults)

    @property
    def ready_at(self) -> datetime | None:
        """When the carriers that it waits for can come off, cold or warm; None if it waits for none."""
        waits_warm = self.state == State.PEELING and self.next_peel == Peel.WARM
        return self.warm_at if waits_warm else self.rest_ends_at

    @property
    def next_peel(self) -> Peel:
        """How the next carriers come off; NONE where nothing is left to peel."""
        return self.to_peel[0].when if self.to_peel else Peel.NONE


def begin(recipe: Recipe) -> Progress:
    """A garment that nobody has taken up yet."""
    steps = tuple(Step(str(hit.n), hit) for hit in recipe.plan.hits)
    records = untouched(recipe.job)
    return Progress(recipe, State.IDLE, steps, 0, records, records)


def fold(recipe: Recipe, events: Sequence[Event]) -> Progress:
    """The progress after all `events`, taken-back taps left out.

    Raises IllegalEventError where an event does not fit the one before it: a log that no store of ours wrote.
    """
    progress = begin(recipe)
    for event in effective(events):
        progress = advance(progress, event)
    return replace(progress, seq=events[-1].seq if events else 0)


def effective(events: Iterable[Event]) -> list[Event]:
    """The events that count, in order: those of taken-back taps are left out, and so are the takings-back.

    Raises IllegalEventError where a tap is taken back that is not the last one that counts.
    """
    standing: list[Event] = []
    for event in events:
        if not isinstance(event.what, TakenBack):
            standing.append(event)
            continue
        if not standing or standing[-1].tap != event.what.tap:
            raise IllegalEventError("only the last tap can be taken back")
        standing = [earlier for earlier in standing if earlier.tap != event.what.tap]
    return standing


def last_happening(events: Iterable[Event]) -> Happening | None:
    """What the last tap that counts was about, and a taking-back would undo: a scan that came before it, or
    a finding that led to it, are told only where they stand alone.
    """
    standing = effective(events)
    tap = [event.what for event in standing if event.tap == standing[-1].tap]
    telling = (what for what in tap if not isinstance(what, TakenUp | Found))
    return next(telling, tap[0] if tap else None)


def last_tap(events: Iterable[Event]) -> UUID | None:
    """The tap that a taking-back would take back now."""
    standing = effective(events)
    return standing[-1].tap if standing else None


def before_last_tap(recipe: Recipe, events: Iterable[Event]) -> Progress:
    """Where the garment would stand if its last tap were taken back."""
    standing = effective(events)
    return fold(recipe, [event for event in standing if event.tap != standing[-1].tap])


def advance(progress: Progress, event: Event) -> Progress:
    """The progress after one more event; `progress` itself stays as it was.

    Raises IllegalEventError where the transition table does not allow the event, or where the steps do not:
    passing on from the last one, completing before it, adding no hit at all.
    """
    state = next_state(progress.state, kind_of(event.what), progress.before_hold)
    _refuse_missteps(progress, event)
    moved = replace(
        progress,
        state=state,
        seq=event.seq,
        station=event.station,
    )
    return _with_effect(moved, progress, event)


def _refuse_missteps(progress: Progress, event: Event) -> None:
    match event.what:
        case Passed() if progress.is_last_step:
            raise IllegalEventError("after its last hit a garment is complete; no hit follows")
        case Completed() if not progress.is_last_step:
            raise IllegalEventError("a garment with hits still to come cannot be complete")
        case ExtraAdded(hits=()):
            raise IllegalEventError("no extra hits were given")


def _with_effect(moved: Progress, before: Progress, event: Event) -> Progress:
    match event.what:
        case Closed():
            return replace(moved, closed_at=event.at)
        case Opened() as opened:
            return _opened(moved, before, event.at, opened)
        case Peeled(pieces):
            return replace(moved, peeled=before.peeled | set(pieces))
        case Rested(rest_s, place):
            return replace(moved, rest_ends_at=event.at + timedelta(seconds=rest_s), rest_place=place)
        case RestEnded():
            return replace(moved, rest_ends_at=None, rested=True)
        case Passed():
            onward = replace(moved, position=before.position + 1, before_hit=before.records)
            return replace(onward, open_findings=())
        case Completed():
            return replace(moved, open_findings=())
        case Found() as found:
            return replace(
                moved,
                findings=(*before.findings, found),
                open_findings=(*before.open_findings, found),
                faults=before.faults | {(piece, found.kind) for piece in found.pieces},
            )
        case ExtraAdded() | Replanned() as planned:
            return _with_steps(moved, before, planned)
        case Held(reason):
            return replace(moved, reason=reason, before_hold=before.state)
        case Spoiled(reason):
            return replace(moved, reason=reason)
        case _:
            return replace(moved, reason="")


def _opened(moved: Progress, before: Progress, at: datetime, opened: Opened) -> Progress:
    """The press went up before the tap that tells of it: what waits counts from the opening."""
    records = after_hit(before.records, before.recipe.job, before.step.hit, opened.seconds)
    closed_at = before.closed_at or at
    opened_at = min(at, closed_at + timedelta(seconds=opened.seconds))
    warm_at = None if opened.warm_s is None else opened_at + timedelta(seconds=opened.warm_s)
    return replace(
        moved,
        records=records,
        closed_at=None,
        opened_at=opened_at,
        warm_at=warm_at,
        rested=False,
        rest_place=None,
    )


def _with_steps(moved: Progress, before: Progress, planned: ExtraAdded | Replanned) -> Progress:
    if isinstance(planned, Replanned):
        return replace(moved, steps=_replanned(before, planned.rest))
    return _with_extra(moved, before, planned)


def _with_extra(moved: Progress, before: Progress, extra: ExtraAdded) -> Progress:
    """The extra hits stand right after the step in hand, and the first of them comes next."""
    root = before.step.label.split("+")[0]
    earlier = sum(1 for step in before.steps if step.label.startswith(f"{root}+"))
    added = tuple(
        Step(f"{root}+{earlier + k}", hit, extra.reason) for k, hit in enumerate(extra.hits, start=1)
    )
    place = before.position + 1
    ahead = before.steps[place:] if extra.rest is None else _replanned(before, extra.rest)[place:]
    lifted = after_lift(before.records, dict(extra.needs_s))
    records = after_replacement(lifted, before.recipe.job, extra.replaced)
    return replace(
        moved,
        steps=(*before.steps[:place], *added, *ahead),
        position=place,
        records=records,
        before_hit=records,
        peeled=before.peeled.difference(extra.replaced),
        open_findings=(),
        faults=before.faults - _mended(before, extra),
    )


def _mended(before: Progress, extra: ExtraAdded) -> frozenset[tuple[str, FindingKind]]:
    """Return the faults that the extra hits mend: all of a new piece, of a lifted one what was found last."""
    lifted = {piece for piece, _ in extra.needs_s} if before.open_findings else set()
    return frozenset(
        (piece, kind)
        for piece, kind in before.faults
        if piece in extra.replaced or (piece in lifted and kind == before.open_findings[-1].kind)
    )


def _replanned(before: Progress, rest: tuple[Hit, ...]) -> tuple[Step, ...]:
    place, root = before.position + 1, int(before.step.label.split("+")[0])
    return (*before.steps[:place], *_steps_ahead(before.steps[place:], rest, root))


def _steps_ahead(steps: tuple[Step, ...], rest: tuple[Hit, ...], done: int) -> tuple[Step, ...]:
    """The steps that were ahead, as far as they stay; where others take their place, numbered on."""
    before = {_closing_of(step.hit): step for step in steps}
    stay = [before.get(_closing_of(hit)) for hit in rest]
    return tuple(
        Step(
            step.label if step and all(stay) else str(n),
            hit,
            step.extra if step else None,
        )
        for n, (hit, step) in enumerate(zip(rest, stay, strict=True), start=done + 1)
    )


def _closing_of(hit: Hit) -> tuple[object, ...]:
    """What makes it the same closing of the press, whatever it turns out to do."""
    return (hit.n, hit.side, hit.platen, hit.temperature_c, hit.pressure, hit.dwell_s, hit.lay)

"""The review of a batch: its garments counted, its key figures, and its findings ranked."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cache
from typing import Protocol

from models.garment.cycle import ENDED, State
from models.garment.events import Completed, Event, Found, Happening, Opened, Spoiled, TakenUp
from models.garment.progress import Progress, Recipe, effective, fold
from models.job.job import Job
from models.learning.lift_rates import LiftRate, PeelObservation, lift_rates
from models.learning.observations import peel_observations
from models.quality.key_figures import KeyFigures, key_figures_of
from models.quality.place import place_of


class OnTheRoster(Protocol):
    """What the review reads of a stored garment besides its log."""

    @property
    def n(self) -> int: ...
    @property
    def code(self) -> str: ...
    @property
    def size(self) -> str: ...
    @property
    def wearer(self) -> str: ...
    @property
    def number(self) -> str: ...
    @property
    def remake_of(self) -> str: ...
    @property
    def remade_as(self) -> str: ...
    @property
    def taken_out(self) -> str: ...


@dataclass(frozen=True, slots=True)
class GarmentLine:
    """One garment of the list. Hits done and extra hits are counted as rungs of its ladder.

    `remake_of` and `remade_as` are tag codes, `taken_out` is the reason; each is empty where there is none.
    `faulty` are the pieces that were found not to be right and were not mended.
    """

    n: int
    code: str
    size: str
    wearer: str
    number: str
    state: State
    hits_done: int
    extra_hits: int
    findings: tuple[Found, ...]
    pressed_s: int
    first_taken_up_at: datetime | None
    ended_at: datetime | None
    remake_of: str = ""
    remade_as: str = ""
    taken_out: str = ""
    faulty: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Tally:
    """How often one cause, material or place stands among the findings."""

    name: str
    count: int


@dataclass(frozen=True, slots=True)
class LiftsOnFabric:
    """The lift rates over so many batches on one fabric, the one under review among them."""

    fabric: str
    batches: int
    rates: tuple[LiftRate, ...]


@dataclass(frozen=True, slots=True)
class Review:
    """All that the review shows. `by_size` lists the sizes as the roster first names them.

    A garment that was taken out counts in neither `by_state` nor `by_size`. The key figures count all that
    was produced, whatever became of its order.
    A finding counts once in `by_kind`; in `by_material` and `by_place` it counts once for each of its pieces.
    """

    garments: tuple[GarmentLine, ...]
    by_state: dict[State, int]
    by_size: dict[str, dict[State, int]]
    figures: KeyFigures
    by_kind: tuple[Tally, ...]
    by_material: tuple[Tally, ...]
    by_place: tuple[Tally, ...]
    lift_rates: tuple[LiftRate, ...] = ()  # their materials by label, as in `by_material`
    lifts_on_fabric: LiftsOnFabric | None = None

    @property
    def taken_out(self) -> int:
        return sum(bool(line.taken_out) for line in self.garments)

    @property
    def remade(self) -> int:
        """Spoiled garments that were made again."""
        return sum(bool(line.remade_as) for line in self.garments)

    @property
    def ordered(self) -> int:
        """Garments that are asked for: one made again is no further order, one taken out is none any more.

        ISO 22400-2 calls it the planned order quantity.
        """
        return sum(not line.remake_of for line in self.garments) - self.taken_out


def review_of(recipe: Recipe, garments: Iterable[tuple[OnTheRoster, Sequence[Event]]]) -> Review:
    """The review of a batch from its garments and their whole logs; taken-back taps do not count.

    Raises IllegalEventError where a log does not fold.
    """
    of_size = cache(recipe.of_size)
    folded = [(row, effective(log), fold(of_size(row.size), log)) for row, log in garments]
    lines = tuple(_line(row, events, progress) for row, events, progress in folded)
    found = [finding for line in lines for finding in line.findings]
    where = [
        (progress.recipe.job, progress.recipe.job.piece(piece))
        for _, _, progress in folded
        for finding in progress.findings
        for piece in finding.pieces
    ]
    return Review(
        garments=lines,
        by_state=_by_state(lines),
        by_size={size: _by_state(of_size) for size, of_size in _sizes(lines).items()},
        figures=key_figures_of(progress for _, _, progress in folded),
        by_kind=ranked(finding.kind.value for finding in found),
        by_material=ranked(_material_label(job, piece.material) for job, piece in where),
        by_place=ranked(place_of(job, piece) for job, piece in where),
        lift_rates=lift_rates(labelled_peels(recipe, (events for _, events, _ in folded))),
    )


def ranked(names: Iterable[str]) -> tuple[Tally, ...]:
    """The names with their counts, the most frequent first, equals by name."""
    counts = sorted(Counter(names).items(), key=lambda item: (-item[1], item[0]))
    return tuple(Tally(name, count) for name, count in counts)


def labelled_peels(recipe: Recipe, logs: Iterable[Sequence[Event]]) -> Iterator[PeelObservation]:
    """How each piece was really peeled, which may be otherwise than planned, its material by label."""
    for log in logs:
        for seen in peel_observations(recipe, log):
            yield replace(seen, material=_material_label(recipe.job, seen.material))


def _line(row: OnTheRoster, events: Sequence[Event], progress: Progress) -> GarmentLine:
    return GarmentLine(
        n=row.n,
        code=row.code,
        size=row.size,
        wearer=row.wearer,
        number=row.number,
        state=progress.state,
        hits_done=progress.done_steps,
        extra_hits=sum(step.extra is not None for step in progress.steps),
        findings=progress.findings,
        pressed_s=sum(event.what.seconds for event in events if isinstance(event.what, Opened)),
        first_taken_up_at=next(iter(_instants(events, TakenUp)), None),
        ended_at=_instants(events, Completed, Spoiled)[-1] if progress.state in ENDED else None,
        remake_of=row.remake_of,
        remade_as=row.remade_as,
        taken_out=row.taken_out,
        faulty=progress.faulty,
    )


def _instants(events: Iterable[Event], *kinds: type[Happening]) -> list[datetime]:
    return [event.at for event in events if isinstance(event.what, kinds)]


def _by_state(lines: Iterable[GarmentLine]) -> dict[State, int]:
    counts = Counter(line.state for line in lines if not line.taken_out)
    return {state: counts[state] for state in State}


def _sizes(lines: Iterable[GarmentLine]) -> dict[str, list[GarmentLine]]:
    sizes: dict[str, list[GarmentLine]] = {}
    for line in lines:
        sizes.setdefault(line.size, []).append(line)
    return sizes


def _material_label(job: Job, key: str) -> str:
    return job.material(key).label

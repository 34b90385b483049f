"""What went wrong on one garment, and what is planned against it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from models.job.job import Job
from models.plan.plan import Hit
from models.planning.hits.piece_record import PieceRecord, Records, after_hit, after_lift, after_replacement

Needs = Mapping[str, tuple[int, ...]]
"""For each piece, the seconds that each of its parts wants of extra hits."""


@dataclass(frozen=True, slots=True)
class Trouble:
    """`lifted_s`: the counted seconds that each lifted piece wants again. `replaced`: the pieces that are off
    the garment and start anew. `short_s`: what an early opening left out, part by part.
    """

    lifted_s: Mapping[str, int] = field(default_factory=dict)
    replaced: tuple[str, ...] = ()
    short_s: Needs = field(default_factory=dict)

    @property
    def pieces(self) -> set[str]:
        return {*self.lifted_s, *self.replaced, *self.short_s}


@dataclass(frozen=True, slots=True)
class Mending:
    """The extra hits that come next; `rest`, where it is not None, takes the place of the hits ahead.

    `is_fewest` is said only where it is proved that no fewer extra hits do, on top of hits ahead that stay.
    """

    hits: tuple[Hit, ...]
    rest: tuple[Hit, ...] | None = None
    is_fewest: bool = False


@dataclass(frozen=True, slots=True)
class Pressed:
    """A garment as it really is: the records of its pieces, those whose carrier is off, those that lifted."""

    job: Job
    records: Records
    peeled: frozenset[str]
    lifted: frozenset[str] = frozenset()

    def after(self, hit: Hit) -> "Pressed":
        records = after_hit(self.records, self.job, hit, hit.dwell_s)
        return replace(self, records=records, peeled=self.peeled | {step.piece for step in hit.peel})

    def after_trouble(self, trouble: Trouble) -> "Pressed":
        records = after_replacement(after_lift(self.records, trouble.lifted_s), self.job, trouble.replaced)
        peeled = self.peeled.difference(trouble.replaced)
        return Pressed(self.job, records, peeled, frozenset(trouble.lifted_s))


def missing_s(record: PieceRecord) -> tuple[int, ...]:
    """What each part misses until it has its seconds."""
    return tuple(max(0, record.needed_s - seconds) for seconds in record.counted_s)

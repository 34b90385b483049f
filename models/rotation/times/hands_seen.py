"""How long hands really took: read off the logs of the garments.

Between two taps at a station its person has done what the second tap tells of. Where one garment is worked
while another is under the press, the taps of all of them stand in one row, so that no second counts twice.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from models.garment.cycle import State
from models.garment.events import (
    AllPeeled,
    Closed,
    Completed,
    Event,
    ExtraAdded,
    Found,
    Opened,
    Passed,
    Peeled,
    Rested,
    RestEnded,
)
from models.garment.progress import Progress, Recipe, advance, begin, effective
from models.job.job import Peel
from models.plan.plan import Hit
from models.recipe.piece_rest import longest_rest
from models.rotation.times.expected import Waits, expected_visit
from models.rotation.times.pace import Hand, HandTime

PAUSE_S = 300.0
"""A longer time between two taps is a pause and tells nothing: our own choice."""
UNKNOWN_S = float("inf")


@dataclass(frozen=True, slots=True)
class Mark:
    """One tap: where and when, and what hands did before it; `ends` where that was the last of it.

    `expected_s` is for the whole of the work that ends here. Nobody did it before `cold_at`: it rested.
    """

    at: datetime
    station: str
    hand: Hand | None
    ends: bool = False
    expected_s: float = 0.0
    cold_at: datetime | None = None


def marks_of(recipe: Recipe, log: Sequence[Event]) -> tuple[Mark, ...]:
    """The taps of one garment's log, those that were taken back left out.

    Raises IllegalEventError where the log does not fold.
    """
    return tuple(_marks(recipe, effective(log)))


def hand_times(garments: Iterable[Sequence[Mark]]) -> tuple[HandTime, ...]:
    """What all hands took, of garments with their marks, in the order in which the work ended."""
    by_station: dict[str, list[tuple[datetime, int, Mark]]] = {}
    for n, marks in enumerate(garments):
        for mark in marks:
            by_station.setdefault(mark.station, []).append((mark.at, n, mark))
    rows = [sorted(row, key=lambda entry: entry[:2]) for row in by_station.values()]
    ended = [pair for row in rows for pair in _ended(row)]
    return tuple(time for _, time in sorted(ended, key=lambda pair: pair[0]))


def _marks(recipe: Recipe, events: Sequence[Event]) -> Iterator[Mark]:
    progress, opened, is_off_told = begin(recipe), None, False
    for event in events:
        hand, ends = _hand_of(event, progress)
        expected_s = _expected_s(progress, hand, is_off_told) if hand is not None and ends else 0.0
        yield Mark(event.at, event.station, hand, ends, expected_s, _cold_at(event, progress))
        if isinstance(event.what, Opened):
            opened, is_off_told = event, False
        elif hand == Hand.OFF:  # with nothing to peel it is told at the opening, before anybody did it
            is_off_told = not (
                isinstance(event.what, AllPeeled) and opened is not None and event.tap == opened.tap
            )
        elif _comes_off_warm(event, progress):  # it was taken off within the wait
            is_off_told = True
        progress = advance(progress, event)


def _comes_off_warm(event: Event, progress: Progress) -> bool:
    at_once = progress.state == State.PEELING and not progress.rested
    return at_once and isinstance(event.what, Peeled) and progress.next_peel == Peel.WARM


def _cold_at(event: Event, progress: Progress) -> datetime | None:
    """Until when nobody could peel: the rest's end, or when the carriers were warm as was estimated."""
    match event.what:
        case RestEnded():
            return progress.rest_ends_at
        case Peeled(pieces, _, place) if place is not None and progress.opened_at is not None:
            wait = longest_rest(progress.recipe.rests, pieces, Peel.WARM, place)
            return None if wait is None else progress.opened_at + timedelta(seconds=wait.median_s)
        case _:
            return None


def _expected_s(progress: Progress, hand: Hand, is_off_told: bool) -> float:
    """Of the work that ends now; a check holds the taking off where no tap told of that."""
    visit = expected_visit(progress.recipe.job, progress.hit, Waits())
    match hand:
        case Hand.LAY:
            return visit.lay_s
        case Hand.OFF:
            return visit.off_s
        case Hand.FINISH:
            return visit.finish_s + (0.0 if is_off_told else visit.off_s)


def _hand_of(event: Event, progress: Progress) -> tuple[Hand | None, bool]:
    """What hands did before this event, and whether they were through with it."""
    match event.what:
        case Closed():
            return Hand.LAY, True
        case Peeled() if _comes_off_warm(event, progress):
            return Hand.FINISH, False
        case Peeled() if progress.state == State.PEELING and not progress.rested:
            return Hand.OFF, any(step.when == Peel.WARM for step in progress.to_peel)
        case RestEnded() | Peeled():
            return Hand.FINISH, False
        case Found() if progress.state == State.CHECKING:
            return Hand.FINISH, False
        case Rested() if progress.state == State.PEELING and not progress.rested:
            return (None, False) if _waits_warm(progress.hit) else (Hand.OFF, True)
        case AllPeeled() if not progress.rested and not _waits_warm(progress.hit):
            return Hand.OFF, True
        case Passed() | Completed() | ExtraAdded():
            return Hand.FINISH, True
        case _:
            return None, False


def _waits_warm(hit: Hit) -> bool:
    return any(step.when == Peel.WARM for step in hit.peel)


def _ended(row: Sequence[tuple[datetime, int, Mark]]) -> Iterator[tuple[datetime, HandTime]]:
    """The works that end along one station's row of taps; each garment's work is added up until it ends."""
    spent: dict[tuple[int, Hand], float] = {}
    before: datetime | None = None
    for at, garment, mark in row:
        took_s = _took_s(mark, before)
        before = at
        if mark.hand is None:
            continue
        key = (garment, mark.hand)
        spent[key] = spent.get(key, 0.0) + took_s
        if mark.ends:
            total_s = spent.pop(key)
            if 0 < total_s < UNKNOWN_S and mark.expected_s > 0:
                yield at, HandTime(mark.hand, mark.expected_s, total_s)


def _took_s(mark: Mark, before: datetime | None) -> float:
    """Since the tap before, or since it was cold; not known after a pause, and where it was called early."""
    if before is None:
        return UNKNOWN_S
    begun = before if mark.cold_at is None else max(before, mark.cold_at)
    took_s = (mark.at - begun).total_seconds()
    return took_s if 0 <= took_s <= PAUSE_S else UNKNOWN_S

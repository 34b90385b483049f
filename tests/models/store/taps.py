"""What tests of the store do with it: load the sample batch, and tap at random within the rules."""

from collections.abc import Callable
from dataclasses import replace
from random import Random
from uuid import UUID

from models.garment.cycle import TRANSITIONS, EventKind
from models.garment.events import (
    AllPeeled,
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
    Released,
    Replanned,
    Rested,
    RestEnded,
    Spoiled,
    TakenUp,
)
from models.garment.progress import Progress, advance
from models.job.job import GarmentOrder, Peel
from models.store.records import BatchHead, StoredGarment
from models.store.store import Store
from tests.held_clock import MORNING
from tests.sample_jobs import crew_vest_job, crew_vest_plan

NOBODYS = UUID(int=0)
FOUND = Found(FindingKind.LIFT, ("anchor",))

MAKE: dict[EventKind, Callable[[Progress], Happening]] = {
    EventKind.TAKEN_UP: lambda _: TakenUp(),
    EventKind.CLOSED: lambda progress: Closed(progress.hit.dwell_s),
    EventKind.OPENED: lambda progress: Opened(progress.hit.dwell_s - 1, judged=True),
    EventKind.PEELED: lambda _: Peeled(("wave",), Peel.HOT),
    EventKind.RESTED: lambda _: Rested(60),
    EventKind.REST_ENDED: lambda _: RestEnded(),
    EventKind.ALL_PEELED: lambda _: AllPeeled(),
    EventKind.PASSED: lambda _: Passed(),
    EventKind.COMPLETED: lambda _: Completed(),
    EventKind.FOUND: lambda _: FOUND,
    EventKind.EXTRA_ADDED: lambda progress: ExtraAdded(
        ExtraReason.REPRESS, (progress.hit,), (("anchor", 15),)
    ),
    EventKind.REPLANNED: lambda progress: Replanned((progress.hit,)),
    EventKind.HELD: lambda _: Held("foam is short"),
    EventKind.RELEASED: lambda _: Released(),
    EventKind.SPOILED: lambda _: Spoiled("scorched"),
}


def load_vests(store: Store, reference: str = "LC-0147", *, sizes: tuple[str, ...] = ("M", "L")) -> BatchHead:
    """The sample batch, one garment for each of `sizes`."""
    garments = tuple(GarmentOrder(n, size, f"Wearer {n}", str(n)) for n, size in enumerate(sizes, start=1))
    return store.add_batch(replace(crew_vest_job(), reference=reference, garments=garments), crew_vest_plan())


def first_garment(store: Store, reference: str = "LC-0147") -> StoredGarment:
    return store.garment(store.garments(reference)[0].code)


def tap(store: Store, garment: StoredGarment, *what: Happening, station: str = "press 1") -> StoredGarment:
    return store.record(garment, what, station, "Ines")


def random_tap(progress: Progress, random: Random) -> list[Happening]:
    """One to three things that may happen next, by the table; none for a spoiled garment."""
    what: list[Happening] = []
    for _ in range(random.randint(1, 3)):
        kinds = _possible(progress)
        if not kinds:
            break
        what.append(MAKE[random.choice(kinds)](progress))
        event = Event(NOBODYS, progress.seq + 1, NOBODYS, MORNING, "", "", what[-1])
        progress = advance(progress, event)
    return what


def _possible(progress: Progress) -> list[EventKind]:
    wrong_end = EventKind.PASSED if progress.is_last_step else EventKind.COMPLETED
    return [kind for kind in TRANSITIONS[progress.state] if kind != wrong_end]

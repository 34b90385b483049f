"""One function a user action: it works out what follows, and stores it as one tap.

Every action takes the garment as it was last read and gives it back as it is now. Where another station has
worked it in between, the store raises GarmentMovedError and nothing is stored.
"""

import random
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from math import ceil

from models.batch.standing import Standing
from models.clock import Clock
from models.errors import NoExtraHitError, NoReasonError
from models.floor.closings import refuse_second
from models.floor.mending import missing_seconds, remainder, replacing, repressing, rest_anew, seconds_again
from models.floor.openings import refuse_impossible
from models.floor.resting import Rest, cold_rest, keys_of, warm_wait
from models.floor.reviewing import review_batch
from models.floor.this_run import ThisRun
from models.garment.cycle import ENDED, State
from models.garment.events import (
    AllPeeled,
    Closed,
    Completed,
    ExtraAdded,
    ExtraReason,
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
from models.garment.progress import Progress, before_last_tap
from models.job.job import Job, Peel
from models.learning.learned import Belief, RestKey, beliefs_from
from models.plan.plan import Plan
from models.planning.hits.piece_record import after_hit
from models.quality.review import Review
from models.recipe.heat_finding import HeatFinding
from models.recipe.piece_rest import PieceRest
from models.recipe.places import REST_PLACE, Place
from models.store.errors import BatchNotOpenError, GarmentMovedError
from models.store.records import BatchHead, StoredGarment
from models.store.store import Store
from models.tags.code import read_code, spoken


@dataclass(frozen=True, slots=True)
class Seat:
    """Who works where, which stands on every event, and where garments rest there."""

    station: str
    person: str
    rests: Place = REST_PLACE


@dataclass(frozen=True, slots=True)
class PickedUp:
    """A garment in hand; `from_station` had it before, empty if no other station did.

    It `is_left` where it was if another station has it under its press.
    """

    garment: StoredGarment
    from_station: str
    is_left: bool = False


class FloorWork:
    """The actions of one station on the garments in the store."""

    def __init__(self, store: Store, clock: Clock, seat: Seat) -> None:
        self.store = store
        self.clock = clock
        self.seat = seat
        self.this_run = ThisRun(shares_a_clock=store.is_on_server)
        self._beliefs: dict[RestKey, Belief] = {}  # about the rests of the garment that was found last

    def add_batch(
        self,
        job: Job,
        plan: Plan,
        heat_findings: tuple[HeatFinding, ...] = (),
        piece_rests: tuple[PieceRest, ...] = (),
    ) -> BatchHead:
        return self.store.add_batch(job, plan, heat_findings, piece_rests)

    def review(self, batch: BatchHead) -> Review:
        """The batch's figures, findings and garments, counted from its whole log."""
        return review_batch(self.store, batch)

    def find(self, typed: str) -> StoredGarment:
        """The garment whose tag was scanned or typed; what all stations have learned of its rests is read.

        Raises the refusals of models.tags.code, UnknownCodeError where no garment has the code, and
        BatchNotOpenError where its batch was taken back.
        """
        garment = self.store.garment(read_code(typed, self.store.shop_code))
        if garment.batch.standing == Standing.WITHDRAWN:
            raise BatchNotOpenError(self._void_tag(garment))
        places = {self.seat.rests, self._place_of(garment.progress)}
        self._beliefs = beliefs_from(self.store.rests(keys_of(garment.progress.recipe, places)))
        return garment

    def pick_up(self, typed: str, *, from_press: bool = False) -> PickedUp:
        """Find the garment whose tag was scanned or typed, and take it up.

        Under another station's closed press it stays with that station, which counts its seconds and calls;
        unless it is meant to be taken `from_press`. Raises what `find` raises.
        """
        garment = self.find(typed)
        other = garment.progress.station
        if garment.progress.state == State.PRESSING and other != self.seat.station and not from_press:
            return PickedUp(garment, "", is_left=True)
        try:
            taken = self.take_up(garment)
        except GarmentMovedError:  # another station scanned it in the same moment
            taken = self.take_up(self.find(typed))
        has_moved = taken.progress.seq != garment.progress.seq
        return PickedUp(taken, other if has_moved and other != self.seat.station else "")

    def _void_tag(self, garment: StoredGarment) -> str:
        """Whose doing it was that the tag of a withdrawn batch holds no more."""
        *_, gone = self.store.stored_batch(garment.batch.reference).log
        by = " at ".join(who for who in (gone.person, gone.station) if who)
        return (
            f"{spoken(garment.row.code)} is a tag of {garment.batch.name}, a batch that was taken back "
            f"by {by}; do not press this garment, throw the tag away"
        )

    def take_up(self, garment: StoredGarment) -> StoredGarment:
        """The garment in this station's hands; one that is held or has ended stays as it is, and so does one
        that was taken out of its batch.
        """
        return self._store_tap(garment, TakenUp()) if self.can_take_up(garment) else garment

    def can_take_up(self, garment: StoredGarment) -> bool:
        """Return whether taking the garment up would change anything: it goes on, and is not in hand here."""
        state, is_here = garment.progress.state, garment.progress.station == self.seat.station
        if garment.row.taken_out or state in ENDED or state == State.HELD:
            return False
        return state == State.IDLE or not is_here

    def close(self, garment: StoredGarment, at: datetime | None = None) -> StoredGarment:
        """The pieces are laid and the press came down for the hit's dwell, at `at` or now.

        Raises PressInUseError.
        """
        refuse_second(self.store, self.seat.station, garment)
        begun = _begun(garment.progress.state)
        return self._store_tap(garment, *begun, Closed(garment.progress.hit.dwell_s), at=at)

    def open(
        self, garment: StoredGarment, seconds: int, *, judged: bool = False, closed_s: int | None = None
    ) -> StoredGarment:
        """The press went up after `seconds`. What misses seconds is planned in at once where nothing
        has to be peeled first; otherwise after the peel, at the check.

        `closed_s` is what this run of the app has counted since the closing, if it has. Raises
        ImpossibleSecondsError for 0 s, and for more seconds than that.
        """
        progress = garment.progress
        refuse_impossible(seconds, closed_s)
        records = after_hit(progress.records, progress.recipe.job, progress.step.hit, seconds)
        opened = replace(progress, records=records)
        warm = self.warm_wait_of(opened)
        taps: list[Happening] = [Opened(seconds, judged, warm.seconds if warm is not None else None)]
        if not opened.to_peel:
            taps.append(AllPeeled())
            taps.extend(self._remainder(opened))
        return self._store_tap(garment, *taps)

    def never_closed(self, garment: StoredGarment) -> StoredGarment:
        """The press never came down: all taps since the closing are taken back, and the closing too."""
        while garment.progress.state == State.PRESSING:
            garment = self.take_back(garment)
        return garment

    def peel(self, garment: StoredGarment, how: Peel) -> StoredGarment:
        """The next carriers came off `how` (a cold one may be tried warm); cold ones left over then rest."""
        progress = garment.progress
        planned = progress.next_peel
        pieces = tuple(step.piece for step in progress.to_peel if step.when == planned)
        left = replace(progress, peeled=progress.peeled | set(pieces))
        taps: list[Happening] = [RestEnded()] if progress.state == State.RESTING else []
        waited_at = self.seat.rests if planned == Peel.WARM else None
        taps.append(Peeled(pieces, how, waited_at))
        if left.next_peel == Peel.NONE:
            taps.append(AllPeeled())
        elif left.next_peel == Peel.COLD:
            taps.append(self._rested(left))
        return self._store_tap(garment, *taps)

    def rest(self, garment: StoredGarment) -> StoredGarment:
        """Off the press, to where garments rest, until its cold peels can come off."""
        return self._store_tap(garment, self._rested(garment.progress))

    def rest_on(self, garment: StoredGarment) -> StoredGarment:
        """It was called and is still warm: it rests to the end of its band, and that is an observation."""
        rest = self.rest_of(garment.progress)
        return self._store_tap(garment, Rested(rest.longer_s, rest.place))

    def rest_left_s(self, progress: Progress) -> int:
        """Whole seconds until it has rested, were it sent to rest now: a rest counts from the opening."""
        passed = self.clock.utc_now() - progress.opened_at if progress.opened_at else timedelta()
        return max(0, ceil(self.rest_of(progress).seconds - passed.total_seconds()))

    def rest_of(self, progress: Progress) -> Rest:
        """Where and how long the garment rests until the carriers that are left to peel come off cold."""
        pieces = [step.piece for step in progress.to_peel if step.when == Peel.COLD]
        return cold_rest(progress.recipe, pieces, self._beliefs, self._place_of(progress))

    def warm_wait_of(self, progress: Progress) -> Rest | None:
        """Where and how long it cools until the carriers that peel warm come off; None: not estimated."""
        pieces = [step.piece for step in progress.to_peel if step.when == Peel.WARM]
        return warm_wait(progress.recipe, pieces, self._beliefs, self.seat.rests)

    def waits_after(self, progress: Progress) -> tuple[Rest | None, Rest]:
        """The wait until warm and the rest until cold of all that this hit's carriers ask for."""
        recipe, peel = progress.recipe, progress.hit.peel
        warm, cold = ([step.piece for step in peel if step.when == when] for when in (Peel.WARM, Peel.COLD))
        place = self.seat.rests
        return warm_wait(recipe, warm, self._beliefs, place), cold_rest(recipe, cold, self._beliefs, place)

    def pass_check(self, garment: StoredGarment) -> StoredGarment:
        """All is down: the next hit follows, or the garment is complete.

        Hits ahead that a piece no longer bears are planned anew. Raises NoExtraHitError where they cannot be.
        """
        rest = rest_anew(garment.progress)
        if rest is None:
            return self._store_tap(garment, self._verdict(garment))
        return self._store_tap(garment, Replanned(rest), Passed() if rest else Completed())

    def press_again(self, garment: StoredGarment, found: Found, seconds: int | None = None) -> StoredGarment:
        """Stores the finding and the extra hits that mend it, with the operator's own `seconds` if given.

        Raises NoExtraHitError with the reason.
        """
        lifted_s = seconds_again(garment.progress.recipe.job, found.pieces, seconds)
        mending = repressing(garment.progress, lifted_s)
        extra = ExtraAdded(
            ExtraReason.REPRESS, mending.hits, tuple(sorted(lifted_s.items())), rest=mending.rest
        )
        return self._store_tap(garment, found, extra)

    def replace_pieces(self, garment: StoredGarment, found: Found) -> StoredGarment:
        """Stores the finding and the extra hits for which new pieces are laid in place of those found.

        Raises NoExtraHitError with the reason.
        """
        mending = replacing(garment.progress, found.pieces)
        extra = ExtraAdded(ExtraReason.REPLACEMENT, mending.hits, replaced=found.pieces, rest=mending.rest)
        return self._store_tap(garment, found, extra)

    def accept(self, garment: StoredGarment, found: Found) -> StoredGarment:
        """Stores the finding and lets the garment go on as it is."""
        return self._store_tap(garment, found, self._verdict(garment))

    def press_remainder(self, garment: StoredGarment) -> StoredGarment:
        """Plans in what an early opening left out. Raises NoExtraHitError with the reason."""
        return self._store_tap(garment, _remainder_added(garment.progress))

    def hold(self, garment: StoredGarment, reason: str, found: Found | None = None) -> StoredGarment:
        """Put it on hold. Raises NoReasonError if nobody says why."""
        return self._store_tap(garment, *_with(garment, found), Held(_said(reason, "held")))

    def release(self, garment: StoredGarment) -> StoredGarment:
        """The hold is over; a garment that had not been begun is begun by it."""
        return self._store_tap(garment, Released(), *_begun(garment.progress.before_hold))

    def spoil(self, garment: StoredGarment, reason: str, found: Found | None = None) -> StoredGarment:
        """Give it up. Raises NoReasonError if nobody says why."""
        return self._store_tap(garment, *_with(garment, found), Spoiled(_said(reason, "spoiled")))

    def take_back(self, garment: StoredGarment) -> StoredGarment:
        """The last tap does not count any more.

        Raises PressInUseError if that would put it back under a press that holds another garment by now.
        """
        before = before_last_tap(garment.progress.recipe, garment.log)
        if before.state == State.PRESSING and garment.progress.state != State.PRESSING:
            refuse_second(self.store, self.seat.station, replace(garment, progress=before))
        return self.store.take_back(garment, self.seat.station, self.seat.person)

    def _place_of(self, progress: Progress) -> Place:
        """Where the garment rests: where it was sent, or else where this station sends it."""
        return progress.rest_place or self.seat.rests

    def _rested(self, progress: Progress) -> Rested:
        return Rested(self.rest_left_s(progress), self._place_of(progress), counts_from_opening=True)

    def _remainder(self, opened: Progress) -> list[Happening]:
        if not missing_seconds(opened):
            return []
        try:
            return [_remainder_added(opened)]
        except NoExtraHitError:
            return []  # the check shows the reason and offers hold and spoil

    def _verdict(self, garment: StoredGarment) -> Happening:
        return Completed() if garment.progress.is_last_step else Passed()

    def _store_tap(
        self, garment: StoredGarment, *what: Happening, at: datetime | None = None
    ) -> StoredGarment:
        stored = self.store.record(garment, what, self.seat.station, self.seat.person, at)
        self.this_run.stored(garment, stored)
        return stored


def _remainder_added(progress: Progress) -> ExtraAdded:
    mending = remainder(progress)
    return ExtraAdded(ExtraReason.REMAINDER, mending.hits, rest=mending.rest)


def _with(garment: StoredGarment, found: Found | None) -> tuple[Happening, ...]:
    """The finding, where there is one; a garment that has one has been begun."""
    if found is None:
        return ()
    return (*_begun(garment.progress.state), found)


def _said(reason: str, done: str) -> str:
    said = " ".join(reason.split())
    if not said:
        raise NoReasonError(f"nothing says why the garment is {done}; choose a reason, or type one")
    return said


def _begun(state: State | None) -> tuple[Happening, ...]:
    """What begins a garment that nobody has taken up yet."""
    return (TakenUp(),) if state == State.IDLE else ()


def open_store(url: str, clock: Clock, *, reads_only: bool = False) -> Store:
    """The shop's store; codes are drawn from the system's own randomness."""
    opening = Store.open_to_read if reads_only else Store.open
    return opening(url, clock, random.SystemRandom())

"""The shop's store. Whatever a method has confirmed is on the disk; what it refuses has changed nothing.

Every method raises StorageError where the database fails.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import datetime
from functools import partial, reduce
from pathlib import Path
from random import Random
from uuid import UUID

from models.batch.events import BatchEvent, BatchHappening, GarmentAdded
from models.batch.standing import fold_batch
from models.clock import Clock
from models.garment.events import Event, Happening, TakenBack
from models.garment.progress import Progress, Recipe, advance, fold, last_tap
from models.job.job import Job
from models.learning.learned import RestKey, RestObservation
from models.learning.observations import rest_observations
from models.plan.plan import Plan
from models.recipe.heat_finding import HeatFinding
from models.recipe.piece_rest import PieceRest
from models.store import batch_log, batches, finding, garments, rests, server_time
from models.store.damage import Fence, garment_named, read_whole
from models.store.database import Database, opened_to_look, wait_for_turn
from models.store.errors import DamagedRecordError, NothingToTakeBackError
from models.store.records import BatchHead, BatchProgress, GarmentRow, StoredBatch, StoredGarment
from models.store.restoring import tidy_up
from models.store.schema import bring_to_head, must_be_at_head, must_not_be_empty
from models.store.shop_code import drawn_shop_code, stored_shop_code
from models.store.time_limits import LONG_S
from models.store.uuid7 import Uuid7Maker
from models.tags.code import new_code, spoken


class Store:
    """Batches, garments and their logs in one database. `shop_code` begins every tag code."""

    def __init__(
        self,
        database: Database,
        clock: Clock,
        random: Random,
        shop_code: str,
        wrong: DamagedRecordError | None = None,
    ) -> None:
        """`wrong` is what is wrong with the shop code that is stored, if anything."""
        self._database = database
        self._clock = clock
        self._new_id = Uuid7Maker(clock, random)
        self._new_code = partial(new_code, shop_code, random)
        self._recipes: dict[UUID, Recipe] = {}
        self._recipes_of_sizes: dict[tuple[UUID, str], Recipe] = {}
        self._fence = Fence()
        if wrong is not None:
            self._fence.note(wrong)
        self.shop_code = shop_code

    @property
    def damaged(self) -> tuple[str, ...]:
        """One line for each damaged record met so far. Lists leave them out; asking for one is refused."""
        return self._fence.told

    @classmethod
    def open(cls, url: str, clock: Clock, random: Random) -> "Store":
        """Opens the database at `url`: a new one is made, an older one migrated, its file copied before.

        `random` is where shop code, tag codes and ids come from: a SystemRandom, but in tests.
        """
        database = Database(url)
        try:
            if database.file is not None:
                tidy_up(database.file)
            bring_to_head(database, clock)
            return cls(database, clock, random, *drawn_shop_code(database, random))
        except BaseException:
            database.close()
            raise

    @classmethod
    def open_to_read(cls, url: str, clock: Clock, random: Random) -> "Store":
        """Opens a database that is there, for whoever changes nothing in it: a file that this person may not
        write is left as it is; else an older one is migrated as by `open`.

        Raises:
            CannotOpenError: there is no such file, or nothing is in it.
            ReadOnlyDatabaseError: it would have to be migrated, and may not be written.
        """
        with opened_to_look(url) as database:
            must_not_be_empty(database)
            may_be_written = database.may_be_written
        if may_be_written:
            return cls.open(url, clock, random)
        database = Database(url, reads_only=True)
        try:
            must_be_at_head(database)
            return cls(database, clock, random, *stored_shop_code(database))
        except BaseException:
            database.close()
            raise

    def close(self) -> None:
        self._database.close()

    @property
    def file(self) -> Path | None:
        """Where everything is stored; None if it is on a server."""
        return self._database.file

    @property
    def is_on_server(self) -> bool:
        return self.file is None

    def server_ahead_s(self) -> float:
        """Return by how many seconds the server's clock is ahead of this store's clock; 0 for a file."""
        if not self.is_on_server:
            return 0.0
        with self._database.reading() as connection:
            return server_time.ahead_s(connection, self._clock)

    def add_batch(
        self,
        job: Job,
        plan: Plan,
        heat_findings: tuple[HeatFinding, ...] = (),
        piece_rests: tuple[PieceRest, ...] = (),
    ) -> BatchHead:
        """Stores the batch, its recipe frozen, and all its garments, each with a new tag code.

        Raises ReferenceTakenError.
        """
        makers = batches.Makers(self._new_id, self._new_code)
        with self._database.writing(LONG_S) as connection:
            wait_for_turn(connection)
            recipe = Recipe(job, plan, heat_findings, piece_rests)
            return batches.add(connection, recipe, self._clock.utc_now(), makers)

    def batch(self, reference: str) -> BatchHead:
        """Raises UnknownBatchError, which lists references spelled like it."""
        with self._database.reading() as connection:
            return batches.find(connection, reference)

    def batches(self) -> tuple[BatchProgress, ...]:
        """The open batches with their counts, the newest first."""
        with self._database.reading() as connection:
            return tuple(self._fence.sound(batches.progress_of_open(connection)))

    def heads(self) -> tuple[BatchHead, ...]:
        """All batches, open and closed, the newest first; not those that were taken back."""
        with self._database.reading() as connection:
            return tuple(self._fence.sound(batches.heads(connection)))

    def stored_batch(self, reference: str) -> StoredBatch:
        """The batch with its own log. Raises UnknownBatchError, DamagedRecordError."""
        with self._database.reading() as connection, self._fence.noting():
            head = batches.find(connection, reference)
            log = batch_log.log_of(connection, head)
        return StoredBatch(head, log, fold_batch(log))

    def recipe(self, batch_id: UUID) -> Recipe:
        """The job and the plan of all sizes that the batch froze; read once, since they never change."""
        if batch_id not in self._recipes:
            with self._database.reading() as connection, self._fence.noting():
                self._recipes[batch_id] = batches.recipe_of(connection, batch_id)
        return self._recipes[batch_id]

    def recipe_of_size(self, batch_id: UUID, size: str) -> Recipe:
        """What a garment of `size` is made by; worked out once, for each tap asks for it."""
        key = (batch_id, size)
        if key not in self._recipes_of_sizes:
            self._recipes_of_sizes[key] = self.recipe(batch_id).of_size(size)
        return self._recipes_of_sizes[key]

    def garments(self, reference: str, first: int | None = None) -> tuple[GarmentRow, ...]:
        """The garments of a batch, by n; only so many of the first ones, if `first` is given.

        Raises UnknownBatchError.
        """
        with self._database.reading() as connection:
            batch = batches.find(connection, reference)
            return tuple(self._fence.sound(garments.of_batch(connection, batch.id, first)))

    def log_ends(self, batch_id: UUID) -> dict[str, int]:
        """How far the log of each garment in the batch goes, by its code: what differs has moved."""
        with self._database.reading() as connection:
            return garments.log_ends(connection, batch_id)

    def garment(self, code: str) -> StoredGarment:
        """The garment with this tag code. Raises UnknownCodeError, DamagedRecordError."""
        with self._fence.noting():
            with self._database.reading() as connection:
                row, log = garments.with_log(connection, code)
                head = batches.find(connection, row.batch_reference)
            recipe = self.recipe_of_size(head.id, row.size)
            its_log = f"the log of {garment_named(row.n, head.reference)}"
            progress = read_whole(lambda: fold(recipe, log), its_log)
        return StoredGarment(row, head, log, progress)

    def resting(self) -> tuple[GarmentRow, ...]:
        """The garments that wait until they can be peeled, cold or warm, the soonest first."""
        with self._database.reading() as connection:
            return tuple(self._fence.sound(garments.resting(connection)))

    def newest_at(self) -> datetime | None:
        """When a garment was worked last, at any station; None if there is none."""
        with self._database.reading() as connection:
            return garments.newest_at(connection)

    def pressing(self, station: str) -> tuple[GarmentRow, ...]:
        """The garments that this station has under a closed press."""
        with self._database.reading() as connection:
            return tuple(self._fence.sound(garments.pressing(connection, station)))

    def in_work(self, station: str | None) -> tuple[GarmentRow, ...]:
        """The garments in hand at this station, or at all of them; the last worked first."""
        with self._database.reading() as connection:
            return tuple(self._fence.sound(garments.in_work(connection, station)))

    def find(self, text: str, most: int = 50) -> finding.Found:
        """Batches and garments on which each word of `text` stands, case and accents aside."""
        with self._database.reading() as connection:
            return finding.find(connection, text, most, self._fence)

    def record(
        self,
        garment: StoredGarment,
        what: Sequence[Happening],
        station: str,
        person: str,
        at: datetime | None = None,
    ) -> StoredGarment:
        """Stores one tap: all that happened by it, or nothing of it. On the disk when this returns.

        It happened at `at`, or now if that is left out.

        Raises:
            IllegalEventError: the garment's state does not allow it.
            GarmentMovedError: another station has worked the garment since it was read.
        """
        events = self._events(garment, what, station, person, at or self._clock.utc_now())
        return self._append(garment, events, reduce(advance, events, garment.progress))

    def take_back(self, garment: StoredGarment, station: str, person: str) -> StoredGarment:
        """Stores that the last tap does not count.

        Raises:
            NothingToTakeBackError: no tap is left.
            GarmentMovedError: another station has worked the garment since it was read.
        """
        tap = last_tap(garment.log)
        if tap is None:
            raise NothingToTakeBackError(
                f"nothing was done to {spoken(garment.row.code)} that could be taken back"
            )
        events = self._events(garment, [TakenBack(tap)], station, person, self._clock.utc_now())
        return self._append(garment, events, fold(garment.progress.recipe, (*garment.log, *events)))

    def record_batch(self, batch: BatchHead, what: BatchHappening, station: str, person: str) -> BatchHead:
        """Store what happened to the batch, or nothing of it. On the disk when this returns.

        Raises:
            BatchMovedError: somebody else has changed the batch since it was read.
            IllegalEventError: the batch does not stand so that this can happen.
            NoRemedyError: a garment of it is not in a state for this.
        """
        with self._database.writing() as connection:
            batch_log.keep_to_oneself(connection, batch)
            return batch_log.append(connection, batch, self._batch_event(batch, what, station, person))

    def add_garment(self, batch: BatchHead, wanted: GarmentAdded, station: str, person: str) -> str:
        """Store one more garment of the batch; its tag code is drawn here, and returned, and its n counts on.

        Raises what `record_batch` raises.
        """
        with self._database.writing() as connection:
            wait_for_turn(connection)  # as for a new batch: nobody else draws tag codes meanwhile
            batch_log.keep_to_oneself(connection, batch)
            (code,) = batches.fresh_codes(connection, 1, self._new_code)
            added = replace(wanted, code=code, n=batch_log.next_n(connection, batch))
            batch_log.append(connection, batch, self._batch_event(batch, added, station, person))
        return code

    def rests(self, keys: Iterable[RestKey]) -> tuple[RestObservation, ...]:
        """The latest rests of these kinds that were seen in any batch, each kind in the order of time."""
        with self._database.reading() as connection:
            return tuple(seen for key in keys for seen in rests.of_kind(connection, key))

    def logs(self, reference: str) -> Iterator[tuple[GarmentRow, tuple[Event, ...]]]:
        """The garments of a batch, by n, with their logs, read on demand. Raises UnknownBatchError."""
        return self._logs(self.batch(reference).id)

    def _logs(self, batch_id: UUID) -> Iterator[tuple[GarmentRow, tuple[Event, ...]]]:
        with self._database.reading(LONG_S) as connection:
            yield from self._fence.sound(garments.logs_of_batch(connection, batch_id))

    def _events(
        self, garment: StoredGarment, what: Sequence[Happening], station: str, person: str, at: datetime
    ) -> tuple[Event, ...]:
        tap, seen = self._new_id(), garment.progress.seq
        return tuple(
            Event(self._new_id(), seq, tap, at, station, person, happening)
            for seq, happening in enumerate(what, start=seen + 1)
        )

    def _batch_event(self, batch: BatchHead, what: BatchHappening, station: str, person: str) -> BatchEvent:
        return BatchEvent(self._new_id(), batch.seq + 1, self._clock.utc_now(), station, person, what)

    def _append(self, garment: StoredGarment, events: tuple[Event, ...], progress: Progress) -> StoredGarment:
        row = replace(
            garment.row,
            state=progress.state,
            rest_ends_at=progress.ready_at,
            station=progress.station,
            updated_at=events[-1].at,
        )
        log = (*garment.log, *events)
        with self._database.writing() as connection:
            batch_log.must_be_open(connection, garment.batch)
            garments.append(connection, row, garment.progress.seq, events)
            if rests.may_have_changed(log, events):
                rests.keep(connection, row.id, rest_observations(progress.recipe, log))
        return StoredGarment(row, garment.batch, log, progress)

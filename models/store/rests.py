"""The rests that were seen, read off the logs once and kept so that they are found at a scan."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

from sqlalchemy import Connection, delete, insert, select

from models.garment.events import Event, Found, Happening, Peeled, Rested, TakenBack
from models.job.job import Peel
from models.learning.learned import RestKey, RestObservation, Told
from models.learning.peelings import VERDICTS
from models.store.tables import RESTS

LATEST = 100
"""The most rests of one kind that count, the latest first. What is older was another season."""

SEEN = (RESTS.c.estimate_s, RESTS.c.rested_s, RESTS.c.told, RESTS.c.at)


def may_have_changed(log: Iterable[Event], tapped: Iterable[Event]) -> bool:
    """Whether what a garment's log says of its rests can be another since this tap."""
    telling = (*VERDICTS, Found, TakenBack)
    return any(isinstance(event.what, telling) for event in tapped) and any(
        _is_of_rest(event.what) for event in log
    )


def _is_of_rest(what: Happening) -> bool:
    """Whether it is part of a rest until cold, or ends a wait until warm."""
    return isinstance(what, Rested) or (isinstance(what, Peeled) and what.how == Peel.WARM)


def keep(connection: Connection, garment_id: UUID, seen: Sequence[RestObservation]) -> None:
    """What the garment's log says of its rests, in place of what it said before."""
    connection.execute(delete(RESTS).where(RESTS.c.garment_id == garment_id))
    rows = [{"garment_id": garment_id, "n": n, **_to_row(rest)} for n, rest in enumerate(seen, start=1)]
    if rows:
        connection.execute(insert(RESTS), rows)


def of_kind(connection: Connection, key: RestKey) -> tuple[RestObservation, ...]:
    """The latest rests of this kind, the first one first."""
    is_of_kind = (
        RESTS.c.material == key.material,
        RESTS.c.fabric == key.fabric,
        RESTS.c.place == key.place,
        RESTS.c.until == key.until,
    )
    latest = select(*SEEN).where(*is_of_kind).order_by(RESTS.c.at.desc()).limit(LATEST)
    rows = reversed(connection.execute(latest).all())
    return tuple(RestObservation(key, *row) for row in rows if _is_sound(*row))


def of_garment(connection: Connection, garment_id: UUID) -> tuple[RestObservation | None, ...]:
    """What is kept of one garment, in the order of its log; None where a row cannot be read."""
    key = (RESTS.c.material, RESTS.c.fabric, RESTS.c.place, RESTS.c.until)
    asked = select(*key, *SEEN).where(RESTS.c.garment_id == garment_id).order_by(RESTS.c.n)
    return tuple(_observation(tuple(row[:4]), tuple(row[4:])) for row in connection.execute(asked))


def _observation(key: tuple[Any, ...], seen: tuple[Any, ...]) -> RestObservation | None:
    return RestObservation(RestKey(*key), *seen) if _is_sound(*seen) else None


def _is_sound(estimate_s: object, rested_s: object, told: object, at: object) -> bool:
    """Whether the row can be read; else it teaches nothing, and `floorapp check` names its garment."""
    times = (estimate_s, rested_s)
    is_timed = all(isinstance(seconds, float) and seconds > 0 for seconds in times)
    return is_timed and isinstance(told, Told) and isinstance(at, datetime)


def _to_row(rest: RestObservation) -> dict[str, object]:
    return {
        "at": rest.at,
        "material": rest.key.material,
        "fabric": rest.key.fabric,
        "place": rest.key.place,
        "until": rest.key.until,
        "estimate_s": rest.estimate_s,
        "rested_s": rest.rested_s,
        "told": rest.told,
    }

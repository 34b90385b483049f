"""The rests that were seen, read off the logs once and kept so that they are found at a scan."""

from collections.abc import Iterable, Sequence
from uuid import UUID

from sqlalchemy import Connection, delete, insert, select

from models.garment.events import Event, Found, Rested, TakenBack
from models.heat.learned import RestKey, RestObservation
from models.heat.observations import VERDICTS
from models.store.tables import RESTS

LATEST = 100
"""So many rests of one kind are gone by: what was seen before them was another season."""


def may_have_changed(log: Iterable[Event], tapped: Iterable[Event]) -> bool:
    """Whether what a garment's log says of its rests can be another since this tap."""
    telling = (*VERDICTS, Found, TakenBack)
    return any(isinstance(event.what, telling) for event in tapped) and any(
        isinstance(event.what, Rested) for event in log
    )


def keep(connection: Connection, garment_id: UUID, seen: Sequence[RestObservation]) -> None:
    """What the garment's log says of its rests, in place of what it said before."""
    connection.execute(delete(RESTS).where(RESTS.c.garment_id == garment_id))
    rows = [{"garment_id": garment_id, "n": n, **_to_row(rest)} for n, rest in enumerate(seen, start=1)]
    if rows:
        connection.execute(insert(RESTS), rows)


def of_kind(connection: Connection, key: RestKey) -> tuple[RestObservation, ...]:
    """The latest rests of this material, fabric and place, the first one first."""
    is_of_kind = (
        RESTS.c.material == key.material,
        RESTS.c.fabric == key.fabric,
        RESTS.c.place == key.place,
    )
    columns = (RESTS.c.estimate_s, RESTS.c.rested_s, RESTS.c.told, RESTS.c.at)
    latest = select(*columns).where(*is_of_kind).order_by(RESTS.c.at.desc()).limit(LATEST)
    return tuple(RestObservation(key, *row) for row in reversed(connection.execute(latest).all()))


def _to_row(rest: RestObservation) -> dict[str, object]:
    return {
        "at": rest.at,
        "material": rest.key.material,
        "fabric": rest.key.fabric,
        "place": rest.key.place,
        "estimate_s": rest.estimate_s,
        "rested_s": rest.rested_s,
        "told": rest.told,
    }

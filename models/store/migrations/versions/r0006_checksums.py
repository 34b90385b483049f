"""Batches, garments and events carry checksums; those that are stored get theirs here."""

from datetime import date, datetime
from typing import Any
from uuid import UUID

import sqlalchemy as sa
from alembic import op

from models.store.checksums import checksum_of
from models.store.guarded import Guarded
from models.store.tables import UtcDateTime

revision = "0006"
down_revision = "0005"

ROWS_AT_ONCE = 1000
ID: Guarded[UUID] = Guarded(sa.Uuid())
INSTANT: Guarded[datetime] = Guarded(UtcDateTime())
CONTENT: Guarded[Any] = Guarded(sa.JSON())
DAY: Guarded[date] = Guarded(sa.Date())
TEXT = sa.String()
WHOLE = sa.Integer()

BATCH_COLUMNS = {
    "id": ID,
    "reference": TEXT,
    "name": TEXT,
    "due": DAY,
    "garments": WHOLE,
    "created_at": INSTANT,
    "standing": TEXT,
    "priority": WHOLE,
    "seq": WHOLE,
}
GARMENT_COLUMNS = {
    "id": ID,
    "batch_id": ID,
    "n": WHOLE,
    "size": TEXT,
    "wearer": TEXT,
    "number": TEXT,
    "code": TEXT,
    "remake_of": TEXT,
    "remade_as": TEXT,
    "taken_out": TEXT,
}
EVENT_COLUMNS = {
    "id": ID,
    "garment_id": ID,
    "seq": WHOLE,
    "tap": ID,
    "at": INSTANT,
    "station": TEXT,
    "person": TEXT,
    "kind": TEXT,
    "data": CONTENT,
}

BATCH_EVENT_COLUMNS = {
    "id": ID,
    "batch_id": ID,
    "seq": WHOLE,
    "at": INSTANT,
    "station": TEXT,
    "person": TEXT,
    "kind": TEXT,
    "data": CONTENT,
}

NO_CHANGE = {
    "sqlite": """CREATE TRIGGER {log}_are_not_changed BEFORE UPDATE ON {log}
       BEGIN SELECT RAISE(ABORT, 'events are never changed'); END""",
    "postgresql": """CREATE TRIGGER {log}_are_not_changed BEFORE UPDATE OR DELETE ON {log}
       FOR EACH ROW EXECUTE FUNCTION refuse_change_of_events()""",
}


def upgrade() -> None:
    _seal("batches", BATCH_COLUMNS, "checksum")
    _seal("batches", {"recipe": CONTENT}, "recipe_checksum")
    _seal("garments", GARMENT_COLUMNS, "checksum")
    _seal_log("events", EVENT_COLUMNS)
    _seal_log("batch_events", BATCH_EVENT_COLUMNS)


def _seal_log(log: str, columns: dict[str, Any]) -> None:
    """Seal a table whose rows a trigger keeps from being changed; the trigger is made anew."""
    kind = op.get_bind().dialect.name
    op.execute(f"DROP TRIGGER {log}_are_not_changed" + (f" ON {log}" if kind == "postgresql" else ""))
    _seal(log, columns, "checksum")
    op.execute(NO_CHANGE[kind].format(log=log))


def _seal(table: str, columns: dict[str, Any], checksum: str) -> None:
    """Add the checksum of these columns to every row; an empty one, which fits nothing, if unreadable."""
    connection = op.get_bind()
    op.add_column(table, sa.Column(checksum, sa.String, nullable=False, server_default=""))
    # In a file the key is taken as the text that is stored, so that a damaged one finds its own row.
    as_stored = sa.String() if connection.dialect.name == "sqlite" else sa.Uuid()
    rest: list[sa.ColumnClause[Any]] = [sa.column(name) for name in (*columns, checksum) if name != "id"]
    rows = sa.table(table, sa.column("id", as_stored), *rest)
    values = [sa.type_coerce(rows.c[name], type_).label(f"its_{name}") for name, type_ in columns.items()]
    sealed = (
        sa.update(rows)
        .where(rows.c.id == sa.bindparam("its_key"))
        .values({checksum: sa.bindparam("its_checksum")})
    )
    asked = sa.select(rows.c.id, *values)
    for part in connection.execute(asked).partitions(ROWS_AT_ONCE):
        sums = [{"its_key": key, "its_checksum": checksum_of(*values)} for key, *values in part]
        connection.execute(sealed, sums)

"""A batch has a log of its own, append-only; a garment is found by what is written on it."""

import sqlalchemy as sa
from alembic import op

from models.store.sought import sought_of

revision = "0005"
down_revision = "0004"

INSTANT = sa.DateTime(timezone=True).with_variant(sa.String(32), "sqlite")
GARMENTS = sa.table("garments", *map(sa.column, ("id", "wearer", "number", "code", "sought")))

COUNTED = ["batch_id", "size", "state", "n", "taken_out", "remade_as"]

SQLITE = (
    """CREATE TRIGGER batch_events_are_not_changed BEFORE UPDATE ON batch_events
       BEGIN SELECT RAISE(ABORT, 'events are never changed'); END""",
    """CREATE TRIGGER batch_events_are_not_removed BEFORE DELETE ON batch_events
       BEGIN SELECT RAISE(ABORT, 'events are never removed'); END""",
    """CREATE TRIGGER batch_events_are_not_replaced BEFORE INSERT ON batch_events
       WHEN EXISTS (SELECT 1 FROM batch_events
                    WHERE id = NEW.id OR (batch_id = NEW.batch_id AND seq = NEW.seq))
       BEGIN SELECT RAISE(ABORT, 'events are never replaced'); END""",
)
POSTGRESQL = (
    """CREATE TRIGGER batch_events_are_not_changed BEFORE UPDATE OR DELETE ON batch_events
       FOR EACH ROW EXECUTE FUNCTION refuse_change_of_events()""",
    """CREATE TRIGGER batch_events_are_not_emptied BEFORE TRUNCATE ON batch_events
       FOR EACH STATEMENT EXECUTE FUNCTION refuse_change_of_events()""",
)


def upgrade() -> None:
    op.create_table(
        "batch_events",
        sa.Column("id", sa.Uuid, primary_key=True),
        sa.Column("batch_id", sa.Uuid, sa.ForeignKey("batches.id"), nullable=False),
        sa.Column("seq", sa.Integer, nullable=False),
        sa.Column("at", INSTANT, nullable=False),
        sa.Column("station", sa.String, nullable=False),
        sa.Column("person", sa.String, nullable=False),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("data", sa.JSON, nullable=False),
        sa.UniqueConstraint("batch_id", "seq"),
    )
    on_file = op.get_bind().dialect.name == "sqlite"
    for statement in SQLITE if on_file else POSTGRESQL:
        op.execute(statement)
    op.add_column("batches", sa.Column("standing", sa.String(16), nullable=False, server_default="open"))
    op.add_column("batches", sa.Column("priority", sa.Integer, nullable=False, server_default="0"))
    op.add_column("batches", sa.Column("seq", sa.Integer, nullable=False, server_default="0"))
    for name in ("remake_of", "remade_as", "taken_out", "sought"):
        op.add_column("garments", sa.Column(name, sa.String, nullable=False, server_default=""))
    op.drop_index("garments_counted", "garments")
    op.create_index("garments_counted", "garments", COUNTED)
    _fill_sought()


def _fill_sought() -> None:
    """Make the garments that are there findable as well."""
    connection = op.get_bind()
    columns = GARMENTS.c
    garments = connection.execute(sa.select(columns.id, columns.wearer, columns.number, columns.code)).all()
    found_by = [{"garment": row[0], "found_by": sought_of(*row[1:])} for row in garments]
    if found_by:
        change = sa.update(GARMENTS).where(columns.id == sa.bindparam("garment"))
        connection.execute(change.values(sought=sa.bindparam("found_by")), found_by)

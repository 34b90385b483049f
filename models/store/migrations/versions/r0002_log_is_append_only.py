"""The database itself refuses to change or remove an event."""

from alembic import op

revision = "0002"
down_revision = "0001"

# SQLite's INSERT OR REPLACE removes a row without firing the trigger of a removal, hence the last one.
SQLITE = (
    """CREATE TRIGGER events_are_not_changed BEFORE UPDATE ON events
       BEGIN SELECT RAISE(ABORT, 'events are never changed'); END""",
    """CREATE TRIGGER events_are_not_removed BEFORE DELETE ON events
       BEGIN SELECT RAISE(ABORT, 'events are never removed'); END""",
    """CREATE TRIGGER events_are_not_replaced BEFORE INSERT ON events
       WHEN EXISTS (SELECT 1 FROM events WHERE id = NEW.id OR (garment_id = NEW.garment_id AND seq = NEW.seq))
       BEGIN SELECT RAISE(ABORT, 'events are never replaced'); END""",
)
POSTGRESQL = (
    """CREATE FUNCTION refuse_change_of_events() RETURNS trigger LANGUAGE plpgsql AS
       $$ BEGIN RAISE EXCEPTION 'events are never changed or removed'; END $$""",
    """CREATE TRIGGER events_are_not_changed BEFORE UPDATE OR DELETE ON events
       FOR EACH ROW EXECUTE FUNCTION refuse_change_of_events()""",
    """CREATE TRIGGER events_are_not_emptied BEFORE TRUNCATE ON events
       FOR EACH STATEMENT EXECUTE FUNCTION refuse_change_of_events()""",
)


def upgrade() -> None:
    on_file = op.get_bind().dialect.name == "sqlite"
    for statement in SQLITE if on_file else POSTGRESQL:
        op.execute(statement)

"""Which form a database has: the migration that it was last brought to."""

from sqlalchemy import Connection, inspect, text

from models.store.errors import NotOurDatabaseError
from models.store.failures import DAMAGED_FILE

HEAD_REVISION = "0006"
"""The last migration. It stands here so that opening an up-to-date database need not load them."""

VERSION_TABLE = "alembic_version"
OURS_FROM_THE_FIRST = {VERSION_TABLE, "shop", "batches", "garments", "events"}
"""Other programs name their migrations, too, and some of them as we do."""


def stored_revision(connection: Connection, name: str) -> str | None:
    """Return the migration that the database was last brought to; None if it is empty.

    Raises NotOurDatabaseError if it is another program's, or if ours has lost this note.
    """
    tables = inspect(connection).get_table_names()
    if not tables:
        return None
    if not OURS_FROM_THE_FIRST.issubset(tables):
        raise NotOurDatabaseError(
            f"{name}: this is the database of another program; name one of its own for this"
        )
    revision = connection.scalar(text(f"SELECT version_num FROM {VERSION_TABLE}"))
    if revision is None:
        raise NotOurDatabaseError(f"{name}: {DAMAGED_FILE}")
    return str(revision)

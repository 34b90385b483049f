"""Running the migrations, all in one transaction. This module alone loads alembic."""

from datetime import datetime
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory
from sqlalchemy import Connection

from models.clock import Clock
from models.errors import StorageError
from models.store.backups import Backups
from models.store.database import Database, wait_for_turn
from models.store.errors import DamagedCopyError, NewerDatabaseError
from models.store.revision import HEAD_REVISION, stored_revision
from models.store.time_limits import LONG_S


def migrate(database: Database, clock: Clock) -> None:
    """From whatever revision the database has to the last one. Raises NewerDatabaseError, StorageError."""
    with database.writing(LONG_S) as connection:
        wait_for_turn(connection)
        revision = stored_revision(connection, database.name)  # another station may just have migrated it
        if revision == HEAD_REVISION:
            return
        if revision is not None:
            must_be_known(revision, database.name)
            _back_up(database.file, revision, clock.utc_now())
        command.upgrade(migrations(connection), "head")


def migrations(connection: Connection | None = None) -> Config:
    """Alembic's view of the migrations in this package, to be run on `connection`."""
    config = Config(attributes={"connection": connection})
    config.set_main_option("script_location", "models.store:migrations")
    return config


def must_be_known(revision: str, name: str) -> None:
    """Raises NewerDatabaseError if this program has no such migration."""
    script = ScriptDirectory.from_config(migrations())
    if revision not in {known.revision for known in script.walk_revisions()}:
        raise NewerDatabaseError(
            f"{name}: a newer version of this program has written it (revision {revision}); update this one"
        )


def _back_up(file: Path | None, revision: str, at: datetime) -> None:
    """Copy the file first. A server's copies are the business of who runs it."""
    if file is None:
        return
    try:
        Backups(file).make(at, f"revision-{revision}")
    except DamagedCopyError:
        return  # it was copied as it is; what is damaged stays fenced off
    except StorageError as error:
        raise type(error)(
            f"{error} ({file} stays as it was: it is copied before it is brought up to date)"
        ) from error

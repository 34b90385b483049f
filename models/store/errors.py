"""What the store refuses, and how the database can fail."""

from models.errors import DataError, OperatorError, StorageError


class UnknownBatchError(OperatorError):
    """No batch has this reference; the text lists those that are spelled like it."""


class UnknownCodeError(OperatorError):
    """A sound tag code that no stored garment has."""


class GarmentMovedError(OperatorError):
    """Another station has worked the garment since it was read; nothing was stored."""


class BatchMovedError(OperatorError):
    """Somebody else has changed the batch since it was read; nothing was stored."""


class BatchNotOpenError(OperatorError):
    """The batch is closed or was taken back: no garment of it is worked."""


class NoRemedyError(OperatorError):
    """The garment or the batch is not in a state for what was asked; the text says which is."""


class NothingToTakeBackError(OperatorError):
    """No tap of this garment is left to take back."""


class ReferenceTakenError(DataError):
    """A batch with this reference is stored already."""


class BadDatabaseAddressError(StorageError):
    """The address names no database that this program can use."""


class CannotOpenError(StorageError):
    """The file or the server is not there, or may not be used by this person."""


class NotOurDatabaseError(StorageError):
    """The file is no database, a damaged one, or one of another program."""


class NewerDatabaseError(StorageError):
    """A newer version of this program has written the database; an older one keeps its hands off."""


class DamagedRecordError(StorageError):
    """A stored record is not what was written; the text names it, and nothing personal."""


class CopyFailedError(StorageError):
    """A copy of the database could not be made, or is not sound; the database stays as it is."""


class DamagedCopyError(CopyFailedError):
    """The database could be copied, but something in it is damaged."""


class OnServerError(StorageError):
    """The database is on a server, which looks after its own copies."""


class DatabaseReplacedError(StorageError):
    """The database is not the file any more that was opened; what is written would be lost."""


class DatabaseBusyError(StorageError):
    """Someone else kept the database locked for too long."""


class ReadOnlyDatabaseError(StorageError):
    """The database can be read but not written."""


class DiskFullError(StorageError):
    """There is no room left where the database lies."""


class ConnectionLostError(StorageError):
    """The database server cannot be reached any more."""

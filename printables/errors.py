"""What can go wrong on the way to paper."""

from models.errors import CalculationError, OperatorError


class NothingToPrintError(OperatorError):
    """There is no tag to print."""


class LabelSizeError(OperatorError):
    """A label size that is none, or too small for a symbol that a scanner reads."""


class CannotWriteError(OperatorError):
    """The file or folder named cannot be written; whatever stood there before still stands."""


class SymbolNotReadBackError(CalculationError):
    """A printed symbol does not read back as its tag code; nothing was written."""

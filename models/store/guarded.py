"""Column types that survive a damaged value: reading one gives UNREADABLE and leaves the other rows whole."""

from collections.abc import Callable
from enum import Enum
from typing import Any, TypeVar

from sqlalchemy import Dialect
from sqlalchemy.types import TypeDecorator, TypeEngine

T = TypeVar("T")


class Unreadable(Enum):
    """The type of UNREADABLE, whose only value it is."""

    UNREADABLE = "unreadable"


UNREADABLE = Unreadable.UNREADABLE
"""Stands where a stored value cannot be read as its column's type."""


class Guarded(TypeDecorator[T]):
    """Wraps a column type. Without it, one damaged value ends the reading of all rows with a traceback."""

    impl = TypeEngine
    cache_ok = True

    def __init__(self, wrapped: TypeEngine[T]) -> None:
        super().__init__()
        self.impl = wrapped  # type: ignore[assignment] # SQLAlchemy puts an instance there, too
        self.wrapped = wrapped

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        return dialect.type_descriptor(self.wrapped)

    def result_processor(self, dialect: Dialect, coltype: object) -> Callable[[Any], Any] | None:
        read = super().result_processor(dialect, coltype)
        if read is None:
            return None

        def read_if_readable(stored: Any) -> Any:
            try:
                return read(stored)
            except (ValueError, TypeError, AttributeError, LookupError, RecursionError):
                return UNREADABLE

        return read_if_readable

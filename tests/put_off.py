"""A background whose work waits until the test says which piece of it is done."""

from collections.abc import Callable
from typing import TypeVar

from floorapp.background import AtOnce
from models.errors import FloorError

T = TypeVar("T")


class PutOff:
    def __init__(self) -> None:
        self.waiting: list[Callable[[], None]] = []

    def run(
        self, work: Callable[[], T], done: Callable[[T], None], refused: Callable[[FloorError], None]
    ) -> None:
        self.waiting.append(lambda: AtOnce().run(work, done, refused))

    def tell(self, told: Callable[[], None]) -> None:
        told()

"""Opens the shop's store in a thread, so that the first frame need not wait for it."""

import threading
from collections.abc import Callable
from typing import TYPE_CHECKING

from models.errors import FloorError

if TYPE_CHECKING:
    from floorapp.flow import Flow


class Opening:
    """Begins with `start`; `result` waits for the end."""

    def __init__(self, open_flow: "Callable[[], Flow]") -> None:
        self._open_flow = open_flow
        self._flow: Flow | None = None
        self._error: BaseException | None = None
        self._thread = threading.Thread(target=self._run, name="opening the store", daemon=True)

    def start(self) -> None:
        self._thread.start()

    @property
    def is_over(self) -> bool:
        return self._flow is not None or self._error is not None

    @property
    def trouble(self) -> Exception | None:
        """What has kept it from opening."""
        return self._error if isinstance(self._error, Exception) else None

    def result(self) -> "Flow":
        """The flow on the opened store. Raises what opening it raised, a StorageError as a rule."""
        self._thread.join()
        if self._error is not None:
            raise self._error
        if self._flow is None:
            raise FloorError("the store was not opened")
        return self._flow

    def _run(self) -> None:
        try:
            self._flow = self._open_flow()
        except BaseException as error:  # raised again where it can be told
            self._error = error

"""A person at the press: looks at the real window, scans, and taps what is written there."""

from pathlib import Path
from typing import Any

from floorapp.background import Background
from floorapp.flow import Flow
from floorapp.sounds import Sounds
from models.clock import HeldClock
from models.recipe.places import REST_PLACE, Place
from models.store.store import Store
from tests.floorapp.driver import Driver
from tests.small_floor import flow_on

BETWEEN_TAPS_S = 0.5
"""A hand needs so long from one tap to the next that it means."""


def app_on(
    store: Store,
    folder: Path,
    clock: HeldClock,
    rests: Place = REST_PLACE,
    *,
    at_store: Background | None = None,
    sounds: Sounds | None = None,
) -> Any:
    """The whole app on an opened store; silent if no sounds are given."""
    from floorapp.opening import Opening
    from floorapp.window_app import PressFloorApp

    return PressFloorApp(
        Opening(lambda: flow_on(store, clock, folder, rests=rests, at_store=at_store)),
        sounds or Sounds(is_on=False),
    )


class PressOperator:
    """Drives an app through its window only; `flow` is for looking at what came of it."""

    def __init__(self, driver: Driver) -> None:
        self.driver = driver
        driver.frames(2)
        driver.app.opening.result()
        driver.advance(BETWEEN_TAPS_S, draw=True)  # the first call comes up, and then means what it shows
        driver.advance(BETWEEN_TAPS_S, draw=True)
        self.desk = driver.app.desk

    @property
    def flow(self) -> Flow:
        return self.desk.flow

    def scan(self, code: str) -> None:
        self.driver.scan(code)
        self.driver.frames(2)

    def tap(self, words: str) -> None:
        """Looks for the target whose words begin so, and touches it."""
        self.driver.advance(BETWEEN_TAPS_S)
        self.driver.tap(self.target(words))
        self.driver.frames(2)

    def tap_piece(self, piece: str) -> None:
        """Touches a piece on the placement map, in the middle of its box."""
        self.driver.advance(BETWEEN_TAPS_S)
        target = next(w for w in self._on_screen() if getattr(w, "piece_id", "") == piece)
        self.driver.touch(*target.to_window(*target.center))
        self.driver.frames(2)

    def step_on_the_switch(self, key: str = "page down") -> None:
        """The foot switch types a key."""
        self.driver.advance(BETWEEN_TAPS_S)
        self.driver.press_key(key)
        self.driver.frames(2)

    def sees(self, words: str) -> bool:
        """Whether these words stand anywhere on the screen."""
        return any(words in getattr(widget, "words", "") for widget in self._on_screen())

    def press(self) -> None:
        """Closes the press, waits for the end of the countdown and opens it."""
        self.tap("Laid")
        self.driver.advance(self.flow.in_hand.progress.hit.dwell_s)
        self.tap("The press is open")

    def wait_for_the_rest(self) -> None:
        """Until the garment in hand can be peeled, cold or warm."""
        ends_at = self.flow.in_hand.progress.ready_at
        assert ends_at is not None
        self.driver.advance((ends_at - self.flow.clock.utc_now()).total_seconds() + 0.1, step_s=10)

    def target(self, words: str) -> Any:
        from floorapp.focus import Focusable

        found = [
            widget
            for widget in self._on_screen()
            if isinstance(widget, Focusable)
            and not widget.disabled
            and getattr(widget, "words", "").startswith(words)
        ]
        assert found, f"nothing to tap begins with {words!r}"
        return found[0]

    def _on_screen(self) -> list[Any]:
        return list(self.desk.root.walk())

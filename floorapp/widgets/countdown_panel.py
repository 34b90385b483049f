"""The running hit: while pressing, the countdown is the screen, and its ground drains from the top."""

from typing import Any

from kivy.clock import Clock
from kivy.properties import BooleanProperty, NumericProperty, StringProperty
from kivy.uix.boxlayout import BoxLayout

from floorapp import theme
from floorapp.kivy_setup import load_kv_beside
from floorapp.widgets import words  # noqa: F401  (its kv rules are used in ours)

DRAIN_STEP_PX = 2
"""The ground moves in steps of this: each one redraws the whole window."""
FLASHES = 4
FLASH_S = 0.25
"""Half a flash; two flashes in a second, and never more than three (WCAG 2.2, 2.3.1)."""
DIGIT_WIDTH = 0.65
"""Width of a digit of B612 over its font size; all digits are equally wide."""


class CountdownPanel(BoxLayout):
    """Shows `left_s` and drains with `fraction_left`; buttons of the owner stand in `actions`."""

    heading = StringProperty()
    words = StringProperty()
    left_s = NumericProperty(0)
    fraction_left = NumericProperty(1.0)
    is_flashing = BooleanProperty(False)
    shown = StringProperty("0")
    drain_px = NumericProperty(0)
    digits_px = NumericProperty(100)

    def __init__(self, **settings: Any) -> None:
        self._flash: Any = None
        super().__init__(**settings)
        self.bind(left_s=self._show, fraction_left=self._drain, height=self._drain)
        self._show()
        self._drain()

    @property
    def actions(self) -> BoxLayout:
        """The row at the bottom, for the owner's buttons."""
        return self.ids.actions

    @property
    def flashes(self) -> bool:
        """Whether a flash is still going on."""
        return self._flash is not None

    def flash(self) -> None:
        """Turns the panel's colours over a few times: the end is seen where it can't be heard."""
        self.stop_flash()
        self._turns_left = 2 * FLASHES
        self._flash = Clock.schedule_interval(self._turn, FLASH_S)
        self._turn(0)

    def stop_flash(self) -> None:
        if self._flash is not None:
            self._flash.cancel()
            self._flash = None
        self.is_flashing = False

    def _turn(self, _dt: float) -> None:
        self._turns_left -= 1
        self.is_flashing = not self.is_flashing
        if self._turns_left == 0:
            self.stop_flash()

    def _show(self, *_: Any) -> None:
        self.shown = shown_time(int(self.left_s))

    def _drain(self, *_: Any) -> None:
        """Moves the ground where it would move by a step; its ends are always exact."""
        wanted = self.height * self.fraction_left
        if abs(wanted - self.drain_px) >= DRAIN_STEP_PX or self.fraction_left in (0, 1):
            self.drain_px = wanted


def shown_time(left_s: int) -> str:
    """Seconds alone up to 99, then minutes and seconds."""
    return str(left_s) if left_s < 100 else f"{left_s // 60}:{left_s % 60:02d}"


def digits_size(shown: str, width_px: float, height_px: float) -> float:
    """The font size that fills the room, never so small that a digit is lower than it must be."""
    fits = min(width_px / (DIGIT_WIDTH * max(2, len(shown))), height_px * 0.95)
    return max(fits, theme.px(theme.DIGITS_MM) / theme.DIGIT_HEIGHT)


load_kv_beside(__file__)

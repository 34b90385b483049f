"""Runs a real Kivy app in this process, frame by frame, on a time line that only moves when a test says so.

Touches go through the window as real ones do, keys come with the scancodes that a keyboard sends. Kivy is
imported where it is used, since `configure_kivy` must come first.
"""

import gc
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from floorapp.kivy_setup import configure_kivy, open_window
from floorapp.screenshot import save_screenshot
from models.clock import HeldClock
from tests.held_clock import MORNING

LANDSCAPE = (1280, 800)
PORTRAIT = (800, 1280)
FRAME_S = 0.05
KEYBOARD_POLL_S = 0.5
"""Kivy looks at a released keyboard every 0.2 s, and stops looking once it saw it released."""

SCANCODES = {
    **{letter: 4 + k for k, letter in enumerate("ABCDEFGHIJKLMNOPQRSTUVWXYZ")},
    **{digit: 30 + k for k, digit in enumerate("1234567890")},
    "enter": 40, "escape": 41, "backspace": 42, "tab": 43, "space": 44, "-": 45,
    "page up": 75, "page down": 78, "right": 79, "left": 80, "down": 81, "up": 82,
    "caps lock": 57, "shift": 225,
}  # fmt: skip
"""USB HID usages of the keys, which SDL hands on as scancodes."""


class TimeLine:
    """Kivy's time and the app's held clock, moved together; in whole microseconds, and never back."""

    def __init__(self, start_s: float) -> None:
        self._us = round(start_s * 1_000_000)
        self.clock = HeldClock(MORNING)

    def __call__(self) -> float:
        return self._us / 1_000_000

    def advance(self, seconds: float) -> None:
        self._us += round(seconds * 1_000_000)
        self.clock.advance(seconds)


@cache
def time_line() -> TimeLine:
    """The one time line of the process: Kivy's Clock outlives every app."""
    configure_kivy(*LANDSCAPE, offscreen=True)
    open_window()
    from kivy.clock import Clock

    line = TimeLine(Clock.time() + 1)
    Clock.time = line
    Clock._max_fps = 0  # frames come when a test asks for them
    return line


class Driver:
    """One app from start to stop."""

    def __init__(
        self,
        make_app: Callable[[HeldClock], Any],
        size: tuple[int, int] = LANDSCAPE,
        clock: HeldClock | None = None,
    ) -> None:
        self._line = time_line()
        self.clock = self._line.clock = clock or HeldClock(MORNING)
        from kivy.base import EventLoop
        from kivy.core.window import Window

        self.window, self._loop = Window, EventLoop
        self._size = size
        self.app = make_app(self.clock)

    def start(self) -> "Driver":
        from kivy.base import runTouchApp

        self._reopen_loop()
        self.window.size = self._size
        self.app._run_prepare()
        runTouchApp(embedded=True)
        self.frames(3)
        return self

    def stop(self) -> None:
        self.window.release_all_keyboards()
        self.advance(KEYBOARD_POLL_S)
        self.app.stop()
        for child in self.window.children[:]:
            self.window.remove_widget(child)
        self.window.canvas.before.clear()
        self.window.canvas.after.clear()
        self._loop.touches.clear()
        self.app = None
        self._line.advance(1)
        self._tick()
        self._tick()
        gc.collect()

    def resize(self, size: tuple[int, int]) -> None:
        """Turns the tablet."""
        self.window.size = size
        self.frames(3)

    def frames(self, count: int = 1) -> None:
        for _ in range(count):
            self._loop.idle()

    def advance(self, seconds: float, step_s: float = FRAME_S, *, draw: bool = False) -> None:
        """Lets time pass, a frame at each step; frames are only drawn where a test looks at them."""
        left_s = seconds
        while left_s > 1e-9:
            self._line.advance(min(step_s, left_s))
            left_s -= step_s
            if draw:
                self.frames()
            else:
                self._tick()

    def jump(self, seconds: float) -> None:
        """Time passes with not one frame: a stalled screen."""
        self._line.advance(seconds)
        self.frames()

    def tap(self, widget: Any) -> None:
        """A finger on the middle of a widget, down and up."""
        assert widget.get_root_window() is not None, f"{widget} is not on the screen"
        self.touch(*widget.to_window(*widget.center))

    def touch(self, x: float, y: float) -> None:
        from kivy.tests.common import UnitTestTouch

        finger = UnitTestTouch(x, y)
        finger.touch_down()
        self.frames()
        finger.touch_up()
        self.advance(FRAME_S)
        self.frames()

    def drag(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """A finger that comes down, moves in a few steps, and goes up."""
        from kivy.tests.common import UnitTestTouch

        finger = UnitTestTouch(*start)
        finger.touch_down()
        for share in (0.25, 0.5, 0.75, 1.0):
            finger.touch_move(*(a + (b - a) * share for a, b in zip(start, end, strict=True)))
            self.frames()
        finger.touch_up()
        self.advance(FRAME_S)
        self.frames()

    def scan(self, text: str) -> None:
        """A scanner types the text and Enter, 2 ms a key, with Shift held for each capital."""
        for character in text:
            if character.isupper():
                self._capital(character)
            else:
                self._key(character.upper())
            self._line.advance(0.002)
        self._key("enter")
        self.frames()

    def press_key(self, name: str, modifiers: tuple[str, ...] = ()) -> None:
        """A person presses a key: "space", "tab", "page down", or a letter."""
        self._key(name, modifiers)
        self.advance(FRAME_S)
        self.frames()

    def hold_key(self, name: str, repeats: int) -> None:
        """A key that stays down, as under a foot: the system repeats it."""
        for _ in range(repeats):
            self._down(name, ())
            self.advance(FRAME_S)
        self.window.dispatch("on_key_up", ord(name[0]), SCANCODES[name])
        self.frames()

    def shot(self, path: Path) -> Path:
        self.frames(2)
        save_screenshot(path)
        return path

    def _key(self, name: str, modifiers: tuple[str, ...] = ()) -> None:
        self._down(name, modifiers)
        self.window.dispatch("on_key_up", ord(name[0]), SCANCODES[name])

    def _capital(self, character: str) -> None:
        self._down("shift", ())
        self._key(character, ("shift",))
        self.window.dispatch("on_key_up", ord("s"), SCANCODES["shift"])

    def _down(self, name: str, modifiers: tuple[str, ...]) -> None:
        """As Kivy's window does it: `on_keyboard` follows only where no one took the key."""
        key, text = ord(name[0].lower()), name.lower() if len(name) == 1 else None
        if not self.window.dispatch("on_key_down", key, SCANCODES[name], text, list(modifiers)):
            self.window.dispatch("on_keyboard", key, SCANCODES[name], text, list(modifiers))

    def _tick(self) -> None:
        """A frame without drawing, in the order of Kivy's own loop."""
        from kivy.clock import Clock
        from kivy.lang import Builder

        Clock.tick()
        self._loop.dispatch_input()
        Builder.sync()
        Clock.tick_draw()
        Builder.sync()

    def _reopen_loop(self) -> None:
        """One window serves every app of the process: its GL context is never closed."""
        self._loop.quit = False
        self._loop.status = "idle"
        self.window.close = lambda *_: None
        self.window.initialized = True
        self.window.register()

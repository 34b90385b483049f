"""Keys as a scanner and an operator type them, on any screen and whatever has the focus.

A scanner is a keyboard to the system: it types the code and Enter. Read are scancodes (USB HID usages, which
SDL hands on), so that the system's keyboard layout does not matter, and Shift does not either: fast scanners
mix it up. Codes are capitals and digits only.
"""

from collections.abc import Callable
from typing import Any

from models.clock import Clock

LETTERS = {4 + k: letter for k, letter in enumerate("ABCDEFGHIJKLMNOPQRSTUVWXYZ")}
DIGITS = {30 + k: digit for k, digit in enumerate("1234567890")}
KEYPAD_DIGITS = {89 + k: digit for k, digit in enumerate("1234567890")}
CHARACTERS = LETTERS | DIGITS | KEYPAD_DIGITS

ENTER, KEYPAD_ENTER, ESCAPE, BACKSPACE, TAB, SPACE = 40, 88, 41, 42, 43, 44
PAGE_UP, PAGE_DOWN, RIGHT, LEFT, DOWN, UP = 75, 78, 79, 80, 81, 82

ENDS_CODE = frozenset({ENTER, KEYPAD_ENTER, TAB})
PRIMARY = frozenset({ENTER, KEYPAD_ENTER, SPACE, PAGE_DOWN})
BACK = frozenset({ESCAPE, PAGE_UP, BACKSPACE})
MODIFIERS = frozenset({57, 71, 83, *range(224, 232)})
"""The locks, then Ctrl, Shift and Alt of either side: a scanner presses Shift for each capital it types."""
MOVES = {RIGHT: 1, DOWN: 1, LEFT: -1, UP: -1}

NS_PER_S = 1_000_000_000
CODE_ENDS_NS = 2 * NS_PER_S
"""Characters with no further key for this long were no scan: they are forgotten."""
TEXT_ENDS_NS = 30 * NS_PER_S
"""Where text is asked for, a gloved finger may look so long for the next key."""
LONGEST_TYPED = 64
"""Far more characters than any code: a scanner that has gone mad, or something that lies on the keyboard."""
DEAF_AFTER_CODE_NS = NS_PER_S // 2
"""Some scanners send Enter twice: the second must not act on the screen that the code has opened."""
REPEAT_NS = NS_PER_S
"""A key that comes again within this time without having been let go is held down, not pressed again."""


class WedgeReader:
    """Hands on codes and typed text, the primary action, the way back, arrows and Tab, until `close`."""

    def __init__(
        self,
        *,
        on_code: Callable[[str], None],
        on_primary: Callable[[], None],
        on_back: Callable[[], None],
        on_move: Callable[[int], None],
        on_tab: Callable[[int], None],
        takes_text: Callable[[], bool],
        clock: Clock,
    ) -> None:
        from kivy.core.window import Window

        self._on_code, self._on_primary, self._on_back = on_code, on_primary, on_back
        self._on_move, self._on_tab = on_move, on_tab
        self._takes_text, self._clock = takes_text, clock
        self._typed = ""
        self._is_endless = False
        self._typed_ns = self._code_ns = -CODE_ENDS_NS
        self._held: dict[int, int] = {}
        self._window = Window
        Window.bind(on_key_down=self._key_down, on_key_up=self._key_up)

    def close(self) -> None:
        self._window.unbind(on_key_down=self._key_down, on_key_up=self._key_up)

    def _key_down(self, _window: Any, _key: int, scancode: int, _text: str, modifiers: list[str]) -> bool:
        if scancode in MODIFIERS:
            return True
        now = self._clock.monotonic_ns()
        if now - self._typed_ns > (TEXT_ENDS_NS if self._takes_text() else CODE_ENDS_NS):
            self._typed, self._is_endless = "", False
        if scancode in CHARACTERS:
            self._typed_ns = now
            self._take(CHARACTERS[scancode])
        elif not self._is_held(scancode, now):
            self._act(scancode, now, backwards="shift" in modifiers)
        return True  # nothing is left to Kivy's own handling of keys

    def _take(self, character: str) -> None:
        """Adds a character. What never ends is handed on once, as no code, and dropped from then on."""
        if self._is_endless:
            return
        self._typed += character
        if len(self._typed) > LONGEST_TYPED:
            typed, self._typed, self._is_endless = self._typed, "", True
            self._on_code(typed)

    def _key_up(self, _window: Any, _key: int, scancode: int) -> None:
        self._held.pop(scancode, None)

    def _act(self, scancode: int, now: int, *, backwards: bool) -> None:
        typed, self._typed = self._typed, ""
        was_endless, self._is_endless = self._is_endless, False
        if was_endless:
            self._code_ns = now  # its end acts on nothing
        elif typed and scancode in ENDS_CODE:
            self._code_ns = now
            self._on_code(typed)
        elif typed and scancode == BACKSPACE:
            self._typed = typed[:-1]
        elif typed and scancode == SPACE:
            self._typed = f"{typed} "  # a code is printed in two groups, and a reason has several words
        elif scancode in ENDS_CODE and now - self._code_ns < DEAF_AFTER_CODE_NS:
            return
        elif scancode in PRIMARY:
            self._on_primary()
        elif scancode in BACK:
            self._on_back()
        elif scancode == TAB:
            self._on_tab(-1 if backwards else 1)
        elif scancode in MOVES:
            self._on_move(-MOVES[scancode] if backwards else MOVES[scancode])

    def _is_held(self, scancode: int, now: int) -> bool:
        """Whether this is the repeat of a key that a foot or a sleeve still holds down."""
        before = self._held.get(scancode)
        self._held[scancode] = now
        return before is not None and now - before < REPEAT_NS

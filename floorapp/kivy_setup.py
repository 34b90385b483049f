"""Sets Kivy up before its first import, and loads each kv file once.

Kivy reads its environment when it is imported and opens its window as soon as `kivy.core.window` is. So
`configure_kivy` comes first, in the command line and in the tests, and nothing at the top of a module that
runs before it may import Kivy.
"""

import logging
import os
import shutil
import sys
from pathlib import Path
from typing import Any

from models.errors import FloorError

TABLET_DPI = 149.0
"""A 10-inch tablet of 1280×800: pixels per inch."""

LAYOUT_PASSES = 40
"""Rounds of layout that one frame may take: texts give heights to boxes in boxes in scrolled lists."""

_loaded_kv: set[Path] = set()


class NoWindowError(FloorError):
    """Kivy found no way to open a window; the line says what to install."""


def configure_kivy(
    width: int = 1280, height: int = 800, *, offscreen: bool, dpi: float | None = None
) -> None:
    """Decides how Kivy will run; call it before anything imports Kivy, and once.

    `dpi` is the screen's pixels per inch; left out, the window says it, and an offscreen one is the tablet's.
    Nothing is read from or written to the user's Kivy folder.
    """
    if "kivy" in sys.modules:
        raise RuntimeError("configure_kivy must come before the first import of Kivy")
    _set_environment(offscreen, dpi)
    _set_config(width, height)


def has_display() -> bool:
    """Whether a window can be shown to a person here."""
    if sys.platform.startswith("linux"):
        return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
    return True


def open_window() -> Any:
    """Kivy's one window, opened by the first call.

    Raises NoWindowError where the system's GL libraries are missing or will not start.
    """
    try:
        from kivy.core.window import Window
    except (ImportError, OSError, SystemExit) as error:
        raise _no_window() from error
    if Window is None:
        raise _no_window()
    from kivy.clock import Clock

    Clock.max_iteration = LAYOUT_PASSES
    return Window


def load_kv_beside(module_file: str) -> None:
    """Loads the kv file of the same name beside a module; a second call does nothing.

    Kivy adds the rules of a file again each time it is loaded, and every child would then come twice.
    """
    from kivy.lang import Builder

    path = Path(module_file).with_suffix(".kv")
    if path not in _loaded_kv:
        _loaded_kv.add(path)
        Builder.load_file(str(path))


def _set_environment(offscreen: bool, dpi: float | None) -> None:
    os.environ.update(
        KIVY_NO_ARGS="1",
        KIVY_NO_CONFIG="1",
        KIVY_NO_ENV_CONFIG="1",
        KIVY_NO_FILELOG="1",
        KIVY_LOG_MODE="PYTHON",  # leaves the program's own logging and standard error alone
        KIVY_WINDOW="sdl2",
        KIVY_TEXT="sdl2",
        KIVY_AUDIO="sdl2",
        KIVY_CLIPBOARD="dummy",
        KIVY_METRICS_FONTSCALE="1",
    )
    if offscreen:
        os.environ.update(SDL_VIDEODRIVER="offscreen", SDL_AUDIODRIVER="dummy", LIBGL_ALWAYS_SOFTWARE="1")
        dpi = dpi or TABLET_DPI
    if dpi:
        os.environ.update(KIVY_DPI=str(dpi), KIVY_METRICS_DENSITY=str(dpi / 160))


def _set_config(width: int, height: int) -> None:
    from kivy.config import Config

    # Kivy tells of a missing touchpad library as an error; where no window opens, our own line says it.
    logging.getLogger("kivy").setLevel(logging.CRITICAL + 1)
    graphics = {"width": width, "height": height, "multisamples": 0, "allow_screensaver": 0, "maxfps": 60}
    for option, value in graphics.items():
        Config.set("graphics", option, str(value))
    Config.set("kivy", "exit_on_escape", "0")
    Config.set("kivy", "pause_on_minimize", "0")
    for name, _ in list(Config.items("input")):
        Config.remove_option("input", name)
    Config.set("input", "mouse", "mouse,disable_multitouch")  # SDL hands touches on as mouse events


def how_to_mend(platform: str, *, has_apt: bool) -> str:
    """The line for who has no window: the packages by name where they are Debian's."""
    if not platform.startswith("linux"):
        return "no window can be opened: the graphics driver offers no OpenGL 2; update it and start again"
    if has_apt:
        return "no window can be opened: install the GL libraries with `apt-get install libgl1 libegl1`"
    return "no window can be opened: install libGL and libEGL with this system's package manager"


def _no_window() -> NoWindowError:
    return NoWindowError(how_to_mend(sys.platform, has_apt=shutil.which("apt-get") is not None))

"""Kivy starts as the floor needs it: leaving no trace, and saying in a line what is missing."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from floorapp.kivy_setup import has_display, how_to_mend


def run(code: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """Runs code in a Python of its own, since Kivy is set up once in a process."""
    variables = {key: value for key, value in os.environ.items() if not key.startswith(("KIVY", "SDL"))}
    return subprocess.run(
        [sys.executable, "-c", code],
        env={**variables, **environment},
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )


OPEN = "from floorapp.kivy_setup import configure_kivy, open_window; configure_kivy(offscreen=True); "


def test_opening_the_window_writes_nothing_and_says_nothing(tmp_path: Path) -> None:
    done = run(OPEN + "print(open_window().size)", HOME=str(tmp_path))
    assert (done.stdout, done.stderr, done.returncode) == ("(1280, 800)\n", "", 0)
    assert list(tmp_path.iterdir()) == []


def test_lengths_are_those_of_a_ten_inch_tablet_offscreen() -> None:
    done = run(OPEN + "open_window(); from kivy.metrics import mm; print(round(mm(25.4)))")
    assert done.stdout == "149\n"


def test_a_screen_of_other_density_can_be_told() -> None:
    code = "from floorapp.kivy_setup import configure_kivy; configure_kivy(offscreen=True, dpi=96); "
    done = run(code + "from kivy.metrics import mm; print(round(mm(25.4)))")
    assert done.stdout == "96\n"


def test_setting_up_after_kivy_was_imported_is_refused() -> None:
    done = run("import kivy; " + OPEN)
    assert "must come before the first import of Kivy" in done.stderr


TOLD = (
    "\nfrom floorapp.kivy_setup import NoWindowError"
    "\ntry:\n    open_window()\nexcept NoWindowError as error:\n    print(error)"
)
NO_DRIVER = "import os; os.environ['SDL_VIDEODRIVER'] = 'no such driver'"
NO_MODULE = "import sys; sys.modules['kivy.core.window._window_sdl2'] = None"
GL_LIBRARIES = ("libGL.so.1", "libEGL.so.1", "libGLESv2.so.2")
TROUBLES: dict[str, tuple[str, tuple[str, ...]]] = {
    "nothing to draw on": (NO_DRIVER, ()),
    "its module cannot be loaded": (NO_MODULE, ()),
}
if sys.platform.startswith("linux"):  # elsewhere GL is a part of the system, and no file of it can be missing
    TROUBLES["a GL library is missing"] = ("", GL_LIBRARIES)


@pytest.mark.parametrize(("trouble", "missing"), TROUBLES.values(), ids=TROUBLES)
def test_where_no_window_opens_one_line_says_so(
    tmp_path: Path, trouble: str, missing: tuple[str, ...]
) -> None:
    for library in missing:  # an empty file is found before the real one
        (tmp_path / library).write_bytes(b"")
    done = run(OPEN + trouble + TOLD, LD_LIBRARY_PATH=str(tmp_path))
    (line,) = done.stdout.splitlines()

    assert line.startswith("no window can be opened: ")
    assert done.stderr == ""


@pytest.mark.parametrize(
    ("platform", "has_apt", "mend"),
    [
        ("linux", True, "install the GL libraries with `apt-get install libgl1 libegl1`"),
        ("linux", False, "install libGL and libEGL with this system's package manager"),
        ("win32", False, "the graphics driver offers no OpenGL 2; update it and start again"),
        ("darwin", False, "the graphics driver offers no OpenGL 2; update it and start again"),
    ],
)
def test_the_line_tells_what_mends_it_on_that_system(platform: str, has_apt: bool, mend: str) -> None:
    assert how_to_mend(platform, has_apt=has_apt) == f"no window can be opened: {mend}"


def test_a_kv_file_is_loaded_once(tmp_path: Path) -> None:
    (tmp_path / "twice.kv").write_text("<Twice@BoxLayout>:\n    Label:\n")
    code = OPEN + (
        "from floorapp.kivy_setup import load_kv_beside\n"
        f"[load_kv_beside({str(tmp_path / 'twice.py')!r}) for _ in range(2)]\n"
        "from kivy.factory import Factory; print(len(Factory.Twice().children))"
    )
    assert run(code).stdout == "1\n"


def test_a_display_is_known_by_its_variable(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.delenv("WAYLAND_DISPLAY", raising=False)
    assert not has_display()
    monkeypatch.setenv("WAYLAND_DISPLAY", "wayland-0")
    assert has_display()


def test_other_systems_always_have_a_display(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "win32")
    assert has_display()

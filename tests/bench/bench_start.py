"""From process start to the first frame, and to the Floor screen, against a bare Kivy window in the same run.

    python -m tests.bench.bench_start

Goal: the first frame within 1.6 times that of the bare window. Fails nothing.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from models.clock import SystemClock
from tests.small_floor import loaded_store

RUNS = 9
BARE = """
import time
from floorapp.kivy_setup import configure_kivy, open_window
configure_kivy(offscreen=True)
window = open_window()
from kivy.app import App
from kivy.uix.label import Label
class Bare(App):
    def load_config(self): pass
    def load_kv(self, filename=None): pass
    def build(self): return Label(text="bare")
app = Bare()
window.bind(on_flip=lambda *_: (print("frame", time.monotonic_ns()), app.stop()))
app.run()
"""
OURS = """
import sys, time
import floorapp.app as ours
from floorapp.kivy_setup import open_window
told = set()
def tell(name):
    if name not in told:
        told.add(name)
        print(name, time.monotonic_ns())
def watched():
    window = open_window()
    def flipped(*_):
        from kivy.app import App
        tell("frame")
        if App.get_running_app().desk is not None:
            tell("floor")
            App.get_running_app().stop()
    window.bind(on_flip=flipped)
    return window
ours.open_window = watched
ours.run_app(sys.argv[1])
"""


def seconds_to(script: str, *arguments: str) -> dict[str, float]:
    """Seconds from starting a new process to each moment that it tells."""
    started_ns = time.monotonic_ns()
    done = subprocess.run(
        [sys.executable, "-c", script, *arguments],
        capture_output=True,
        text=True,
        check=True,
    )
    moments = [line.split() for line in done.stdout.splitlines()]
    return {name: (int(at) - started_ns) / 1e9 for name, at in reversed(moments)}


def main() -> None:
    with tempfile.TemporaryDirectory() as place:
        loaded_store(Path(place), SystemClock()).close()
        url = f"sqlite:///{place}/floor.db"
        seconds_to(BARE)  # byte code and file cache
        seconds_to(OURS, url)
        runs = [(seconds_to(BARE), seconds_to(OURS, url)) for _ in range(RUNS)]
    bare = statistics.median(bare["frame"] for bare, _ in runs)
    frame = statistics.median(ours["frame"] for _, ours in runs)
    floor = statistics.median(ours["floor"] for _, ours in runs)
    print(f"bare window {bare:.3f} s; first frame {frame:.3f} s = {frame / bare:.2f} x (goal 1.6)")
    print(f"Floor screen {floor:.3f} s = {floor / bare:.2f} x")


if __name__ == "__main__":
    main()

"""Stations that tap at random until they are killed. One process is loaded once and forks each of them.

Run as: python -m tests.system.tapping_station URL. A line "SEED" on standard input begins a station; it says
"pid PID", then "CODE SEQ" after each tap that it was told is stored. "gone" follows when it has ended.
"""

import os
import sys
import tempfile
from pathlib import Path
from random import Random

from models.store.store import Store
from tests.floorapp.random_taps import one_step
from tests.held_clock import HeldClock
from tests.put_off import PutOff
from tests.small_floor import codes_of, flow_on


def main(url: str) -> None:
    for line in sys.stdin:
        station = os.fork()
        if station == 0:
            tap_without_end(url, int(line))
        os.waitpid(station, 0)
        say("gone")


def tap_without_end(url: str, seed: int) -> None:
    say(f"pid {os.getpid()}")
    random, clock = Random(seed), HeldClock()
    store = Store.open(url, clock, Random(seed))
    folder = Path(tempfile.gettempdir())
    flow = flow_on(store, clock, folder, station=f"Station {seed}", background=PutOff())  # nobody is called
    codes = codes_of(store)
    while True:
        before = flow.garment
        one_step(flow, clock, codes, random)
        if flow.garment is not None and flow.garment is not before:
            say(f"{flow.garment.row.code} {flow.garment.progress.seq}")


def say(line: str) -> None:
    """In one piece: a kill leaves no half of it."""
    os.write(sys.stdout.fileno(), f"{line}\n".encode())


if __name__ == "__main__":
    main(sys.argv[1])

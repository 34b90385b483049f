"""A disk that fills up while garments are tapped: each tap is stored or refused in a line, none by half."""

import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from random import Random

import pytest

from models.garment.progress import fold
from models.store.errors import DiskFullError
from models.store.store import Store
from tests.floorapp.random_taps import one_step
from tests.held_clock import HeldClock
from tests.put_off import PutOff
from tests.small_floor import codes_of, flow_on, loaded_store, rested_vests

DISK_KB, MOST_TAPS = 2048, 600
FULL = "no room is left on its disk"


@contextmanager
def small_disk(at: Path) -> Iterator[Path]:
    """A disk of its own, in memory. Only root may mount one."""
    at.mkdir()
    subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={DISK_KB}k", "none", at], check=True)
    try:
        yield at
    finally:
        subprocess.run(["umount", "--lazy", at], check=True)


def fill(folder: Path, leaving_kb: int) -> Path:
    """A file that leaves only so much room."""
    disk = os.statvfs(folder)
    filler = folder / "filler"
    filler.write_bytes(bytes(max(0, disk.f_bavail * disk.f_frsize - leaving_kb * 1024)))
    return filler


@pytest.mark.skipif(os.geteuid() != 0, reason="only root may mount a small disk; CI runs as root")
@pytest.mark.parametrize("leaving_kb", [0, 40, 200])
def test_a_disk_that_fills_up_takes_whole_taps_or_none(tmp_path: Path, leaving_kb: int) -> None:
    random, clock = Random(leaving_kb), HeldClock()
    with small_disk(tmp_path / "disk") as disk:
        store = loaded_store(disk, clock, rested_vests(12))
        flow, codes = flow_on(store, clock, tmp_path, background=PutOff()), codes_of(store)
        filler = fill(disk, leaving_kb)
        for _ in range(MOST_TAPS):
            one_step(flow, clock, codes, random, may_fail=True)
            if flow.notice is not None and FULL in flow.notice.text:
                break
        else:
            pytest.fail("the disk was never full")
        assert_whole(store, disk)
        filler.unlink()
        flow.scan(random.choice(codes))
        assert flow.notice is None or FULL not in flow.notice.text
        assert_whole(store, disk)
        store.close()


def assert_whole(store: Store, disk: Path) -> None:
    """What this station has confirmed is what another one reads; if it can open the file on a full disk."""
    try:
        other = Store.open(f"sqlite:///{disk / 'floor.db'}", HeldClock(), Random(1))
    except DiskFullError:
        other = store
    batch = other.batch("LC-0147")
    for row, log in other.logs("LC-0147"):
        assert [event.seq for event in log] == list(range(1, len(log) + 1))
        assert store.garment(row.code).log == log
        assert row.state == fold(store.recipe_of_size(batch.id, row.size), log).state
    if other is not store:
        other.close()

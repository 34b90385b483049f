"""A database that may only be read: it is reviewed, its tags are printed, and nothing of it is touched.

The commands run in processes of their own, which give up root's right to write where no permission allows it.
"""

import ctypes
import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.held_clock import HeldClock
from tests.small_floor import loaded_store

ROOT = Path(__file__).parents[2]
PR_CAPBSET_DROP, CAP_DAC_OVERRIDE = 24, 1
"""Source: prctl(2) and capabilities(7) of Linux, <linux/prctl.h> and <linux/capability.h>."""


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Path]:
    """A folder with a shop's database, both read-only."""
    folder = tmp_path / "shop"
    loaded_store(folder, HeldClock()).close()
    make_read_only(folder)
    yield folder
    folder.chmod(0o755)


def make_read_only(folder: Path) -> None:
    for file in folder.iterdir():
        file.chmod(0o444)
    folder.chmod(0o555)


def run(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    command = [
        sys.executable,
        "-m",
        "floorapp.command_line",
        "--database",
        f"sqlite:///{folder / 'floor.db'}",
        *words,
    ]
    return subprocess.run(
        command, cwd=ROOT, capture_output=True, text=True, check=False, preexec_fn=be_an_ordinary_person
    )


def be_an_ordinary_person() -> None:
    """Who is none but root loses nothing by it."""
    ctypes.CDLL(None).prctl(PR_CAPBSET_DROP, CAP_DAC_OVERRIDE, 0, 0, 0)


def lying_in(folder: Path) -> dict[str, bytes]:
    return {file.name: file.read_bytes() for file in folder.iterdir()}


def test_this_person_may_not_write_there(shop: Path) -> None:
    """Else the other tests would show nothing."""
    for command in (["touch", shop / "note"], ["cp", "/dev/null", shop / "floor.db"]):
        tried = subprocess.run(command, check=False, capture_output=True, preexec_fn=be_an_ordinary_person)
        assert tried.returncode != 0


def test_it_is_reviewed_and_nothing_is_written(shop: Path) -> None:
    before = lying_in(shop)
    told = run(shop, "review", "LC-0147")

    assert told.returncode == 0, told.stderr
    assert "2 idle" in told.stdout
    assert lying_in(shop) == before


def test_its_review_is_there_as_json_too(shop: Path) -> None:
    told = run(shop, "review", "LC-0147", "--json")

    assert json.loads(told.stdout)["by_state"]["idle"] == 2


def test_its_tags_are_printed(shop: Path, tmp_path: Path) -> None:
    told = run(shop, "tags", "LC-0147", "--out", str(tmp_path / "tags.pdf"))

    assert told.returncode == 0, told.stderr


def test_a_file_beside_which_one_may_write_gets_nothing_beside_it(shop: Path) -> None:
    shop.chmod(0o755)
    before = lying_in(shop)
    told = run(shop, "review", "LC-0147")

    assert told.returncode == 0, told.stderr
    assert lying_in(shop) == before


def test_it_is_checked_and_nothing_is_written(shop: Path) -> None:
    before = lying_in(shop)
    told = run(shop, "check")

    assert told.returncode == 0, told.stderr
    assert "all is well" in told.stdout
    assert lying_in(shop) == before

"""For a minute, files are mangled at random: each is read, or refused in lines of our own."""

import time
from collections.abc import Iterator
from itertools import count, takewhile
from pathlib import Path
from random import Random

import pytest

from models.demo import demo_job_path
from models.errors import FloorError
from models.job.reader import read_job

TRIED_FOR_S = 20.0
"""Of each kind of file, so a minute in all."""
SNIPPETS = (b"", b"-", b"[", b'"', b"nan", b"1e999", b"\x00", b"\xff\xfe", b"<!DOCTYPE x>", b"H", b",,")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The demo job with its roster and its drawings."""
    demo = demo_job_path().parent
    for source in (path for path in demo.rglob("*") if path.suffix in {".toml", ".csv", ".svg"}):
        copy = tmp_path / source.relative_to(demo)
        copy.parent.mkdir(parents=True, exist_ok=True)
        copy.write_bytes(source.read_bytes())
    return tmp_path


def mangled(data: bytes, random: Random) -> bytes:
    """A few stretches cut out, doubled, overwritten, or one bit turned."""
    for _ in range(random.randint(1, 4)):
        start = random.randint(0, len(data))
        end = start + random.choice([0, 1, random.randint(0, 40), random.randint(0, len(data))])
        instead = random.choice([*SNIPPETS, data[start:end] * 2, turned(data[start:end], random)])
        data = data[:start] + instead + data[end:]
    return data


def turned(data: bytes, random: Random) -> bytes:
    if not data:
        return data
    place = random.randrange(len(data))
    return data[:place] + bytes([data[place] ^ 1 << random.randrange(8)]) + data[place + 1 :]


@pytest.mark.parametrize("kind", ["*.toml", "*.csv", "art/*.svg"])
def test_a_minute_of_mangled_files(folder: Path, kind: str) -> None:
    files = sorted(folder.glob(kind))
    whole = {file: file.read_bytes() for file in files}
    job = folder / demo_job_path().name
    outcomes = {try_one(seed, job, whole) for seed in seeds_for(TRIED_FOR_S)}

    assert outcomes == {"read", "refused"}


def seeds_for(seconds: float) -> Iterator[int]:
    """One seed after the other, until the time is over."""
    end_s = time.monotonic() + seconds
    return takewhile(lambda _: time.monotonic() < end_s, count())


def try_one(seed: int, job: Path, whole: dict[Path, bytes]) -> str:
    random = Random(seed)
    file = random.choice(sorted(whole))
    file.write_bytes(mangled(whole[file], random))
    try:
        read_job(job)
    except FloorError as refusal:
        return "refused" if str(refusal) else "refused without a word"
    finally:
        file.write_bytes(whole[file])
    return "read"

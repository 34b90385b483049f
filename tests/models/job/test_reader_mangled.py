"""Whatever a job file holds, it is a job or it is refused; nothing else is ever raised."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from models.demo import demo_job_path
from models.errors import JobRefusedError
from models.job.drawing_process import UNREADABLE
from models.job.reader import read_job
from tests.job_files import small_job, write_job

DEMO = demo_job_path().read_text(encoding="utf-8")
BIT_BY_BIT = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)

VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=8,
)


@st.composite
def mangled_texts(draw: st.DrawFn) -> str:
    """The demo job with a few stretches cut out, doubled or overwritten."""
    text = DEMO
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = start + draw(st.integers(0, 40))
        text = (
            text[:start]
            + draw(st.sampled_from(["", text[start:end] * 2, "-", "[", '"', "nan", "\x00", "é"]))
            + text[end:]
        )
    return text


def read_or_refuse(path: Path) -> str:
    """What is told if the job is refused."""
    try:
        read_job(path)
    except JobRefusedError as refused:
        return str(refused)
    return ""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """With the demo's roster and drawings."""
    (tmp_path / "art").mkdir()
    for drawing in (demo_job_path().parent / "art").iterdir():
        (tmp_path / "art" / drawing.name).write_bytes(drawing.read_bytes())
    (tmp_path / "crew.csv").write_bytes((demo_job_path().parent / "crew.csv").read_bytes())
    return tmp_path


@BIT_BY_BIT
@given(text=mangled_texts())
def test_a_mangled_job_file_is_read_or_refused(folder, text):
    (folder / "vests.toml").write_text(text, encoding="utf-8", errors="replace")
    read_or_refuse(folder / "vests.toml")


@BIT_BY_BIT
@given(content=st.binary(max_size=300))
def test_any_bytes_are_refused(folder, content):
    (folder / "vests.toml").write_bytes(content)
    with pytest.raises(JobRefusedError):
        read_job(folder / "vests.toml")


@BIT_BY_BIT
@given(data=st.data())
def test_any_value_at_any_place_is_read_or_refused(folder, data):
    table = small_job()
    inner = table
    key = data.draw(st.sampled_from(sorted(table)))
    while isinstance(inner[key], dict | list) and inner[key] and data.draw(st.booleans()):
        inner = inner[key]
        key = data.draw(st.sampled_from(sorted(inner) if isinstance(inner, dict) else range(len(inner))))
    inner[key] = data.draw(VALUES)
    read_or_refuse(write_job(folder, table))


@BIT_BY_BIT
@given(
    roster=st.text(max_size=200),
    head=st.sampled_from(["", "size\n", "size;name;number;quantity\n", "Size\tName\n"]),
)
def test_any_roster_is_read_or_refused(folder, roster, head):
    (folder / "crew.csv").write_text(head + roster, encoding="utf-8", newline="")
    read_or_refuse(write_job(folder, small_job() | {"garments": {"roster": "crew.csv"}}))


@BIT_BY_BIT
@given(start=st.integers(0, 600), length=st.integers(0, 30), new=st.text(max_size=12))
def test_a_mangled_drawing_is_read_or_refused(folder, start, length, new):
    drawing = (demo_job_path().parent / "art" / "anchor-ring.svg").read_text(encoding="utf-8")
    path = write_job(folder, small_job())
    (folder / "art" / "anchor.svg").write_text(
        drawing[:start] + new + drawing[start + length :], encoding="utf-8"
    )
    assert UNREADABLE[0] not in read_or_refuse(path)  # the reader itself has stumbled over nothing

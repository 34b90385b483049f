"""The documents say what the program does: commands, states, screens and the diagram."""

from pathlib import Path

import pytest

from floorapp.command_line import main
from floorapp.screen_names import ScreenName
from models.batch.events import BatchEventKind
from models.garment.cycle import EventKind, State
from models.garment.diagram import cycle_diagram
from models.garment.events import FindingKind
from models.job.reader import read_job

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_the_diagram_is_the_one_that_the_table_draws() -> None:
    assert f"```mermaid\n{cycle_diagram()}\n```" in DEVELOPERS


@pytest.mark.parametrize("state", State)
def test_every_state_is_explained(state: State) -> None:
    assert f"| {state.value} |" in DEVELOPERS


@pytest.mark.parametrize("kind", EventKind)
def test_every_event_is_explained(kind: EventKind) -> None:
    assert f"| {kind.value} |" in DEVELOPERS


@pytest.mark.parametrize("kind", BatchEventKind)
def test_every_event_of_a_batch_is_explained(kind: BatchEventKind) -> None:
    assert f"| {kind.value} |" in DEVELOPERS.split("## Events of a batch")[1]


@pytest.mark.parametrize("command", sorted(main.commands))
def test_every_command_stands_in_the_readme_and_has_help(command: str) -> None:
    assert f"floorapp {command}" in README
    assert main.commands[command].help


@pytest.mark.parametrize("screen", [s for s in ScreenName if "entry" not in s.value])
def test_every_screen_is_named_in_the_readme(screen: ScreenName) -> None:
    assert screen.value in README.lower()


@pytest.mark.parametrize("finding", FindingKind)
def test_every_finding_is_named_in_the_readme(finding: FindingKind) -> None:
    assert finding.value in README


def test_every_picture_of_the_readme_is_there() -> None:
    named = [part.split(")")[0] for part in README.split("](")[1:] if ".png" in part.split(")")[0]]

    assert named
    assert all((ROOT / name).is_file() for name in named)


def test_the_job_file_of_the_readme_is_one_that_is_read(tmp_path: Path) -> None:
    example = README.split("```toml\n")[1].split("```")[0]
    (tmp_path / "job.toml").write_text(example, encoding="utf-8")

    assert len(read_job(tmp_path / "job.toml").garments) == 24

"""The whole job as a person does it: job file in, tags printed and read, garments pressed, batch reviewed."""

import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random

import pypdfium2
import pytest
import zxingcpp

from floorapp.planned_job import read_and_plan
from floorapp.views import Action, Tap
from models.demo import demo_job_path
from models.garment.cycle import State
from models.quality.review import Review
from models.store.store import Store
from printables.batch_tags import tags_of_batch
from printables.paper import A4
from printables.tag_sheets import write_tag_sheets
from tests.floorapp.conftest import start_app  # noqa: F401  (the fixture is used by name)
from tests.floorapp.driver import Driver
from tests.floorapp.press_operator import BETWEEN_TAPS_S, PressOperator, app_on
from tests.held_clock import MORNING, HeldClock
from tests.rule_checker import broken_rules

REFERENCE = "LC-0147"
READING_DPI = 200


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def store(tmp_path: Path, clock: HeldClock) -> Iterator[Store]:
    """The demo job in a real SQLite file."""
    store = Store.open(f"sqlite:///{tmp_path / 'floor.db'}", clock, Random(11))
    planned = read_and_plan(demo_job_path())
    store.add_batch(planned.job, planned.plan, planned.heat_findings, planned.rests)
    yield store
    store.close()


def codes_on_paper(store: Store, folder: Path) -> list[str]:
    """Prints the batch's tags and reads them off the pictures of the pages, with a second reader."""
    sheet = folder / "tags.pdf"
    write_tag_sheets(tags_of_batch(store, REFERENCE), sheet, A4, made_at=MORNING)
    document = pypdfium2.PdfDocument(sheet)
    pictures = [page.render(scale=READING_DPI / 72).to_pil() for page in document]
    document.close()
    return [symbol.text for picture in pictures for symbol in zxingcpp.read_barcodes(picture)]


def work_through(operator: PressOperator, code: str, *, until: State = State.COMPLETE) -> None:
    """Taps the primary action again and again, waits where there is something to wait for."""
    operator.scan(code)
    while operator.flow.in_hand.progress.state != until:
        take_one_step(operator, code)


def take_one_step(operator: PressOperator, code: str) -> None:
    progress = operator.flow.in_hand.progress
    match progress.state:
        case State.PRESSING:
            operator.driver.advance(progress.hit.dwell_s)
            operator.tap("The press is open")
        case State.RESTING:
            operator.wait_for_the_rest()
            operator.scan(code)
            operator.tap("Cold ones off")
        case State.PEELING if progress.ready_at is not None:
            operator.wait_for_the_rest()
            operator.step_on_the_switch()
        case _:
            operator.step_on_the_switch()


def find_a_lift(operator: PressOperator, code: str) -> None:
    work_through(operator, code, until=State.CHECKING)
    operator.tap_piece(operator.flow.in_hand.progress.hit.count[0])
    operator.tap("Lifts")
    operator.tap("Press again")


def spoil(operator: PressOperator, code: str) -> None:
    work_through(operator, code, until=State.CHECKING)
    operator.tap("Something is wrong")
    operator.tap("Scorched")
    operator.tap("Spoil it …")
    operator.tap("Scorched or melted")
    operator.tap("Spoil it")


def killed_while_pressing(store: Store, folder: Path, code: str) -> None:
    """An app in another process closes the press on the garment, and is killed."""
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.floorapp.floor_process", str(folder / "floor.db"), code],
        stdout=subprocess.PIPE,
        text=True,
        cwd=Path(__file__).parents[1],
    )
    assert process.stdout is not None
    with process:
        assert process.stdout.readline().strip() == State.PRESSING.value
        process.send_signal(signal.SIGKILL)
    assert process.returncode == -signal.SIGKILL


def test_a_batch_crosses_the_floor(
    start_app: Callable[..., Driver],  # noqa: F811  (the fixture)
    store: Store,
    tmp_path: Path,
) -> None:
    recipe = store.recipe(store.batch(REFERENCE).id)
    assert broken_rules(recipe.job, recipe.plan) == []
    codes = codes_on_paper(store, tmp_path)
    assert sorted(codes) == sorted(row.code for row in store.garments(REFERENCE))

    smooth, lifted, scorched, interrupted = codes[:4]
    killed_while_pressing(store, tmp_path, interrupted)
    operator = PressOperator(start_app(lambda clock: app_on(store, tmp_path, clock)))

    operator.scan(interrupted)
    assert operator.sees("was it finished?")
    operator.tap("Yes, pressed the full")
    work_through(operator, interrupted)
    work_through(operator, smooth)
    find_a_lift(operator, lifted)
    work_through(operator, lifted)
    spoil(operator, scorched)

    check_the_review(operator)


def check_the_review(operator: PressOperator) -> None:
    """Counted by hand: four garments ended, two of them good at first, one pressed again, one spoiled."""
    operator.driver.advance(BETWEEN_TAPS_S)
    operator.desk.act(Action(Tap.TO_REVIEW, REFERENCE))
    review: Review | None = operator.flow.review.review
    assert review is not None
    assert review.by_state[State.COMPLETE] == 3
    assert review.by_state[State.SPOILED] == 1
    assert review.by_state[State.IDLE] == 20
    assert review.figures.first_pass_yield == 2 / 4
    assert review.figures.rework_ratio == 1 / 4
    assert review.figures.scrap_ratio == 1 / 4
    assert [(tally.name, tally.count) for tally in review.by_kind] == [("lift", 1)]

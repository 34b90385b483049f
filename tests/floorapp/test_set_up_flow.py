"""Set-up without its window: a job is read, planned, loaded and tagged; what is refused is told whole."""

from collections.abc import Iterator
from pathlib import Path
from random import Random
from shutil import copytree

import pytest

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.set_up_presenter import set_up_view
from floorapp.set_up_flow import SetUpFlow, SetUpPhase
from floorapp.views import Action, Tap
from models.demo import demo_job_path, second_demo_job_path
from models.job.reader import read_job
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.put_off import PutOff
from tests.small_floor import flow_on


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    store = Store.open(f"sqlite:///{tmp_path / 'floor.db'}", HeldClock(), Random(5))
    yield store
    store.close()


@pytest.fixture
def jobs(tmp_path: Path) -> Path:
    """A folder with the shop's job files."""
    return Path(copytree(demo_job_path().parent, tmp_path / "jobs"))


@pytest.fixture
def flow(store: Store, tmp_path: Path) -> Flow:
    flow = flow_on(store, HeldClock(), tmp_path)
    flow.act(Action(Tap.TO_SET_UP))
    return flow


def test_the_folder_shows_its_job_files_and_the_folders_in_it(flow: Flow, jobs: Path) -> None:
    flow.act(Action(Tap.OPEN_FOLDER, str(jobs)))
    told = [button.text for button in set_up_view(flow).entries]

    assert demo_job_path().name in told
    assert "art ›" in told
    assert "crew.csv" not in told


def test_columns_of_the_roster_that_are_left_out_are_told_before_the_batch_is_loaded(
    flow: Flow, jobs: Path
) -> None:
    roster = jobs / "crew.csv"
    header, *rows = roster.read_text(encoding="utf-8").splitlines()
    further = [f"{header},Cap,Shoe", *(f"{row},57,43" for row in rows)]
    roster.write_text("\n".join(further), encoding="utf-8")
    flow.act(Action(Tap.CHOOSE_FILE, str(jobs / demo_job_path().name)))
    told = set_up_view(flow)

    group = next(group for group in told.groups if group.heading == "Look at this before you load")
    assert group.lines[0].text == "crew.csv: line 1: columns left out: Cap, Shoe"
    assert told.primary is not None
    assert told.primary.text == "Load the batch"


def test_a_wearer_whose_name_no_font_can_draw_is_told_before_the_batch_is_loaded(
    flow: Flow, jobs: Path
) -> None:
    flow.act(Action(Tap.CHOOSE_FILE, str(jobs / demo_job_path().name)))
    group = next(
        group for group in set_up_view(flow).groups if group.heading == "Look at this before you load"
    )
    assert group.lines[0].text == "No 3 Hamano 浜野: no font for U+6D5C, U+91CE"
    assert "Install a font that has them" in group.lines[1].text


def test_a_chosen_job_is_planned_and_not_stored(flow: Flow, jobs: Path, store: Store) -> None:
    flow.act(Action(Tap.CHOOSE_FILE, str(jobs / second_demo_job_path().name)))
    view = set_up_view(flow)

    assert flow.set_up.state.phase == SetUpPhase.PLANNED
    assert view.maps
    assert view.primary is not None
    assert view.primary.text == "Load the batch"
    assert store.batches() == ()


def test_a_loaded_batch_offers_its_tags_and_they_are_written(
    flow: Flow, jobs: Path, store: Store, tmp_path: Path
) -> None:
    flow.act(Action(Tap.CHOOSE_FILE, str(jobs / second_demo_job_path().name)))
    flow.act(Action(Tap.LOAD_BATCH))
    flow.act(Action(Tap.CHOOSE_PAPER, "letter"))
    reference = store.batches()[0].head.reference
    flow.act(Action(Tap.WRITE_TAGS, reference))

    assert flow.set_up.state.phase == SetUpPhase.WRITTEN
    assert (tmp_path / f"tags-{reference}-letter.pdf").read_bytes().startswith(b"%PDF")


def test_a_faulty_job_is_refused_with_every_fault_and_nothing_is_stored(
    flow: Flow, jobs: Path, store: Store
) -> None:
    faulty = jobs / "faulty.toml"
    text = second_demo_job_path().read_text(encoding="utf-8")
    faulty.write_text(text.replace("format = 1", "format = 9\nsurprise = 1"), encoding="utf-8")
    flow.act(Action(Tap.CHOOSE_FILE, str(faulty)))
    lines = [line.text for group in set_up_view(flow).groups for line in group.lines]

    assert flow.set_up.state.phase == SetUpPhase.REFUSED
    assert len(lines) == 2
    assert all(line.startswith("faulty.toml") for line in lines)
    assert store.batches() == ()


def test_a_job_loaded_twice_is_told_in_a_notice(flow: Flow, jobs: Path, store: Store) -> None:
    for _ in range(2):
        flow.act(Action(Tap.CHOOSE_FILE, str(jobs / second_demo_job_path().name)))
        flow.act(Action(Tap.LOAD_BATCH))

    assert flow.notice is not None
    assert flow.screen == ScreenName.SET_UP
    assert len(store.batches()) == 1


def test_the_list_of_a_batch_is_written_as_csv(flow: Flow, jobs: Path, store: Store, tmp_path: Path) -> None:
    flow.act(Action(Tap.CHOOSE_FILE, str(jobs / second_demo_job_path().name)))
    flow.act(Action(Tap.LOAD_BATCH))
    head = store.batches()[0].head
    flow.act(Action(Tap.WRITE_CSV, head.reference))
    lines = (tmp_path / f"review-{head.reference}.csv").read_text(encoding="utf-8").splitlines()

    assert len(lines) == head.garments + 1
    assert flow.notice is not None
    assert "review-" in flow.notice.text


def test_a_plan_in_the_making_tells_its_best_so_far(flow: Flow, jobs: Path) -> None:
    told: list[str] = []
    flow.listen(lambda: told.append(flow.set_up.state.progress))
    flow.act(Action(Tap.CHOOSE_FILE, str(jobs / demo_job_path().name)))

    assert any(line.startswith("Best so far: ") for line in told)


def put_off_set_up(flow: Flow, folder: Path) -> tuple[SetUpFlow, PutOff]:
    background = PutOff()
    return SetUpFlow(flow.work, background, folder, folder), background


@pytest.mark.parametrize("order", [(0, 1), (1, 0)])
def test_of_two_files_chosen_in_a_row_the_second_is_shown_whichever_is_planned_first(
    flow: Flow, jobs: Path, order: tuple[int, int]
) -> None:
    set_up, background = put_off_set_up(flow, jobs)
    set_up.choose(str(jobs / demo_job_path().name))
    set_up.choose(str(jobs / second_demo_job_path().name))
    for n in order:
        background.waiting[n]()

    assert set_up.state.planned is not None
    assert set_up.state.planned.job == read_job(jobs / second_demo_job_path().name)
    assert set_up.state.chosen == jobs / second_demo_job_path().name


def test_a_refusal_of_the_first_file_does_not_hide_the_plan_of_the_second(flow: Flow, jobs: Path) -> None:
    set_up, background = put_off_set_up(flow, jobs)
    set_up.choose(str(jobs / "lost.toml"))
    set_up.choose(str(jobs / second_demo_job_path().name))
    for waiting in reversed(background.waiting):
        waiting()

    assert set_up.state.phase == SetUpPhase.PLANNED


def test_a_plan_that_comes_after_the_folder_was_changed_is_not_shown(flow: Flow, jobs: Path) -> None:
    set_up, background = put_off_set_up(flow, jobs)
    set_up.choose(str(jobs / second_demo_job_path().name))
    set_up.look_into(str(jobs / "art"))
    background.waiting[0]()

    assert set_up.state.phase == SetUpPhase.CHOOSING
    assert set_up.state.planned is None


def test_taking_the_best_so_far_stops_the_last_file_only_and_another_choice_stops_the_first(
    flow: Flow, jobs: Path
) -> None:
    set_up, _ = put_off_set_up(flow, jobs)
    set_up.choose(str(jobs / demo_job_path().name))
    first = set_up.planning
    set_up.choose(str(jobs / second_demo_job_path().name))
    second = set_up.planning

    assert (first.is_stopped, second.is_stopped) == (True, False)
    set_up.stop_planning()
    assert second.is_stopped


def test_tags_that_cannot_be_written_are_told_and_can_be_printed_again(
    flow: Flow, jobs: Path, store: Store, tmp_path: Path
) -> None:
    flow.act(Action(Tap.CHOOSE_FILE, str(jobs / second_demo_job_path().name)))
    flow.act(Action(Tap.LOAD_BATCH))
    reference = store.batches()[0].head.reference
    flow.set_up.out = tmp_path / "jobs" / second_demo_job_path().name / "no-folder"
    flow.act(Action(Tap.WRITE_TAGS, reference))
    failed = set_up_view(flow)
    flow.set_up.out = tmp_path
    flow.act(Action(Tap.WRITE_TAGS, reference))

    assert failed.heading == "Tags not written"
    assert failed.groups[0].lines
    assert failed.primary is not None
    assert failed.primary.text == "Print its tags"
    assert flow.set_up.state.phase == SetUpPhase.WRITTEN

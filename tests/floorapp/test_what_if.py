"""What if, without its window: a job is tried with other numbers, and nothing of that is stored."""

from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest

from floorapp.flow import Flow, ScreenName
from floorapp.screens.what_if_presenter import WhatIfView, what_if_view
from floorapp.views import Action, Tap
from floorapp.what_if_flow import WhatIf, WhatIfFlow
from models.demo import demo_job_path, second_demo_job_path
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.put_off import PutOff
from tests.sample_jobs import crew_vest_job, crew_vest_plan
from tests.small_floor import flow_on, loaded_store

BATCH = "LC-0147"
KEPT = "Nothing is stored. A batch on the floor keeps its frozen hits."


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    store = loaded_store(tmp_path / "shop", HeldClock())
    yield store
    store.close()


@pytest.fixture
def flow(store: Store, tmp_path: Path) -> Flow:
    """A stored batch is being tried."""
    flow = flow_on(store, HeldClock(), tmp_path)
    flow.act(Action(Tap.TO_REVIEW, BATCH))
    flow.act(Action(Tap.WHAT_IF, BATCH))
    return flow


def told(flow: Flow) -> list[str]:
    view = what_if_view(flow)
    groups = (*view.news, *view.groups)
    return [view.kept, *view.totals.split(" · "), *(line.text for group in groups for line in group.lines)]


def step_of(view: WhatIfView, word: str, *, more: bool = True) -> Action:
    """The step that takes more of this number, or less."""
    sign = "+" if more else "−"
    return next(button.action for button in view.steps if word in button.text and sign in button.text)


def test_a_stored_batch_is_shown_with_its_own_plan(flow: Flow, store: Store) -> None:
    view = what_if_view(flow)

    assert flow.screen == ScreenName.WHAT_IF
    assert view.map.platen == store.recipe(store.batch(BATCH).id).plan.hits[0].platen
    assert "nothing yet" in told(flow)


def test_a_narrower_platen_is_planned_and_compared(flow: Flow) -> None:
    for _ in range(15):
        flow.act(step_of(what_if_view(flow), "width", more=False))

    assert "platen 250 × 500 mm, was 400 × 500" in told(flow)
    assert any(line.startswith("hits: 2, now ") and line.endswith("more") for line in told(flow))


def test_nothing_of_a_try_is_stored(flow: Flow, store: Store) -> None:
    before = store.recipe(store.batch(BATCH).id)
    flow.act(step_of(what_if_view(flow), "width"))

    assert store.recipe(store.batch(BATCH).id) == before
    assert KEPT in told(flow)


def test_a_piece_tapped_on_the_map_is_moved(flow: Flow) -> None:
    flow.act(Action(Tap.TRY_PIECE, "anchor"))
    flow.act(next(button.action for button in what_if_view(flow).steps if button.text == "down mm\n + 5"))

    assert "anchor +0 mm across, +5 mm down" in told(flow)


def test_a_window_in_which_no_plan_is_left_tells_why(flow: Flow) -> None:
    flow.act(Action(Tap.TRY_WHAT, "material raised-foam"))
    for number, steps in (("hottest", 3), ("set", 13), ("lowest", 17)):
        for _ in range(steps):
            flow.act(step_of(what_if_view(flow), number))
    view = what_if_view(flow)

    assert view.heading == "No plan"
    assert view.news[0].lines
    assert any("now none" in line for line in told(flow))


def test_a_step_too_far_is_refused_in_a_notice_and_changes_nothing(flow: Flow) -> None:
    flow.act(Action(Tap.TRY_WHAT, "material raised-foam"))
    for _ in range(5):
        flow.act(step_of(what_if_view(flow), "lowest"))

    assert flow.notice is not None
    assert "stand in this order" in flow.notice.text


def test_all_changes_can_be_undone_at_once(flow: Flow) -> None:
    assert Tap.UNDO_TRY not in [button.action.tap for button in what_if_view(flow).choices]
    flow.act(step_of(what_if_view(flow), "width"))
    flow.act(Action(Tap.UNDO_TRY))

    assert "nothing yet" in told(flow)


def test_a_plan_that_comes_after_all_was_undone_is_dropped() -> None:
    job, plan, late = crew_vest_job(), crew_vest_plan(), PutOff()
    trying = WhatIfFlow(late)
    trying.begin(job, plan)
    trying.step("wider 10")
    trying.undo_all()
    late.waiting[0]()

    assert trying.state == WhatIf(job, plan, tried=job, tried_plan=plan)


def test_a_plan_of_the_job_tried_before_is_dropped() -> None:
    job, plan, late = crew_vest_job(), crew_vest_plan(), PutOff()
    trying = WhatIfFlow(late)
    trying.begin(job, plan)
    trying.step("wider 10")
    trying.begin(job, plan)
    late.waiting[0]()

    assert trying.state == WhatIf(job, plan, tried=job, tried_plan=plan)


def test_leaving_the_screen_ends_the_planning_of_a_try(flow: Flow) -> None:
    flow.what_if.background = PutOff()
    flow.act(step_of(what_if_view(flow), "width"))
    trying = flow.what_if.planning
    assert not trying.is_stopped
    flow.act(Action(Tap.BACK))

    assert trying.is_stopped


def test_the_plan_is_shown_hit_by_hit(flow: Flow) -> None:
    first = what_if_view(flow)
    flow.act(first.turns[1].action)

    assert first.hit.startswith("Hit 1")
    assert what_if_view(flow).hit.startswith("Hit 2")


def test_a_job_that_is_being_set_up_is_tried_and_still_there_afterwards(store: Store, tmp_path: Path) -> None:
    flow = flow_on(store, HeldClock(), tmp_path)
    flow.act(Action(Tap.TO_SET_UP))
    flow.act(Action(Tap.CHOOSE_FILE, str(second_demo_job_path())))
    flow.act(Action(Tap.WHAT_IF))
    flow.act(step_of(what_if_view(flow), "height"))
    flow.act(Action(Tap.BACK))

    assert flow.screen == ScreenName.SET_UP
    assert flow.set_up.state.planned is not None


def test_the_demo_can_be_tried_piece_by_piece(tmp_path: Path) -> None:
    store = Store.open(f"sqlite:///{tmp_path / 'demo.db'}", HeldClock(), Random(5))
    flow = flow_on(store, HeldClock(), tmp_path)
    flow.act(Action(Tap.TO_SET_UP))
    flow.act(Action(Tap.CHOOSE_FILE, str(demo_job_path())))
    flow.act(Action(Tap.WHAT_IF))
    shown = {entry.piece.id for entry in what_if_view(flow).map.pieces}
    flow.act(Action(Tap.TRY_PIECE, min(shown)))

    assert any(button.text.startswith("across") for button in what_if_view(flow).steps)
    store.close()

"""What if, without its window: a job is tried with other numbers, and nothing of that is stored."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from random import Random

import pytest

from floorapp.background import AtOnce
from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.what_if_presenter import TRIED, WhatIfView, what_if_view
from floorapp.views import Action, Tap
from floorapp.what_if_flow import WhatIf, WhatIfFlow
from floorapp.widget_views import Role
from models.demo import demo_job_path, second_demo_job_path
from models.errors import FloorError, NoSequenceFoundError
from models.geometry import Box
from models.job.job import GarmentOrder, SideInSize, Zone, ZoneKind
from models.plan.plan import Plan
from models.planning.planner import plan_sizes
from models.planning.search.solve_job import plan_hits
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.put_off import PutOff
from tests.sample_jobs import BACK, FOAM, PRESS, box_piece, crew_vest_job, crew_vest_plan, job_of
from tests.small_floor import flow_on, loaded_store

BATCH = "LC-0147"
KEPT = "A batch on the floor keeps its frozen hits, whatever is tried here."


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
    groups = (*view.why, *view.groups)
    return [view.kept, *(line.text for group in groups for line in group.lines)]


def step_of(view: WhatIfView, word: str, *, more: bool = True) -> Action:
    """The step that takes more of this number, or less."""
    less, greater = [button.action for button in view.steps if button.text.startswith(word)]
    return greater if more else less


def totals_of(flow: Flow) -> dict[str, tuple[str, str]]:
    return {row.name: (row.before, row.now) for row in what_if_view(flow).totals}


def move(flow: Flow, words: str, times: int = 1) -> None:
    for _ in range(times):
        flow.act(next(button.action for button in what_if_view(flow).steps if button.text == words))


def test_a_stored_batch_is_shown_with_its_own_plan(flow: Flow, store: Store) -> None:
    view = what_if_view(flow)

    assert flow.screen == ScreenName.WHAT_IF
    stored = store.recipe(store.batch(BATCH).id).plan.hits[0].platen
    assert (view.before.map.platen, view.now.map.platen) == (stored, stored)
    assert "nothing yet" in told(flow)


def test_a_narrower_platen_is_planned_and_compared(flow: Flow) -> None:
    for _ in range(15):
        flow.act(step_of(what_if_view(flow), "width", more=False))

    assert "platen 250 × 500 mm, was 400 × 500" in told(flow)
    assert totals_of(flow)["hits"] == ("2", "3 (+1)")


def test_nothing_of_a_try_is_stored(flow: Flow, store: Store) -> None:
    before = store.recipe(store.batch(BATCH).id)
    flow.act(step_of(what_if_view(flow), "width"))

    assert store.recipe(store.batch(BATCH).id) == before
    assert KEPT in told(flow)


def test_a_piece_tapped_on_the_map_is_moved(flow: Flow) -> None:
    flow.act(Action(Tap.TRY_PIECE, "anchor"))
    move(flow, "5 mm\ndown")
    move(flow, "1 mm\nleft", times=2)

    assert "anchor 2 mm left, 5 mm down" in told(flow)


def test_a_piece_dragged_on_the_map_is_planned_where_it_was_let_go(flow: Flow) -> None:
    flow.act(Action(Tap.TRY_DRAG, "12 -3 anchor"))

    assert "anchor 12 mm right, 3 mm up" in told(flow)
    assert what_if_view(flow).now.map.platen is not None
    assert [button.text for button in what_if_view(flow).subjects if button.is_chosen] == ["anchor"]


def test_a_piece_dragged_off_its_side_stays_where_it_was(flow: Flow) -> None:
    flow.act(Action(Tap.TRY_DRAG, "-400 0 anchor"))

    assert flow.notice is not None
    assert "more than half off back" in flow.notice.text
    assert "nothing yet" in told(flow)


def test_each_step_says_what_it_makes_of_the_number(flow: Flow) -> None:
    flow.act(Action(Tap.TRY_WHAT, "material raised-foam"))

    assert [button.text for button in what_if_view(flow).steps[:4]] == [
        "lowest\n145→144 °C\n293→291 °F",
        "lowest\n145→146 °C\n293→295 °F",
        "set\n149→148 °C\n300→298 °F",
        "set\n149→150 °C\n300→302 °F",
    ]


def test_the_totals_are_a_row_for_each_objective_in_its_order(flow: Flow) -> None:
    assert list(totals_of(flow)) == [
        "hits",
        "changes of temperature",
        "changes of side",
        "seconds under the press",
        "pieces heated again",
    ]


def test_a_job_for_several_presses_has_a_row_of_walks_and_a_subject_for_each_platen(flow: Flow) -> None:
    presses = (replace(PRESS, name="wide"), replace(PRESS, name="small", platen_width_mm=200))
    job = replace(crew_vest_job(), press=presses[0], more_presses=presses[1:])
    flow.what_if.begin(job, plan_hits(job))
    flow.act(Action(Tap.TRY_WHAT, "platen 1"))
    flow.act(step_of(what_if_view(flow), "width"))

    assert "platen small 210 × 500 mm, was 200 × 500" in told(flow)
    assert list(totals_of(flow))[:2] == ["hits", "walks between presses"]
    assert [button.text for button in what_if_view(flow).subjects][:2] == ["Platen wide", "Platen small"]


def test_a_try_that_no_hits_can_work_tells_why(flow: Flow) -> None:
    """Foam moved onto the twill ring, which takes nothing on top."""
    flow.act(Action(Tap.TRY_DRAG, "80 0 anchor"))
    view = what_if_view(flow)

    assert view.heading == "No plan is possible"
    assert "does not take" in view.why[0].lines[0].text
    assert view.totals == ()
    assert view.now.title.startswith(f"{TRIED}: no plan")
    assert view.before.title.startswith("As it is: Hit 1, back")


class FindsNothing(AtOnce):
    """A background whose search ends before it has found anything."""

    def run(self, _work: object, _done: object, refused: Callable[[FloorError], None]) -> None:
        refused(NoSequenceFoundError("none was found"))


def test_a_search_that_found_nothing_is_not_told_as_impossible(flow: Flow) -> None:
    flow.what_if.background = FindsNothing()
    flow.act(step_of(what_if_view(flow), "width"))

    assert what_if_view(flow).heading == "No plan was found"


def test_a_heat_that_the_fabric_does_not_bear_is_refused_in_a_notice(flow: Flow) -> None:
    flow.act(Action(Tap.TRY_WHAT, "material raised-foam"))
    for number, steps in (("hottest", 3), ("set", 13), ("lowest", 17)):
        for _ in range(steps):
            flow.act(step_of(what_if_view(flow), number))

    assert flow.notice is not None
    assert "bears 160 °C; take less" in flow.notice.text
    assert any("160 to 163 °C" in line for line in told(flow))


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
    other = replace(job, name="Pilot crew vests")
    trying.begin(other, plan)
    late.waiting[0]()

    assert trying.state == WhatIf(other, plan, tried=other, tried_plan=plan)


def test_a_try_that_was_left_while_it_was_planned_is_planned_on_its_return() -> None:
    job, plan, late = crew_vest_job(), crew_vest_plan(), PutOff()
    trying = WhatIfFlow(late)
    trying.begin(job, plan)
    trying.step("wider 10")
    trying.leave()
    trying.begin(job, plan)
    for planning in late.waiting:
        planning()

    assert trying.state is not None
    assert trying.state.tried != job
    assert trying.state.tried_plan is not None
    assert not trying.state.is_planning


def test_while_a_try_is_planned_the_map_shows_the_size_of_most_garments_alone() -> None:
    """In size S metal lies between the lights, and a plan for it takes a hit more."""
    lights = [box_piece(name, FOAM, Box(x, 300, 40, 40)) for name, x in (("port", 100), ("lamp", 440))]
    snap = Zone(ZoneKind.KEEP_OUT, Box(285, 315, 10, 10), "snap")
    back = replace(BACK, sizes=(SideInSize("S", 560, 700, (snap,), (0.0, 0.0)),))
    garments = tuple(GarmentOrder(n, size) for n, size in enumerate("MMS", start=1))
    job = job_of(lights, (FOAM,), sides=(back,), garments=garments)
    trying, shown = WhatIfFlow(AtOnce()), list[Plan]()

    def look() -> None:
        if trying.state and trying.state.is_planning and trying.state.tried_plan:
            shown.append(trying.state.tried_plan)

    trying.begin(job, plan_sizes(job))
    trying.changed = look
    trying.step("wider 10")

    assert {len(plan.hits) for plan in shown} == {1}


def test_a_job_that_was_only_looked_at_is_left_without_a_word(flow: Flow) -> None:
    flow.act(Action(Tap.BACK))

    assert flow.notice is None


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

    second = what_if_view(flow)
    for n, view in enumerate((first, second), start=1):
        assert view.before.title.startswith(f"As it is: Hit {n}, ")
        assert view.now.title.startswith(f"{TRIED}: Hit {n}, ")


def test_beside_a_hit_that_only_the_tried_plan_has_stands_the_side_with_all_down(flow: Flow) -> None:
    for _ in range(15):
        flow.act(step_of(what_if_view(flow), "width", more=False))
    flow.act(Action(Tap.TURN_TO_HIT, "2"))
    view = what_if_view(flow)

    assert view.now.title.startswith(f"{TRIED}: Hit 3")
    assert view.before.title == "As it is: no hit 3\nall is down before"
    assert view.before.map.platen is None
    assert {entry.role for entry in view.before.map.pieces} == {Role.DOWN}


def test_a_try_keeps_the_hit_that_is_looked_at(flow: Flow) -> None:
    flow.act(Action(Tap.TURN_TO_HIT, "1"))
    flow.act(Action(Tap.TRY_DRAG, "2 2 wave"))

    assert what_if_view(flow).now.title.startswith(f"{TRIED}: Hit 2")


def test_while_a_try_is_planned_the_plan_as_it_is_stands_beside_the_side(flow: Flow) -> None:
    flow.what_if.background = PutOff()
    flow.act(step_of(what_if_view(flow), "width"))
    view = what_if_view(flow)

    assert view.heading == "Planning …"
    assert totals_of(flow)["hits"] == ("2", "…")
    assert view.now.title.startswith(f"{TRIED}: planning")
    assert {entry.role for entry in view.now.map.pieces} == {Role.LATER}
    assert view.before.map.platen is not None


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
    shown = {entry.piece.id for entry in what_if_view(flow).now.map.pieces}
    flow.act(Action(Tap.TRY_PIECE, min(shown)))

    assert "5 mm\nleft" in [button.text for button in what_if_view(flow).steps]
    store.close()

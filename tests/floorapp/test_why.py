"""Why a hit is as it is, without its window: reasons, heat and rest, and what is said until they come."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.heat_presenter import WORKING
from floorapp.screens.presenter import primary_of
from floorapp.screens.why_presenter import WhyView, planned_hit_view, why_view
from floorapp.views import Action, Tap, Tone
from floorapp.why_flow import WhyFlow
from models.demo import second_demo_job_path
from models.garment.events import FindingKind
from models.garment.progress import Recipe
from models.geometry import Box
from models.heat.estimates.heat_findings import heat_findings
from models.heat.physics.handling import BARE_HANDS_C, COLD_PEEL_C, WARM_PEEL_C
from models.recipe.heat_finding import NEVER_S
from models.recipe.places import Place
from models.store.store import Store
from models.units import in_both_degrees
from tests.floorapp.taps import press, tap, tap_primary
from tests.held_clock import HeldClock
from tests.put_off import PutOff
from tests.sample_jobs import FOAM, box_piece, crew_vest_job, crew_vest_plan, job_of
from tests.small_floor import codes_of, flow_on, loaded_store

JOB, PLAN = crew_vest_job(), crew_vest_plan()
FIRST, SECOND = PLAN.hits


def told(view: WhyView) -> list[str]:
    return [line.text for group in view.groups for line in group.lines]


def hurried_recipe() -> Recipe:
    """A foam anchor that is pressed for eight seconds."""
    brief = replace(FOAM, least_s=8)
    job = job_of((box_piece("anchor", brief, Box(250, 260, 60, 60)),), (brief,))
    hit = replace(FIRST, lay=("anchor",), count=("anchor",), peel=FIRST.peel[1:], dwell_s=8)
    plan = replace(PLAN, hits=(hit,), lower_bound=1, totals=replace(PLAN.totals, hits=1))
    return Recipe(job, plan, heat_findings(job, plan))


@pytest.fixture
def hurried(tmp_path: Path, clock: HeldClock) -> Iterator[Flow]:
    recipe = hurried_recipe()
    store = loaded_store(tmp_path / "hurried", clock, recipe)
    flow = flow_on(store, clock, tmp_path)
    flow.scan(codes_of(store)[0])
    yield flow
    store.close()


@pytest.fixture
def asked(flow: Flow, store: Store) -> Flow:
    """Somebody asks why of the first hit."""
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.WHY)
    return flow


def test_the_reasons_of_the_hit_come_with_its_heat_and_the_rest(asked: Flow) -> None:
    headings = [group.heading for group in why_view(asked).groups]
    assert headings == ["Why these together", "Heat, an estimate", "Rest, an estimate", "Why so many hits"]
    assert FIRST.why[0] in told(why_view(asked))


def test_the_rest_is_told_where_this_station_rests_and_for_cold_at_the_other_places_too(
    store: Store, clock: HeldClock, tmp_path: Path
) -> None:
    flow = flow_on(store, clock, tmp_path, rests=Place.HUNG)
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.WHY)
    view = why_view(flow)
    (elsewhere,) = [line for line in told(view) if line.startswith("cold elsewhere: ")]

    assert view.curves[1].heading == "Hung"
    assert "flat on the table" in elsewhere
    assert "on the open press" in elsewhere
    assert "hung" not in elsewhere


def test_the_curve_of_the_hit_ends_when_the_press_opens(asked: Flow) -> None:
    pressed, _ = why_view(asked).curves
    assert pressed.heading == "Adhesive of anchor"
    assert pressed.points[-1].at_s == FIRST.dwell_s
    assert [level.words for level in pressed.levels] == ["at heat"]


def test_the_curve_of_the_rest_names_what_may_be_done_below_each_level(asked: Flow) -> None:
    _, rest = why_view(asked).curves
    levels = {level.words: level.at_c for level in rest.levels}
    assert levels == {"warm": WARM_PEEL_C, "cold": COLD_PEEL_C}
    assert rest.points[0].likely_c > WARM_PEEL_C


def test_the_slowest_piece_what_delays_it_and_the_fabrics_back_are_told(asked: Flow) -> None:
    lines = told(why_view(asked))
    assert any(
        line.startswith("anchor is the slowest: up to heat, 120 °C (249 °F), after about ") for line in lines
    )
    assert any(line.startswith("Slower by: pad ") for line in lines)
    assert any(line.startswith("One more cover sheet would take ") for line in lines)
    assert any(line.startswith("Back of the fabric when the press opens: about ") for line in lines)
    assert "Over all its hits, every piece here has the time at heat that it wants." in lines


def test_bare_hands_are_told_for_a_garment_that_is_hot_all_through(asked: Flow) -> None:
    (line,) = [line for line in told(why_view(asked)) if line.startswith("bare hands ")]
    assert f"{in_both_degrees(BARE_HANDS_C)}, were it as hot all through as the platen, after about " in line


def test_of_an_adhesive_that_never_gets_hot_no_delay_is_told(flow: Flow, store: Store) -> None:
    """Not with the pad and not without it: there is nothing that a cover sheet could delay."""
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.WHY)
    flow.why.ask(JOB, PLAN, replace(FIRST, temperature_c=100))
    lines = told(why_view(flow))

    assert any(line.endswith("its adhesive never gets hot enough, 120 °C (249 °F).") for line in lines)
    assert not any("too long" in line or line.startswith(("Slower", "One more")) for line in lines)


def test_one_cover_sheet_that_would_be_too_much_is_told_in_words(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.WHY)
    state = flow.why.state
    assert state is not None
    assert state.report is not None
    delays = (*state.report.delays[:-1], replace(state.report.delays[-1], seconds=NEVER_S))
    flow.why.state = replace(state, report=replace(state.report, delays=delays))

    assert "With one more cover sheet it would never get hot enough." in told(why_view(flow))


def test_pieces_that_are_heated_again_are_told_with_how_hot_they_get(
    asked: Flow, clock: HeldClock, store: Store
) -> None:
    asked.act(Action(Tap.BACK))
    press(asked, clock)
    for _ in range(3):  # hot ones off and to rest, cold ones off, all down
        clock.advance(60)
        asked.scan(codes_of(store)[0])
        tap_primary(asked)
    tap(asked, Tap.WHY)
    (again,) = (line for line in told(why_view(asked)) if line.startswith("Heated again: "))
    assert "anchor to about " in again
    assert "wave to about " in again


def test_that_all_of_it_gives_way_to_the_makers_sheet_and_local_rules_is_always_there(asked: Flow) -> None:
    caution = why_view(asked).caution
    for word in ("Estimates", "Gloves", "material maker's sheet", "local rules"):
        assert word in caution


def test_until_it_is_worked_out_the_page_says_so_and_shows_the_reasons(flow: Flow, store: Store) -> None:
    flow.why.background = late = PutOff()
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.WHY)
    view = why_view(flow)

    assert [curve.waiting for curve in view.curves] == [WORKING, WORKING]
    assert FIRST.why[0] in told(view)
    late.waiting[0]()
    assert all(curve.points for curve in why_view(flow).curves)


def test_what_is_worked_out_for_a_hit_that_nobody_looks_at_any_more_is_dropped() -> None:
    why = WhyFlow(late := PutOff())
    why.ask(JOB, PLAN, FIRST)
    why.ask(JOB, PLAN, SECOND)
    late.waiting[1]()
    late.waiting[0]()

    assert why.state is not None
    assert why.state.report is not None
    assert why.state.report.heat.n == 2


def test_the_same_hit_is_not_worked_out_twice() -> None:
    why = WhyFlow(late := PutOff())
    for _ in range(2):
        why.ask(JOB, PLAN, FIRST)

    assert len(late.waiting) == 1


def test_the_screen_is_drawn_anew_when_the_heat_is_there() -> None:
    drawn: list[bool] = []
    why = WhyFlow(late := PutOff())
    why.changed = lambda: drawn.append(why.state is not None and why.state.report is not None)
    why.ask(JOB, PLAN, FIRST)
    assert drawn == []
    late.waiting[0]()
    assert drawn == [True]


def test_a_hit_of_which_no_estimate_can_be_made_says_so(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])
    tap(flow, Tap.WHY)
    flow.why.ask(JOB, PLAN, replace(SECOND, count=(), touch_again=()))
    view = why_view(flow)

    assert [curve.waiting for curve in view.curves] == ["no estimate", "no estimate"]
    assert any(group.heading == "No estimate of its heat" and group.lines for group in view.groups)


def test_what_gets_too_little_time_at_heat_stands_first_with_its_sign(hurried: Flow) -> None:
    tap(hurried, Tap.WHY)
    first = why_view(hurried).groups[0]

    assert (first.heading, first.tone) == ("Too little time at heat", Tone.ATTENTION)
    assert "of the 3 s that it wants" in first.lines[0].text


def test_while_laying_the_card_says_how_many_seconds_are_missing(hurried: Flow) -> None:
    from floorapp.screens.garment_presenter import card_of

    warning = card_of(hurried).warning
    assert warning.startswith("Too little heat, an estimate: anchor ")
    assert warning.endswith(" s short")
    primary = primary_of(hurried)
    assert primary is not None
    assert primary.text == "Laid. Press 8 s"


def test_where_nothing_is_short_the_card_says_nothing_of_heat(flow: Flow, store: Store) -> None:
    from floorapp.screens.garment_presenter import card_of

    flow.scan(codes_of(store)[0])
    assert card_of(flow).warning == ""


def test_a_press_again_is_not_told_what_was_found_of_the_hit_before_it(
    hurried: Flow, clock: HeldClock, tmp_path: Path
) -> None:
    from floorapp.screens.garment_presenter import card_of

    press(hurried, clock)
    tap(hurried, Tap.REST)
    clock.advance(200)
    hurried.scan(hurried.in_hand.row.code)
    tap_primary(hurried)
    tap(hurried, Tap.LOOK_CLOSER, "anchor")
    tap(hurried, Tap.CHOOSE_KIND, FindingKind.LIFT.value)
    tap(hurried, Tap.PRESS_AGAIN)

    assert hurried.in_hand.progress.step.extra is not None
    assert card_of(hurried).warning == ""
    tap(hurried, Tap.WHY)
    assert why_view(hurried).groups[0].heading == "Why these together"


def test_a_planned_hit_is_looked_at_from_set_up_and_back_leads_there(
    tmp_path: Path, clock: HeldClock
) -> None:
    store = loaded_store(tmp_path / "shop", clock)
    flow = flow_on(store, clock, tmp_path)
    flow.scan(codes_of(store)[0])  # a garment is in hand, and stays out of it
    tap(flow, Tap.TO_SET_UP)
    tap(flow, Tap.CHOOSE_FILE, str(second_demo_job_path()))
    tap(flow, Tap.LOOK_AT_HIT, "1")
    view = planned_hit_view(flow)

    assert flow.screen == ScreenName.PLANNED_HIT
    assert not flow.shows_garment
    assert view.heading.startswith("Hit 2, ")
    assert all(curve.points for curve in view.curves)
    tap_primary(flow)
    assert flow.screen == ScreenName.SET_UP
    assert flow.set_up.state.planned is not None
    store.close()

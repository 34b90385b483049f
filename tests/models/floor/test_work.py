"""The actions at the press: what each stores besides what was tapped."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from models.errors import IllegalEventError, NoExtraHitError
from models.floor.mending import missing_seconds
from models.floor.work import FloorWork, Seat
from models.garment.cycle import State
from models.garment.events import ExtraAdded, ExtraReason, FindingKind, Found, Peeled
from models.job.job import Peel
from models.store.records import StoredGarment
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.sample_jobs import GLITTER, TWILL, crew_vest_recipe
from tests.small_floor import codes_of, loaded_store
from tests.worked_garments import events_of, pressed


@pytest.fixture
def clock() -> HeldClock:
    return HeldClock()


@pytest.fixture
def store(tmp_path: Path, clock: HeldClock) -> Iterator[Store]:
    store = loaded_store(tmp_path, clock)
    yield store
    store.close()


@pytest.fixture
def work(store: Store, clock: HeldClock) -> FloorWork:
    return FloorWork(store, clock, Seat("Station 1", "Mette"))


@pytest.fixture
def garment(work: FloorWork, store: Store) -> StoredGarment:
    return work.take_up(work.find(codes_of(store)[0]))


def at_the_check(work: FloorWork, garment: StoredGarment) -> StoredGarment:
    resting = work.peel(pressed(work, garment), Peel.HOT)
    return work.peel(resting, Peel.COLD)


def test_a_code_is_found_as_it_is_spoken(work: FloorWork, store: Store) -> None:
    code = codes_of(store)[0]

    assert work.find(f" {code[:4].lower()}-{code[4:].lower()} ").row.code == code


def test_station_and_person_stand_on_every_event(garment: StoredGarment) -> None:
    assert {(event.station, event.person) for event in garment.log} == {("Station 1", "Mette")}


def test_a_garment_in_this_stations_hands_is_not_taken_up_twice(
    work: FloorWork, garment: StoredGarment
) -> None:
    assert work.take_up(garment).log == garment.log


def test_an_opening_with_nothing_to_peel_goes_straight_to_the_check(
    work: FloorWork, garment: StoredGarment
) -> None:
    second = work.pass_check(at_the_check(work, garment))

    assert pressed(work, second).progress.state == State.CHECKING


def test_the_last_hot_peel_sends_the_cold_ones_to_rest_in_one_tap(
    work: FloorWork, garment: StoredGarment
) -> None:
    opened = pressed(work, garment)
    resting = work.peel(opened, Peel.HOT)
    new = resting.log[len(opened.log) :]

    assert resting.progress.state == State.RESTING
    assert len({event.tap for event in new}) == 1


def test_a_cold_peel_tried_warm_is_stored_as_warm(work: FloorWork, garment: StoredGarment) -> None:
    resting = work.peel(pressed(work, garment), Peel.HOT)
    peeled = work.peel(resting, Peel.WARM)

    assert Peeled(("anchor",), Peel.WARM) in [event.what for event in peeled.log]
    assert peeled.progress.state == State.CHECKING


def test_an_early_opening_plans_in_what_is_missing(work: FloorWork, garment: StoredGarment) -> None:
    progress = pressed(work, garment, seconds=4).progress

    assert progress.step.extra == ExtraReason.REMAINDER
    assert progress.hit.dwell_s == 11


def test_pieces_that_are_down_after_an_early_opening_are_peeled_before_the_rest_is_pressed(
    tmp_path: Path, clock: HeldClock
) -> None:
    """Glitter that wants 10 s is down after 12, the foam beside it, which wants 15, is not."""
    recipe = crew_vest_recipe()
    materials = tuple(replace(m, least_s=10) if m == GLITTER else m for m in recipe.job.materials)
    quick = replace(recipe, job=replace(recipe.job, materials=materials))
    store = loaded_store(tmp_path / "quick", clock, quick)
    work = FloorWork(store, clock, Seat("Station 1", "Mette"))
    opened = pressed(work, work.take_up(work.find(codes_of(store)[0])), seconds=12)
    checked = work.peel(opened, Peel.HOT)
    store.close()

    assert [step.piece for step in opened.progress.to_peel] == ["wave"]
    assert missing_seconds(checked.progress) == {"anchor": 3, "life-ring": 3}


def test_a_lift_is_pressed_again_for_its_least_seconds(work: FloorWork, garment: StoredGarment) -> None:
    again = work.press_again(at_the_check(work, garment), Found(FindingKind.LIFT, ("anchor",)))

    assert again.progress.records["anchor"].needed_s == 15
    assert not again.progress.records["anchor"].down
    assert again.progress.repressed


def test_a_lift_that_has_had_all_its_seconds_is_told_why_not(work: FloorWork, garment: StoredGarment) -> None:
    found = Found(FindingKind.LIFT, ("anchor",))
    checked = at_the_check(work, garment)
    while checked.progress.records["anchor"].heated_s[0] < 60:
        checked = through_the_extra_hits(work, work.press_again(checked, found))

    with pytest.raises(NoExtraHitError, match="60 of its 60 s"):
        work.press_again(checked, found)
    assert work.find(checked.row.code).log == checked.log


def test_the_operator_may_ask_for_fewer_seconds_but_not_for_more(
    work: FloorWork, garment: StoredGarment
) -> None:
    checked, found = at_the_check(work, garment), Found(FindingKind.LIFT, ("anchor",))
    fewer = work.press_again(checked, found, seconds=6)
    more = work.press_again(work.take_back(fewer), found, seconds=40)

    assert fewer.progress.hit.dwell_s == 6
    assert more.progress.hit.dwell_s == 15


def test_the_seconds_asked_for_are_stored_with_the_extra_hit(work: FloorWork, garment: StoredGarment) -> None:
    found = Found(FindingKind.LIFT, ("anchor",))
    again = work.find(work.press_again(at_the_check(work, garment), found, seconds=6).row.code)

    assert [what.needs_s for what in events_of(again, ExtraAdded)] == [(("anchor", 6),)]
    assert again.progress.records["anchor"].missing_s == 6


def test_a_replaced_piece_is_laid_pressed_and_peeled_anew(work: FloorWork, garment: StoredGarment) -> None:
    found = Found(FindingKind.SCORCH, ("anchor",))
    anew = work.replace_pieces(at_the_check(work, garment), found)

    assert anew.progress.state == State.LAYING
    assert anew.progress.hit.lay == ("anchor",)
    assert anew.progress.repressed
    assert [step.piece for step in pressed(work, anew).progress.to_peel] == ["anchor"]


def test_a_hit_that_the_extra_one_leaves_nothing_to_do_is_off_the_ladder(
    work: FloorWork, garment: StoredGarment
) -> None:
    """The platen cannot but press the life ring with the anchor, which leaves the second hit nothing."""
    found = Found(FindingKind.LIFT, ("anchor",))
    checked = at_the_check(work, garment)
    again = work.press_again(checked, found)

    assert [step.label for step in checked.progress.steps] == ["1", "2"]
    assert [step.label for step in again.progress.steps] == ["1", "1+1"]
    assert again.progress.is_last_step


def pressed_too_long(
    work: FloorWork, clock: HeldClock, garment: StoredGarment, seconds: int
) -> StoredGarment:
    """The first hit, in which the press stayed closed for so many seconds, peeled and at its check."""
    closed = work.close(garment)
    clock.advance(seconds)
    return work.peel(work.peel(work.open(closed, seconds), Peel.HOT), Peel.COLD)


def test_hits_that_too_long_a_hit_leaves_no_room_for_are_planned_anew(
    work: FloorWork, clock: HeldClock, garment: StoredGarment
) -> None:
    """All is down after 58 s, and the second hit would be too much; without it the garment is done."""
    checked = pressed_too_long(work, clock, garment, seconds=58)
    passed = work.pass_check(checked)

    assert passed.progress.state == State.COMPLETE
    assert [step.label for step in passed.progress.steps] == ["1"]
    assert work.take_back(passed).progress == replace(checked.progress, seq=passed.progress.seq + 1)


def test_where_no_other_hits_are_left_the_check_is_not_passed(tmp_path: Path, clock: HeldClock) -> None:
    """The ring still wants 60 s, and cannot have them without the wave in its hole."""
    recipe = crew_vest_recipe()
    slow = tuple(
        replace(m, least_s=120, total_s=200) if m.key == TWILL.key else m for m in recipe.job.materials
    )
    store = loaded_store(tmp_path / "slow", clock, replace(recipe, job=replace(recipe.job, materials=slow)))
    work = FloorWork(store, clock, Seat("Station 1", "Mette"))
    checked = pressed_too_long(work, clock, work.take_up(work.find(codes_of(store)[0])), seconds=38)

    with pytest.raises(NoExtraHitError, match="wave"):
        work.pass_check(checked)
    assert work.find(checked.row.code).log == checked.log
    store.close()


def through_the_extra_hits(work: FloorWork, garment: StoredGarment) -> StoredGarment:
    """Presses and passes until the last extra hit stands at its check."""
    while garment.progress.state == State.LAYING:
        garment = pressed(work, garment)
        if garment.progress.is_last_step:
            break
        if garment.progress.steps[garment.progress.position + 1].extra is not None:
            garment = work.pass_check(garment)
    return garment


def test_a_finding_can_be_let_go_as_it_is(work: FloorWork, garment: StoredGarment) -> None:
    going = work.accept(at_the_check(work, garment), Found(FindingKind.PRESS_MARK, ("anchor",)))

    assert going.progress.state == State.LAYING
    assert [found.kind for found in going.progress.findings] == [FindingKind.PRESS_MARK]
    assert not going.progress.repressed


def test_a_garment_that_was_done_can_come_back_with_a_lift(work: FloorWork, garment: StoredGarment) -> None:
    second = work.pass_check(at_the_check(work, garment))
    done = work.pass_check(pressed(work, second))
    again = work.press_again(done, Found(FindingKind.LIFT, ("anchor",)))

    assert done.progress.state == State.COMPLETE
    assert again.progress.state == State.LAYING


def test_what_does_not_fit_the_state_is_refused_and_not_stored(
    work: FloorWork, garment: StoredGarment
) -> None:
    with pytest.raises(IllegalEventError):
        work.pass_check(garment)

    assert work.find(garment.row.code).log == garment.log


def test_a_tap_with_several_events_is_taken_back_whole(work: FloorWork, garment: StoredGarment) -> None:
    opened = pressed(work, garment)
    back = work.take_back(work.peel(opened, Peel.HOT))

    assert back.progress.state == State.PEELING
    assert back.progress.to_peel == opened.progress.to_peel

"""The fold: what a log of events makes of a garment."""

from dataclasses import replace
from datetime import timedelta
from functools import reduce

import pytest

from models.errors import IllegalEventError
from models.garment.cycle import State
from models.garment.events import (
    AllPeeled,
    Closed,
    Completed,
    ExtraAdded,
    ExtraReason,
    FindingKind,
    Found,
    Held,
    Opened,
    Passed,
    Peeled,
    Released,
    Rested,
    RestEnded,
    Spoiled,
    TakenBack,
    TakenUp,
)
from models.garment.progress import advance, begin, effective, fold, last_tap
from models.job.job import Peel
from models.plan.plan import PeelStep
from tests.event_log import (
    EventLog,
    checking,
    checking_last,
    complete,
    laying,
    peeling,
    pressing,
    resting,
)
from tests.sample_jobs import crew_vest_recipe, warm_recipe

RECIPE = crew_vest_recipe()
FIRST, SECOND = RECIPE.plan.hits
LIFT = Found(FindingKind.LIFT, ("anchor",))
REPRESS = ExtraAdded(ExtraReason.REPRESS, (replace(FIRST, lay=(), dwell_s=15),), (("anchor", 15),))


def labels(log: EventLog) -> list[str]:
    return [step.label for step in log.progress.steps]


# ---- through the hits


def test_a_new_garment_is_idle_before_its_first_hit() -> None:
    progress = fold(RECIPE, [])
    assert progress == begin(RECIPE)
    assert (progress.state, progress.position, progress.seq, progress.done_steps) == (State.IDLE, 0, 0, 0)


def test_a_garment_goes_through_its_hits_to_complete() -> None:
    progress = complete().progress
    assert progress.state == State.COMPLETE
    assert progress.done_steps == 2
    assert all(record.finished for record in progress.records.values())
    assert progress.peeled == {"anchor", "wave"}


@pytest.mark.parametrize("log", [laying, pressing, peeling, resting, checking, complete])
def test_the_fold_is_the_same_as_advancing_one_by_one(log: type[EventLog]) -> None:
    events = log().events
    assert fold(RECIPE, events) == reduce(advance, events, begin(RECIPE))


def test_progress_names_the_station_of_the_last_event() -> None:
    assert laying().tap(TakenUp(), station="press 2").progress.station == "press 2"


def test_a_closed_press_knows_since_when() -> None:
    log = pressing()
    assert log.progress.closed_at == log.now
    assert log.tap(Opened(15)).progress.closed_at is None


def test_an_early_opening_counts_the_seconds_really_done() -> None:
    progress = pressing().tap(Opened(9, judged=True)).progress
    assert progress.records["anchor"].missing_s == 6
    assert not progress.to_peel


def test_passing_on_from_the_last_hit_is_refused() -> None:
    with pytest.raises(IllegalEventError, match="last hit"):
        _ = checking_last().tap(Passed()).progress


def test_completing_with_hits_still_to_come_is_refused() -> None:
    with pytest.raises(IllegalEventError, match="still to come"):
        _ = checking().tap(Completed()).progress


# ---- peeling and resting


def test_carriers_come_off_hot_ones_first() -> None:
    assert peeling().progress.to_peel == (PeelStep("wave", Peel.HOT), PeelStep("anchor", Peel.COLD))
    assert peeling().progress.next_peel == Peel.HOT


def test_what_is_peeled_is_no_longer_to_peel() -> None:
    assert resting().progress.to_peel == (PeelStep("anchor", Peel.COLD),)
    assert checking().progress.to_peel == ()
    assert checking().progress.next_peel == Peel.NONE


def test_a_piece_that_is_not_down_keeps_its_carrier() -> None:
    opened_early = pressing().tap(Opened(12)).progress
    assert opened_early.to_peel == (PeelStep("wave", Peel.HOT),)


def test_a_rest_ends_so_many_seconds_after_it_began() -> None:
    log = resting()
    assert log.progress.rest_ends_at == log.now + timedelta(seconds=60)


def test_a_press_went_up_as_long_after_its_closing_as_was_told() -> None:
    closed = pressing()
    assert closed.tap(Opened(4)).progress.opened_at == closed.now - timedelta(seconds=6)


def test_a_press_cannot_have_gone_up_after_the_tap_that_tells_of_it() -> None:
    log = pressing().tap(Opened(600))
    assert log.progress.opened_at == log.now


def test_what_peels_warm_is_ready_so_many_seconds_after_the_opening() -> None:
    log = pressing().tap(Opened(15, warm_s=40))
    progress = fold(warm_recipe(), log.tap(Peeled(("wave",), Peel.HOT)).events)
    assert progress.opened_at is not None
    assert progress.ready_at == progress.opened_at + timedelta(seconds=40)


def test_what_peels_warm_is_not_waited_for_while_hot_ones_come_off() -> None:
    assert fold(warm_recipe(), pressing().tap(Opened(15, warm_s=40)).events).ready_at is None


def test_a_rest_time_survives_a_hold() -> None:
    log = resting()
    ends_at = log.progress.rest_ends_at
    log.tap(Held("at lunch"))
    assert log.progress.rest_ends_at == ends_at
    log.tap(Released())
    assert (log.progress.state, log.progress.rest_ends_at) == (State.RESTING, ends_at)


def test_a_garment_taken_from_the_rail_has_rested() -> None:
    progress = resting().tap(RestEnded()).progress
    assert progress.rested
    assert progress.rest_ends_at is None


def test_the_next_opening_starts_a_new_rest() -> None:
    assert checking().progress.rested
    assert not checking().tap(Passed()).tap(Closed(5)).tap(Opened(5)).progress.rested


# ---- taking back


def test_a_tap_taken_back_leaves_the_garment_as_it_was_before() -> None:
    before = peeling().progress
    after = peeling().tap(Peeled(("wave",), Peel.HOT), Rested(60)).take_back().progress
    assert replace(after, seq=before.seq) == before


def test_taking_back_counts_in_the_log() -> None:
    assert laying().tap(Closed(15)).take_back().progress.seq == 3


def test_taps_are_taken_back_one_after_another() -> None:
    log = pressing()
    first, second = log.events[0].tap, log.events[1].tap
    log.tap(TakenBack(second)).tap(TakenBack(first))
    assert log.progress.state == State.IDLE
    assert last_tap(log.events) is None


def test_only_the_last_tap_can_be_taken_back() -> None:
    log = pressing()
    log.tap(TakenBack(log.events[0].tap))
    with pytest.raises(IllegalEventError, match="last tap"):
        effective(log.events)


def test_a_taking_back_cannot_be_taken_back() -> None:
    with pytest.raises(IllegalEventError, match="last tap"):
        effective(pressing().take_back().take_back().events)


def test_nothing_can_be_taken_back_from_an_empty_log() -> None:
    with pytest.raises(IllegalEventError, match="last tap"):
        effective(EventLog().tap(TakenBack(laying().events[0].tap)).events)


def test_a_spoiled_garment_comes_back_when_that_tap_is_taken_back() -> None:
    assert checking().tap(Spoiled("torn")).take_back().progress.state == State.CHECKING


def test_an_extra_hit_taken_back_leaves_the_ladder() -> None:
    log = checking().tap(LIFT, REPRESS).take_back()
    assert labels(log) == ["1", "2"]
    assert log.progress.records["anchor"].down


# ---- findings and extra hits


def test_an_extra_hit_comes_right_after_the_step_in_hand() -> None:
    log = checking().tap(LIFT, REPRESS)
    assert labels(log) == ["1", "1+1", "2"]
    assert (log.progress.state, log.progress.step.label) == (State.LAYING, "1+1")
    assert log.progress.step.extra == ExtraReason.REPRESS
    assert log.progress.repressed


def test_the_lifted_piece_wants_its_seconds_again_and_gets_them() -> None:
    log = checking().tap(LIFT, REPRESS)
    assert log.progress.records["anchor"].missing_s == 15
    log.tap(Closed(15)).tap(Opened(15))
    assert log.progress.records["anchor"].down
    assert log.progress.to_peel == ()


def test_several_extra_hits_are_numbered_on() -> None:
    both = replace(REPRESS, hits=(*REPRESS.hits, *REPRESS.hits))
    log = checking().tap(LIFT, both)
    assert labels(log) == ["1", "1+1", "1+2", "2"]


def test_a_second_lift_is_numbered_after_the_first() -> None:
    log = checking().tap(LIFT, REPRESS).tap(Closed(15)).tap(Opened(15), AllPeeled()).tap(LIFT, REPRESS)
    assert labels(log) == ["1", "1+1", "1+2", "2"]
    assert log.progress.step.label == "1+2"


def test_an_extra_hit_after_the_last_one_comes_last() -> None:
    log = complete().tap(LIFT).tap(REPRESS)
    assert labels(log) == ["1", "2", "2+1"]
    assert log.progress.is_last_step
    done = log.tap(Closed(15)).tap(Opened(15), AllPeeled()).tap(Completed()).progress
    assert (done.state, done.done_steps) == (State.COMPLETE, 3)


def test_after_its_extra_hit_the_garment_goes_on_with_its_plan() -> None:
    log = checking().tap(LIFT, REPRESS).tap(Closed(15)).tap(Opened(15), AllPeeled()).tap(Passed())
    assert log.progress.step.label == "2"


def test_the_remainder_of_an_early_opening_is_no_repress() -> None:
    remainder = ExtraAdded(ExtraReason.REMAINDER, (replace(FIRST, lay=(), dwell_s=6),))
    log = pressing().tap(Opened(9), AllPeeled(), remainder)
    assert not log.progress.repressed
    assert log.progress.records["anchor"].missing_s == 6
    log.tap(Closed(6)).tap(Opened(6))
    assert log.progress.records["anchor"].down


def test_a_replaced_piece_is_not_laid_any_more_and_has_its_carrier_on() -> None:
    anew = replace(FIRST, lay=("anchor",), dwell_s=15)
    progress = checking().tap(ExtraAdded(ExtraReason.REPLACEMENT, (anew,), replaced=("anchor",))).progress
    assert not progress.records["anchor"].laid
    assert "anchor" not in progress.peeled
    assert progress.repressed


def test_hits_ahead_that_stay_keep_their_places_on_the_ladder() -> None:
    covered = replace(SECOND, cover=True, count=())
    added = ExtraAdded(ExtraReason.REPRESS, REPRESS.hits, REPRESS.needs_s, rest=(covered,))
    progress = checking().tap(added).progress
    assert [(step.label, step.hit.cover) for step in progress.steps[2:]] == [("2", True)]


def test_hits_planned_anew_are_numbered_on_from_the_hit_in_hand() -> None:
    elsewhere = replace(SECOND, platen=replace(SECOND.platen, x=0.0))
    added = ExtraAdded(ExtraReason.REPRESS, REPRESS.hits, REPRESS.needs_s, rest=(elsewhere, SECOND))
    progress = checking().tap(added).progress
    assert [step.label for step in progress.steps] == ["1", "1+1", "2", "3"]


def test_no_extra_hits_at_all_are_refused() -> None:
    with pytest.raises(IllegalEventError, match="no extra hits"):
        _ = checking().tap(replace(REPRESS, hits=())).progress


def test_a_finding_is_open_until_the_garment_goes_on() -> None:
    log = checking().tap(LIFT)
    assert log.progress.open_findings == (LIFT,)
    went_on = log.tap(Passed()).progress
    assert went_on.open_findings == ()
    assert went_on.findings == (LIFT,)


def test_a_finding_accepted_at_the_end_is_no_longer_open() -> None:
    progress = checking_last().tap(LIFT, Completed()).progress
    assert progress.open_findings == ()
    assert progress.findings == (LIFT,)


def test_a_spoiled_garment_says_why() -> None:
    assert checking().tap(Spoiled("scorched")).progress.reason == "scorched"

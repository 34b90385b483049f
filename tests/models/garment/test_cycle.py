"""The transition table: every state with every event."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from models.errors import IllegalEventError
from models.garment.cycle import BEFORE_HOLD, ENDED, IN_WORK, TRANSITIONS, EventKind, State, next_state
from models.garment.events import (
    AllPeeled,
    Closed,
    Completed,
    ExtraAdded,
    ExtraReason,
    FindingKind,
    Found,
    Happening,
    Held,
    Opened,
    Passed,
    Peeled,
    Released,
    Replanned,
    Rested,
    RestEnded,
    Spoiled,
    TakenBack,
    TakenUp,
    kind_of,
)
from models.garment.progress import advance
from models.job.job import Peel
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
from tests.sample_jobs import crew_vest_plan

LOGS: dict[State, Callable[[], EventLog]] = {
    State.IDLE: EventLog,
    State.LAYING: laying,
    State.PRESSING: pressing,
    State.PEELING: peeling,
    State.RESTING: resting,
    State.CHECKING: checking,
    State.HELD: lambda: laying().tap(Held("thread missing")),
    State.COMPLETE: complete,
    State.SPOILED: lambda: laying().tap(Spoiled("torn")),
}
HAPPENINGS: tuple[Happening, ...] = (
    TakenUp(),
    Closed(15),
    Opened(15),
    Peeled(("wave",), Peel.HOT),
    Rested(60),
    RestEnded(),
    AllPeeled(),
    Passed(),
    Completed(),
    Found(FindingKind.LIFT, ("anchor",)),
    ExtraAdded(ExtraReason.REPRESS, crew_vest_plan().hits[:1], (("anchor", 15),)),
    Replanned(crew_vest_plan().hits[1:]),
    Held("thread missing"),
    Released(),
    Spoiled("torn"),
    TakenBack(laying().events[0].tap),
)
PAIRS = [(state, what) for state in State for what in HAPPENINGS]
LEGAL = [(state, what) for state, what in PAIRS if kind_of(what) in TRANSITIONS[state]]
ILLEGAL = [pair for pair in PAIRS if pair not in LEGAL]


def names(value: object) -> str:
    return type(value).__name__ if not isinstance(value, State) else value.value


def test_every_state_and_every_event_is_tried() -> None:
    assert set(LOGS) == set(State) == set(TRANSITIONS)
    assert {kind_of(what) for what in HAPPENINGS} == set(EventKind)


@pytest.mark.parametrize("state", State, ids=names)
def test_each_log_leads_to_its_state(state: State) -> None:
    assert LOGS[state]().progress.state == state


@pytest.mark.parametrize(("state", "what"), ILLEGAL, ids=names)
def test_an_event_that_the_table_does_not_list_raises_and_changes_nothing(
    state: State, what: Happening
) -> None:
    log = LOGS[state]()
    progress = log.progress
    as_it_was = replace(progress, records=dict(progress.records))
    event = log.tap(what).events[-1]
    with pytest.raises(IllegalEventError, match=state.value):
        advance(progress, event)
    assert progress == as_it_was


@pytest.mark.parametrize(("state", "what"), LEGAL, ids=names)
def test_an_event_that_the_table_lists_leads_where_it_says(state: State, what: Happening) -> None:
    log = checking_last() if isinstance(what, Completed) else LOGS[state]()
    progress = log.progress
    assert progress.state == state
    target = TRANSITIONS[state][kind_of(what)]
    expected = progress.before_hold if target == BEFORE_HOLD else target
    assert advance(progress, log.tap(what).events[-1]).state == expected


@pytest.mark.parametrize("state", [s for s in State if EventKind.HELD in TRANSITIONS[s]], ids=names)
def test_a_release_leads_back_to_where_the_hold_began(state: State) -> None:
    before = LOGS[state]().progress
    log = LOGS[state]().tap(Held("thread missing"))
    assert log.progress.state == State.HELD
    assert log.progress.reason == "thread missing"
    after = log.tap(Released()).progress
    assert after.state == state
    assert after.reason == ""
    assert (after.position, after.records, after.peeled) == (before.position, before.records, before.peeled)


def test_a_garment_can_be_held_in_every_state_but_under_the_press_and_at_the_end() -> None:
    holds = {state for state in State if EventKind.HELD in TRANSITIONS[state]}
    assert holds == set(State) - {State.PRESSING, State.HELD, State.COMPLETE, State.SPOILED}


def test_a_release_of_what_was_never_held_is_refused() -> None:
    with pytest.raises(IllegalEventError, match="never held"):
        next_state(State.HELD, EventKind.RELEASED, None)


def test_nothing_leads_out_of_spoiled() -> None:
    assert TRANSITIONS[State.SPOILED] == {}


def test_states_in_work_and_ended_have_nothing_in_common() -> None:
    assert not IN_WORK & ENDED

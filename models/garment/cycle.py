"""The garment's states and the one table of what may happen in each.

Two rules hold for the table. What a garment is doing is decided by its events alone; and an event that the
table does not list for a state raises IllegalEventError and changes nothing.

Names follow the trade and IEC 61512: idle, held and complete are its states; laying, pressing, peeling and
checking are our phases of its "running"; resting is waiting off the press; spoiled is its "aborted".
"""

from enum import StrEnum

from models.errors import IllegalEventError


class State(StrEnum):
    IDLE = "idle"  # not begun
    LAYING = "laying"
    PRESSING = "pressing"
    PEELING = "peeling"
    RESTING = "resting"
    CHECKING = "checking"
    HELD = "held"
    COMPLETE = "complete"
    SPOILED = "spoiled"


class EventKind(StrEnum):
    TAKEN_UP = "taken up"
    CLOSED = "closed"
    OPENED = "opened"
    PEELED = "peeled"
    RESTED = "rested"
    REST_ENDED = "rest ended"
    ALL_PEELED = "all peeled"
    PASSED = "passed"
    COMPLETED = "completed"
    FOUND = "found"
    EXTRA_ADDED = "extra added"
    REPLANNED = "replanned"
    HELD = "held"
    RELEASED = "released"
    SPOILED = "spoiled"
    TAKEN_BACK = "taken back"  # stands outside the table: it removes a tap, and the fold runs anew


BEFORE_HOLD = "before hold"
"""Where RELEASED leads: back to the state in which the garment was held."""

TRANSITIONS: dict[State, dict[EventKind, State | str]] = {
    State.IDLE: {
        EventKind.TAKEN_UP: State.LAYING,
        EventKind.HELD: State.HELD,
        EventKind.SPOILED: State.SPOILED,
    },
    State.LAYING: {
        EventKind.TAKEN_UP: State.LAYING,
        EventKind.FOUND: State.LAYING,
        EventKind.CLOSED: State.PRESSING,
        EventKind.HELD: State.HELD,
        EventKind.SPOILED: State.SPOILED,
    },
    State.PRESSING: {
        EventKind.TAKEN_UP: State.PRESSING,
        EventKind.OPENED: State.PEELING,
    },
    State.PEELING: {
        EventKind.TAKEN_UP: State.PEELING,
        EventKind.FOUND: State.PEELING,
        EventKind.PEELED: State.PEELING,
        EventKind.RESTED: State.RESTING,
        EventKind.ALL_PEELED: State.CHECKING,
        EventKind.HELD: State.HELD,
        EventKind.SPOILED: State.SPOILED,
    },
    State.RESTING: {
        EventKind.TAKEN_UP: State.RESTING,
        EventKind.FOUND: State.RESTING,
        EventKind.RESTED: State.RESTING,
        EventKind.REST_ENDED: State.PEELING,
        EventKind.HELD: State.HELD,
        EventKind.SPOILED: State.SPOILED,
    },
    State.CHECKING: {
        EventKind.TAKEN_UP: State.CHECKING,
        EventKind.FOUND: State.CHECKING,
        EventKind.PASSED: State.LAYING,
        EventKind.COMPLETED: State.COMPLETE,
        EventKind.EXTRA_ADDED: State.LAYING,
        EventKind.REPLANNED: State.CHECKING,
        EventKind.HELD: State.HELD,
        EventKind.SPOILED: State.SPOILED,
    },
    State.HELD: {
        EventKind.RELEASED: BEFORE_HOLD,
        EventKind.SPOILED: State.SPOILED,
    },
    State.COMPLETE: {
        EventKind.FOUND: State.CHECKING,
    },
    State.SPOILED: {},
}

IN_WORK = frozenset({State.LAYING, State.PRESSING, State.PEELING, State.CHECKING})
ENDED = frozenset({State.COMPLETE, State.SPOILED})


def next_state(state: State, kind: EventKind, before_hold: State | None = None) -> State:
    """The state after an event of `kind`; `before_hold` is where a held garment was.

    Raises IllegalEventError where the table has no such event for the state.
    """
    target = TRANSITIONS[state].get(kind)
    if target is None:
        raise IllegalEventError(f"a garment that is {state.value} cannot be {kind.value}")
    if target == BEFORE_HOLD:
        if before_hold is None:
            raise IllegalEventError("a garment that was never held cannot be released")
        return before_hold
    return State(target)

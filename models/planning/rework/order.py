"""In which order the extra closings of a side come: that in which the press is set anew least often."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise, permutations

from models.plan.plan import Hit
from models.planning.rework.problem import Board
from models.planning.rework.rules import Closing, State

MOST_TURNED = 4
"""More closings than these stay as they were found: there are too many orders."""


def with_fewest_changes(
    board: Board, closings: Sequence[Closing], before: Sequence[Hit], after: Sequence[Hit]
) -> tuple[Hit, ...]:
    """The closings as hits, their lists still empty, between the hit `before` them and that `after`."""
    orders = permutations(closings) if len(closings) <= MOST_TURNED else iter([tuple(closings)])
    written = (_written(board, order, before, after) for order in orders if _is_sound(board, order))
    return min(written, key=lambda hits: _changes([*before, *hits, *after]))


def _written(
    board: Board, order: Iterable[Closing], before: Sequence[Hit], after: Sequence[Hit]
) -> tuple[Hit, ...]:
    hits: list[Hit] = []
    for closing, state in _moments(board, order):
        hits.append(board.hit(closing, state.unlaid, beside=(*(hits[-1:] or before), *after)))
    return tuple(hits)


def _moments(board: Board, order: Iterable[Closing]) -> Iterator[tuple[Closing, State]]:
    """Each closing, and how the side stands before it."""
    state = board.start
    for closing in order:
        yield closing, state
        state = board.terms.after(state, closing)


def _is_sound(board: Board, order: Sequence[Closing]) -> bool:
    moments = list(_moments(board, order))
    last, state = moments[-1]
    is_done = not board.terms.after(state, last).wanting
    return is_done and all(board.terms.allows(state, closing) for closing, state in moments)


def _changes(hits: Sequence[Hit]) -> int:
    """How often the press or its temperature is another one from hit to hit."""
    return sum((a.press, a.temperature_c) != (b.press, b.temperature_c) for a, b in pairwise(hits))

"""The search for the fewest closings against every row of closings that there is, on a few parts."""

import random
from collections import Counter
from collections.abc import Sequence

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from models.planning.problem.bitset import members
from models.planning.rework.bound import Packing
from models.planning.rework.search import fewest_closings
from tests.closings_in_a_row import Case, case_of, fewest_of_all

SEEDS = st.integers(0, 2**32 - 1)
MOST = 4  # closings in a row that are tried


@settings(max_examples=250, deadline=None)
@example(40777)  # a second press that would be none if it came first, of a part that bears any heat
@given(SEEDS)
def test_no_row_of_closings_is_shorter_than_the_one_found(seed: int) -> None:
    hold_against_all(case_of(seed), MOST)


@settings(max_examples=100, deadline=None)
@example(50590)  # a piece in work that wants nothing is brought down, so that the new one can be laid
@given(SEEDS)
def test_nor_is_one_shorter_where_new_pieces_are_laid(seed: int) -> None:
    hold_against_all(case_of(seed, lays=True), MOST - 1)


def hold_against_all(case: Case, most: int) -> None:
    answer = fewest_closings(case.choices, case.terms, case.start)
    fewest = fewest_of_all(case, most)
    if fewest is not None:
        assert answer.closings is not None
        assert len(answer.closings) == fewest
        assert answer.is_proved
    else:
        assert answer.closings is None or len(answer.closings) > most


@pytest.mark.parametrize("lays", [False, True])
def test_the_cases_above_are_of_every_kind(lays: bool) -> None:
    """Some take one closing, some several, some none do."""
    cases = (case_of(seed, lays=lays) for seed in range(200))
    answers = [fewest_closings(case.choices, case.terms, case.start).closings for case in cases]
    counts = Counter(0 if closings is None else len(closings) for closings in answers)
    assert min(counts[count] for count in range(MOST)) >= 5


@settings(max_examples=200, deadline=None)
@given(SEEDS)
def test_the_heaviest_set_is_that_of_all_sets(seed: int) -> None:
    dice = random.Random(seed)
    count = dice.randint(1, 7)
    together = [1 << k for k in range(count)]
    for a in range(count):
        for b in range(a):
            if dice.random() < 0.4:
                together[a] |= 1 << b
                together[b] |= 1 << a
    weights = {k: dice.randint(0, 3) for k in range(count)}
    assert Packing(together).heaviest(weights) == _heaviest_of_all(together, weights)


def _heaviest_of_all(together: Sequence[int], weights: dict[int, int]) -> int:
    return max(
        sum(weights[k] for k in members(chosen))
        for chosen in range(2 ** len(together))
        if not any(together[k] & chosen & ~(1 << k) for k in members(chosen))
    )

"""The search for the fewest closings against every row of closings that there is, on a few parts."""

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from hypothesis import example, given, settings
from hypothesis import strategies as st

from models.planning.bits import bits_of, members
from models.planning.extra_bound import Packing
from models.planning.extra_search import fewest_closings
from models.planning.extra_state import Choice, State, Terms

SEEDS = st.integers(0, 2**32 - 1)
MOST = 4  # closings in a row that are tried
SHORTEST_S = 3


class Part(NamedTuple):
    """One part of a piece; what it wants comes before `given_s` that hits ahead give it."""

    wants_s: int
    given_s: int
    left_s: int
    longest_s: int
    second_s: int


@dataclass(frozen=True)
class Case:
    """Every piece is one part, but for the last two parts where they are one piece."""

    parts: tuple[Part, ...]
    choices: tuple[Choice, ...]
    ends_in_two: bool

    @property
    def pieces(self) -> list[tuple[int, ...]]:
        numbers = list(range(len(self.parts)))
        return (
            [*((k,) for k in numbers[:-2]), tuple(numbers[-2:])]
            if self.ends_in_two
            else [(k,) for k in numbers]
        )


def case_of(seed: int) -> Case:
    dice = random.Random(seed)
    count = dice.randint(2, 4)
    parts = tuple(_part(dice) for _ in range(count))
    if dice.random() < 0.5:
        parts = tuple(part._replace(second_s=0) for part in parts)
    else:  # where extra hits give a second press, they bring the piece down before it
        parts = tuple(part._replace(given_s=0) for part in parts)
    choices = tuple(_choice(dice, count) for _ in range(dice.randint(2, 6)))
    return Case(parts, choices, ends_in_two=dice.random() < 0.3)


def _part(dice: random.Random) -> Part:
    return Part(
        wants_s=dice.choice((0, 2, 4, 5, 8)),
        given_s=dice.choice((0, 0, 0, 4)),
        left_s=dice.choice((6, 9, 12, 16, 30)),
        longest_s=dice.choice((4, 5, 8)),
        second_s=dice.choice((0, 0, 0, 3, 5)),
    )


def _choice(dice: random.Random, count: int) -> Choice:
    touched = dice.randrange(1, 2**count)
    return Choice(touched, touched & (dice.randrange(2**count) | dice.randrange(2**count)))


class Moment(NamedTuple):
    """For each part, what it misses until it is down, what it bears, and whether it wants a second press."""

    missing_s: tuple[int, ...]
    left_s: tuple[int, ...]
    wants_second: tuple[bool, ...]


def fewest_of_all(case: Case) -> int | None:
    """How many closings it takes, by trying all of them one after the other; None where more than MOST."""
    moments = {
        Moment(
            tuple(part.wants_s + part.given_s for part in case.parts),
            tuple(part.left_s for part in case.parts),
            tuple(part.second_s > 0 for part in case.parts),
        )
    }
    for count in range(MOST + 1):
        if any(_is_done(case, moment) for moment in moments):
            return count
        moments = {after for moment in moments for after in _onward(case, moment)}
    return None


def _is_done(case: Case, moment: Moment) -> bool:
    given = all(missing <= part.given_s for missing, part in zip(moment.missing_s, case.parts, strict=True))
    return given and not any(moment.wants_second)


def _onward(case: Case, moment: Moment) -> Iterator[Moment]:
    for choice in case.choices:
        touched, counted = set(members(choice.touched)), set(members(choice.counted))
        alone = {numbers[0] for numbers in case.pieces if len(numbers) == 1}
        if any(moment.missing_s[k] for k in (touched - counted) & alone):
            continue
        longest_s = min(min(case.parts[k].longest_s, moment.left_s[k]) for k in touched)
        for dwell_s in range(SHORTEST_S, longest_s + 1):
            yield _after(case, moment, touched, counted, dwell_s)


def _after(case: Case, moment: Moment, touched: set[int], counted: set[int], dwell_s: int) -> Moment:
    down = {k for numbers in case.pieces for k in numbers if not any(moment.missing_s[n] for n in numbers)}
    seconds = {k for k in counted & down if dwell_s >= case.parts[k].second_s}
    return Moment(
        tuple(max(0, s - dwell_s * (k in counted)) for k, s in enumerate(moment.missing_s)),
        tuple(s - dwell_s * (k in touched) for k, s in enumerate(moment.left_s)),
        tuple(wants and k not in seconds for k, wants in enumerate(moment.wants_second)),
    )


def _terms(case: Case) -> Terms:
    return Terms(
        parts_of=tuple(bits_of(numbers) for numbers in case.pieces),
        whole=bits_of(numbers[0] for numbers in case.pieces if len(numbers) == 1),
        first_s=tuple(0 for _ in case.pieces),
        longest_s=tuple(part.longest_s for part in case.parts),
        second_s=tuple(part.second_s for part in case.parts),
        shortest_s=SHORTEST_S,
    )


def _start(case: Case) -> State:
    return State(
        missing_s=tuple(part.wants_s + part.given_s for part in case.parts),
        needs_s=tuple(part.wants_s for part in case.parts),
        left_s=tuple(part.left_s for part in case.parts),
        second=bits_of(k for k, part in enumerate(case.parts) if part.second_s),
    )


@settings(max_examples=300, deadline=None)
@example(40777)  # a second press that would be none if it came first, of a part that bears any heat
@given(SEEDS)
def test_no_row_of_closings_is_shorter_than_the_one_found(seed: int) -> None:
    case = case_of(seed)
    answer = fewest_closings(case.choices, _terms(case), _start(case))
    fewest = fewest_of_all(case)
    if fewest is not None:
        assert answer.closings is not None
        assert len(answer.closings) == fewest
        assert answer.is_proved
    else:
        assert answer.closings is None or len(answer.closings) > MOST


def test_the_cases_above_are_of_every_kind() -> None:
    """Some take one closing, some several, some none do."""
    answers = (fewest_closings(case.choices, _terms(case), _start(case)) for case in map(case_of, range(200)))
    counts = Counter(0 if answer.closings is None else len(answer.closings) for answer in answers)
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

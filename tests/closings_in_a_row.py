"""A few parts and a few ways to hit them, and how many closings they take: every row of closings is tried.

It shares no rule with the search: what may be laid, touched and counted is worked out anew.
"""

import random
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, combinations
from typing import NamedTuple

from models.planning.problem.bitset import bits_of, members
from models.planning.rework.rules import Choice, Laying, State, Terms

SHORTEST_S = 3
Pieces = frozenset[int]


class Part(NamedTuple):
    """One part of a piece; what it wants comes before `given_s` that hits ahead give it."""

    wants_s: int
    given_s: int
    left_s: int
    longest_s: int
    second_s: int


class Meeting(NamedTuple):
    """How a piece meets others: those it lies on, those under its carrier, those of them that take none."""

    on: Pieces = frozenset()
    under_carrier: Pieces = frozenset()
    takes_none: Pieces = frozenset()


@dataclass(frozen=True)
class Case:
    """`pieces` are the numbers of their parts; `new` ones are laid for a hit that lasts their `first_s`."""

    parts: tuple[Part, ...]
    pieces: tuple[tuple[int, ...], ...]
    choices: tuple[Choice, ...]
    new: Pieces = frozenset()
    first_s: tuple[int, ...] = ()
    meetings: tuple[Meeting, ...] = ()
    carried: Pieces = frozenset()

    @property
    def terms(self) -> Terms:
        return Terms(
            parts_of=tuple(bits_of(numbers) for numbers in self.pieces),
            whole=bits_of(self.whole),
            first_s=self.first_s,
            longest_s=tuple(part.longest_s for part in self.parts),
            second_s=tuple(part.second_s for part in self.parts),
            shortest_s=SHORTEST_S,
            laying=Laying(
                on=tuple(bits_of(meeting.on) for meeting in self.meetings),
                under_carrier=tuple(bits_of(meeting.under_carrier) for meeting in self.meetings),
                takes_none=tuple(bits_of(meeting.takes_none) for meeting in self.meetings),
                carried=bits_of(self.carried),
            ),
        )

    @property
    def start(self) -> State:
        return State(
            missing_s=tuple(part.wants_s + part.given_s for part in self.parts),
            needs_s=tuple(part.wants_s for part in self.parts),
            left_s=tuple(part.left_s for part in self.parts),
            second=bits_of(k for k, part in enumerate(self.parts) if part.second_s),
            unlaid=bits_of(self.new),
        )

    @property
    def whole(self) -> set[int]:
        return {numbers[0] for numbers in self.pieces if len(numbers) == 1}


def case_of(seed: int, *, lays: bool = False) -> Case:
    """Two to four parts, of which the last two may be one piece; where it `lays`, some pieces are new."""
    dice = random.Random(seed)
    count = dice.randint(2, 4)
    parts = tuple(_part(dice) for _ in range(count))
    if dice.random() < 0.5:
        parts = tuple(part._replace(second_s=0) for part in parts)
    else:  # where extra hits give a second press, they bring the piece down before it
        parts = tuple(part._replace(given_s=0) for part in parts)
    choices = tuple(_choice(dice, count) for _ in range(dice.randint(2, 6)))
    alone = tuple((k,) for k in range(count))
    pieces = (*alone[:-2], (count - 2, count - 1)) if dice.random() < 0.3 else alone
    case = Case(parts, pieces, choices, first_s=(0,) * len(pieces), meetings=(Meeting(),) * len(pieces))
    return _with_new_pieces(dice, case) if lays else case


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


def _with_new_pieces(dice: random.Random, case: Case) -> Case:
    """New pieces want all of 4 s or more; each may lie on earlier pieces, and its carrier on any."""
    numbers = range(len(case.pieces))
    new = frozenset(dice.sample(numbers, dice.randint(1, len(numbers))))
    new_parts = {k for piece in new for k in case.pieces[piece]}
    return Case(
        parts=tuple(
            part._replace(wants_s=max(4, part.wants_s), given_s=0, left_s=30) if k in new_parts else part
            for k, part in enumerate(case.parts)
        ),
        pieces=case.pieces,
        choices=tuple(_scorching(dice, choice, new_parts) for choice in case.choices),
        new=new,
        first_s=tuple(dice.choice((0, 4)) for _ in numbers),
        meetings=tuple(_meeting(dice, piece, len(numbers)) for piece in numbers),
        carried=frozenset(piece for piece in numbers if piece in new or dice.random() < 0.3),
    )


def _scorching(dice: random.Random, choice: Choice, new_parts: set[int]) -> Choice:
    """Now and then a setting is too hot for what is not laid yet."""
    scorched = choice.touched & bits_of(new_parts) if dice.random() < 0.15 else 0
    return Choice(choice.touched, choice.counted & ~scorched, scorched)


def _meeting(dice: random.Random, piece: int, count: int) -> Meeting:
    on = frozenset(other for other in range(piece) if dice.random() < 0.2)
    under = frozenset(other for other in range(count) if other != piece and dice.random() < 0.25)
    return Meeting(on, under, frozenset(other for other in under - on if dice.random() < 0.3))


class Moment(NamedTuple):
    """For each part, what it misses until it is down, what it bears, and whether it wants a second press."""

    missing_s: tuple[int, ...]
    left_s: tuple[int, ...]
    wants_second: tuple[bool, ...]
    laid: Pieces


def fewest_of_all(case: Case, most: int) -> int | None:
    """How many closings it takes, by trying all of them one after the other; None where more than `most`."""
    start = case.start
    wants_second = tuple(part.second_s > 0 for part in case.parts)
    laid = frozenset(range(len(case.pieces))) - case.new
    moments = {Moment(start.missing_s, start.left_s, wants_second, laid)}
    for count in range(most + 1):
        if any(_is_done(case, moment) for moment in moments):
            return count
        moments = {after for moment in moments for after in _onward(case, moment)}
    return None


def _is_done(case: Case, moment: Moment) -> bool:
    given = all(missing <= part.given_s for missing, part in zip(moment.missing_s, case.parts, strict=True))
    return given and not any(moment.wants_second)


def _onward(case: Case, moment: Moment) -> Iterator[Moment]:
    waiting = [piece for piece in case.new if piece not in moment.laid]
    for choice in case.choices:
        for lays in _subsets([p for p in waiting if set(case.pieces[p]) & set(members(choice.touched))]):
            if _may_be_laid(case, moment, frozenset(lays)):
                yield from _closed(case, moment, choice, lays)


def _closed(case: Case, moment: Moment, choice: Choice, lays: Sequence[int]) -> Iterator[Moment]:
    laid = moment.laid | set(lays)
    lying = {k for piece in laid for k in case.pieces[piece]}
    touched, counted = set(members(choice.touched)) & lying, set(members(choice.counted)) & lying
    is_half_pressed = any(moment.missing_s[k] for k in (touched - counted) & case.whole)
    if not touched or is_half_pressed or touched & set(members(choice.scorched)):
        return
    shortest_s = max((SHORTEST_S, *(case.first_s[piece] for piece in lays)))
    longest_s = min(min(case.parts[k].longest_s, moment.left_s[k]) for k in touched)
    for dwell_s in range(shortest_s, longest_s + 1):
        yield _after(case, moment._replace(laid=laid), (touched, counted), dwell_s, moment.laid)


def _after(
    case: Case, moment: Moment, heated: tuple[set[int], set[int]], dwell_s: int, were_laid: Pieces
) -> Moment:
    touched, counted = heated
    down = {k for piece in _down(case, moment, were_laid) for k in case.pieces[piece]}
    seconds = {k for k in counted & down if dwell_s >= case.parts[k].second_s}
    return moment._replace(
        missing_s=tuple(max(0, s - dwell_s * (k in counted)) for k, s in enumerate(moment.missing_s)),
        left_s=tuple(s - dwell_s * (k in touched) for k, s in enumerate(moment.left_s)),
        wants_second=tuple(wants and k not in seconds for k, wants in enumerate(moment.wants_second)),
    )


def _down(case: Case, moment: Moment, laid: Pieces) -> set[int]:
    return {piece for piece in laid if not any(moment.missing_s[k] for k in case.pieces[piece])}


def _may_be_laid(case: Case, moment: Moment, lays: Pieces) -> bool:
    down = _down(case, moment, moment.laid)
    in_work = (moment.laid | lays) - down
    return all(_has_room(case, piece, in_work - {piece}, down) for piece in lays)


def _has_room(case: Case, piece: int, in_work: Iterable[int], down: set[int]) -> bool:
    on, under_carrier, takes_none = case.meetings[piece]
    if not on <= down or takes_none & down or under_carrier & set(in_work):
        return False
    return not any(piece in case.meetings[other].under_carrier for other in set(in_work) & case.carried)


def _subsets(pieces: Sequence[int]) -> Iterator[tuple[int, ...]]:
    return chain.from_iterable(combinations(pieces, count) for count in range(len(pieces) + 1))

"""Choices that differ in nothing that matters: the fewer are left, the sooner all of them have been tried."""

from collections.abc import Iterable, Sequence

from models.planning.problem.bitset import bits_of
from models.planning.rework.rules import Choice, State, Terms


def unbettered(choices: Iterable[Choice]) -> list[Choice]:
    """Those that none before them does no less than."""
    kept: list[Choice] = []
    for choice in choices:
        if not any(better.does_no_less(choice) for better in kept):
            kept.append(choice)
    return kept


def unbarred(choices: Sequence[Choice], terms: Terms, start: State) -> list[Choice]:
    """Those that half-press nothing once all is down that the others of them can bring down."""
    half_pressed = {choice: terms.half_pressed(start, choice) for choice in choices}
    found: list[Choice] = []
    reached = 0
    while fresh := [choice for choice in half_pressed if not half_pressed[choice] & ~reached]:
        for choice in fresh:
            reached |= choice.counted
            del half_pressed[choice]
        found += fresh
    return found


def by_heat(choices: Iterable[Choice]) -> list[Choice]:
    """What touches the fewest parts comes first, and of as few what counts for the most."""
    return sorted(
        choices, key=lambda c: (c.touched.bit_count(), -c.counted.bit_count(), c.touched, c.counted)
    )


def thinned(choices: Sequence[Choice], heeded: int, counting: int = -1) -> dict[Choice, Choice]:
    """Each choice as if it touched only the parts that are `heeded`, and counted for those `counting` alone,
    with the first choice that looks so.
    """
    thin: dict[Choice, Choice] = {}
    for choice in choices:
        touched, counted = choice.touched & heeded, choice.counted & counting
        thin.setdefault(Choice(touched, counted, choice.scorched, choice.besides), choice)
    return thin


def limited_parts(terms: Terms, start: State, closings: int) -> int:
    """The parts that so many closings could heat more than they bear."""
    most_s = longest_wanted_s(terms, start)
    return bits_of(
        k
        for k, (longest_s, left_s) in enumerate(zip(terms.longest_s, start.left_s, strict=True))
        if longest_s < most_s or left_s < most_s * closings
    )


def longest_wanted_s(terms: Terms, start: State) -> int:
    """No closing need be longer."""
    return max(terms.shortest_s, *start.missing_s, *terms.second_s)


def ordered_parts(terms: Terms, start: State) -> int:
    """The parts for which it matters what has happened before they are touched."""
    missing = bits_of(k for k, s in enumerate(start.missing_s) if s)
    return terms.whole & missing | terms.parts_in(start.unlaid)

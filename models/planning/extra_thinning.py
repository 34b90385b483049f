"""Choices that differ in nothing that matters: the fewer there are, the sooner all of them have been tried."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from models.planning.bits import bits_of
from models.planning.extra_state import Choice, State, Terms


def unbettered(choices: Iterable[Choice]) -> list[Choice]:
    """Those that none before them does no less than."""
    kept: list[Choice] = []
    for choice in choices:
        if not any(better.does_no_less(choice) for better in kept):
            kept.append(choice)
    return kept


def by_heat(choices: Iterable[Choice]) -> list[Choice]:
    """What touches the fewest parts comes first, and of as few what counts for the most."""
    return sorted(
        choices, key=lambda c: (c.touched.bit_count(), -c.counted.bit_count(), c.touched, c.counted)
    )


def thinned(choices: Sequence[Choice], heeded: int) -> dict[Choice, Choice]:
    """Each choice as it is where only the parts `heeded` are said to be touched, with the first that is so."""
    thin: dict[Choice, Choice] = {}
    for choice in choices:
        thin.setdefault(replace(choice, touched=choice.touched & heeded), choice)
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

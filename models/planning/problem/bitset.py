"""Small sets of numbers as the bits of an integer: bit k is set where k belongs."""

from collections.abc import Iterable
from functools import lru_cache


@lru_cache(maxsize=2**14)  # a planner asks for the same few sets over and over
def members(bits: int) -> tuple[int, ...]:
    """The numbers in the set, smallest first.

    >>> members(0b1011)
    (0, 1, 3)
    """
    numbers = []
    while bits:
        lowest = bits & -bits
        numbers.append(lowest.bit_length() - 1)
        bits ^= lowest
    return tuple(numbers)


def bits_of(numbers: Iterable[int]) -> int:
    """The set of `numbers`.

    >>> bin(bits_of([0, 1, 3]))
    '0b1011'
    """
    bits = 0
    for number in numbers:
        bits |= 1 << number
    return bits

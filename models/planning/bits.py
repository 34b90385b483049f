"""Small sets of numbers as the bits of an integer: bit k is set where k belongs."""

from collections.abc import Iterable, Iterator


def members(bits: int) -> Iterator[int]:
    """The numbers in the set, smallest first.

    >>> list(members(0b1011))
    [0, 1, 3]
    """
    while bits:
        lowest = bits & -bits
        yield lowest.bit_length() - 1
        bits ^= lowest


def bits_of(numbers: Iterable[int]) -> int:
    """The set of `numbers`.

    >>> bin(bits_of([0, 1, 3]))
    '0b1011'
    """
    bits = 0
    for number in numbers:
        bits |= 1 << number
    return bits

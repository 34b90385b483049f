"""Sets of things of which every two stand apart; things and sets are bits of an integer."""

from collections.abc import Iterator, Sequence

from models.planning.problem.bitset import members


def cliques(apart: Sequence[int], among: int) -> Iterator[int]:
    """Sets of which no thing could be added to any, so many that each two that stand apart are in one."""
    for thing in members(among):
        wanted = apart[thing] & among & -(2 << thing)
        while wanted:
            clique = _clique_of(thing, apart, among, wanted)
            wanted &= ~clique
            yield clique


def _clique_of(thing: int, apart: Sequence[int], among: int, wanted: int) -> int:
    """The thing and others, the wanted ones first, as long as there are any that go with all of them."""
    clique, fitting = 1 << thing, apart[thing] & among
    while fitting:
        first = fitting & wanted or fitting
        first &= -first
        clique |= first
        fitting &= apart[first.bit_length() - 1]
    return clique

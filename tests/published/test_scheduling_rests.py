"""Garments that rest between their hits: minimum lags on two machines, and both hits on one press.

Two machines: among orders that are the same on both, Johnson's rule on (time and lag, lag and time) is best
(L. G. Mitten, Management Science 5, 1959; from memory). Without that tie the problem is strongly NP-hard
even with unit times (A. Ageev and A. Baburin, CEUR Workshop Proceedings 1623), and the true optimum is often
lower: 7 not 8, 85 not 101, 16 not 19 below. A garment press has no reason to keep the order, so it is the
true one that is claimed.

One press (coupled tasks with minimum delays: R. D. Shapiro, 1980): for n like garments, with hits a and b
and a rest L between, the last is done at max(n(a+b), L + max(a+nb, na+b)). It is a bound (the press's work;
the first hit, its rest and all second hits; all first hits, the last one's rest and its second hit), and all
first hits and then all second hits meet it. For mixed garments every order of all their hits is tried.
"""

from itertools import permutations

import pytest

from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.rules.rule_search import best_rule
from tests.reference.shortest_rotation import earliest_end

Lagged = dict[str, tuple[int, int, int]]
"""For each job: time on the first machine, least lag, time on the second."""

Hits = tuple[tuple[int, ...], tuple[int, ...]]
"""Of one garment: the seconds of its hits, and of the rests between them."""

LAG_A = {"A": (4, 6, 2), "B": (3, 0, 5), "C": (5, 9, 1), "D": (7, 2, 3), "E": (8, 1, 6)}
LAG_B = {"A": (1, 0, 1), "B": (1, 3, 1), "C": (1, 1, 1), "D": (1, 2, 1)}
LAG_C = {"A": (10, 30, 15), "B": (12, 0, 8), "C": (20, 12, 5), "D": (6, 45, 18), "E": (9, 5, 9)}
LAG_D = {"A": (2, 8, 2), "B": (3, 0, 4), "C": (1, 0, 1), "D": (4, 4, 3)}

MIXES = [
    ([((10, 5), (30,)), ((15, 5), (10,)), ((12, 8), (60,)), ((8, 8), (0,))], 80),
    ([((10, 5, 5), (20, 20)), ((12, 6), (45,)), ((15,), ())], 72),
    ([((15, 10), (40,)), ((15, 10), (40,)), ((20, 5), (90,)), ((5, 5), (5,)), ((10,), ())], 115),
]


def two_machines(jobs: Lagged) -> Shop:
    garments = tuple(
        Garment(job, (Visit(Setting("first", 150), 0, one, 0, lag), Visit(Setting("second", 150), 0, two, 0)))
        for job, (one, lag, two) in jobs.items()
    )
    return Shop((Press("first"), Press("second")), garments)


def best_same_order(jobs: Lagged) -> int:
    """The earliest end of all orders that are the same on both machines."""
    return min(_end_in_order([jobs[job] for job in order]) for order in permutations(jobs))


def _end_in_order(jobs: list[tuple[int, int, int]]) -> int:
    first = second = 0
    for one, lag, two in jobs:
        first += one
        second = max(first + lag, second) + two
    return second


def mitten_order(jobs: Lagged) -> str:
    sooner = sorted((j for j, (one, _, two) in jobs.items() if one <= two), key=lambda j: sum(jobs[j][:2]))
    later = sorted((j for j, (one, _, two) in jobs.items() if one > two), key=lambda j: -sum(jobs[j][1:]))
    return "".join(sooner + later)


def one_press(garments: list[Hits]) -> Shop:
    return Shop((Press("press"),), tuple(Garment(f"g{n}", _visits(*hits)) for n, hits in enumerate(garments)))


def _visits(hits: tuple[int, ...], rests: tuple[int, ...]) -> tuple[Visit, ...]:
    """The last hit has no rest that counts."""
    return tuple(
        Visit(Setting("press", 150), 0, s, 0, rest) for s, rest in zip(hits, (*rests, 0), strict=True)
    )


def closed_form(n: int, first: int, rest: int, second: int) -> int:
    return max(n * (first + second), rest + max(first + n * second, n * first + second))


def best_of_all_orders(garments: list[Hits]) -> int:
    """Every order of all hits on the one press, each as early as it can be."""
    hits = [n for n, (seconds, _) in enumerate(garments) for _ in seconds]
    return min(_end_of_hits(garments, order) for order in set(permutations(hits)))


def _end_of_hits(garments: list[Hits], order: tuple[int, ...]) -> int:
    free, step, ready = 0, [0] * len(garments), [0] * len(garments)
    for n in order:
        seconds, rests = garments[n]
        free = max(free, ready[n]) + seconds[step[n]]
        ready[n] = free + (rests[step[n]] if step[n] < len(rests) else 0)
        step[n] += 1
    return free


@pytest.mark.parametrize(
    ("jobs", "same_order", "true"),
    [
        pytest.param(LAG_A, 32, 32, id="the same order is as good"),
        pytest.param(LAG_B, 8, 7, id="unit times"),
        pytest.param(LAG_C, 101, 85, id="long lags"),
        pytest.param(LAG_D, 19, 16, id="found by a search"),
    ],
)
def test_the_true_optimum_is_found_where_the_best_same_order_is_later(jobs, same_order, true):
    end = earliest_end(two_machines(jobs))

    assert (end.end_s, end.is_proved) == (true, True)
    assert best_same_order(jobs) == same_order


@pytest.mark.parametrize(("jobs", "order"), [(LAG_A, "BCAED"), (LAG_B, "ACDB"), (LAG_C, "EADCB")])
def test_mittens_order_is_the_best_of_those_that_are_the_same_on_both(jobs, order):
    assert _end_in_order([jobs[job] for job in order]) == best_same_order(jobs)
    assert _end_in_order([jobs[job] for job in mitten_order(jobs)]) == best_same_order(jobs)


LIKE = [
    (10, 30, 5, 1, 45),
    (10, 30, 5, 2, 55),
    (10, 30, 5, 4, 75),
    (15, 60, 10, 3, 115),
    (15, 60, 10, 6, 160),
    (5, 0, 5, 3, 30),
    (8, 25, 12, 3, 69),
]


@pytest.mark.parametrize(("first", "rest", "second", "n", "end"), LIKE)
def test_like_garments_end_at_the_worked_out_second(first, rest, second, n, end):
    found = earliest_end(one_press([((first, second), (rest,))] * n))

    assert (found.end_s, found.is_proved) == (end, True)
    assert closed_form(n, first, rest, second) == end


@pytest.mark.parametrize("n", [1, 2, 3, 5, 8, 12])
@pytest.mark.parametrize(("first", "rest", "second"), [(10, 30, 5), (15, 60, 10), (8, 25, 12), (5, 200, 20)])
def test_like_garments_meet_the_closed_form_exactly_and_by_the_best_rule(first, rest, second, n):
    shop = one_press([((first, second), (rest,))] * n)

    assert earliest_end(shop).bound_s == closed_form(n, first, rest, second)
    assert best_rule(shop, effort=1_000).course.end_s == closed_form(n, first, rest, second)


@pytest.mark.parametrize(("garments", "end"), MIXES)
def test_unlike_garments_on_one_press_end_at_the_earliest_of_all_orders(garments, end):
    found = earliest_end(one_press(garments))

    assert (found.end_s, found.is_proved) == (end, True)
    assert best_of_all_orders(garments) == end

"""Two machines in a row: S. M. Johnson, Naval Research Logistics Quarterly 1, 1954, and examples of his rule.

The rule, from memory: jobs that are quicker on the first machine go first, the quickest of them in front;
then the others, the quickest on the second machine last. It is written out here, and every order of the jobs
is tried besides, so that a page that is wrong shows. Two of these are: the one with L to P gives 26, which is
the first machine's work alone (28 is right), the one with A to F gives 42 and 39 (43 is right).
"""

from dataclasses import dataclass
from itertools import permutations

import pytest

from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from tests.reference.shortest_rotation import earliest_end

Times = dict[str, tuple[float, float]]
"""For each job, its time on the first and on the second machine."""


@dataclass(frozen=True)
class Example:
    times: Times
    order: str
    end: float
    best_orders: int
    source: str
    ticks: int = 1


EXAMPLES = [
    Example(
        {"A": (3.2, 4.2), "B": (4.7, 1.5), "C": (2.2, 5.0), "D": (5.8, 4.0), "E": (3.1, 2.8)},
        "CADEB",
        20.5,
        5,
        "owiki.org/wiki/Johnson%27s_rule: times and order",
        ticks=10,
    ),
    Example(
        {"A": (4, 2), "B": (3, 5), "C": (5, 1), "D": (7, 3), "E": (8, 6)},
        "BEDAC",
        28,
        14,
        "studylib.net/doc/25193611/johnsonrule--2-: times, order and end",
    ),
    Example(
        {"L": (10, 2), "M": (5, 4), "N": (7, 5), "O": (3, 6), "P": (1, 7)},
        "PONML",
        28,
        11,
        "justaaa.com/operations-management/392320: times and order; its 26 is wrong",
    ),
    Example(
        {"A": (12, 3), "B": (14, 11), "C": (25, 13), "D": (9, 17), "E": (6, 15)},
        "EDCBA",
        69,
        2,
        "omsims.org/Schedule/Johnsons.html: times and order",
    ),
    Example(
        {"A": (5, 8), "B": (3, 9), "C": (8, 7), "D": (7, 2), "E": (4, 6)},
        "BEACD",
        35,
        15,
        "tutorsglobe.com/question/correct-sequence-for-processing-the-jobs-51792771.aspx: times",
    ),
    Example(
        {"A": (3, 8), "B": (12, 10), "C": (5, 9), "D": (2, 6), "E": (9, 3), "F": (11, 1)},
        "DACBEF",
        43,
        35,
        "math-gpt.org/problems/question/19-...: times and order; its 42 and 39 are wrong",
    ),
    Example(
        {
            "A": (10, 11),
            "B": (8, 17),
            "C": (14, 10),
            "D": (13, 7),
            "E": (10, 8),
            "F": (25, 9),
            "G": (6, 15),
        },
        "GBACFED",
        93,
        264,
        "quesba.com/questions/use-johnson-s-rule-...-1851439: times",
    ),
]
each_example = pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example.order)


def shop_of(times: Times) -> Shop:
    """Each job is a garment that goes to one press, then to the other; nobody's hands are needed."""
    garments = tuple(
        Garment(job, (Visit(Setting("first", 150), 0, one, 0), Visit(Setting("second", 150), 0, two, 0)))
        for job, (one, two) in times.items()
    )
    return Shop((Press("first"), Press("second")), garments)


def johnson_order(times: Times) -> str:
    sooner = sorted((job for job, (one, two) in times.items() if one <= two), key=lambda job: times[job][0])
    later = sorted((job for job, (one, two) in times.items() if one > two), key=lambda job: -times[job][1])
    return "".join(sooner + later)


def end_of(times: Times, order: str) -> float:
    """Both machines take the jobs in this order."""
    first = second = 0.0
    for job in order:
        first += times[job][0]
        second = max(first, second) + times[job][1]
    return round(second, 6)


@each_example
def test_the_earliest_end_is_that_of_johnsons_order(example):
    end = earliest_end(shop_of(example.times), ticks_per_s=example.ticks)

    assert end.is_proved
    assert end.end_s == end_of(example.times, johnson_order(example.times)) == example.end


@each_example
def test_the_example_agrees_with_the_rule_and_with_every_order_tried(example):
    ends = [end_of(example.times, "".join(order)) for order in permutations(example.times)]

    assert johnson_order(example.times) == example.order
    assert (min(ends), ends.count(min(ends))) == (example.end, example.best_orders)


def test_26_is_the_work_of_the_first_machine_alone():
    times = next(example.times for example in EXAMPLES if example.order == "PONML")
    assert sum(one for one, _ in times.values()) == 26
    assert earliest_end(shop_of(times)).bound_s == 28

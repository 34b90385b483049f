"""Shops with garments on their way, at random: one or more people, presses and heats, in whole seconds."""

import random
from collections.abc import Sequence

from hypothesis import strategies as st

from models.rotation.problem.shop import Garment, Press, Setting, Shop, Span, Visit

TEMPERATURES = (140.0, 149.0, 160.0)
HEATING_S, COOLING_S = 6.0, 20.0
"""Seconds per degree: down is dearer than up."""


@st.composite
def shops(draw: st.DrawFn, max_garments: int = 8, max_visits: int = 4) -> Shop:
    """Garments not begun, on their way, and off the press; presses and people that may be taken at first."""
    presses = tuple(draw(_presses(f"press {n}")) for n in range(draw(st.integers(1, 2))))
    people = draw(st.integers(1, 3))
    visits = _visits([press.name for press in presses])
    garments = tuple(
        draw(_garments(f"g{n}", st.lists(visits, max_size=max_visits)))
        for n in range(draw(st.integers(1, max_garments)))
    )
    taken = tuple(draw(_spans()) for _ in range(draw(st.integers(0, people))))
    return Shop(presses, garments, people, taken)


@st.composite
def _presses(draw: st.DrawFn, name: str) -> Press:
    per_degree = draw(st.sampled_from([(HEATING_S, COOLING_S), (1.0, 3.0), (0.0, 0.0)]))
    stands_c = draw(st.sampled_from([None, 130.0, *TEMPERATURES]))
    return Press(name, *per_degree, stands_c, float(draw(st.integers(0, 60))))


@st.composite
def _visits(draw: st.DrawFn, presses: list[str]) -> Visit:
    setting = Setting(draw(st.sampled_from(presses)), draw(st.sampled_from(TEMPERATURES)))
    seconds = [float(draw(st.integers(0, 40))) for _ in range(3)]
    return Visit(
        setting, *seconds, float(draw(st.sampled_from([0, 30, 90]))), float(draw(st.sampled_from([0, 5, 15])))
    )


@st.composite
def _garments(draw: st.DrawFn, code: str, visits: st.SearchStrategy[list[Visit]]) -> Garment:
    ahead = tuple(draw(visits))
    is_off = bool(ahead) and draw(st.booleans())
    checked = [n for n, visit in enumerate(ahead) if visit.finish_s]
    repeats = frozenset(n for n in checked if draw(st.booleans()))
    return Garment(code, ahead, float(draw(st.integers(0, 100))), is_off, draw(st.integers(0, 3)), repeats)


@st.composite
def _spans(draw: st.DrawFn) -> Span:
    start_s = draw(st.integers(0, 50))
    return Span(float(start_s), float(start_s + draw(st.integers(1, 50))))


def tiny_shop(
    seed: int, longest_s: int = 12, rests_s: Sequence[int] = (0, 10, 40), garments: int = 4
) -> Shop:
    """Few enough garments for the proof to be quick; all times at least a second, nobody on the way."""
    dice = random.Random(seed)
    presses = tuple(Press(f"press {n}", 1.0, 3.0, 149.0) for n in range(dice.choice([1, 1, 2])))

    def visit() -> Visit:
        setting = Setting(dice.choice(presses).name, dice.choice((147.0, 149.0)))
        lay_s, dwell_s, off_s, finish_s = (float(dice.randint(1, longest_s)) for _ in range(4))
        return Visit(setting, lay_s, dwell_s, off_s, float(dice.choice(rests_s)), finish_s)

    visits = [tuple(visit() for _ in range(dice.randint(1, 2))) for _ in range(dice.randint(2, garments))]
    return Shop(presses, tuple(Garment(f"g{n}", v) for n, v in enumerate(visits)), dice.choice([1, 1, 2]))


def batch(seed: int, fewest: int = 10, most: int = 40, presses: int = 1, people: int = 1) -> Shop:
    """A batch as a small shop has it: alike garments of 2 to 6 hits at 1 to 3 heats, on any of the presses.

    Half of 15 s of handling to load and to unload, 4 s for each piece laid, 6 and 20 s per degree up and
    down, dwells of 5 to 25 s, and rests of 40 to 120 s after half of the hits.
    """
    dice = random.Random(seed)
    temperatures = dice.choice([(149.0,), (149.0, 160.0), (140.0, 149.0, 165.0)])
    names = [f"press {n}" for n in range(1, presses + 1)]
    visits = tuple(_hit(dice, temperatures, names) for _ in range(dice.randint(2, 6)))
    garments = tuple(Garment(f"g{n}", visits) for n in range(dice.randint(fewest, most)))
    return Shop(tuple(Press(name, HEATING_S, COOLING_S, 149.0) for name in names), garments, people)


def _hit(dice: random.Random, temperatures: Sequence[float], presses: Sequence[str]) -> Visit:
    rests = dice.random() < 0.5
    return Visit(
        setting=Setting(dice.choice(presses), dice.choice(temperatures)),
        lay_s=7.5 + 4 * dice.randint(1, 5),
        dwell_s=float(dice.randint(5, 25)),
        off_s=7.5 + 4 * dice.randint(0, 3),
        rest_s=float(dice.randint(40, 120)) if rests else 0.0,
        finish_s=4.0 * dice.randint(1, 5) + 3.0 * rests,
    )

"""How fast heat and rests are estimated, beside a plain solve_ivp of the same cells to the same accuracy.

Run: python -m tests.bench.bench_heat
Goals: one stack's heat-through and rest together within 20 ms, a job of 40 unlike pieces within 0.5 s, and
the conduction at least 10 times faster than with solve_ivp. The plain reference solves each case by BDF and
by Radau, with tolerances tightened until it is as near to the exact course in time as ours.
"""

import time
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from statistics import median

import numpy as np
from scipy.integrate import solve_ivp

from models.geometry import Box
from models.heat.estimates.heat_findings import heat_findings
from models.heat.estimates.heat_through import heat_through
from models.heat.estimates.piece_rests import piece_rests
from models.heat.estimates.rest import rest_of
from models.heat.layup.stack import Ground, Stack, stack_of
from models.heat.physics.conduction import INSULATED, Face, History, Layer, conduct_each
from models.job.job import Peel, Pressure
from models.plan.plan import PeelStep
from models.ranges import Case
from tests.sample_jobs import FABRIC, FOAM, box_piece, crew_vest_plan, job_of

SECONDS = 300.0
PLATEN_C = 149.0
ROUNDS = 20
LOOKED_AT_S = np.array([0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 60.0])
TOLERANCES = (1e-2, 3e-3, 1e-3, 3e-4, 1e-4, 1e-5, 1e-6)


def stack() -> Stack:
    return stack_of(FABRIC, FOAM, PLATEN_C, Pressure.MEDIUM, ground=Ground(cover_sheets=1, pad=True))


def plain(history: History, method: str, tolerance: float) -> np.ndarray:
    """The cells of `history` by solve_ivp, which is given the Jacobian, for it is constant."""
    capacity, between = history.grid.capacity_j_per_m2k, history.grid.between
    rates = np.diag(-(between[:-1] + between[1:]) / capacity)
    rates += np.diag(between[1:-1] / capacity[:-1], 1) + np.diag(between[1:-1] / capacity[1:], -1)
    source = np.zeros_like(capacity)
    source[0] = between[0] * PLATEN_C / capacity[0]
    solved = solve_ivp(
        lambda _, cells_c: rates @ cells_c + source,
        (0.0, SECONDS),
        history.grid.start_c,
        method=method,
        t_eval=LOOKED_AT_S,
        jac=rates,
        rtol=tolerance,
        atol=tolerance * 100,
    )
    return np.asarray(solved.y.T)


def at(history: History) -> np.ndarray:
    return np.column_stack([np.interp(LOOKED_AT_S, history.times_s, cell) for cell in history.cells_c.T])


def ms(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    """The median of some rounds [ms]."""
    took = []
    for _ in range(rounds):
        began = time.perf_counter()
        work()
        took.append(time.perf_counter() - began)
    return 1000 * median(took)


def beside_solve_ivp() -> None:
    """All on the same cells, so that only the error in time is compared, from solve_ivp at its tightest."""
    layers = [stack().layers(case) for case in Case]
    histories = ours(layers)
    exact = [plain(history, "Radau", 1e-10) for history in histories]
    ours_k = furthest([at(history) for history in histories], exact)
    ours_ms = ms(lambda: ours(layers))
    print(f"three cases of one stack: {ours_ms:.2f} ms, within {ours_k:.3f} K in time")
    for method in ("BDF", "Radau"):
        tolerance = next(t for t in TOLERANCES if furthest(theirs(histories, method, t), exact) <= ours_k)
        their_ms = ms(partial(theirs, histories, method, tolerance), 5)
        print(f"  solve_ivp {method}, as near: {their_ms:.1f} ms, {their_ms / ours_ms:.0f} times ours")


def ours(layers: list[tuple[Layer, ...]]) -> list[History]:
    return conduct_each(layers, Face(PLATEN_C), INSULATED, SECONDS)


def theirs(histories: list[History], method: str, tolerance: float) -> list[np.ndarray]:
    return [plain(history, method, tolerance) for history in histories]


def furthest(some: list[np.ndarray], exact: list[np.ndarray]) -> float:
    return max(float(np.abs(one - other).max()) for one, other in zip(some, exact, strict=True))


def one_stack_and_its_rest() -> None:
    job = job_of((box_piece("anchor", FOAM, Box(250, 260, 60, 60)),), (FOAM,))
    hit = replace(
        crew_vest_plan().hits[0], lay=("anchor",), count=("anchor",), peel=(PeelStep("anchor", Peel.COLD),)
    )

    def anew() -> None:
        heat_through.cache_clear()
        rest_of(job, hit)

    print(f"heat-through and rest of one stack, its three cases: {ms(anew):.1f} ms (goal 20)")


def forty_pieces() -> None:
    """Forty pieces of forty materials: no stack comes twice."""
    materials = [replace(FOAM, key=f"foam-{n}", thickness_mm=0.3 + n / 100) for n in range(40)]
    boxes = [Box(90 + 38 * (n % 10), 150 + 60 * (n // 10), 30, 40) for n in range(40)]
    pieces = tuple(
        box_piece(f"p{n}", material, box)
        for n, (material, box) in enumerate(zip(materials, boxes, strict=True))
    )
    ids = tuple(piece.id for piece in pieces)
    plan = crew_vest_plan()
    hit = replace(plan.hits[0], lay=ids, count=ids, peel=tuple(PeelStep(piece, Peel.COLD) for piece in ids))
    job, plan = job_of(pieces, materials), replace(plan, hits=(hit,))

    def anew() -> None:
        heat_through.cache_clear()
        heat_findings(job, plan)
        piece_rests(job, plan)

    print(f"findings and rests at each place of 40 unlike pieces: {ms(anew, 3):.0f} ms (goal 500)")


if __name__ == "__main__":
    one_stack_and_its_rest()
    forty_pieces()
    beside_solve_ivp()

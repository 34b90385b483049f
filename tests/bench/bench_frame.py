"""A frame of the Garment screen with 60 pieces, against the same window with nothing in it.

    python -m tests.bench.bench_frame

Goal: under 16 ms on software GL. Fails nothing.
"""

import statistics
import tempfile
from dataclasses import replace
from pathlib import Path

from models.garment.progress import Recipe
from models.geometry import Box
from tests.bench.bench_tap import p95, timed
from tests.floorapp.driver import Driver
from tests.floorapp.press_operator import PressOperator, app_on
from tests.held_clock import HeldClock
from tests.sample_jobs import FOAM, GLITTER, TWILL, box_piece, crew_vest_plan, job_of
from tests.small_floor import codes_of, loaded_store

FRAMES = 200


def recipe_of_sixty() -> Recipe:
    """Sixty pieces on one back, a third of them in the first hit."""
    materials = (TWILL, FOAM, GLITTER)
    pieces = [
        box_piece(f"piece-{k}", materials[k % 3], Box(20 + 66 * (k % 8), 20 + 82 * (k // 8), 50, 60))
        for k in range(60)
    ]
    plan = crew_vest_plan()
    first = replace(
        plan.hits[0], lay=tuple(p.id for p in pieces[:20]), count=tuple(p.id for p in pieces[:20])
    )
    return Recipe(job_of(pieces, materials), replace(plan, hits=(first, *plan.hits[1:])))


def frames(driver: Driver) -> list[float]:
    """Milliseconds of frames in which the whole window is drawn anew."""

    def one() -> None:
        driver.window.canvas.ask_update()
        driver.frames()

    return [timed(one) for _ in range(FRAMES)]


def main() -> None:
    from tests.floorapp.conftest import bare_app

    with tempfile.TemporaryDirectory() as place:
        store = loaded_store(Path(place), HeldClock(), recipe_of_sixty())
        driver = Driver(lambda clock: app_on(store, Path(place), clock)).start()
        PressOperator(driver).scan(codes_of(store)[0])
        driver.advance(1, draw=True)
        ours = frames(driver)
        driver.stop()
        store.close()
    empty = Driver(bare_app).start()
    bare = frames(empty)
    empty.stop()
    print(f"empty window: median {statistics.median(bare):.1f} ms")
    told = f"median {statistics.median(ours):.1f} ms, p95 {p95(ours):.1f} ms (goal 16)"
    print(f"Garment screen, 60 pieces: {told}")


if __name__ == "__main__":
    main()

"""Shows how far long work is: a bar on a terminal, plain lines anywhere else."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

from models.clock import Clock
from models.garment.countdown import NS_PER_S
from models.plan.progress import SoFar

LINES = 10
"""So many lines in all where there is no terminal."""
QUIET_S = 2
"""Planning that is quicker than this is not told."""


@contextmanager
def steps_shown(label: str) -> Iterator[Callable[[int, int], None]]:
    """Gives what long work calls with (steps done, steps in all); all goes to standard error."""
    if not sys.stderr.isatty():
        yield _Lines(label).tell
        return
    with click.progressbar(length=1, label=label, file=sys.stderr) as bar:

        def move(done: int, of: int) -> None:
            bar.length = of
            bar.update(done - bar.pos)

        yield move


class _Lines:
    def __init__(self, label: str) -> None:
        self._label = label
        self._told = 0

    def tell(self, done: int, of: int) -> None:
        tenths = done * LINES // of
        if tenths > self._told:
            self._told = tenths
            click.echo(f"{self._label}: {done} of {of}", err=True)


def better_plans_shown(clock: Clock) -> Callable[[SoFar], None]:
    """Gives what the planner calls with each better plan: a line on standard error, once it takes long."""
    began_ns = clock.monotonic_ns()

    def tell(so_far: SoFar) -> None:
        if clock.monotonic_ns() - began_ns > QUIET_S * NS_PER_S:
            click.echo(f"so far {so_far.told}", err=True)

    return tell

"""Shows how far long work is: a bar on a terminal, plain lines anywhere else."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

LINES = 10
"""So many lines in all where there is no terminal."""


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

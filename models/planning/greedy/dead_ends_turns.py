"""Which presses of a side must heat a part in turn: none of them can spare it, and no two share a hit.

What those of them that are still to come take in all, the part will get at the least, whatever the order.
"""

from collections.abc import Sequence

from models.planning.problem.bitset import bits_of, members
from models.planning.problem.cliques import cliques
from models.planning.problem.patterns import Way
from models.planning.problem.press_tasks import go_together, tasks_of
from models.planning.problem.side import SideWork

Turns = tuple[int, ...]  # tasks, by their place among tasks_of(work)


def turns_over(
    work: SideWork, sound: Sequence[int], over: Sequence[int], laid: int = 0
) -> tuple[tuple[Turns, ...], ...]:
    """For each part, the sets of two tasks or more that heat it in turn, its own among them.

    `sound` are the sound_ways, `over` what is pressed_over each part. Pieces `laid` before are not held to an
    order: one that has lifted may be pressed with what lies on it.
    """
    tasks, in_turn = tasks_of(work), _in_turn(work, sound, laid)
    heating = (bits_of(n for n, task in enumerate(tasks) if pressed >> task.part & 1) for pressed in over)
    return tuple(tuple(map(members, dict.fromkeys(cliques(in_turn, among)))) for among in heating)


def pressed_over(work: SideWork, ways: Sequence[Way], sound: Sequence[int]) -> tuple[int, ...]:
    """For each part, those that no sound hit counts for without touching it."""
    over = [0] * len(work.parts)
    for k, able in enumerate(sound):
        always = work.every_part if able else 0
        for n in members(able):
            always &= ways[n].touched
        for part in members(always):
            over[part] |= 1 << k
    return tuple(over)


def sound_ways(work: SideWork, ways: Sequence[Way]) -> list[int]:
    """For each part, the ways that count for it and scorch nothing that is surely there when they do."""
    below = [work.parts_of(work.order.ever_before[part.piece]) for part in work.parts]
    return [
        bits_of(n for n, way in enumerate(ways) if way.counted >> k & 1 and not way.scorched & lying)
        for k, lying in enumerate(below)
    ]


def _in_turn(work: SideWork, sound: Sequence[int], laid: int) -> list[int]:
    """For each task, those that no hit can serve together with it."""
    tasks, lying = tasks_of(work), work.parts_of(laid)
    in_turn = [0] * len(tasks)
    for n, task in enumerate(tasks):
        for m, other in enumerate(tasks[:n]):
            in_any_order = lying >> task.part & lying >> other.part & 1
            fits = sound[task.part] & sound[other.part]
            if not fits or not (in_any_order or go_together(work, task, other)):
                in_turn[n] |= 1 << m
                in_turn[m] |= 1 << n
    return in_turn

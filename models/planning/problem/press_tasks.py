"""The presses that a side asks for, task by task, and which two of them one hit can serve."""

from dataclasses import dataclass

from models.planning.problem.side import SideWork


@dataclass(frozen=True, slots=True)
class Task:
    """A part's press, until it is down, or its second press."""

    part: int
    is_second: bool


def tasks_of(work: SideWork) -> list[Task]:
    """The press of each part, and then the second press of each that wants one."""
    presses = [Task(k, is_second=False) for k in range(len(work.parts))]
    seconds = [Task(k, is_second=True) for k, part in enumerate(work.parts) if part.material.finish_s]
    return [*presses, *seconds]


def go_together(work: SideWork, one: Task, other: Task) -> bool:
    """Whether the order of laying lets a hit serve both."""
    if one.is_second and other.is_second:
        return True
    if one.is_second or other.is_second:
        second, press = (one, other) if one.is_second else (other, one)
        piece, pressed = work.parts[second.part].piece, work.parts[press.part].piece
        return piece != pressed and not work.order.ever_before[piece] >> pressed & 1
    piece, pressed = work.parts[one.part].piece, work.parts[other.part].piece
    before = work.order.ever_before[piece] >> pressed | work.order.ever_before[pressed] >> piece
    return not (before | work.order.apart[piece] >> pressed) & 1

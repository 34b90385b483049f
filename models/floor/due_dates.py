"""Ranks batches by priority and due date, and says a due date in words.

Of one priority, the earliest due date goes first. On one machine this keeps the greatest lateness smallest
(J. R. Jackson, Scheduling a production line to minimize maximum tardiness, University of California, Los
Angeles, 1955). Batches of one due date share a rank: rotation mixes them freely.
"""

from collections.abc import Iterable
from datetime import date

from models.store.records import BatchHead

Urgency = tuple[int, date]


def urgency(head: BatchHead) -> Urgency:
    """Return what batches are ranked by, the smallest first: the higher priority, then the earlier due date.

    A batch without a due date comes last of its priority.
    """
    return -head.priority, head.due or date.max


def ranks_of(heads: Iterable[BatchHead]) -> dict[str, int]:
    """Return the rank of each batch by its reference, from 0 on."""
    by_reference = {head.reference: urgency(head) for head in heads}
    order = sorted(set(by_reference.values()))
    return {reference: order.index(its) for reference, its in by_reference.items()}


def due_words(due: date, today: date) -> str:
    """Return how a due date is said on `today`."""
    days = (due - today).days
    if days < 0:
        return f"{-days} day{'s' if days < -1 else ''} overdue"
    if days <= 1:
        return "due tomorrow" if days else "due today"
    return f"due {day_words(due, today)}"


def day_words(day: date, today: date) -> str:
    """Return a day with its weekday; with its year, if that is another than the year of `today`."""
    year = f" {day.year}" if day.year != today.year else ""
    return f"{day:%a} {day.day} {day:%b}{year}"

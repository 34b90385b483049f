"""When a batch will be done and when it is due, in words: with the day if it is not today."""

from datetime import date, datetime

from models.floor.calling import Ends
from models.floor.due_dates import day_words, due_words


def end_words(ends: Ends, due: date | None, now: datetime) -> str:
    """Return the end with its range, and whether it comes after the due date."""
    low, median, high = (at.astimezone() for at in (ends.low, ends.median, ends.high))
    today = now.astimezone().date()
    told = f"{_moment(median, today, today)} ({_moment(low, median.date(), today)} to "
    told += f"{_moment(high, low.date(), today)})"
    return f"{told}, after its due date" if due is not None and median.date() > due else told


def right_words(due: date | None, now: datetime) -> str:
    """Return what stands beside the name of a batch on the Floor."""
    return due_words(due, now.astimezone().date()) if due is not None else ""


def order_words(priority: int, ends: str) -> str:
    """Return what stands below the bar of a batch: that it goes before the others, and its end."""
    return " · ".join(words for words in ("goes before the others" * (priority > 0), ends) if words)


def _moment(at: datetime, told_day: date, today: date) -> str:
    """Return the time, with its day unless that is `told_day`, which is known from before."""
    return f"{at:%H:%M}" if at.date() == told_day else f"{day_words(at.date(), today)} {at:%H:%M}"

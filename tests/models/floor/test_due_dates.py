"""Which batch goes first, and how its due date is said."""

from datetime import UTC, date, datetime
from uuid import UUID

import pytest

from models.batch.standing import Standing
from models.floor.due_dates import due_words, ranks_of
from models.store.records import BatchHead

TODAY = date(2026, 12, 30)
LOADED_AT = datetime(2026, 12, 1, tzinfo=UTC)


def head(reference: str, due: date | None, priority: int = 0) -> BatchHead:
    return BatchHead(UUID(int=1), reference, "Vests", due, 6, LOADED_AT, Standing.OPEN, priority, 0)


def test_the_earliest_due_date_goes_first_and_none_goes_last():
    batches = [head("A", None), head("B", date(2027, 1, 2)), head("C", date(2026, 12, 31)), head("D", None)]
    assert ranks_of(batches) == {"C": 0, "B": 1, "A": 2, "D": 2}


def test_a_higher_priority_goes_before_every_due_date():
    batches = [head("A", date(2026, 12, 31)), head("B", None, priority=1), head("C", TODAY, priority=-1)]
    assert ranks_of(batches) == {"B": 0, "A": 1, "C": 2}


@pytest.mark.parametrize(
    ("due", "words"),
    [
        (date(2026, 12, 27), "3 days overdue"),
        (date(2026, 12, 29), "1 day overdue"),
        (date(2026, 12, 30), "due today"),
        (date(2026, 12, 31), "due tomorrow"),
        (date(2027, 1, 1), "due Fri 1 Jan 2027"),
        (date(2026, 12, 11), "19 days overdue"),
    ],
)
def test_a_due_date_is_said_as_a_person_says_it(due, words):
    assert due_words(due, TODAY) == words


def test_a_day_of_this_year_is_said_without_its_year():
    assert due_words(date(2026, 12, 11), date(2026, 12, 4)) == "due Fri 11 Dec"

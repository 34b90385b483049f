"""When a batch will be done and is due, as the screens say it."""

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from floorapp.flow import Flow
from floorapp.screens.call_presenter import passes_words
from floorapp.screens.end_words import end_words, order_words, right_words
from floorapp.screens.floor_presenter import floor_view
from floorapp.screens.review_presenter import review_view
from floorapp.views import Tap
from models.floor.calling import Ends
from models.garment.progress import Recipe
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit
from models.rotation.rules.compare_policies import passes
from models.store.store import Store
from tests.floorapp.taps import tap, to_rest
from tests.held_clock import MORNING, HeldClock
from tests.small_floor import codes_of, rested_vests

TUESDAY = datetime(2026, 12, 29, 8, 0).astimezone()


@pytest.fixture
def recipe() -> Recipe:
    """Three vests, due tomorrow."""
    vests = rested_vests(3)
    return replace(vests, job=replace(vests.job, due=MORNING.date() + timedelta(days=1)))


def ends(*hours: float) -> Ends:
    return Ends(*(TUESDAY + timedelta(hours=hour) for hour in hours))


@pytest.mark.parametrize(
    ("hours", "words"),
    [
        ((4, 4.15, 4.5), "12:09 (12:00 to 12:30)"),
        ((4, 4.15, 20), "12:09 (12:00 to Wed 30 Dec 04:00)"),
        ((52, 52.15, 52.5), "Thu 31 Dec 12:09 (12:00 to 12:30)"),
        ((15, 24.5, 30), "Wed 30 Dec 08:30 (Tue 29 Dec 23:00 to Wed 30 Dec 14:00)"),
        ((76, 76.15, 101), "Fri 1 Jan 2027 12:09 (12:00 to Sat 2 Jan 2027 13:00)"),
    ],
)
def test_the_end_has_its_day_if_it_is_not_today(hours: tuple[float, ...], words: str) -> None:
    assert end_words(ends(*hours), None, TUESDAY) == words


@pytest.mark.parametrize(("due", "is_late"), [(30, True), (31, False)])
def test_an_end_after_the_due_date_is_said_to_be_so(due: int, is_late: bool) -> None:
    told = end_words(ends(52, 52.15, 80), date(2026, 12, due), TUESDAY)
    assert told.endswith(", after its due date") == is_late


def test_a_batch_says_when_it_is_due_and_whether_it_goes_first() -> None:
    assert right_words(date(2026, 12, 30), TUESDAY) == "due tomorrow"
    assert right_words(date(2026, 12, 27), TUESDAY) == "2 days overdue"
    assert right_words(None, TUESDAY) == ""
    assert order_words(1, "done about 12:09") == "goes before the others · done about 12:09"
    assert (order_words(1, ""), order_words(0, "")) == ("goes before the others", "")


def test_floor_and_review_say_the_day_and_that_it_comes_too_late(
    flow: Flow, store: Store, clock: HeldClock
) -> None:
    """The vests were due tomorrow, and three days have passed."""
    to_rest(flow, clock, codes_of(store)[0])
    assert floor_view(flow).batches[0].right == "due tomorrow"
    clock.advance(3 * 24 * 3600)
    flow.tick()
    flow.tick()

    (batch,) = floor_view(flow).batches
    assert batch.right == "2 days overdue"
    assert ", after its due date, if nobody pauses" in batch.ends
    tap(flow, Tap.TO_REVIEW, "LC-0147")
    assert ", after its due date, if nobody pauses" in review_view(flow).ends


def test_with_several_due_dates_the_order_is_told_by_them() -> None:
    hit, hotter = (Visit(Setting("", c), 10, 15, 5, 60, 10) for c in (149, 160))
    vests = tuple(Garment(f"G{n}", (hit, hotter), rank=n % 2) for n in range(6))
    told = passes_words(passes(Shop((Press("", 6, 20, 149),), vests)))
    assert told.startswith("What is due first goes first: 3 changes of heat.")

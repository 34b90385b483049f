"""How a batch stands after its events: the fold, and what it refuses."""

from dataclasses import replace
from uuid import UUID

import pytest

from models.batch.events import (
    BatchClosed,
    BatchEvent,
    BatchEventKind,
    BatchHappening,
    BatchReopened,
    BatchWithdrawn,
    GarmentAdded,
    GarmentPutBack,
    GarmentTakenOut,
    PrioritySet,
    WearerCorrected,
    batch_happening_from_json,
    batch_happening_to_json,
    batch_kind_of,
)
from models.batch.standing import BatchNow, Standing, fold_batch
from models.errors import IllegalEventError
from tests.held_clock import MORNING

REMAKE = GarmentAdded("B", 2, "M", remake_of="A")
EVERY = (
    GarmentAdded("K7KM4EQ7", 25, "M", "Ann", "7", remake_of="K7AAAAA3"),
    GarmentTakenOut("K7KM4EQ7", "no longer wanted"),
    GarmentPutBack("K7KM4EQ7"),
    WearerCorrected("K7KM4EQ7", "Anne", "7", "Ann", "7"),
    PrioritySet(2),
    BatchClosed(),
    BatchReopened(),
    BatchWithdrawn("LC-0147"),
)


def after(*what: BatchHappening) -> BatchNow:
    events = (
        BatchEvent(UUID(int=seq), seq, MORNING, "press 1", "Ines", it) for seq, it in enumerate(what, 1)
    )
    return fold_batch(events)


def test_a_batch_without_events_is_open_and_has_no_priority() -> None:
    assert after() == BatchNow(Standing.OPEN, 0)


def test_the_log_of_a_batch_says_what_was_added_remade_corrected_and_put_first() -> None:
    now = after(*EVERY[:5])
    assert now.added == ("K7KM4EQ7",)
    assert now.remade == {"K7AAAAA3": "K7KM4EQ7"}
    assert now.wearers == {"K7KM4EQ7": ("Anne", "7")}
    assert (now.taken_out, now.priority, now.standing, now.seq) == ({}, 2, Standing.OPEN, 5)


def test_a_garment_that_was_taken_out_is_out_until_it_is_put_back() -> None:
    out = GarmentTakenOut("K7KM4EQ7", "no longer wanted")
    assert after(out).taken_out == {"K7KM4EQ7": "no longer wanted"}
    assert after(out, GarmentPutBack("K7KM4EQ7")).taken_out == {}


def test_a_closed_batch_is_reopened() -> None:
    assert after(BatchClosed()).standing == Standing.CLOSED
    assert after(BatchClosed(), BatchReopened()).standing == Standing.OPEN


@pytest.mark.parametrize(
    ("what", "told"),
    [
        ((BatchWithdrawn("LC-0147"), PrioritySet(1)), "was taken back"),
        ((BatchClosed(), PrioritySet(1)), "is closed; reopen it first"),
        ((BatchReopened(),), "is open already"),
        (
            (REMAKE, replace(REMAKE, code="C", n=3)),
            "already, as B",
        ),
        ((GarmentTakenOut("A", "torn"), GarmentTakenOut("A", "torn")), "taken out already"),
        ((GarmentTakenOut("A", ""),), "say which"),
        ((GarmentPutBack("A"),), "was not taken out"),
    ],
)
def test_what_does_not_fit_how_the_batch_stands_is_refused(
    what: tuple[BatchHappening, ...], told: str
) -> None:
    with pytest.raises(IllegalEventError, match=told):
        after(*what)


@pytest.mark.parametrize("what", EVERY)
def test_every_event_of_a_batch_comes_back_from_its_json(what: BatchHappening) -> None:
    assert batch_happening_from_json(batch_kind_of(what), batch_happening_to_json(what)) == what


def test_every_kind_of_event_of_a_batch_is_tried_here() -> None:
    assert {batch_kind_of(what) for what in EVERY} == set(BatchEventKind)

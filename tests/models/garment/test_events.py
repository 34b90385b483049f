"""Every event survives its JSON."""

import json
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from models.garment.cycle import EventKind
from models.garment.events import (
    AllPeeled,
    Closed,
    Completed,
    ExtraAdded,
    ExtraReason,
    FindingKind,
    Found,
    Happening,
    Held,
    Opened,
    Passed,
    Peeled,
    Released,
    Replanned,
    Rested,
    RestEnded,
    Spoiled,
    TakenBack,
    TakenUp,
    happening_from_json,
    happening_to_json,
    kind_of,
)
from models.geometry import Box
from models.job.job import Peel, Pressure
from models.plan.plan import Hit, PeelStep
from models.recipe.places import Place

seconds = st.integers(0, 10_000)
names = st.text(max_size=20)
pieces = st.lists(names, max_size=5).map(tuple)
mm = st.floats(-5_000, 5_000)
hits = st.builds(
    Hit,
    n=st.integers(1, 99),
    side=names,
    platen=st.builds(Box, mm, mm, mm, mm),
    temperature_c=st.floats(0, 300),
    pressure=st.sampled_from(Pressure),
    dwell_s=seconds,
    lay=pieces,
    count=pieces,
    touch_again=pieces,
    cover=st.booleans(),
    pad=st.booleans(),
    peel=st.lists(st.builds(PeelStep, names, st.sampled_from(Peel)), max_size=3).map(tuple),
    why=pieces,
)
needs = st.lists(st.tuples(names, seconds), max_size=3).map(tuple)

STRATEGIES: dict[EventKind, st.SearchStrategy[Happening]] = {
    EventKind.TAKEN_UP: st.just(TakenUp()),
    EventKind.CLOSED: st.builds(Closed, seconds),
    EventKind.OPENED: st.builds(Opened, seconds, st.booleans()),
    EventKind.PEELED: st.builds(Peeled, pieces, st.sampled_from(Peel), st.none() | st.sampled_from(Place)),
    EventKind.RESTED: st.builds(Rested, seconds, st.sampled_from(Place)),
    EventKind.REST_ENDED: st.just(RestEnded()),
    EventKind.ALL_PEELED: st.just(AllPeeled()),
    EventKind.PASSED: st.just(Passed()),
    EventKind.COMPLETED: st.just(Completed()),
    EventKind.FOUND: st.builds(Found, st.sampled_from(FindingKind), pieces),
    EventKind.EXTRA_ADDED: st.builds(
        ExtraAdded,
        st.sampled_from(ExtraReason),
        st.lists(hits, max_size=3).map(tuple),
        needs,
        pieces,
        st.none() | st.lists(hits, max_size=3).map(tuple),
    ),
    EventKind.REPLANNED: st.builds(Replanned, st.lists(hits, max_size=3).map(tuple)),
    EventKind.HELD: st.builds(Held, names),
    EventKind.RELEASED: st.just(Released()),
    EventKind.SPOILED: st.builds(Spoiled, names),
    EventKind.TAKEN_BACK: st.builds(TakenBack, st.integers(0, 2**128 - 1).map(lambda n: UUID(int=n))),
}


@pytest.mark.parametrize("kind", EventKind)
@given(data=st.data())
def test_an_event_read_from_its_own_json_is_the_same(kind: EventKind, data: st.DataObject) -> None:
    what = data.draw(STRATEGIES[kind])
    assert kind_of(what) == kind
    stored = json.dumps(happening_to_json(what))
    assert happening_from_json(kind, json.loads(stored)) == what


def test_an_extra_hit_stored_before_pieces_could_be_replaced_is_read_as_ever() -> None:
    stored = {"reason": "re-press", "hits": [], "needs_s": [["anchor", 15]]}
    assert happening_from_json(EventKind.EXTRA_ADDED, stored) == ExtraAdded(
        ExtraReason.REPRESS, (), (("anchor", 15),), replaced=(), rest=None
    )


def test_a_finding_stored_with_a_note_is_read_without_it() -> None:
    stored = {"kind": "lift", "pieces": ["anchor"], "note": ""}
    assert happening_from_json(EventKind.FOUND, stored) == Found(FindingKind.LIFT, ("anchor",))


def test_a_rest_stored_before_it_had_a_place_was_on_the_table() -> None:
    assert happening_from_json(EventKind.RESTED, {"rest_s": 60}) == Rested(60, Place.TABLE)


def test_a_rest_stored_before_it_counted_from_the_opening_began_with_its_own_tap() -> None:
    stored = happening_from_json(EventKind.RESTED, {"rest_s": 60, "place": Place.TABLE.value})
    assert stored == Rested(60, Place.TABLE, counts_from_opening=False)


def test_an_opening_stored_before_warm_waits_were_timed_has_none() -> None:
    assert happening_from_json(EventKind.OPENED, {"seconds": 15, "judged": False}) == Opened(15, warm_s=None)


def test_a_peel_stored_before_places_were_told_has_none() -> None:
    stored = {"pieces": ["wave"], "how": "warm"}
    assert happening_from_json(EventKind.PEELED, stored) == Peeled(("wave",), Peel.WARM, None)

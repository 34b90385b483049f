"""Batches in the store: loaded whole or not at all, found by reference, counted by state and size."""

from contextlib import closing
from dataclasses import replace
from datetime import date
from random import Random

import pytest

from models.errors import DataError, StorageError
from models.garment.cycle import State
from models.garment.events import Spoiled, TakenUp
from models.garment.progress import Recipe
from models.job.job import GarmentOrder
from models.store.errors import ReferenceTakenError, UnknownBatchError
from models.store.store import Store
from models.tags.code import new_code, read_code
from tests.held_clock import MORNING, HeldClock
from tests.models.store.taps import first_garment, load_vests, tap
from tests.sample_jobs import crew_vest_job, crew_vest_plan


def test_a_loaded_batch_is_found_by_its_reference(store: Store) -> None:
    job = replace(crew_vest_job(), due=date(2026, 12, 11))
    head = store.add_batch(job, crew_vest_plan())
    assert store.batch("LC-0147") == head
    assert (head.name, head.due, head.garments, head.created_at) == (
        "Lightship crew vests",
        date(2026, 12, 11),
        2,
        MORNING,
    )


def test_the_recipe_comes_back_as_it_was_frozen(store: Store) -> None:
    head = load_vests(store)
    job = replace(crew_vest_job(), garments=store.recipe(head.id).job.garments)
    assert store.recipe(head.id) == Recipe(job, crew_vest_plan())


def test_the_recipe_is_read_only_once(store: Store) -> None:
    head = load_vests(store)
    assert store.recipe(head.id) is store.recipe(head.id)


def test_every_garment_of_the_roster_waits_with_a_tag_of_this_shop(store: Store) -> None:
    load_vests(store, sizes=("S", "XL"))
    first, second = store.garments("LC-0147")
    assert (first.n, first.size, first.wearer, first.number) == (1, "S", "Wearer 1", "1")
    assert (second.n, second.size, second.state, second.station) == (2, "XL", State.IDLE, "")
    assert read_code(first.code, store.shop_code) == first.code != second.code


def test_names_in_any_script_come_back_unchanged(store: Store) -> None:
    wearer = "Þórdís Ångström-Ōno 🛟 “Цвета”"
    garments = (GarmentOrder(1, "M", wearer, "07"),)
    store.add_batch(replace(crew_vest_job(), garments=garments), crew_vest_plan())
    assert store.garments("LC-0147")[0].wearer == wearer


def test_a_reference_in_use_is_refused_and_nothing_of_the_second_batch_stays(store: Store) -> None:
    load_vests(store)
    with pytest.raises(
        ReferenceTakenError, match="LC-0147 is stored already; give this one another"
    ) as refused:
        load_vests(store, sizes=("S", "S", "S"))
    assert isinstance(refused.value, DataError)
    assert [row.size for row in store.garments("LC-0147")] == ["M", "L"]


def test_a_batch_that_fails_half_way_leaves_nothing(store: Store) -> None:
    twice_the_same_n = (GarmentOrder(1, "M"), GarmentOrder(1, "L"))
    with pytest.raises(StorageError, match=r"(?i)unique"):
        store.add_batch(replace(crew_vest_job(), garments=twice_the_same_n), crew_vest_plan())
    assert store.batches() == ()


def test_an_unknown_reference_lists_those_spelled_like_it(store: Store) -> None:
    load_vests(store, "LC-0147")
    load_vests(store, "HARBOUR-9")
    with pytest.raises(UnknownBatchError, match=r"no batch LC-0174; look at LC-0147$"):
        store.batch("LC-0174")


def test_without_any_batch_the_line_says_to_load_one(store: Store) -> None:
    with pytest.raises(UnknownBatchError, match="none is stored yet; load a job first"):
        store.garments("LC-0147")


def test_the_newest_batch_stands_first_even_within_one_instant(store: Store) -> None:
    for reference in ("A-1", "A-2", "A-3"):
        load_vests(store, reference)
    assert [batch.head.reference for batch in store.batches()] == ["A-3", "A-2", "A-1"]


def test_garments_are_counted_by_state_and_by_size(store: Store) -> None:
    load_vests(store, sizes=("M", "L", "M", "XS"))
    tap(store, first_garment(store), Spoiled("scorched"))
    (batch,) = store.batches()
    assert batch.by_state == {State.IDLE: 3, State.SPOILED: 1}
    assert batch.by_size == {
        "M": {State.IDLE: 1, State.SPOILED: 1},
        "L": {State.IDLE: 1},
        "XS": {State.IDLE: 1},
    }
    assert batch.by_state[State.HELD] == 0


def test_sizes_stand_as_the_roster_first_names_them(store: Store) -> None:
    load_vests(store, sizes=("M", "L", "XS", "M"))
    tap(store, first_garment(store), TakenUp())
    assert list(store.batches()[0].by_size) == ["M", "L", "XS"]


def test_batches_do_not_mix_their_counts(store: Store) -> None:
    load_vests(store, "A-1", sizes=("M",))
    load_vests(store, "A-2", sizes=("M", "M"))
    assert [(batch.head.reference, batch.by_state[State.IDLE]) for batch in store.batches()] == [
        ("A-2", 2),
        ("A-1", 1),
    ]


def test_tag_codes_in_use_are_drawn_again(store: Store, url: str, clock: HeldClock) -> None:
    """Two stations whose randomness is the same would draw the same codes."""
    for reference in ("A-1", "A-2"):
        clock.advance(1)
        with closing(Store.open(url, clock, Random(3))) as station:
            load_vests(station, reference, sizes=("M",) * 50)
    codes = [row.code for reference in ("A-1", "A-2") for row in store.garments(reference)]
    assert new_code(store.shop_code, _after_an_id(Random(3))) == codes[0]
    assert len(set(codes)) == 100


def _after_an_id(random: Random) -> Random:
    """The batch draws its own id before its tag codes."""
    random.getrandbits(62)
    return random


def test_five_thousand_garments_load_in_one_go(store: Store) -> None:
    load_vests(store, sizes=("M",) * 5000)
    rows = store.garments("LC-0147")
    assert [row.n for row in rows] == list(range(1, 5001))
    assert len({row.code for row in rows}) == 5000

"""A record that is not what was written is named and fenced off; the rest of the floor goes on."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from random import Random

import pytest
from sqlalchemy import create_engine, text

from models.errors import FloorError
from models.floor.calling import Caller
from models.floor.reviewing import review_batch
from models.garment.events import Held, TakenUp
from models.store.errors import DamagedRecordError, UnknownCodeError
from models.store.store import Store
from printables.batch_tags import tags_of_batch
from tests.held_clock import HeldClock
from tests.models.store.conftest import OpenStore
from tests.models.store.taps import load_vests, tap
from tests.postgres_server import PostgresServer

UNGUARDED = "DROP TRIGGER events_are_not_changed; DROP TRIGGER events_are_not_removed;"
OF_FIRST = "WHERE garment_id = (SELECT id FROM garments WHERE n = 1)"
EVENTS_DAMAGED = {
    "a kind that is none": f"UPDATE events SET kind = 'lost' {OF_FIRST} AND seq = 2",
    "another kind": f"UPDATE events SET kind = 'released' {OF_FIRST} AND seq = 2",
    "broken content": f"UPDATE events SET data = '{{\"rea' {OF_FIRST} AND seq = 2",
    "other content": f"UPDATE events SET data = replace(data, 'short', 'shirt') {OF_FIRST} AND seq = 2",
    "no content": f"UPDATE events SET data = '{{}}' {OF_FIRST} AND seq = 2",
    "a time that is none": f"UPDATE events SET at = 'noon' {OF_FIRST} AND seq = 2",
    "bytes that are no text": f"UPDATE events SET station = CAST(x'ff70' AS TEXT) {OF_FIRST} AND seq = 2",
    "an id that is none": f"UPDATE events SET id = 'x' {OF_FIRST} AND seq = 2",
    "the last event lost": f"DELETE FROM events {OF_FIRST} AND seq = 2",
    "the first event lost": f"DELETE FROM events {OF_FIRST} AND seq = 1",
}
GARMENTS_DAMAGED = {
    "another wearer": "UPDATE garments SET wearer = 'Wearer 7' WHERE n = 1",
    "a wearer that is no text": "UPDATE garments SET wearer = CAST(x'57ff' AS TEXT) WHERE n = 1",
    "another size": "UPDATE garments SET size = 'K' WHERE n = 1",
    "a state that is none": "UPDATE garments SET state = 'hekd' WHERE n = 1",
    "a time that is none": "UPDATE garments SET updated_at = 'noon' WHERE n = 1",
    "a number for a station": "UPDATE garments SET station = x'00' WHERE n = 1",
}
RECIPES_DAMAGED = {
    "one changed byte": "UPDATE batches SET recipe = replace(recipe, 'quilted', 'quilteD')",
    "other seconds": "UPDATE batches SET recipe = replace(recipe, '\"dwell_s\": 15', '\"dwell_s\": 75')",
    "broken": "UPDATE batches SET recipe = substr(recipe, 1, 900)",
    "empty": "UPDATE batches SET recipe = '{}'",
}
WEARER = "Wearer"


@pytest.fixture
def floor(open_store: OpenStore, sqlite_url: str) -> Store:
    """Three vests, the first of them on hold."""
    store = open_store(sqlite_url)
    load_vests(store, sizes=("M", "L", "S"))
    tap(store, garment_of(store, 1), TakenUp())
    tap(store, garment_of(store, 1), Held("the foam is short"))
    tap(store, garment_of(store, 2), TakenUp())
    return store


@pytest.fixture
def damage(floor: Store, tmp_path: Path, open_store: OpenStore, sqlite_url: str) -> Callable[[str], Store]:
    """Changes the file behind the store's back, and opens it anew."""

    def changed(change: str) -> Store:
        floor.close()
        with closing(sqlite3.connect(tmp_path / "floor.db")) as file:
            file.executescript(UNGUARDED)
            assert file.execute(change).rowcount == 1
            file.commit()
        return open_store(sqlite_url)

    return changed


def garment_of(store: Store, n: int):
    return store.garment(next(row.code for row in store.garments("LC-0147") if row.n == n))


@pytest.mark.parametrize("change", EVENTS_DAMAGED.values(), ids=EVENTS_DAMAGED)
def test_a_damaged_event_fences_off_its_garment(
    damage: Callable[[str], Store], floor: Store, change: str
) -> None:
    code = garment_of(floor, 1).row.code
    store = damage(change)

    with pytest.raises(
        DamagedRecordError, match=r"event [12] of garment 1 of batch LC-0147 is damaged"
    ) as told:
        store.garment(code)
    assert_only_the_first_is_left_out(store, str(told.value))
    assert len(store.garments("LC-0147")) == 3  # its own row is sound, and stays in the lists


@pytest.mark.parametrize("change", GARMENTS_DAMAGED.values(), ids=GARMENTS_DAMAGED)
def test_a_damaged_garment_is_left_out_of_lists_and_refused(
    damage: Callable[[str], Store], floor: Store, change: str
) -> None:
    code = garment_of(floor, 1).row.code
    store = damage(change)

    with pytest.raises(DamagedRecordError, match=r"^garment 1 of batch LC-0147 is damaged") as told:
        store.garment(code)
    assert_only_the_first_is_left_out(store, str(told.value))
    assert [row.n for row in store.garments("LC-0147")] == [2, 3]


@pytest.mark.parametrize("change", RECIPES_DAMAGED.values(), ids=RECIPES_DAMAGED)
def test_a_damaged_recipe_fences_off_its_batch_and_no_other(
    damage: Callable[[str], Store], floor: Store, change: str
) -> None:
    load_vests(floor, "LC-0148")
    other = floor.garments("LC-0148")[0].code
    tap(floor, floor.garment(other), TakenUp())
    code = garment_of(floor, 1).row.code
    store = damage(f"{change} WHERE reference = 'LC-0147'")

    for asked in (lambda: store.garment(code), lambda: review_batch(store, store.batch("LC-0147"))):
        with pytest.raises(DamagedRecordError, match="the recipe of batch LC-0147 is damaged"):
            asked()
    assert review_batch(store, store.batch("LC-0148")).garments
    assert len(tags_of_batch(store, "LC-0148")) == 2
    call = Caller(store, HeldClock(), "press 1").call()
    assert call is not None
    assert call.row.batch_reference == "LC-0148"
    assert [line.split(" is damaged")[0] for line in store.damaged] == ["the recipe of batch LC-0147"]


def test_a_damaged_head_leaves_its_batch_off_the_floor(damage: Callable[[str], Store]) -> None:
    store = damage("UPDATE batches SET due = '2026-12-99'")

    assert store.batches() == ()
    with pytest.raises(DamagedRecordError, match="batch LC-0147 is damaged"):
        store.batch("LC-0147")


def test_a_tag_whose_stored_code_was_changed_is_not_known(
    damage: Callable[[str], Store], floor: Store
) -> None:
    code = garment_of(floor, 1).row.code
    store = damage("UPDATE garments SET code = 'ZZ' WHERE n = 1")

    with pytest.raises(UnknownCodeError):
        store.garment(code)
    assert [row.n for row in store.garments("LC-0147")] == [2, 3]


@pytest.mark.parametrize("code", ["'ZZ'", "'77'", "x'ff'", "''", "5"])
def test_a_damaged_shop_code_is_what_the_tags_begin_with(
    damage: Callable[[str], Store], floor: Store, code: str
) -> None:
    """Else every scan would be refused as of another shop."""
    store = damage(f"UPDATE shop SET code = {code}")

    assert store.shop_code == floor.shop_code
    assert [line.split(" is damaged")[0] for line in store.damaged] == ["the shop's code"]
    load_vests(store, "LC-0148")
    assert garment_of(store, 1).row.code.startswith(floor.shop_code)


def test_a_shop_code_that_nothing_tells_any_more_is_refused(
    open_store: OpenStore, sqlite_url: str, tmp_path: Path
) -> None:
    open_store(sqlite_url).close()
    with closing(sqlite3.connect(tmp_path / "floor.db")) as file:
        file.executescript("UPDATE shop SET code = 'ZZZ'")
    with pytest.raises(DamagedRecordError, match="the shop's code is damaged"):
        open_store(sqlite_url)


def test_other_content_of_a_log_on_a_server_is_found_too(
    postgres: PostgresServer, open_store: OpenStore
) -> None:
    url = postgres.empty_database()
    store = open_store(url)
    load_vests(store)
    tap(store, garment_of(store, 1), Held("the foam is short"))
    engine = create_engine(url)
    with engine.begin() as connection:
        connection.execute(text("ALTER TABLE events DISABLE TRIGGER USER"))
        connection.execute(text('UPDATE events SET data = \'{"reason": "the foam is shirt"}\''))
    engine.dispose()

    with pytest.raises(DamagedRecordError, match="event 1 of garment 1 of batch LC-0147"):
        garment_of(store, 1)


def test_any_changed_byte_of_the_file_is_told_or_does_no_harm(
    floor: Store, tmp_path: Path, open_store: OpenStore, sqlite_url: str
) -> None:
    """Nothing but a plain refusal comes of it, and what is read is what was written."""
    before = as_read(floor)
    floor.close()
    file = tmp_path / "floor.db"
    sound = file.read_bytes()
    random = Random(5)
    for _ in range(80):
        at = random.randrange(4096, len(sound))
        file.write_bytes(sound[:at] + bytes([sound[at] ^ 1 << random.randrange(8)]) + sound[at + 1 :])
        try_to_read(open_store, sqlite_url, before)


def try_to_read(open_store: OpenStore, url: str, before) -> None:
    now: list[object] = []
    told = ""
    try:
        store = open_store(url)
        now = as_read(store)
        store.close()
    except FloorError as error:
        told = str(error)
    assert "\n" not in told
    assert WEARER not in told
    assert set(now) <= set(before)


def as_read(store: Store):
    """What the lists, the logs and the recipe say, but what a garment's row repeats of its log."""
    rows = store.garments("LC-0147")
    logs = [(row.n, log) for row, log in store.logs("LC-0147")]
    recipe = store.recipe(store.batch("LC-0147").id)
    return [
        *((row.n, row.code, row.size, row.wearer, row.number) for row in rows),
        *map(repr, logs),
        repr(recipe),
    ]


def assert_only_the_first_is_left_out(store: Store, told: str) -> None:
    """The review, the tags and the call go on with the others, and nobody is named."""
    review = review_batch(store, store.batch("LC-0147"))
    assert [line.n for line in review.garments] == [2, 3]
    call = Caller(store, HeldClock(), "press 1").call()
    assert call is not None
    assert call.row.n == 2
    assert tags_of_batch(store, "LC-0147")
    assert store.damaged == (told,)
    assert WEARER not in told

"""A garment is found by a part of the wearer's name, of the number, of the code, or by its batch."""

from dataclasses import replace
from time import thread_time

import pytest
from sqlalchemy import create_engine, text

from models.floor.remedies import Remedies
from models.floor.work import Seat
from models.job.job import GarmentOrder
from models.store.store import Store
from tests.models.store.conftest import OpenStore
from tests.models.store.taps import load_vests
from tests.models.store.test_opening import make_rested
from tests.sample_jobs import crew_vest_job, crew_vest_plan

CREW = (("Þórdís Ångström", "07"), ("Jean-Luc Müller", "12"), ("Ann Lee", "21"), ("100% Åse", "3_1"))


def load_crew(store: Store) -> list[str]:
    """Return the codes of the crew, in the order of the roster."""
    garments = tuple(GarmentOrder(n, "M", *who) for n, who in enumerate(CREW, start=1))
    store.add_batch(replace(crew_vest_job(), garments=garments), crew_vest_plan())
    return [row.code for row in store.garments("LC-0147")]


def found(store: Store, typed: str) -> list[int]:
    return [row.n for row in store.find(typed).garments]


@pytest.mark.parametrize(
    ("typed", "n"),
    [
        ("thordis", 1),
        ("ANGST", 1),
        ("muller", 2),
        ("mül 12", 2),
        ("ann l", 3),
        ("annlee", 3),
        ("21", 3),
        ("lc-0147 ann", 3),
        ("100%", 4),
        ("3_1", 4),
    ],
)
def test_a_part_of_name_or_number_finds_the_garment(store: Store, typed: str, n: int) -> None:
    load_crew(store)
    assert found(store, typed) == [n]


def test_a_part_of_the_code_finds_the_garment_as_it_is_spoken(store: Store) -> None:
    code = load_crew(store)[1]
    assert found(store, f"{code[:4]} {code[4:].lower()}") == [2]


def test_what_is_written_nowhere_finds_nothing(store: Store) -> None:
    load_crew(store)
    assert found(store, "ann 12") == []
    assert found(store, "%") == [4]


def test_a_batch_is_found_by_its_reference_with_all_its_garments(store: Store) -> None:
    load_crew(store)
    other = load_vests(store, "HARBOUR-9")
    assert store.find("harbour").batches == (other,)
    assert [row.batch_reference for row in store.find("harbour").garments] == ["HARBOUR-9"] * 2


def test_without_words_all_batches_are_listed_and_no_garment(store: Store) -> None:
    load_crew(store)
    load_vests(store, "HARBOUR-9")
    nothing_typed = store.find("")
    assert [head.reference for head in nothing_typed.batches] == ["HARBOUR-9", "LC-0147"]
    assert nothing_typed.garments == ()


def test_more_than_were_asked_for_are_said_to_be_more(store: Store) -> None:
    load_vests(store, sizes=("M",) * 7)
    many = store.find("wearer", most=5)
    assert ([row.n for row in many.garments], many.is_more) == ([1, 2, 3, 4, 5], True)


def test_a_corrected_name_is_found_and_the_wrong_one_is_not(store: Store) -> None:
    code = load_crew(store)[2]
    Remedies(store, Seat("press 1", "Ines")).correct(store.garment(code), "Annelie Berg", "21")
    assert found(store, "annelie") == [3]
    assert found(store, "lee") == []


def test_a_batch_that_was_taken_back_is_not_found(store: Store) -> None:
    load_crew(store)
    Remedies(store, Seat("press 1", "Ines")).withdraw(store.batch("LC-0147"))
    assert store.find("ann") == store.find("lc-0147")
    assert store.find("").batches == ()


def test_garments_from_before_they_could_be_found_are_found(url: str, open_store: OpenStore) -> None:
    make_rested(url)
    engine = create_engine(url)
    with engine.begin() as connection:
        connection.execute(text("UPDATE garments SET wearer = 'Åse Berg'"))
    engine.dispose()
    assert found(open_store(url), "ase b") == [1]


def test_a_name_is_found_among_five_thousand_garments_at_once(store: Store) -> None:
    """Our own CPU time, the best of five: the screen asks after each key."""
    load_vests(store, sizes=("M",) * 5000)
    store.find("wearer 49")

    def cpu_s() -> float:
        before = thread_time()
        assert store.find("wearer 4999").garments[0].n == 4999
        return thread_time() - before

    assert min(cpu_s() for _ in range(5)) < 0.05

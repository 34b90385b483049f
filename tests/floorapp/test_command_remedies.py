"""The commands that find garments and mend batches, as a person types them."""

from random import Random

import pytest

from models.store.store import Store
from tests.floorapp.commands import run
from tests.held_clock import HeldClock


@pytest.fixture
def codes(database: str, batch: str) -> list[str]:
    store = Store.open(database, HeldClock(), Random(5))
    codes = [row.code for row in store.garments(batch)]
    store.close()
    return codes


def told(database: str, *words: str) -> str:
    done = run("--database", database, *words)
    assert done.exit_code == 0, done.output
    return done.stdout


def refused(database: str, *words: str) -> str:
    done = run("--database", database, *words)
    assert done.exit_code == 2, done.output
    return done.stderr


def test_a_garment_is_found_by_a_part_of_its_wearers_name(
    database: str, batch: str, codes: list[str]
) -> None:
    assert told(database, "find", "LINDQ").split("\t")[:3] == [codes[1], batch, "2"]
    assert told(database, "find").startswith(f"batch\t{batch}\t")


def test_what_nobody_is_called_is_said(database: str, batch: str) -> None:
    assert "Nothing is called zzz" in run("--database", database, "find", "zzz").stderr


def test_an_added_garment_gets_a_tag_of_its_own(database: str, batch: str, tmp_path) -> None:
    code = told(database, "add", batch, "--size", "M", "--name", "Åse Berg").strip()
    target = tmp_path / "tag.pdf"
    assert "1 tag in" in told(database, "tags", batch, "--only", code, "--out", str(target))
    assert target.read_bytes().startswith(b"%PDF")


def test_a_size_that_the_batch_was_not_planned_for_is_refused(database: str, batch: str) -> None:
    assert "has no size XXL" in refused(database, "add", batch, "--size", "XXL")


def test_a_tag_of_no_garment_of_the_batch_is_not_printed(
    database: str, batch: str, codes: list[str], tmp_path
) -> None:
    told(database, "take-out", codes[0], "--reason", "torn")
    printed = refused(database, "tags", batch, "--only", codes[0], "--out", str(tmp_path / "tag.pdf"))
    assert "no garment that has a tag" in printed


def test_a_name_is_corrected_and_the_number_stays(database: str, batch: str, codes: list[str]) -> None:
    number = told(database, "find", codes[0]).split("\t")[5]
    told(database, "correct", codes[0], "--name", "Inés Okafor")
    assert told(database, "find", codes[0]).split("\t")[4:6] == ["Inés Okafor", number]


def test_a_garment_is_taken_out_and_put_back(database: str, batch: str, codes: list[str]) -> None:
    told(database, "take-out", codes[0], "--reason", "no longer wanted")
    assert "taken out" in told(database, "find", codes[0])
    assert "1 taken out" in told(database, "review", batch)
    told(database, "put-back", codes[0])
    assert "to do" in told(database, "find", codes[0])


def test_only_a_spoiled_garment_is_made_again(database: str, batch: str, codes: list[str]) -> None:
    assert "only a spoiled garment is made again" in refused(database, "make-again", codes[0])


def test_a_batch_with_garments_to_do_is_not_closed(database: str, batch: str) -> None:
    assert "2 garments are still to be finished" in refused(database, "close", batch)


def test_a_batch_whose_garments_were_all_taken_out_is_closed_and_reopened(
    database: str, batch: str, codes: list[str]
) -> None:
    for code in codes:
        told(database, "take-out", code, "--reason", "cancelled")
    told(database, "close", batch)
    assert "closed" in told(database, "find")
    told(database, "reopen", batch)
    assert "open" in told(database, "find")


def test_a_batch_that_was_taken_back_is_gone(database: str, batch: str) -> None:
    told(database, "take-back", batch)
    assert batch in refused(database, "review", batch)

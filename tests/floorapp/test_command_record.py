"""The commands that look after the shop's record, as a person types them."""

import sqlite3
from contextlib import closing
from pathlib import Path

from tests.floorapp.commands import run


def test_a_sound_database_is_told_to_be_well(database: str, batch: str) -> None:
    told = run("--database", database, "check")

    assert told.exit_code == 0, told.stderr
    assert told.stdout.endswith("floor.db: all is well\n")
    assert "Garments checked: 2 of 2" in told.stderr


def test_what_is_wrong_is_told_in_lines_with_status_two(database: str, batch: str, tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "floor.db")) as file:
        file.executescript(
            "UPDATE garments SET size = 'K' WHERE n = 2; UPDATE garments SET state = 'held' WHERE n = 1"
        )
    told = run("--database", database, "check")

    assert told.exit_code == 2
    assert [line.split(" is ")[0] for line in told.stdout.splitlines()] == [
        "garment 1 of batch LC-0147: its list says another state than its log",
        "garment 2 of batch LC-0147",
    ]


def test_a_damaged_garment_gets_no_tag_and_that_is_said(database: str, batch: str, tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "floor.db")) as file:
        file.executescript("UPDATE garments SET wearer = 'Inez' WHERE n = 2")
    told = run("--database", database, "tags", batch, "--out", tmp_path / "tags.pdf")

    assert told.exit_code == 0, told.stderr
    assert "1 tag in" in told.stdout
    assert "garment 2 of batch LC-0147 is damaged" in told.stderr
    assert "Inez" not in told.stderr

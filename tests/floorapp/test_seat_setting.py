"""The names of station and person, read from the environment as it really is."""

import os
import socket
import subprocess
import sys

import pytest

from floorapp.seat_setting import BadNameError, SeatSetting, person_name, seat_setting, station_name
from models.recipe.places import Place

NOT_UTF8 = os.fsdecode(b"Pre\xdfe 2")
"""As Windows-1252 writes it: Python hands such bytes on as half characters, which no database stores."""


def test_the_station_is_named_by_its_setting_and_else_by_the_computer() -> None:
    assert station_name({"FLOORAPP_STATION": " Press 2 "}, "tablet-7") == "Press 2"
    assert station_name({}, "tablet-7") == station_name({"FLOORAPP_STATION": " "}, "tablet-7") == "tablet-7"


def test_all_settings_of_a_station_are_read_together() -> None:
    environ = {"FLOORAPP_STATION": "Press 2", "FLOORAPP_PERSON": "Mette", "FLOORAPP_RESTS": "hung"}
    assert seat_setting(environ, "tablet-7") == SeatSetting("Press 2", "Mette", Place.HUNG)


def test_a_person_may_be_left_out() -> None:
    assert person_name({}) == ""
    assert person_name({"FLOORAPP_PERSON": "Inés"}) == "Inés"


@pytest.mark.parametrize(
    ("name", "told"),
    [
        (NOT_UTF8, "is not UTF-8 text"),
        ("Press\x1b[31m", "signs that cannot be printed"),
        ("Press\n2", "signs that cannot be printed"),
        ("P" * 61, "has 61 characters; write 60 at the most"),
    ],
)
def test_a_name_that_cannot_stand_on_an_event_is_refused_with_its_setting(name: str, told: str) -> None:
    with pytest.raises(BadNameError, match=rf"^FLOORAPP_STATION: .*{told}"):
        station_name({"FLOORAPP_STATION": name}, "tablet-7")
    with pytest.raises(BadNameError, match=rf"^FLOORAPP_PERSON: .*{told}"):
        person_name({"FLOORAPP_PERSON": name})


@pytest.mark.parametrize(
    ("host", "station"),
    [(NOT_UTF8, "Pree 2"), ("", "station"), ("\udcff", "station"), ("h" * 300, "h" * 60), ("a\0b", "ab")],
)
def test_a_computer_s_name_is_cleaned_of_what_cannot_be_stored(host: str, station: str) -> None:
    assert station_name({}, host) == station


def test_the_name_of_this_computer_is_one() -> None:
    assert station_name({}, socket.gethostname())


@pytest.mark.parametrize("variable", ["FLOORAPP_STATION", "FLOORAPP_PERSON"])
def test_the_app_refuses_such_a_name_in_a_line_and_opens_nothing(variable: str, tmp_path) -> None:
    url = f"sqlite:///{tmp_path / 'floor.db'}"
    done = subprocess.run(
        [sys.executable, "-m", "floorapp.command_line", "--database", url],
        env={**os.environb, os.fsencode(variable): os.fsencode(NOT_UTF8)},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 2
    assert done.stderr == f"{variable}: the name is not UTF-8 text; set it anew in letters, like Press 2\n"
    assert not (tmp_path / "floor.db").exists()

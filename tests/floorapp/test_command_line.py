"""The commands, as a person types them: their help, the database and the station that they are told."""

import importlib.metadata
from importlib.metadata import PackageNotFoundError

import pytest
from click.testing import CliRunner

from floorapp import database_names
from floorapp.command_line import main
from tests.floorapp.commands import run, run_for_real


@pytest.mark.parametrize("command", sorted(main.commands))
def test_every_command_has_help_with_an_example_of_itself(command):
    told = run(command, "--help").output
    assert f"floorapp {command}" in told.split("Example", 1)[1]


def test_the_help_says_what_the_tool_is_and_how_to_see_it_at_work():
    told = run("--help").output
    assert "heat press" in " ".join(told.split())
    assert "floorapp demo" in told


def test_an_unknown_command_ends_with_two():
    done = run_for_real("press")
    assert done.returncode == 2
    assert "press" in done.stderr


def test_a_database_that_cannot_be_is_refused_in_a_line(tmp_path):
    done = run_for_real("--database", f"sqlite:///{tmp_path}/no/such/folder/floor.db", "review", "LC-0147")
    assert done.returncode == 2
    assert done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("words", [("review", "LC-0147"), ("tags", "LC-0147", "--out", "tags.pdf")])
def test_looking_at_a_database_that_is_not_there_is_refused_and_makes_none(tmp_path, words):
    lost = tmp_path / "flor.db"
    refused = run("--database", f"sqlite:///{lost}", *words)
    assert refused.exit_code == 2
    assert "there is no such database" in refused.stderr
    assert not lost.exists()


def test_the_version_is_told_also_where_nothing_is_installed(monkeypatch):
    def is_lost(name: str) -> str:
        raise PackageNotFoundError(name)

    monkeypatch.setattr(importlib.metadata, "version", is_lost)
    assert run("--version").stdout == "not installed: run from its folder\n"


def test_a_database_url_that_is_none_is_refused_in_a_line():
    done = run_for_real("--database", "floor database", "review", "LC-0147")
    assert done.returncode == 2
    assert "Traceback" not in done.stderr


def test_without_a_name_the_database_lies_in_the_users_data_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert database_names.database_url(None) == f"sqlite:///{tmp_path}/press-floor/floor.db"
    assert (tmp_path / "press-floor").is_dir()


def test_without_a_command_the_app_opens_on_the_named_database(monkeypatch):
    import floorapp.app

    opened = []
    monkeypatch.setattr(floorapp.app, "run_app", opened.append)
    assert run("--database", "sqlite:////srv/floor.db").exit_code == 0
    assert opened == ["sqlite:////srv/floor.db"]


def test_the_demo_leaves_its_pictures_in_the_named_folder(tmp_path, monkeypatch):
    import floorapp.demo

    folders = []
    monkeypatch.setattr(floorapp.demo, "run_demo", folders.append)
    assert run("demo", "--out", tmp_path / "pictures").exit_code == 0
    assert run("demo").exit_code == 0
    assert folders == [tmp_path / "pictures", None]


def test_the_screens_go_to_the_named_folder(tmp_path, monkeypatch):
    import floorapp.album

    folders = []
    monkeypatch.setattr(floorapp.album, "write_album", folders.append)
    assert run("screens", "--out", tmp_path / "pictures").exit_code == 0
    assert folders == [tmp_path / "pictures"]


@pytest.mark.parametrize("word", ["press", "on the fence"])
def test_a_station_that_rests_garments_nowhere_known_is_refused_in_a_line(word, database):
    """Without a display, no window is opened before."""
    seen_nowhere = {"DISPLAY": None, "WAYLAND_DISPLAY": None}
    environ = {"FLOORAPP_DATABASE": database, "FLOORAPP_RESTS": word, **seen_nowhere}
    done = CliRunner(env=environ).invoke(main)
    assert done.exit_code == 2
    (line,) = done.stderr.splitlines()
    assert line.startswith("FLOORAPP_RESTS")
    assert line.endswith("write table or hung")

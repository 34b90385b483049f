"""The commands, as a person types them."""

import importlib.metadata
import json
import subprocess
import sys
from importlib.metadata import PackageNotFoundError
from pathlib import Path
from random import Random

import pytest
from click.testing import CliRunner

from floorapp import command_line
from floorapp.command_line import main
from models.heat.places import Place
from models.store.store import Store
from tests.floorapp.commands import ROOT, run, run_for_real
from tests.held_clock import HeldClock

JOB = """
format = 1
[job]
name = "Lightship crew vests"
reference = "LC-0147"
[press]
platen = [400, 500]
temperature = [100, 220]
handling_s = 15
heating_s_per_degree = 6
cooling_s_per_degree = 20
[fabric]
name = "quilted polyamide"
hottest = 160
grams_per_m2 = 240
thickness = 0.9
[[sides]]
name = "back"
size = [560, 700]
zones = [{ kind = "keep-out", box = [500, 0, 20, 700], label = "zip" }]
[materials.printed-twill]
label = "Printed twill"
temperature = { set = 149, lowest = 145, hottest = 160 }
dwell = { least = 20, longest = 25, total = 60 }
finish = 0
pressure = ["medium"]
peel = "none"
carrier = false
carrier_margin = 0
takes_on_top = "none"
guard = false
cover = false
carrier_safe = true
thickness = 0.4
[[pieces]]
id = "life-ring"
side = "back"
material = "printed-twill"
at = [280, 240]
turn = 0
shape = { circle = 50 }
[garments]
sizes = { S = 1, M = 2 }
"""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "vests.toml"
    path.write_text(JOB)
    return path


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


def test_a_plan_is_told_hit_by_hit(job):
    told = run("plan", job).output
    assert "Hit 1 of 1, back: 149 °C (300 °F), 20 s, medium pressure" in told
    assert "why" in told
    assert "Hot platen" in told


def test_a_plan_as_json_is_format_1_and_nothing_else(job):
    done = run_for_real("plan", job, "--json")
    told = json.loads(done.stdout)
    assert done.returncode == 0
    plan_itself = ["format", "status", "lower_bound", "why_not_fewer", "hits", "totals"]
    assert list(told) == [*plan_itself, "heat_findings", "rests"]
    assert told["hits"][0]["count"] == ["life-ring"]
    assert told["heat_findings"] == []


@pytest.fixture
def hurried(job):
    """The same job, its pieces pressed for four seconds only."""
    job.write_text(JOB.replace("least = 20", "least = 4"))
    return job


def test_a_plan_tells_what_gets_too_little_time_at_heat_and_changes_no_dwell(hurried):
    told = run("plan", hurried).output
    assert "Too little time at heat, an estimate; no dwell was changed:" in told
    assert "of the 3 s that it wants" in told
    assert ", 4 s, medium pressure" in told


def test_a_plan_as_json_tells_the_same_with_the_seconds_missing(hurried):
    (finding,) = json.loads(run("plan", hurried, "--json").output)["heat_findings"]
    assert (finding["piece"], finding["hit_n"]) == ("life-ring", 1)
    assert finding["missing_s"] > 0


def test_a_loaded_batch_keeps_what_gets_too_little_heat(hurried, database):
    done = run("--database", database, "load", hurried)
    assert done.exit_code == 0
    assert "Too little time at heat: life ring" in done.stderr
    store = Store.open(database, HeldClock(), Random(1))
    recipe = store.recipe(store.batch("LC-0147").id)
    store.close()
    assert [finding.piece for finding in recipe.heat_findings] == ["life-ring"]


@pytest.fixture
def on_a_carrier(job):
    """The same job, its piece on a carrier that peels cold."""
    cold = JOB.replace('peel = "none"', 'peel = "cold"').replace("carrier = false", "carrier = true")
    job.write_text(cold)
    return job


def test_a_plan_tells_the_rest_of_each_hit_in_words_and_as_json(on_a_carrier):
    told = run("plan", on_a_carrier)
    assert told.exit_code == 0, told.stderr
    assert "rest         cold after about " in told.output
    rests = json.loads(run("plan", on_a_carrier, "--json").output)["rests"]
    assert [rest["place"] for rest in rests] == ["hung", "on a table", "left on the press"]
    for rest in rests:
        assert (rest["piece"], rest["until"], rest["sizes"]) == ("life-ring", "cold", [])
        assert 0 < rest["low_s"] < rest["median_s"] < rest["high_s"]


def test_a_loaded_batch_keeps_its_rests(on_a_carrier, database):
    assert run("--database", database, "load", on_a_carrier).exit_code == 0
    store = Store.open(database, HeldClock(), Random(1))
    recipe = store.recipe(store.batch("LC-0147").id)
    store.close()
    assert [(r.piece, r.until, r.place) for r in recipe.rests] == [("life-ring", "cold", at) for at in Place]


def test_json_and_toml_of_one_job_give_the_same_plan(job, tmp_path):
    import tomllib

    same = tmp_path / "vests.json"
    same.write_text(json.dumps(tomllib.loads(JOB)))
    assert run("plan", same, "--json").output == run("plan", job, "--json").output


def test_a_refused_job_ends_with_two_and_a_line_for_each_fault(job):
    job.write_text(
        JOB.replace("hottest = 160\ngrams", "hotest = 160\ngrams").replace('side = "back"', 'side = "bak"')
    )
    done = run_for_real("plan", job)
    assert done.returncode == 2
    assert done.stdout == ""
    lines = done.stderr.splitlines()
    assert any("hotest" in line for line in lines)
    assert any("bak" in line for line in lines)
    assert all("vests.toml" in line for line in lines)
    assert "Traceback" not in done.stderr


def test_a_job_file_that_is_not_there_ends_with_two(tmp_path):
    done = run_for_real("plan", tmp_path / "no.toml")
    assert done.returncode == 2
    assert "no.toml" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_sound_job_without_a_plan_ends_with_three_and_the_reason(job):
    job.write_text(JOB.replace("box = [500, 0, 20, 700]", "box = [270, 0, 20, 700]"))
    done = run_for_real("plan", job)
    assert done.returncode == 3
    assert done.stdout == ""
    assert "life ring" in done.stderr
    assert "keep-out" in done.stderr
    assert "It is proved that no sequence of hits keeps every rule." in done.stderr


def test_loading_prints_the_reference_and_a_code_for_each_garment(job, database):
    done = run("--database", database, "load", job)
    reference, *garments = done.stdout.splitlines()
    assert done.exit_code == 0
    assert reference == "LC-0147"
    assert [line.split("\t")[1:] for line in garments] == [["1", "S"], ["2", "M"], ["3", "M"]]
    assert len({line.split("\t")[0] for line in garments}) == 3


def test_a_loaded_batch_is_there_for_the_next_command(job, database):
    run("--database", database, "load", job)
    told = run("--database", database, "review", "LC-0147").output
    assert "Lightship crew vests (LC-0147)" in told
    assert "3 idle" in told


def test_nothing_is_stored_of_a_refused_job(job, database):
    job.write_text(JOB.replace('side = "back"', 'side = "bak"'))
    assert run("--database", database, "load", job).exit_code == 2
    assert run("--database", database, "review", "LC-0147").exit_code == 2


def test_loading_a_job_without_a_plan_ends_with_three_and_stores_nothing(job, database):
    job.write_text(JOB.replace("box = [500, 0, 20, 700]", "box = [270, 0, 20, 700]"))
    assert run("--database", database, "load", job).exit_code == 3
    assert run("--database", database, "review", "LC-0147").exit_code == 2


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


def test_an_output_that_takes_nothing_is_told_in_a_line(job):
    command = [sys.executable, "-m", "floorapp.command_line", "plan", str(job)]
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(command, cwd=ROOT, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert done.returncode == 2
    assert done.stderr == "the output: No space left on device; mend that and try again\n"


def test_without_a_name_the_database_lies_in_the_users_data_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert command_line.database_url(None) == f"sqlite:///{tmp_path}/press-floor/floor.db"
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


def test_the_demo_job_in_the_package_is_planned():
    from models.demo import demo_job_path

    done = run("plan", demo_job_path(), "--json")
    assert done.exit_code == 0, done.output
    assert json.loads(done.stdout)["hits"]


@pytest.mark.parametrize("word", ["press", "on the fence"])
def test_a_station_that_rests_garments_nowhere_known_is_refused_in_a_line(word, database):
    """No window is opened before."""
    done = CliRunner(env={"FLOORAPP_DATABASE": database, "FLOORAPP_RESTS": word}).invoke(main)
    assert done.exit_code == 2
    (line,) = done.stderr.splitlines()
    assert line.startswith("FLOORAPP_RESTS")
    assert line.endswith("write table or hung")

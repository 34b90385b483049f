"""The command that plans a job file: in words, as JSON, refused, and without a plan."""

import json
import subprocess
import sys
from pathlib import Path

from tests.floorapp.commands import JOB, ROOT, run, run_for_real


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


def test_a_plan_tells_what_gets_too_little_time_at_heat_and_changes_no_dwell(hurried):
    told = run("plan", hurried).output
    assert "Too little time at heat, an estimate; no dwell was changed:" in told
    assert "of the 3 s that it wants" in told
    assert ", 4 s, medium pressure" in told


def test_a_plan_as_json_tells_the_same_with_the_seconds_missing(hurried):
    (finding,) = json.loads(run("plan", hurried, "--json").output)["heat_findings"]
    assert (finding["piece"], finding["hit_n"]) == ("life-ring", 1)
    assert finding["missing_s"] > 0


def test_a_plan_tells_the_rest_of_each_hit_in_words_and_as_json(on_a_carrier):
    told = run("plan", on_a_carrier)
    assert told.exit_code == 0, told.stderr
    assert "rest         cold after about " in told.output
    rests = json.loads(run("plan", on_a_carrier, "--json").output)["rests"]
    assert [rest["place"] for rest in rests] == ["hung", "on a table", "left on the press"]
    for rest in rests:
        assert (rest["piece"], rest["until"], rest["sizes"]) == ("life-ring", "cold", [])
        assert 0 < rest["low_s"] < rest["median_s"] < rest["high_s"]


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


def test_an_output_that_takes_nothing_is_told_in_a_line(job):
    command = [sys.executable, "-m", "floorapp.command_line", "plan", str(job)]
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(command, cwd=ROOT, stdout=full, stderr=subprocess.PIPE, text=True, check=False)
    assert done.returncode == 2
    assert done.stderr == "the output: No space left on device; mend that and try again\n"


def test_the_demo_job_in_the_package_is_planned():
    from models.demo import demo_job_path

    done = run("plan", demo_job_path(), "--json")
    assert done.exit_code == 0, done.output
    assert json.loads(done.stdout)["hits"]

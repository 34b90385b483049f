"""What the set-up decides; that it really sets a machine up is tried on an empty one."""

import subprocess
import sys
from pathlib import Path

import pytest

from floorapp import bootstrap
from floorapp.bootstrap import Need, SetUpError


def need(what: str, package: str, *, there: bool) -> Need:
    return Need(what, package, lambda: there)


def lay_out(root: Path) -> None:
    (root / "requirements.lock").write_text("kivy==2.3.1\n")
    (root / "pyproject.toml").write_text("[project]\n")


def test_linux_with_the_oldest_python_is_served():
    assert bootstrap.why_not_here("linux", (3, 11)) is None


@pytest.mark.parametrize("platform", ["win32", "darwin"])
def test_windows_and_macos_are_sent_to_pip_and_told_that_it_is_not_tried(platform):
    line = bootstrap.why_not_here(platform, (3, 12))
    assert "pip install ." in line
    assert "floorapp" in line
    assert "not been tried" in line


def test_an_old_python_is_named_beside_the_one_that_is_needed():
    line = bootstrap.why_not_here("linux", (3, 9))
    assert "3.9" in line
    assert "3.11" in line


def test_the_tests_need_a_postgresql_server_and_the_demo_does_not():
    packages = {command: {need.package for need in needs} for command, needs in bootstrap.NEEDS.items()}
    assert packages["tests"] - packages["demo"] == {"postgresql"}


def test_only_what_is_missing_is_installed():
    needs = [need("libGL.so.1", "libgl1", there=True), need("libEGL.so.1", "libegl1", there=False)]
    assert [missing.package for missing in bootstrap.missing_of(needs)] == ["libegl1"]


def test_a_library_that_no_system_has_is_seen_as_missing():
    assert not bootstrap.has_library("libno-such-library.so.1")


def test_the_c_library_is_seen_as_there():
    assert bootstrap.has_library("libc.so.6")


def test_without_root_the_exact_line_to_run_is_told(monkeypatch):
    monkeypatch.setattr(bootstrap.shutil, "which", lambda _: "/usr/bin/apt-get")
    with pytest.raises(SetUpError) as told:
        bootstrap.set_up_system([need("libGL.so.1", "libgl1", there=False)], is_root=False)
    assert str(told.value).splitlines()[1] == (
        "sudo apt-get update && sudo apt-get install --yes --no-install-recommends libgl1"
    )


def test_a_system_without_apt_is_told_what_is_missing(monkeypatch):
    monkeypatch.setattr(bootstrap.shutil, "which", lambda _: None)
    with pytest.raises(SetUpError, match=r"Missing: libGL\.so\.1\..*package manager"):
        bootstrap.set_up_system([need("libGL.so.1", "libgl1", there=False)], is_root=True)


def test_what_apt_did_not_bring_is_told(monkeypatch):
    monkeypatch.setattr(bootstrap.shutil, "which", lambda _: "/usr/bin/apt-get")
    monkeypatch.setattr(bootstrap, "install_packages", lambda _: None)
    with pytest.raises(SetUpError, match="still lacks: Python's venv"):
        bootstrap.set_up_system([need("Python's venv", "python3-venv", there=False)], is_root=True)


@pytest.mark.parametrize("name", ["requirements.lock", "pyproject.toml"])
def test_a_changed_lock_or_project_asks_for_a_new_set_up(tmp_path, name):
    lay_out(tmp_path)
    before = bootstrap.stamp_of(tmp_path)
    (tmp_path / name).write_text("changed\n")
    assert bootstrap.stamp_of(tmp_path) != before


def test_an_environment_with_the_right_stamp_is_used_again(tmp_path, monkeypatch):
    lay_out(tmp_path)
    environment = tmp_path / ".venv"
    environment.mkdir()
    (environment / "set-up.stamp").write_text(bootstrap.stamp_of(tmp_path))
    monkeypatch.setattr(bootstrap, "run_visibly", pytest.fail)
    bootstrap.set_up_environment(tmp_path, environment)


def test_a_set_up_that_failed_half_way_leaves_no_stamp(tmp_path, monkeypatch):
    lay_out(tmp_path)
    (tmp_path / ".venv").mkdir()

    def fail_at_pip(command):
        if "pip" in command:
            raise SetUpError("pip stopped")

    monkeypatch.setattr(bootstrap, "run_visibly", fail_at_pip)
    with pytest.raises(SetUpError):
        bootstrap.set_up_environment(tmp_path, tmp_path / ".venv")
    assert not (tmp_path / ".venv" / "set-up.stamp").exists()


@pytest.mark.parametrize(
    ("output", "line"),
    [
        ("WARNING: Retrying (Retry(total=4))\nERROR: No matching distribution", "connect this machine"),
        ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM\n", "requirements.lock"),
        ("OSError: [Errno 28] No space left on device", "disk is full"),
        ("first\nERROR: something new\n", "its last line is 'ERROR: something new'"),
        ("", "its last line is 'nothing'"),
    ],
)
def test_each_trouble_of_pip_becomes_one_line(output, line):
    told = bootstrap.why_pip_failed(output)
    assert line in told
    assert "\n" not in told


def test_a_program_that_fails_ends_the_set_up_with_its_last_line():
    script = "import sys; print('Collecting foam'); sys.exit('out of foam')"
    with pytest.raises(SetUpError, match="out of foam"):
        bootstrap.run_visibly([sys.executable, "-c", script])


def test_each_package_is_named_as_it_is_fetched(capfd):
    bootstrap.run_visibly([sys.executable, "-c", "print('Collecting kivy==2.3.1 (from -r x)')"])
    assert capfd.readouterr().out == "set-up:   kivy==2.3.1\n"


def test_further_arguments_are_passed_on_to_the_tests():
    start = bootstrap.start_of("tests", ["-k", "twill"])
    assert Path(start[0]).parts[-3:] == (".venv", "bin", "python")
    assert start[1:] == ["-m", "pytest", "-k", "twill"]


def test_an_unknown_command_is_refused_with_the_usage():
    done = subprocess.run(
        [sys.executable, "-m", "floorapp.bootstrap", "press"],
        cwd=bootstrap.ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 2
    assert done.stdout.startswith("usage:")

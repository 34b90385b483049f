"""The wheel, installed into an environment of its own and used from another folder."""

import subprocess
import sys
import sysconfig
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGES = ("floorapp", "models", "printables")
README_PICTURES = "floorapp/pictures/"


def run(*command: str | Path, cwd: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(command, cwd=cwd, capture_output=True, text=True, check=False)


@pytest.fixture(scope="module")
def wheel(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    done = run(sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder, cwd=ROOT)
    assert done.returncode == 0, done.stderr
    return next(folder.glob("*.whl"))


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory) -> Path:
    """The folder of an environment that has the wheel, and borrows what it depends on from this one."""
    folder = tmp_path_factory.mktemp("installed")
    made = run(sys.executable, "-m", "venv", "--without-pip", folder, cwd=folder)
    assert made.returncode == 0, made.stderr
    python = folder / "bin" / "python"
    pip = (sys.executable, "-m", "pip", "--python", python, "--disable-pip-version-check")
    done = run(*pip, "install", "--no-deps", "--no-index", wheel, cwd=folder)
    assert done.returncode == 0, done.stderr
    site = next((folder / "lib").glob("python*/site-packages"))
    (site / "borrowed.pth").write_text(sysconfig.get_path("purelib") + "\n")
    return folder


def test_every_file_of_the_packages_but_the_readmes_pictures_is_in_the_wheel(wheel):
    in_tree = {
        path.relative_to(ROOT).as_posix()
        for package in PACKAGES
        for path in (ROOT / package).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    left_out = in_tree - set(zipfile.ZipFile(wheel).namelist())
    assert {name for name in left_out if not name.startswith(README_PICTURES)} == set()


@pytest.mark.parametrize("ending", [".kv", ".ttf", ".wav", ".svg", ".toml", "/migrations/env.py"])
def test_the_wheel_brings_layouts_letters_sounds_drawings_job_and_migrations(wheel, ending):
    assert any(name.endswith(ending) for name in zipfile.ZipFile(wheel).namelist())


def test_the_installed_modules_are_those_of_the_wheel(installed, tmp_path):
    told = run(installed / "bin" / "python", "-c", "import models; print(models.__file__)", cwd=tmp_path)
    assert Path(told.stdout.strip()).is_relative_to(installed)


def test_help_is_there_from_any_folder(installed, tmp_path):
    done = run(installed / "bin" / "floorapp", "--help", cwd=tmp_path)
    assert done.returncode == 0
    assert "heat press" in " ".join(done.stdout.split())


def test_the_installed_program_knows_its_version(installed, tmp_path):
    done = run(installed / "bin" / "floorapp", "--version", cwd=tmp_path)
    assert done.stdout.strip() == tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["version"]


def test_the_demo_job_is_planned_from_any_folder(installed, tmp_path):
    where = "from models.demo import demo_job_path; print(demo_job_path())"
    job = run(installed / "bin" / "python", "-c", where, cwd=tmp_path).stdout.strip()
    assert Path(job).is_relative_to(installed)
    done = run(installed / "bin" / "floorapp", "plan", job, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert "Hit 1 of" in done.stdout

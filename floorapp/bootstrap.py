"""Sets a fresh machine up and starts the demo or the tests: python3 -m floorapp.bootstrap demo | tests

Runs from a clone on the system's own Python with the standard library alone, so nothing here may need a newer
Python than the one it has to refuse. What is there already is used again.
"""

from __future__ import annotations

import ctypes
import hashlib
import importlib
import importlib.util
import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple, NoReturn

ROOT = Path(__file__).resolve().parent.parent
ENVIRONMENT = ROOT / ".venv"
OLDEST_PYTHON = (3, 11)
USAGE = """\
usage: python3 -m floorapp.bootstrap demo  [arguments of floorapp demo]
       python3 -m floorapp.bootstrap tests [arguments of pytest]

Sets up what is missing (system libraries, the environment .venv), then starts the demo or the tests.
"""


class SetUpError(Exception):
    """The set-up cannot go on; the text is one plain line that says what the person can do."""


class Need(NamedTuple):
    """Something that the system must bring, the Debian package that has it, and how to see it is there."""

    what: str
    package: str
    is_there: Callable[[], bool]


def has_library(name: str) -> bool:
    try:
        ctypes.CDLL(name)
    except OSError:
        return False
    return True


def has_venv() -> bool:
    """Debian splits venv: the module is always there, but the pip that it puts in is in a package."""
    importlib.invalidate_caches()
    return all(importlib.util.find_spec(name) for name in ("venv", "ensurepip"))


def has_postgresql_server() -> bool:
    """Debian keeps the server's programs off the path, in a folder for each release."""
    return bool(shutil.which("initdb")) or any(Path("/usr/lib/postgresql").glob("*/bin/initdb"))


ALWAYS = (
    Need("Python's venv with pip", "python3-venv", has_venv),
    Need("libGL.so.1", "libgl1", lambda: has_library("libGL.so.1")),
    Need("libEGL.so.1", "libegl1", lambda: has_library("libEGL.so.1")),
)
NEEDS = {
    "demo": ALWAYS,
    "tests": (*ALWAYS, Need("a PostgreSQL server", "postgresql", has_postgresql_server)),
}
STARTS = {
    "demo": ("-m", "floorapp.command_line", "demo"),
    "tests": ("-m", "pytest"),
}


def why_not_here(platform: str, python: tuple[int, int]) -> str | None:
    """Why this set-up does not serve on the machine, or None where it does."""
    if not platform.startswith("linux"):
        return (
            "This set-up is for Linux. On Windows and macOS run `pip install .` and then `floorapp demo`; "
            "that should serve, but has not been tried."
        )
    if python < OLDEST_PYTHON:
        needed, found = (".".join(map(str, version)) for version in (OLDEST_PYTHON, python))
        return f"Python {needed} or newer is needed, this is {found}: start the command with a newer python3."
    return None


def missing_of(needs: Sequence[Need]) -> list[Need]:
    return [need for need in needs if not need.is_there()]


def apt_commands(packages: Sequence[str]) -> tuple[list[str], list[str]]:
    """The two commands that install Debian packages."""
    install = ["apt-get", "install", "--yes", "--no-install-recommends", *packages]
    return ["apt-get", "update"], install


def line_to_run(packages: Sequence[str]) -> str:
    """The line that a person without root's rights runs."""
    return " && ".join("sudo " + shlex.join(command) for command in apt_commands(packages))


def stamp_of(root: Path) -> str:
    """Changes whenever the environment has to be set up anew."""
    told = hashlib.sha256()
    for name in ("requirements.lock", "pyproject.toml"):
        told.update((root / name).read_bytes())
    return f"{told.hexdigest()} {sys.version_info[0]}.{sys.version_info[1]}"


PIP_TROUBLES = (
    ("No space left on device", "The disk is full: make room, then start again."),
    (
        "DO NOT MATCH THE HASHES",
        "A package is not the one that requirements.lock names; it was not installed.",
    ),
    ("Retrying (", "The package index cannot be reached: connect this machine, then start again."),
)


def why_pip_failed(output: str) -> str:
    """One plain line about pip's output; its own last line where nothing better is known."""
    last = output.strip().splitlines()[-1:] or ["nothing"]
    general = "pip stopped, its last line is {last!r}. If it seems no fault of yours, remove .venv and retry."
    found = next((line for sign, line in PIP_TROUBLES if sign in output), general)
    return found.format(last=last[0])


def start_of(command: str, arguments: Sequence[str]) -> list[str]:
    """The program to become at the end, with the further arguments passed on."""
    return [str(ENVIRONMENT / "bin" / "python"), *STARTS[command], *arguments]


def tell(text: str) -> None:
    print(f"set-up: {text}", flush=True)


def set_up_system(needs: Sequence[Need], *, is_root: bool) -> None:
    """Installs the Debian packages that are missing, or raises SetUpError with the line to run."""
    missing = missing_of(needs)
    if not missing:
        tell("the system has all that is needed")
        return
    packages = [need.package for need in missing]
    lacking = f"Missing: {', '.join(need.what for need in missing)}."
    if not shutil.which("apt-get"):
        raise SetUpError(f"{lacking} Install it with this system's package manager, then start again.")
    if not is_root:
        raise SetUpError(f"{lacking} Run this line, then start again:\n{line_to_run(packages)}")
    tell(f"installing {' '.join(packages)} with apt-get (some minutes)")
    install_packages(packages)
    still = ", ".join(need.what for need in missing_of(needs))
    if still:
        raise SetUpError(f"apt-get has run, but {sys.executable} still lacks: {still}.")


def install_packages(packages: Sequence[str]) -> None:
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in apt_commands(packages):
        done = subprocess.run(command, env=quiet, capture_output=True, text=True, check=False)
        if done.returncode != 0:
            last = (done.stderr.strip().splitlines() or ["nothing"])[-1]
            raise SetUpError(f"`{shlex.join(command)}` failed; is there a network? Its last line: {last}")


def set_up_environment(root: Path, environment: Path) -> None:
    """Makes the environment, or leaves it alone where its stamp says that nothing has changed."""
    stamp, wanted = environment / "set-up.stamp", stamp_of(root)
    if stamp.is_file() and stamp.read_text() == wanted:
        tell(f"{environment.name} is up to date")
        return
    tell(f"making the environment {environment.name}")
    run_visibly([sys.executable, "-m", "venv", str(environment)])
    pip = [str(environment / "bin" / "python"), "-m", "pip", "install", "--disable-pip-version-check"]
    tell("installing the locked packages (some minutes)")
    run_visibly([*pip, "--progress-bar=off", "--require-hashes", "-r", str(root / "requirements.lock")])
    tell("installing the project from its checkout")
    run_visibly([*pip, "--no-deps", "--no-build-isolation", "--no-index", "-e", str(root)])
    stamp.write_text(wanted)


def run_visibly(command: Sequence[str]) -> None:
    """Runs pip or venv, naming each package as it is fetched. Raises SetUpError where it fails."""
    output = []
    at_once = {**os.environ, "PYTHONUNBUFFERED": "1"}  # or the last line would not be the last one written
    with subprocess.Popen(
        command, env=at_once, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    ) as running:
        for line in running.stdout or ():
            output.append(line)
            if line.startswith("Collecting "):
                tell(f"  {line.split()[1]}")
    if running.returncode != 0:
        raise SetUpError(why_pip_failed("".join(output)))


def set_up(command: str) -> None:
    """All that `command` needs. Raises SetUpError with one line where that cannot be had."""
    refusal = why_not_here(sys.platform, sys.version_info[:2])
    if refusal:
        raise SetUpError(refusal)
    set_up_system(NEEDS[command], is_root=os.geteuid() == 0)
    set_up_environment(ROOT, ENVIRONMENT)


def main(arguments: Sequence[str]) -> NoReturn:
    """Sets up and becomes the program asked for; exits with status 2 where that cannot be."""
    if not arguments or arguments[0] not in STARTS:
        print(USAGE, end="")
        sys.exit(0 if arguments[:1] in (["-h"], ["--help"]) else 2)
    command, *rest = arguments
    try:
        set_up(command)
    except (SetUpError, OSError) as error:
        print(f"set-up: {error}", file=sys.stderr)
        sys.exit(2)
    tell(f"starting {command}")
    start = start_of(command, rest)
    os.execv(start[0], start)


if __name__ == "__main__":
    main(sys.argv[1:])

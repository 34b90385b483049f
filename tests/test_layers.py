"""The arrows between the layers: each module is imported alone, in a Python of its own, and looked at.

What a module imports late, inside a function, it imports then; here counts what comes with it at once.
"""

import json
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
LOOK = (
    "import importlib, json, sys; importlib.import_module(sys.argv[1]); print(json.dumps(list(sys.modules)))"
)
STORING = ("models.store", "models.floor")  # the store, and the actions that store each tap
HEAVY = {"pydantic", "shapely", "svgelements", "ortools", "alembic", "fpdf", "pypdfium2", "zxingcpp", "PIL"}


def modules_of(package: str) -> list[str]:
    """All modules of the package; migration scripts are read by their own tool, not imported."""
    paths = (path.relative_to(ROOT).with_suffix("") for path in (ROOT / package).rglob("*.py"))
    names = (".".join(path.parts).removesuffix(".__init__") for path in paths)
    return sorted(name for name in names if ".migrations" not in name)


@cache
def imported_with(module: str) -> frozenset[str]:
    """All modules that are there once `module` is imported."""
    done = subprocess.run(
        [sys.executable, "-c", LOOK, module], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return frozenset(json.loads(done.stdout))


def packages_imported_with(module: str) -> frozenset[str]:
    return frozenset(name.partition(".")[0] for name in imported_with(module))


@pytest.mark.parametrize("module", modules_of("models"))
def test_the_trade_knows_no_screen_and_no_paper(module):
    assert packages_imported_with(module).isdisjoint({"kivy", "printables", "floorapp"})


@pytest.mark.parametrize("module", [m for m in modules_of("models") if not m.startswith(STORING)])
def test_only_the_store_knows_the_database(module):
    assert packages_imported_with(module).isdisjoint({"sqlalchemy", "alembic", "psycopg"})


@pytest.mark.parametrize("module", modules_of("printables"))
def test_paper_knows_no_screen(module):
    assert packages_imported_with(module).isdisjoint({"kivy", "floorapp"})


@pytest.mark.parametrize("module", ["models.floor.work", "models.store.store", "models.quality.review"])
def test_what_the_floor_screens_need_at_start_brings_nothing_heavy(module):
    assert packages_imported_with(module).isdisjoint(HEAVY)


def test_the_help_of_the_commands_brings_neither_kivy_nor_the_database():
    assert packages_imported_with("floorapp.command_line").isdisjoint(HEAVY | {"kivy", "sqlalchemy"})


def test_the_set_up_runs_on_the_standard_library_alone():
    brought = packages_imported_with("floorapp.bootstrap") - packages_imported_with("json")
    assert brought - sys.stdlib_module_names == {"floorapp"}


def test_a_module_that_breaks_a_rule_would_be_seen():
    assert "click" in packages_imported_with("floorapp.command_line")

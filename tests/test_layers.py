"""The arrows between the layers: modules are imported in a Python of their own, and what came along is seen.

What a module imports late, inside a function, it imports then; here counts what comes with it at once.
"""

import json
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
STORING = ("models.store", "models.floor")  # the store, and the actions that store each tap
HEAVY = {"pydantic", "shapely", "svgelements", "ortools", "scipy", "alembic", "fpdf", "pypdfium2"}
HEAVY |= {"zxingcpp", "PIL"}
LOOK = """
import importlib, json, sys
first = {}
for module in sys.argv[1:]:
    importlib.import_module(module)
    for name in sys.modules:
        first.setdefault(name.partition(".")[0], module)
print(json.dumps(first))
"""


def modules_of(package: str) -> list[str]:
    """All modules of the package; migration scripts are read by their own tool, not imported."""
    paths = (path.relative_to(ROOT).with_suffix("") for path in (ROOT / package).rglob("*.py"))
    names = (".".join(path.parts).removesuffix(".__init__") for path in paths)
    return sorted(name for name in names if ".migrations" not in name)


def brought_by(*modules: str) -> dict[str, str]:
    """Every package that is there once the modules are imported, with the first of them that brought it."""
    done = subprocess.run(
        [sys.executable, "-c", LOOK, *modules], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    first: dict[str, str] = json.loads(done.stdout)
    return first


def among(brought: dict[str, str], forbidden: set[str]) -> dict[str, str]:
    return {package: module for package, module in brought.items() if package in forbidden}


def test_the_trade_knows_no_screen_and_no_paper():
    assert among(brought_by(*modules_of("models")), {"kivy", "printables", "floorapp"}) == {}


def test_only_the_store_knows_the_database():
    pure = [module for module in modules_of("models") if not module.startswith(STORING)]
    assert among(brought_by(*pure), {"sqlalchemy", "alembic", "psycopg"}) == {}


def test_paper_knows_no_screen():
    assert among(brought_by(*modules_of("printables")), {"kivy", "floorapp"}) == {}


AT_START = [
    "models.floor.work",
    "models.store.store",
    "models.quality.review",
    "models.learning.observations",
]


@pytest.mark.parametrize("module", AT_START)
def test_what_the_floor_screens_need_at_start_brings_nothing_heavy(module):
    assert among(brought_by(module), HEAVY) == {}


def test_the_words_of_the_screens_bring_nothing_heavy_and_no_numbers():
    """Heat is worked out when somebody asks why; a tablet at whose start NumPy is loaded starts late."""
    assert among(brought_by("floorapp.screens.presenter"), HEAVY | {"numpy", "kivy"}) == {}


def test_the_help_of_the_commands_brings_neither_kivy_nor_the_database():
    assert among(brought_by("floorapp.command_line"), HEAVY | {"kivy", "sqlalchemy"}) == {}


def test_the_set_up_runs_on_the_standard_library_alone():
    brought = brought_by("floorapp.bootstrap").keys() - brought_by("json").keys()
    assert brought - sys.stdlib_module_names == {"floorapp"}


def test_what_breaks_a_rule_is_seen_with_the_module_that_does():
    brought = brought_by("models.errors", "floorapp.command_line")
    assert among(brought, {"click", "kivy"}) == {"click": "floorapp.command_line"}

"""The arrows between the rooms: whatever a file imports, at once or late, is read off its source."""

import ast
from collections import defaultdict
from collections.abc import Iterable, Mapping
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
Graph = dict[str, set[str]]


def sources(package: str) -> dict[str, Path]:
    """Every module of the package by its dotted name."""
    paths = (ROOT / package.replace(".", "/")).rglob("*.py")
    return {".".join(path.relative_to(ROOT).with_suffix("").parts): path for path in paths}


def imported_by(path: Path) -> set[str]:
    """All names that the file imports, as modules or from them."""
    names = set[str]()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            names |= {node.module, *(f"{node.module}.{alias.name}" for alias in node.names)}
        elif isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
    return names


def arrows(modules: Mapping[str, Path]) -> Graph:
    return {name: (imported_by(path) & modules.keys()) - {name} for name, path in modules.items()}


def between_rooms(files: Graph) -> Graph:
    """The same arrows between the folders that the files lie in."""
    rooms: Graph = defaultdict(set)
    for name, others in files.items():
        room = name.rpartition(".")[0]
        rooms[room] |= {other.rpartition(".")[0] for other in others} - {room}
    return rooms


def circle_in(graph: Mapping[str, Iterable[str]]) -> list[str]:
    """A way round, if there is one."""
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def test_no_two_rooms_of_the_trade_import_each_other() -> None:
    assert circle_in(between_rooms(arrows(sources("models")))) == []


@pytest.mark.parametrize(
    "package", ["models.job", "models.planning", "models.rotation", "models.heat", "printables"]
)
def test_no_two_files_of_a_package_import_each_other(package: str) -> None:
    assert circle_in(arrows(sources(package))) == []


def test_the_solver_is_imported_in_one_room_of_the_planner() -> None:
    planner = sources("models.planning")
    users = {
        name for name, path in planner.items() if any(n.startswith("ortools") for n in imported_by(path))
    }

    assert users
    assert {name.rpartition(".")[0] for name in users} == {"models.planning.cpsat"}


def test_a_circle_is_found() -> None:
    assert circle_in({"lay": {"press"}, "press": {"peel"}, "peel": {"lay"}}) != []
    assert circle_in({"lay": {"press"}, "press": {"peel"}, "peel": set()}) == []

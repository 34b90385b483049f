"""The commands, as a person types them: within this process, and in one of their own."""

import subprocess
import sys
from pathlib import Path

from click.testing import CliRunner, Result

from floorapp.command_line import main

ROOT = Path(__file__).parent.parent.parent


def run(*words: str | Path) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


def run_for_real(*words: str | Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "floorapp.command_line", *map(str, words)]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)

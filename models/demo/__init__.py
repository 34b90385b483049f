"""Two invented jobs, with the drawings made for them: to try the app on, and to read as examples."""

from importlib.resources import files
from pathlib import Path


def demo_job_path() -> Path:
    """The vests of a lightship's rescue crew: 24 garments by roster, four materials, two sides."""
    return _folder() / "lightship-crew.toml"


def second_demo_job_path() -> Path:
    """The aprons of a harbour choir: 12 garments by size, in inches and °F."""
    return _folder() / "harbour-choir.toml"


def _folder() -> Path:
    """The package is always installed as plain files."""
    return Path(str(files(__name__)))

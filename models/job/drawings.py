"""The SVG drawings that a job names: each is read once, and its faults are told once."""

from pathlib import Path

from shapely.geometry.base import BaseGeometry

from models.job.fault_list import FaultList, UnreadableError
from models.job.files import path_inside, read_bytes
from models.job.svg_area import area_in
from models.job.svg_safety import must_be_plain


class Drawings:
    """The areas of the drawings in a job's folder, in their own units."""

    def __init__(self, folder: Path, faults: FaultList) -> None:
        self._folder = folder
        self._faults = faults
        self._contents: dict[str, bytes | None] = {}
        self._areas: dict[tuple[str, float], BaseGeometry | None] = {}

    def area(self, written: str, width_mm: float, place: str) -> BaseGeometry | None:
        """The area, fine enough for this width; nothing where the drawing has faults, which are noted.

        `place` is where the job names the drawing as `written`.
        """
        if (written, width_mm) not in self._areas:
            content = self._content(written, place)
            self._areas[written, width_mm] = (
                None if content is None else self._read(written, content, width_mm)
            )
        return self._areas[written, width_mm]

    def _read(self, written: str, content: bytes, width_mm: float) -> BaseGeometry | None:
        try:
            return area_in(content, width_mm)
        except UnreadableError as error:
            faults = FaultList(written)
            faults.note(error.place, error.wrong, error.mend)
            self._faults.take(faults)
            self._contents[written] = None  # so that it is told once, whatever the widths it is used at
            return None

    def _content(self, written: str, place: str) -> bytes | None:
        if written not in self._contents:
            self._contents[written] = self._plain_content(written, place)
        return self._contents[written]

    def _plain_content(self, written: str, place: str) -> bytes | None:
        try:
            content = read_bytes(path_inside(self._folder, written))
        except UnreadableError as error:
            self._faults.note(place, f"{written} {error.wrong}", error.mend)
            return None
        faults = FaultList(written)
        is_plain = must_be_plain(content, faults)
        self._faults.take(faults)
        return content if is_plain else None

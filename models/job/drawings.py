"""The SVG drawings that a job names: each is read once, and its faults are told once."""

from pathlib import Path

from shapely.geometry.base import BaseGeometry

from models.job.drawing_process import DRAWINGS, DrawingProcess, DrawingRefusedError
from models.job.fault_list import FaultList, UnreadableError
from models.job.files import path_inside, read_bytes


class Drawings:
    """The areas of the drawings in a job's folder, in their own units."""

    def __init__(self, folder: Path, faults: FaultList, process: DrawingProcess = DRAWINGS) -> None:
        self._folder = folder
        self._faults = faults
        self._process = process
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
            return self._process.area(content, width_mm)
        except DrawingRefusedError as refused:
            faults = FaultList(written)
            for error in refused.faults:
                faults.note(error.place, error.wrong, error.mend)
            self._faults.take(faults)
            self._contents[written] = None  # so that it is told once, whatever the widths it is used at
            return None

    def _content(self, written: str, place: str) -> bytes | None:
        if written not in self._contents:
            self._contents[written] = self._content_of(written, place)
        return self._contents[written]

    def _content_of(self, written: str, place: str) -> bytes | None:
        try:
            return read_bytes(path_inside(self._folder, written))
        except UnreadableError as error:
            self._faults.note(place, f"{written} {error.wrong}", error.mend)
            return None

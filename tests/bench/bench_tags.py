"""Tags per second on sheets of 1,000, against the bare speed of the QR library in the same run.

Run: python tests/bench/bench_tags.py. Goal: drawing at 0.5 of the bare matrix speed or better.
"""

import sys
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from qrcode import QRCode

from models.tags.code import new_code
from printables import tag_sheets
from printables.paper import A4
from printables.progress import Steps
from printables.tag import Tag

COUNT = 1000
MADE_AT = datetime(2026, 11, 2, tzinfo=UTC)


def crew_tags() -> list[Tag]:
    random = Random(147)
    hits_line = "3 hits (s): back 149 °C 15 pad, 5 cover · left sleeve 150 °C 12"
    return [
        Tag(
            new_code("K7", random),
            "Lightship crew vests",
            "LC-0147",
            "M",
            f"Ane Ødegård {n}",
            str(n),
            n,
            COUNT,
            hits_line,
        )
        for n in range(1, COUNT + 1)
    ]


def bare_matrices(tags: list[Tag]) -> None:
    for tag in tags:
        symbol = QRCode()
        symbol.add_data(tag.code)
        symbol.make()
        symbol.get_matrix()


def drawn_sheets(tags: list[Tag]) -> None:
    grid = tag_sheets.grid_on(A4)
    sheets = list(tag_sheets.sheets_of(tags, grid))
    tag_sheets.pdf_of(sheets, A4, grid, MADE_AT, Steps(2 * COUNT, None))


def written_sheets(tags: list[Tag]) -> None:
    with TemporaryDirectory() as folder:
        tag_sheets.write_tag_sheets(tags, Path(folder) / "tags.pdf", A4, made_at=MADE_AT)


def tags_per_s(work: Callable[[list[Tag]], None], tags: list[Tag]) -> float:
    """The best of three runs: the others were disturbed."""
    times_s = []
    for _ in range(3):
        start_s = time.perf_counter()
        work(tags)
        times_s.append(time.perf_counter() - start_s)
    return len(tags) / min(times_s)


def main() -> None:
    tags = crew_tags()
    bare = tags_per_s(bare_matrices, tags)
    drawn = tags_per_s(drawn_sheets, tags)
    written = tags_per_s(written_sheets, tags)
    sys.stdout.write(
        f"bare matrices             {bare:7.0f} tags/s\n"
        f"sheets drawn              {drawn:7.0f} tags/s   ratio {drawn / bare:.2f} (goal 0.50)\n"
        f"drawn, read back, written {written:7.0f} tags/s   ratio {written / bare:.2f}\n"
    )


if __name__ == "__main__":
    main()

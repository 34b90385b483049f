"""Why each hit is as it is, in a sentence or two for the person at the press."""

from collections.abc import Iterable, Iterator, Sequence

from models.job.job import Job
from models.planning.bits import members
from models.planning.plan import Hit
from models.planning.strokes import Stroke


def reasons(job: Job, hits: Sequence[Hit], k: int, stroke: Stroke) -> tuple[str, ...]:
    """The sentences for hit `k` of `hits`, which `stroke` is."""
    hit = hits[k]
    said = [_together(job, hit), _seconds(hit, stroke)]
    return tuple(sentence for sentence in said if sentence)


def _together(job: Job, hit: Hit) -> str:
    names = _names(job.piece(piece).label for piece in hit.count)
    if len(hit.count) == 1:
        return f"{names} is pressed by itself."
    setting = f"{hit.temperature_c:g} °C and {hit.pressure} pressure"
    return f"{names} fit under one platen and all take {setting}."


def _seconds(hit: Hit, stroke: Stroke) -> str:
    shortest = min(
        (stroke.work.parts[part].material for part in members(stroke.touched)), key=lambda m: m.longest_s
    )
    if shortest.longest_s == hit.dwell_s:
        return f"No longer than {hit.dwell_s} s: {shortest.label} bears no more at once."
    return f"{hit.dwell_s} s is what they want."


def _names(labels: Iterable[str] | Iterator[str]) -> str:
    *others, last = dict.fromkeys(labels)
    return f"{', '.join(others)} and {last}" if others else last

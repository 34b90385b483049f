"""What bounds a hit's temperature, and why it takes a cover sheet or a pad: sentences for the press."""

from collections.abc import Iterator, Sequence

from models.job.job import Job, Material
from models.plan.plan import Hit
from models.planning.hits.effects import raised_under, to_cover, to_guard
from models.planning.hits.piece_record import Records
from models.text import in_a_row


def heat_bounds(hit: Hit, job: Job, wanted: Sequence[Material], touched: Sequence[Material]) -> str:
    """The window that is left: who wants it that hot, who bears no hotter."""
    lower, upper = max(wanted, key=lambda m: m.lowest_c), min(touched, key=lambda m: m.hottest_c)
    press = job.press_named(hit.press)
    least = f"{lower.label} wants at least {lower.lowest_c:g} °C"
    if press.lowest_c > lower.lowest_c:
        least = f"the press is set to {press.lowest_c:g} °C at least"
    limits = {
        f", {upper.label} bears": upper.hottest_c,
        f", {job.fabric.name} bears": job.fabric.hottest_c,
        ", the press reaches": press.hottest_c,
    }
    most = min(limits, key=lambda words: limits[words])
    told = " and bears" if f"{lower.label} bears" in most and lower.label in least else most
    return f"{hit.temperature_c:g} °C: {least}{told} {limits[most]:g} °C."


def cover_and_pad(hit: Hit, job: Job, records: Records) -> list[str]:
    """Why it takes them; a second press says by itself that it is under a cover sheet."""
    said = list(why_not_bare(hit, job, records)) if hit.cover else []
    if hit.pad:
        said.append(f"Pad: the platen lies over {in_a_row(raised_under(hit, job))}.")
    return said


def why_not_bare(hit: Hit, job: Job, records: Records) -> Iterator[str]:
    """The pieces that the platen must not touch without a cover sheet; nothing where it may."""
    bare, guarded = to_cover(hit, job, records), to_guard(hit, job, records)
    if bare:
        yield f"Cover sheet: {in_a_row(piece.label for piece in bare)} must not be pressed bare."
    if guarded:
        yield f"Cover sheet: {in_a_row(piece.label for piece in guarded)} must not be heated again without."

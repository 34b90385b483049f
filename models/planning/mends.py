"""The smallest changes that free a stuck side, found by trying: each is planned anew, greedily."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from itertools import product

from models.job.job import Job
from models.planning.candidates import ways_to_hit
from models.planning.greedy import first_sequence
from models.planning.side_work import SideWork, only, side_work

MOST_PIECES = 40
"""A side of more pieces is not taken apart: that would keep a person waiting."""

MOST_MENDS = 3

SMALLER = (0.75, 0.5, 0.25)
"""Parts of the platen's width and height that are tried."""


def clashing_pieces(work: SideWork) -> list[int]:
    """Pieces that are stuck together, as few as were found: without any one of them, the others are not."""
    kept = list(range(len(work.pieces)))
    if len(kept) > MOST_PIECES:
        return kept
    for piece in list(kept):
        fewer = [other for other in kept if other != piece]
        if not _goes(work, fewer):
            kept = fewer
    return kept


def mends(work: SideWork, pieces: Sequence[int]) -> list[str]:
    """What would free `pieces`, a few at most; each was tried, on these pieces alone."""
    found: list[str] = []
    for told, job in _changes(work, pieces):
        if len(found) == MOST_MENDS:
            break
        if _is_free(work, job):
            found.append(told)
    return found


def _changes(work: SideWork, pieces: Sequence[int]) -> Iterator[tuple[str, Job]]:
    job = only(work, pieces)
    for piece in pieces:
        if work.materials[piece].carrier and work.materials[piece].carrier_margin_mm:
            yield f"trim the carrier of {work.pieces[piece].label} to its outline", _trimmed(work, job, piece)
    yield from _smaller_platens(job)
    for piece in pieces:
        others = [other for other in pieces if other != piece]
        yield f"place {work.pieces[piece].label} elsewhere", only(work, others)


def _smaller_platens(job: Job) -> Iterator[tuple[str, Job]]:
    """One press at a time gets a smaller one."""
    for share, (n, press) in product(SMALLER, enumerate(job.presses)):
        width, height = round(press.platen_width_mm * share), round(press.platen_height_mm * share)
        smaller = replace(press, platen_width_mm=width, platen_height_mm=height)
        presses = (*job.presses[:n], smaller, *job.presses[n + 1 :])
        where = f" on {press.name}" if press.name else ""
        told = f"take a platen of {width} × {height} mm{where}"
        yield told, replace(job, press=presses[0], more_presses=presses[1:])


def _trimmed(work: SideWork, job: Job, piece: int) -> Job:
    """The piece gets a material of its own that differs in the carrier's margin only."""
    material = work.materials[piece]
    own = replace(material, key=f"{material.key} trimmed", carrier_margin_mm=0)
    takers = tuple(_taking(taker.takes_on_top, material.key, own.key) for taker in job.materials)
    materials = tuple(replace(m, takes_on_top=t) for m, t in zip(job.materials, takers, strict=True))
    changed = replace(work.pieces[piece], material=own.key)
    pieces = tuple(changed if p.id == changed.id else p for p in job.pieces)
    return replace(job, materials=(*materials, own), pieces=pieces)


def _taking(takes: frozenset[str], key: str, like: str) -> frozenset[str]:
    return takes | {like} if key in takes else takes


def _goes(work: SideWork, pieces: Collection[int]) -> bool:
    return not pieces or _is_free(work, only(work, pieces))


def _is_free(work: SideWork, job: Job) -> bool:
    tried = side_work(job, work.side)
    in_the_way = tried.order.forbidden_stacks() or tried.order.clashes() or tried.order.circle()
    return not in_the_way and first_sequence(tried, ways_to_hit(tried)) is not None

"""Why an extra hit is as it is, and why there is none: sentences for the person at the press."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from models.job.job import Job, Piece, ZoneKind
from models.plan.plan import Hit
from models.planning.explain.setting_reasons import cover_and_pad, heat_bounds
from models.planning.hits.coverage import counted_parts
from models.planning.hits.effects import finishes, touched_pieces
from models.planning.problem.bitset import members
from models.planning.rework.cells import Cell
from models.planning.rework.incident import Mending, Needs, Pressed
from models.planning.rework.problem import Board
from models.planning.rework.rules import Choice
from models.text import in_a_row

NOT_PROVED = "Fewer extra hits may do: not every way was tried."


def told(mending: Mending) -> Mending:
    """The mending; where fewer hits may do, its first hit says so."""
    if mending.is_fewest:
        return mending
    first, *others = mending.hits
    return replace(mending, hits=(replace(first, why=(*first.why, NOT_PROVED)), *others))


def reasons(hit: Hit, now: Pressed, needs: Needs) -> tuple[str, ...]:
    """Why the hit, its lists filled in, is there: what it is for, what it heats besides, what it takes."""
    job, records = now.job, now.records
    served = [piece for piece in hit.count if piece in needs]
    said = [_what_for(hit, now, piece) for piece in served] or [_freeing(hit, job, needs)]
    served = served or list(hit.count)
    besides = [piece for piece in touched_pieces(hit, job, records) if piece.id not in served]
    if besides:
        said.append(f"{in_a_row(p.label for p in besides)}: heated too, under the same platen.")
    return (*said, _heat(hit, now, served), *cover_and_pad(hit, job, records))


def _freeing(hit: Hit, job: Job, needs: Needs) -> str:
    """What a hit is for that serves none of those in trouble."""
    freed = [job.piece(piece).label for piece in needs if job.piece(piece).side == hit.side]
    first = in_a_row(job.piece(piece).label for piece in hit.count)
    return f"{first}: down before its turn, as it is in the way of {in_a_row(freed)}."


def _heat(hit: Hit, now: Pressed, served: Sequence[str]) -> str:
    touched = touched_pieces(hit, now.job, now.records)
    materials = [now.job.material(piece.material) for piece in touched]
    return heat_bounds(hit, now.job, [now.job.material_of(piece) for piece in served], materials)


def _what_for(hit: Hit, now: Pressed, piece_id: str) -> str:
    job, piece, record = now.job, now.job.piece(piece_id), now.records[piece_id]
    if finishes(hit, piece, job, record):
        return f"{piece.label}: its second press, {hit.dwell_s} s under a cover sheet."
    if piece_id in hit.lay:
        return f"{piece.label} is laid anew: {hit.dwell_s} s."
    if piece_id in now.lifted:
        return f"{piece.label} has lifted: {hit.dwell_s} s again."
    if len(record.counted_s) > 1:
        return f"{piece.label}, {_parts_under(hit, job, piece)}: {hit.dwell_s} s."
    return f"{piece.label} has had {min(record.counted_s)} of its {record.needed_s} s: {hit.dwell_s} s more."


def _parts_under(hit: Hit, job: Job, piece: Piece) -> str:
    counted = counted_parts(hit, piece, job)
    return f"{sum(counted)} of its {len(counted)} parts"


def why_none(board: Board, *, is_proved: bool) -> str:
    """The limit that is in the way of the extra hits, and that there may be some, unless it `is_proved`."""
    limit = _limit(board)
    return limit if is_proved else f"no extra hits were found, and not every way was tried: {limit}"


def _limit(board: Board) -> str:
    wanting = [k for k, cell in enumerate(board.cells) if cell.wants_s > 0]
    spent = [cell for cell in board.cells if cell.left_s < cell.wants_s]
    if spent:
        return _too_much(spent[0], spent[0].wants_s)
    hindered = [said for k in wanting if (said := _hindrance(board, k))]
    if hindered:
        return hindered[0]
    return (
        _barred_from_laying(board)
        or _in_each_others_way(board, wanting)
        or _together_too_much(board, wanting)
    )


def _hindrance(board: Board, k: int) -> str:
    """What keeps one part from its seconds, its own total apart; empty where it alone could have them."""
    cell = board.cells[k]
    if not any(spot.held >> k & 1 for spot in board.spots):
        return f"the platen cannot hold {cell.piece.label} without coming down on {_metal(board)}"
    choices = _choices_for(board, k)
    if not choices:
        return _no_setting(board, k)
    barriers = [_barrier(board, k, choice) for choice in choices]
    return barriers[0] if all(barriers) else ""


def _barred_from_laying(board: Board) -> str:
    """A new piece that waits for one still in work, which hits ahead are to bring down; or empty."""
    start, laying = board.start, board.laying
    for new, other in product(members(start.unlaid), members(board.terms.awaited(start))):
        if laying is not None and laying.waits_for(new, other):
            piece, first = (board.job.piece(board.pieces[n]).label for n in (new, other))
            return (
                f"{piece} cannot be laid before {first} is down, as one lies on the other or its carrier does"
            )
    return ""


def _in_each_others_way(board: Board, wanting: Sequence[int]) -> str:
    """Two wanting pieces of which the one is half-pressed wherever the other is hit; or empty."""
    for k in wanting:
        choices = _choices_for(board, k)
        if all(_half_pressed(board, choice) for choice in choices):
            other = _half_pressed(board, choices[0])[0]
            both = f"{board.cells[k].piece.label} cannot be hit without touching {other.piece.label}"
            return f"{both}, which is not down either; one setting for both is wanted, or a platen over both"
    return ""


def _together_too_much(board: Board, wanting: Sequence[int]) -> str:
    labels = in_a_row(board.cells[k].piece.label for k in wanting)
    touched = {n for k in wanting for n in members(_choices_for(board, k)[0].touched)}
    tightest = min((board.cells[n] for n in touched), key=lambda cell: cell.left_s)
    return (
        f"not all of {labels} can have their seconds; {tightest.piece.label} bears {tightest.left_s} s more"
    )


def _choices_for(board: Board, k: int) -> list[Choice]:
    """The ways to hit a part, those that touch the fewest parts first."""
    choices = [choice for choice in board.places if choice.counted >> k & 1]
    return sorted(choices, key=lambda choice: (choice.touched.bit_count(), choice.touched))


def _too_much(cell: Cell, need_s: int) -> str:
    had = f"{cell.piece.label} has had {cell.heated_s} of its {cell.material.total_s} s"
    if cell.ahead_s:
        had += f", and the hits ahead add {cell.ahead_s}"
    return f"{had}; another {need_s} s would be too much"


def _no_setting(board: Board, k: int) -> str:
    """Each place of the platen that holds the part touches something that its lowest temperature scorches."""
    cell = board.cells[k]
    lowest = f"{cell.piece.label} wants at least {cell.material.lowest_c:g} °C"
    places = sorted((s for s in board.spots if s.held >> k & 1), key=lambda s: s.touched.bit_count())
    bears_less = [
        other
        for other in (board.cells[n] for n in members(places[0].touched))
        if other.material.hottest_c < cell.material.lowest_c
    ]
    if bears_less:
        other = bears_less[0]
        return f"{lowest}; {other.piece.label}, under the same platen, bears {other.material.hottest_c:g} °C"
    return f"{lowest}, which the press or {board.job.fabric.name} does not bear"


def _barrier(board: Board, k: int, choice: Choice) -> str:
    """A part that this way of hitting part `k` must not touch, or not for so long; else empty."""
    cell = board.cells[k]
    dwell_s = max(cell.wants_s, board.job.shortest_s)
    if cell.left_s < dwell_s:
        return _too_much(cell, dwell_s)
    without = f"{cell.piece.label} cannot be hit without"
    for other in _half_pressed(board, choice):
        if not other.wants_s:
            return f"{without} touching {other.piece.label}, which is not down yet"
    for other in (board.cells[n] for n in members(choice.touched)):
        if other.left_s < dwell_s:
            return f"{without} {other.piece.label}: {_too_much(other, dwell_s)}"
        if other.material.longest_s < cell.at_once_s:
            return _too_long(cell, other)
    return ""


def _too_long(cell: Cell, other: Cell) -> str:
    wants = f"{cell.piece.label} wants {cell.at_once_s} s in one hit"
    return f"{wants}; {other.piece.label}, under the same platen, bears {other.material.longest_s} s at once"


def _half_pressed(board: Board, choice: Choice) -> list[Cell]:
    """The whole pieces that are not down and are touched without being counted."""
    touched = [board.cells[n] for n in members(choice.touched & ~choice.counted)]
    return [cell for cell in touched if cell.is_whole and cell.missing_s > 0 and not cell.is_new]


def _metal(board: Board) -> str:
    zones = board.side.zones_of(ZoneKind.KEEP_OUT)
    return in_a_row(zone.label or "a keep-out" for zone in zones) if zones else "metal"

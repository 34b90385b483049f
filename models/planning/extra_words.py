"""Why an extra hit is as it is, and why there is none: sentences for the person at the press."""

from collections.abc import Iterator, Mapping, Sequence

from models.job.job import Job, ZoneKind
from models.planning.extra_board import Board, Cell
from models.planning.extra_search import Choice, members
from models.planning.hit_effects import finishes, raised_under, to_guard, touched_pieces
from models.planning.piece_record import Records
from models.planning.plan import Hit


def reasons(hit: Hit, job: Job, records: Records, needs_s: Mapping[str, int]) -> tuple[str, ...]:
    """Why the hit, its lists filled in, is there: what it is for, what it heats besides, what it takes."""
    served = [piece for piece in hit.count if piece in needs_s]
    said = [_what_for(hit, job, records, piece) for piece in served]
    besides = [piece for piece in touched_pieces(hit, job, records) if piece.id not in served]
    if besides:
        said.append(f"{_names(p.label for p in besides)}: heated too, under the same platen.")
    guarded = to_guard(touched_pieces(hit, job, records), job, records)
    if guarded:
        said.append(f"Cover sheet: {_names(p.label for p in guarded)} must not be heated again without.")
    if hit.pad:
        said.append(f"Pad: the platen lies over {_names(raised_under(hit, job))}.")
    return tuple(said)


def _what_for(hit: Hit, job: Job, records: Records, piece_id: str) -> str:
    piece, record = job.piece(piece_id), records[piece_id]
    if finishes(hit, piece, job, record):
        return f"{piece.label}: its second press, {hit.dwell_s} s under a cover sheet."
    if record.lifted:
        return f"{piece.label} has lifted: {hit.dwell_s} s again."
    return f"{piece.label} has had {min(record.counted_s)} of its {record.needed_s} s: {hit.dwell_s} s more."


def why_none(board: Board) -> str:
    """The limit that is in the way of the extra hits."""
    wanting = [k for k, cell in enumerate(board.cells) if cell.needs_s > 0]
    for k in wanting:
        for hindrance in _hindrances(board, k):
            return hindrance
    labels = _names(board.cells[k].piece.label for k in wanting)
    return f"no extra hits within the rules give all of these their seconds: {labels}"


def _hindrances(board: Board, k: int) -> Iterator[str]:
    """What keeps one part from its seconds, the nearest cause first; none where it alone could have them."""
    cell = board.cells[k]
    if cell.left_s < cell.needs_s:
        yield _too_much(cell, cell.needs_s)
    if not any(spot.held >> k & 1 for spot in board.spots):
        yield f"the platen cannot hold {cell.piece.label} without coming down on {_metal(board)}"
    choices = sorted(
        (c for c in board.places if c.counted >> k & 1), key=lambda c: (c.touched.bit_count(), c.touched)
    )
    if not choices:
        yield _no_setting(board, k)
    elif all(_barriers(board, k, choice) for choice in choices):
        yield _barriers(board, k, choices[0])[0]


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


def _barriers(board: Board, k: int, choice: Choice) -> list[str]:
    """The other parts that this way of hitting part `k` must not touch, or not for so long."""
    cell, wants = board.cells[k], board.wants
    said = []
    for n in members(choice.touched):
        other = board.cells[n]
        is_counted = bool(choice.counted >> n & 1)
        if other.is_whole and other.missing_s > 0 and not is_counted:
            said.append(
                f"{cell.piece.label} cannot be hit without {other.piece.label}, which is not down yet"
            )
        elif other.left_s < max(cell.needs_s, wants.shortest_s):
            without = f"{cell.piece.label} cannot be hit without {other.piece.label}"
            said.append(f"{without}: {_too_much(other, max(cell.needs_s, wants.shortest_s))}")
    return said


def _metal(board: Board) -> str:
    return _names(zone.label or "a keep-out" for zone in board.side.zones_of(ZoneKind.KEEP_OUT)) or "metal"


def _names(labels: Sequence[str] | Iterator[str]) -> str:
    return ", ".join(dict.fromkeys(labels))

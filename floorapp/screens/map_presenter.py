"""The placement map of a garment: which pieces are laid now, which are down, which come later."""

from collections.abc import Collection

from floorapp.widget_views import MapPiece, MapView, Role
from models.garment.cycle import State
from models.garment.progress import Progress
from models.job.job import Piece


def map_of_step(progress: Progress) -> MapView:
    """The side of the step in hand, with its platen while there is still something to press."""
    ended = progress.state in {State.COMPLETE, State.SPOILED}
    return map_of_side(progress, progress.hit.side, with_platen=not ended)


def map_of_side(
    progress: Progress, side: str, *, marked: Collection[str] = (), with_platen: bool = True
) -> MapView:
    job, hit = progress.recipe.job, progress.hit
    pieces = tuple(
        MapPiece(piece, role_of(progress, piece, marked)) for piece in job.pieces if piece.side == side
    )
    return MapView(job.side(side), pieces, hit.platen if with_platen and hit.side == side else None)


def role_of(progress: Progress, piece: Piece, marked: Collection[str]) -> Role:
    """A piece stays filled until its carrier is off; one begun in an earlier hit waits for a later one."""
    record = progress.records[piece.id]
    in_hand = piece.id in (*progress.hit.lay, *progress.hit.count)
    waiting_for_peel = any(step.piece == piece.id for step in progress.to_peel)
    if piece.id in marked:
        return Role.MARKED
    if record.down and not waiting_for_peel:
        return Role.DOWN
    if in_hand or waiting_for_peel:
        return Role.NOW
    return Role.LATER

"""The placement map of a garment: which pieces are laid now, which are down, which come later."""

from collections.abc import Collection
from datetime import datetime

from floorapp.widget_views import MapPiece, MapView, Role
from models.garment.cycle import State
from models.garment.progress import Progress
from models.job.job import Peel, Piece

PEELS = frozenset({State.PEELING, State.RESTING})


def map_of_step(progress: Progress, now: datetime) -> MapView:
    """The side of the step in hand, with its platen while there is still something to press."""
    ended = progress.state in {State.COMPLETE, State.SPOILED}
    return map_of_side(
        progress, progress.hit.side, peeled_now=peeled_now(progress, now), with_platen=not ended
    )


def map_of_side(
    progress: Progress,
    side: str,
    *,
    marked: Collection[str] = (),
    peeled_now: Collection[str] = (),
    with_platen: bool = True,
) -> MapView:
    job, hit = progress.recipe.job, progress.hit

    def role(piece: Piece) -> Role:
        if piece.id in marked:
            return Role.MARKED
        return Role.PEEL if piece.id in peeled_now else role_of(progress, piece)

    pieces = tuple(MapPiece(piece, role(piece)) for piece in job.pieces if piece.side == side)
    return MapView(job.side(side), pieces, hit.platen if with_platen and hit.side == side else None)


def peeled_now(progress: Progress, now: datetime) -> frozenset[str]:
    """The pieces whose carriers come off now; none while they still have to cool."""
    ready_at = progress.ready_at
    cools = ready_at is not None and ready_at > now
    is_sent_to_rest = progress.rested or ready_at is not None
    if progress.state not in PEELS or cools or (progress.next_peel == Peel.COLD and not is_sent_to_rest):
        return frozenset()
    return frozenset(step.piece for step in progress.to_peel if step.when == progress.next_peel)


def pieces_to_rub(progress: Progress) -> tuple[str, ...]:
    """Return what the hit in hand has finished, at its check; what is known to be wrong is not rubbed."""
    if progress.state != State.CHECKING:
        return ()
    finished = (piece for piece in progress.hit.count if progress.records[piece].down)
    return tuple(piece for piece in finished if piece not in progress.faulty)


def role_of(progress: Progress, piece: Piece) -> Role:
    """A piece of the hit in hand is filled until it has been pressed, and pale until its carrier is off; one
    begun in an earlier hit waits for a later one.
    """
    if piece.id in pieces_to_rub(progress):
        return Role.RUB
    in_hand = piece.id in (*progress.hit.lay, *progress.hit.count)
    waits_for_peel = any(step.piece == piece.id for step in progress.to_peel)
    if progress.records[piece.id].down and not waits_for_peel:
        return Role.FAULTY if piece.id in progress.faulty else Role.DOWN
    if in_hand or waits_for_peel:
        return Role.LEAVE if progress.state in PEELS else Role.NOW
    return Role.LATER

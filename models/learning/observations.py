"""What a garment's log tells about rests and peels: pure functions over its events.

What waits until warm or cold counts from the opening of the press, as it was estimated. On the press a
garment hardly cools: one that lay there for longer than its rest should take tells nothing of it.
"""

from collections.abc import Iterator, Sequence
from datetime import datetime
from math import sqrt

from models.garment.events import Event
from models.garment.progress import Recipe
from models.job.job import Peel
from models.learning.learned import RestKey, RestObservation, Told
from models.learning.lift_rates import PeelObservation
from models.learning.peelings import Peeling, RestSeen, peelings_of
from models.recipe.piece_rest import longest_rest
from models.recipe.places import Place


def peel_observations(recipe: Recipe, events: Sequence[Event]) -> tuple[PeelObservation, ...]:
    """Each piece of a garment's log whose carrier came off, as the check after it saw the piece.

    Raises IllegalEventError where a tap is taken back that is not the last one.
    """
    job = recipe.job
    return tuple(
        PeelObservation(job.piece(piece).material, job.fabric.name, peeling.how, piece in peeling.lifted)
        for peeling in peelings_of(events)
        for piece in peeling.pieces
    )


def rest_observations(recipe: Recipe, events: Sequence[Event]) -> tuple[RestObservation, ...]:
    """Each rest of a garment's log that ended in a cold or a warm peel, one for each material peeled.

    Raises IllegalEventError as peel_observations does.
    """
    return tuple(seen for peeling in peelings_of(events) for seen in _told_of_rest(recipe, peeling))


def _told_of_rest(recipe: Recipe, peeling: Peeling) -> Iterator[RestObservation]:
    if peeling.how == Peel.COLD and peeling.rest is not None:
        yield from _told_cold(recipe, peeling, peeling.rest)
    elif peeling.how == Peel.WARM and peeling.place is not None and peeling.opened_at is not None:
        yield from _told_warm(recipe, peeling, peeling.place, peeling.opened_at)


def _told_warm(
    recipe: Recipe, peeling: Peeling, place: Place, opened_at: datetime
) -> Iterator[RestObservation]:
    """Peeled warm and down: no longer was needed. It lifted: longer was.

    After the end of the band a lift tells nothing: nobody knows whether it was too warm still or too cold.
    A piece that ought to peel cold and was tried warm has no wait until warm, and tells nothing either.
    """
    waited_s = (peeling.at - opened_at).total_seconds()
    for material, pieces in _by_material(recipe, peeling):
        own = longest_rest(recipe.rests, pieces, Peel.WARM, place)
        lifted = bool(peeling.lifted & set(pieces))
        if own is None or own.median_s <= 0 or waited_s <= 0 or (lifted and waited_s > own.high_s):
            continue
        key = RestKey(material, recipe.job.fabric.name, place, Peel.WARM)
        told = Told.LIFTED if lifted else Told.WELL
        yield RestObservation(key, own.median_s, waited_s, told, peeling.at)


def _told_cold(recipe: Recipe, peeling: Peeling, rest: RestSeen) -> Iterator[RestObservation]:
    """Peeled before it was due and down: called ready. Peeled later and down: no longer was needed. Called
    and sent back: it was needed until some time between that and when it was due again.

    The hand judges the whole garment, and so the material that rests longest.
    """
    longest = longest_rest(recipe.rests, peeling.pieces, Peel.COLD, rest.place)
    if longest is None or rest.on_press_s > longest.median_s:
        return
    decisive = recipe.job.piece(longest.piece).material
    for material, pieces in _by_material(recipe, peeling):
        own = longest_rest(recipe.rests, pieces, Peel.COLD, rest.place)
        told = _told(peeling, rest, pieces, is_decisive=material == decisive)
        rested_s = _seconds(peeling, rest, told)
        if own is not None and own.median_s > 0 and rested_s > 0:
            key = RestKey(material, recipe.job.fabric.name, rest.place)
            yield RestObservation(key, own.median_s, rested_s, told, peeling.at)


def _told(peeling: Peeling, rest: RestSeen, pieces: tuple[str, ...], *, is_decisive: bool) -> Told:
    if peeling.lifted & set(pieces):
        return Told.LIFTED
    if is_decisive and peeling.at < rest.due_at:
        return Told.READY
    return Told.BETWEEN if is_decisive and rest.warm_at else Told.WELL


def _seconds(peeling: Peeling, rest: RestSeen, told: Told) -> float:
    """What was warm once and cold when it was due again needed about the geometric mean of both.

    Not above 0 where the stations' clocks differ by more than the rest.
    """
    if told == Told.BETWEEN:
        return sqrt(max(0.0, rest.seconds_to(rest.warm_at[-1])) * max(0.0, rest.seconds_to(rest.due_at)))
    return rest.seconds_to(peeling.at)


def _by_material(recipe: Recipe, peeling: Peeling) -> Iterator[tuple[str, tuple[str, ...]]]:
    materials = {piece: recipe.job.piece(piece).material for piece in peeling.pieces}
    for material in dict.fromkeys(materials.values()):
        yield material, tuple(piece for piece, its in materials.items() if its == material)

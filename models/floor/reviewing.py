"""A batch's review, with what all batches on its fabric show of lifts."""

from dataclasses import replace

from models.job.job import Fabric
from models.learning.lift_rates import PeelObservation, lift_rates
from models.quality.review import LiftsOnFabric, Review, labelled_peels, review_of
from models.store.errors import DamagedRecordError
from models.store.records import BatchHead
from models.store.store import Store

LATEST_BATCHES = 50
MOST_GARMENTS = 2_000
"""So many of the latest batches are looked at, and no further one once so many garments have been read: what
a review shows is to be there within seconds.
"""


def review_batch(store: Store, batch: BatchHead) -> Review:
    """The batch's figures, findings and garments, counted from its whole log."""
    recipe = store.recipe(batch.id)
    review = review_of(recipe, store.logs(batch.reference))
    return replace(review, lifts_on_fabric=_lifts_on(store, recipe.job.fabric))


def _lifts_on(store: Store, fabric: Fabric) -> LiftsOnFabric:
    peels: list[PeelObservation] = []
    batches = garments = 0
    for head in store.heads()[:LATEST_BATCHES]:
        try:
            recipe = store.recipe(head.id)
        except DamagedRecordError:  # the store tells of it; the other batches show what they show
            continue
        if recipe.job.fabric.name == fabric.name and garments < MOST_GARMENTS:
            peels += labelled_peels(recipe, (log for _, log in store.logs(head.reference)))
            batches, garments = batches + 1, garments + head.garments
    return LiftsOnFabric(fabric.name, batches, lift_rates(peels))

"""The tags of a stored batch: one for each garment that belongs to it, in the roster's order."""

from typing import TYPE_CHECKING

from printables.tag import Tag, hits_line

if TYPE_CHECKING:
    from models.store.store import Store


def tags_of_batch(store: "Store", reference: str) -> list[Tag]:
    """The tags as they are printed, with the hits that were frozen when the batch was loaded.

    Raises UnknownBatchError where no batch has the reference.
    """
    head = store.batch(reference)
    plan = store.recipe(head.id).plan
    return [
        Tag(
            code=row.code,
            batch_name=head.name,
            batch_reference=head.reference,
            size=row.size,
            wearer=row.wearer,
            number=row.number,
            n=row.n,
            of=head.garments,
            hits_line=hits_line(plan.of_size(row.size)),
        )
        for row in store.garments(reference)
        if not row.taken_out
    ]

"""The tags of a stored batch: one for each garment that belongs to it, in the roster's order."""

from collections.abc import Collection
from typing import TYPE_CHECKING

from models.planning.assembly.at_press import plan_as_ordered
from models.tags.code import spoken
from printables.errors import NothingToPrintError
from printables.tag import Tag, hits_line

if TYPE_CHECKING:
    from models.garment.progress import Recipe
    from models.store.store import Store


def tags_of_batch(store: "Store", reference: str, only: Collection[str] = ()) -> list[Tag]:
    """The tags as they are printed, with the hits as the frozen ones are ordered at the press; of the
    garments with the codes in `only`, if there are any.

    Raises UnknownBatchError where no batch has the reference, and NothingToPrintError if a code in `only` is
    of no garment in it.
    """
    head = store.batch(reference)
    recipe = store.recipe(head.id)
    rows = [row for row in store.garments(reference) if not row.taken_out]
    lines = {size: _hits_line(recipe.of_size(size)) for size in {row.size for row in rows}}
    tags = [
        Tag(
            code=row.code,
            batch_name=head.name,
            batch_reference=head.reference,
            size=row.size,
            wearer=row.wearer,
            number=row.number,
            n=row.n,
            of=head.garments,
            hits_line=lines[row.size],
        )
        for row in rows
    ]
    if not only:
        return tags
    strange = sorted(set(only).difference(tag.code for tag in tags))
    if strange:
        raise NothingToPrintError(
            f"{spoken(strange[0])} is in batch {reference} no garment that has a tag; compare its code"
        )
    return [tag for tag in tags if tag.code in only]


def _hits_line(recipe: "Recipe") -> str:
    return hits_line(plan_as_ordered(recipe.plan, recipe.job))

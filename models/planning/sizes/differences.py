"""Which garment sizes are not worked like most garments, and why, in words."""

from collections.abc import Iterator, Sequence

from models.plan.plan import Plan
from models.planning.sizes.shared_sequence import Shared, clashes
from models.text import in_a_row


def other_sequences(shared: Sequence[Shared]) -> Iterator[str]:
    """A sentence for each sequence but the first, which most garments have."""
    first, *others = shared
    for other in others:
        who = f"{_sizes(other.sizes)} {'has' if len(other.sizes) == 1 else 'have'} another sequence"
        counts = f"{len(other.plan.hits)} hits, not {len(first.plan.hits)}"
        than = f"than size {first.sizes[0]}"
        told = than if len(other.plan.hits) == len(first.plan.hits) else f"{than} ({counts})"
        yield f"{who} {told}: {_why(first, other)}."


def other_pads(plan: Plan, by_size: Sequence[tuple[str, Plan]]) -> Iterator[str]:
    """A sentence for sizes that have the hits of `plan`, but a seam or pocket elsewhere."""
    sizes: dict[tuple[str, ...], list[str]] = {}
    for size, other in by_size:
        pads = tuple(
            f"hit {b.n} {'with' if b.pad else 'without'} a pad"
            for a, b in zip(plan.hits, other.hits, strict=True)
            if a.pad != b.pad
        )
        sizes.setdefault(pads, []).append(size)
    for pads, alike in sizes.items():
        if pads:
            yield f"{_sizes(alike)}: the same hits, but {in_a_row(pads)}."


def _why(first: Shared, other: Shared) -> str:
    """The hit that keeps the two from sharing a sequence: the first's in the other size, or the other way."""
    ways = ((first, other), (other, first))
    return next((words for ours, theirs in ways for words in _clashes(ours, theirs)), NONE_FOUND)


NONE_FOUND = "no sequence of so few hits was found that suits both"


def _clashes(ours: Shared, theirs: Shared) -> Iterator[str]:
    for member in theirs.members:
        for hit, zone in clashes(ours.plan, member.layout.job):
            where = f"in size {member.layout.sizes[0]}"
            yield f"hit {hit.n} of size {ours.sizes[0]} would come down on the {zone.label} {where}"


def _sizes(sizes: Sequence[str]) -> str:
    """In a row: "Size S", "Sizes S, M and L"."""
    return f"{'Size' if len(sizes) == 1 else 'Sizes'} {in_a_row(sizes)}"

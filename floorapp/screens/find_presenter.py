"""What the Find screen says: what was typed, and the batches and garments that fit it."""

from dataclasses import dataclass

from floorapp.flow import Flow
from floorapp.screens.garment_presenter import header_of
from floorapp.screens.naming import called_words, tag_words
from floorapp.screens.remedy_words import remedy_words, state_tone, state_words
from floorapp.views import Action, Header, Tap, Tone
from models.batch.standing import Standing
from models.store.records import BatchHead, GarmentRow


@dataclass(frozen=True, slots=True)
class FoundRow:
    """A batch or a garment; `tone` and `state` together say how it stands."""

    name: str
    told: str
    state: str
    tone: Tone
    action: Action


@dataclass(frozen=True, slots=True)
class FindView:
    header: Header
    typed: str
    told: str
    rows: tuple[FoundRow, ...]


def find_view(flow: Flow) -> FindView:
    find = flow.find
    rows: tuple[FoundRow, ...] = ()
    if find.found is not None:
        rows = (*map(batch_row, find.found.batches), *map(garment_row, find.found.garments))
    return FindView(header_of(flow, "Find"), find.text, told_of(flow, len(rows)), rows)


def told_of(flow: Flow, rows: int) -> str:
    """What the list is, or why there is none."""
    find = flow.find
    if find.found is None:
        return "Looking …"
    if not find.text:
        return "Type a part of a name, number, code or batch. All batches:"
    if not rows:
        return f"Nothing has “{find.text}” on it. Take a letter back."
    return "There are more. Type one letter more:" if find.found.is_more else "Tap the one that you mean:"


def batch_row(head: BatchHead) -> FoundRow:
    is_open = head.standing == Standing.OPEN
    return FoundRow(
        name=head.name,
        told=f"batch {head.reference} · {head.garments} garments · review ›",
        state=head.standing.value,
        tone=Tone.PLAIN if is_open else Tone.DONE,
        action=Action(Tap.TO_REVIEW, head.reference),
    )


def garment_row(row: GarmentRow) -> FoundRow:
    told = (tag_words(row), row.batch_reference, *remedy_words(row))
    return FoundRow(
        name=called_words(row),
        told=" · ".join(told),
        state=state_words(row),
        tone=state_tone(row),
        action=Action(Tap.CHANGE_GARMENT, row.code),
    )

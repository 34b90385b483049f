"""What the Floor screen says: batches with their progress, garments in hand, and the rail of waiting ones."""

from dataclasses import dataclass, replace

from floorapp.flow import Flow
from floorapp.screens.call_presenter import call_view, ends_words
from floorapp.screens.end_words import order_words, right_words
from floorapp.screens.garment_presenter import header_of
from floorapp.screens.naming import called_words, tag_words, wearer_words, words_in_a_row
from floorapp.screens.words import whole_seconds_to
from floorapp.views import Action, Button, Header, NoticeView, RailItem, Tap, Tone
from floorapp.widget_views import CallView, Share
from models.garment.cycle import IN_WORK, State
from models.store.records import BatchProgress, GarmentRow


@dataclass(frozen=True, slots=True)
class BatchView:
    """`ends` is when it will be done, where that is worked out, and that it goes before the others."""

    reference: str
    name: str
    right: str
    ends: str
    shares: tuple[Share, ...]


@dataclass(frozen=True, slots=True)
class FloorView:
    header: Header
    batches: tuple[BatchView, ...]
    in_hand: tuple[Button, ...]
    empty: str
    call: CallView | None
    record: NoticeView | None


def floor_view(flow: Flow) -> FloorView:
    return FloorView(
        header=header_of(flow, "Floor"),
        batches=tuple(batch_view(flow, batch) for batch in flow.batches),
        in_hand=tuple(in_hand_button(row) for row in flow.in_work),
        empty="" if flow.batches else "No batch yet. Set-up loads one from its job file.",
        call=call_view(flow),
        record=flow.copies.told if flow.copies is not None else None,
    )


def batch_view(flow: Flow, batch: BatchProgress) -> BatchView:
    head = batch.head
    return BatchView(
        reference=head.reference,
        name=head.name,
        right="all done" if batch.is_done else right_words(head.due, flow.clock.utc_now()),
        ends=order_words(head.priority, ends_words(flow, head, batch.by_state)),
        shares=shares_of(batch),
    )


def shares_of(batch: BatchProgress) -> tuple[Share, ...]:
    """The conditions a batch is told by; spoiled ones are told only where there are any that nobody has made
    again: those that were stand in the bar as what became of them.
    """
    by_state = batch.by_state
    shares = (
        Share("done", by_state.get(State.COMPLETE, 0), Tone.DONE),
        Share("resting", by_state.get(State.RESTING, 0), Tone.REST),
        Share("in hand", sum(by_state.get(state, 0) for state in IN_WORK), Tone.PRESS),
        Share("held", by_state.get(State.HELD, 0), Tone.HELD),
        Share("spoiled", by_state.get(State.SPOILED, 0) - batch.remade, Tone.SPOILED),
        Share("to do", by_state.get(State.IDLE, 0), Tone.PLAIN),
    )
    return tuple(share for share in shares if share.count or share.word != "spoiled")


def in_hand_button(row: GarmentRow) -> Button:
    words = f"{words_in_a_row(row)} · {row.batch_reference} · {row.state.value}"
    return Button(words, Action(Tap.OPEN_CODE, row.code))


def rail_of(flow: Flow) -> tuple[RailItem, ...]:
    """Hits that run, then the resting garments, soonest first; not the one that is on the screen itself."""
    items = (
        *(_under_press(flow, row) for row in flow.pressing),
        *(_resting(flow, row) for row in flow.resting),
    )
    return tuple(item for item in items if item.code != flow.code_on_screen)


def _under_press(flow: Flow, row: GarmentRow) -> RailItem:
    """A hit whose seconds nobody counted has none to show: it has to be looked at."""
    countdown = flow.press.running.countdown_of(row)
    left_s = countdown.left_s(flow.clock) if countdown else None
    item = rail_item(row, left_s, is_pressing=True)
    return replace(item, is_doubtful=flow.press.is_doubtful(row))


def _resting(flow: Flow, row: GarmentRow) -> RailItem:
    left_s = whole_seconds_to(row.rest_ends_at, flow.clock.utc_now())
    item = rail_item(row, left_s, is_pressing=False)
    is_doubtful = flow.work.this_run.is_doubtful(row)
    return replace(item, is_warm=row.state == State.PEELING, is_doubtful=is_doubtful)


def rail_item(row: GarmentRow, left_s: int | None, *, is_pressing: bool) -> RailItem:
    """Return the garment as the rail names it; one without wearer and number by its size and code alone."""
    tag = tag_words(row) if wearer_words(row) else ""
    return RailItem(row.code, called_words(row), tag, row.batch_reference, left_s, is_pressing)

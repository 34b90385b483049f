"""What the Change screen says: what a garment or a batch is, and what can be done about it."""

from collections.abc import Iterator
from dataclasses import dataclass

from floorapp.flow import Flow
from floorapp.remedy_flow import Step
from floorapp.screens.garment_presenter import header_naming, header_of
from floorapp.screens.naming import called_words, numbered
from floorapp.screens.remedy_words import remedy_words, state_words
from floorapp.screens.words import count_of
from floorapp.views import Action, Button, Group, Header, Line, Tap, Tone
from models.batch.events import (
    BatchClosed,
    BatchEvent,
    BatchHappening,
    BatchReopened,
    GarmentAdded,
    GarmentPutBack,
    GarmentTakenOut,
    PrioritySet,
    WearerCorrected,
)
from models.batch.standing import Standing
from models.garment.cycle import ENDED, State
from models.store.records import BatchHead, StoredBatch, StoredGarment
from models.tags.code import spoken

REASONS = ("No longer wanted", "The garment is missing", "Wrong size or colour", "Goes to another batch")
"""Why a garment is taken out (common practice, no source)."""

BACK = Button("Back", Action(Tap.BACK))


@dataclass(frozen=True, slots=True)
class ChangeView:
    """`answers` are what can be done, none of them likelier than the others."""

    header: Header
    heading: str
    body: str
    groups: tuple[Group, ...]
    answers: tuple[Button, ...]
    primary: Button


def change_view(flow: Flow) -> ChangeView:
    subject = flow.remedies.subject
    if subject is None:
        raise LookupError("nothing is being changed")
    match subject.step:
        case Step.GARMENT:
            return garment_menu(flow)
        case Step.MAKE_AGAIN:
            return make_again_question(flow)
        case Step.TAKE_OUT:
            return take_out_question(flow)
        case Step.BATCH:
            return batch_menu(flow)
        case Step.TAKE_BATCH_BACK:
            return take_batch_back_question(flow)


# A garment


def garment_menu(flow: Flow) -> ChangeView:
    garment, batch = flow.remedies.garment, flow.remedies.batch
    return ChangeView(
        header=header_naming(flow, garment),
        heading="What about this garment?",
        body="\n".join(garment_lines(garment)),
        groups=changes_of(batch, garment.row.code),
        answers=garment_answers(garment),
        primary=BACK,
    )


def garment_lines(garment: StoredGarment) -> Iterator[str]:
    row, batch = garment.row, garment.batch
    yield f"Size {row.size} · garment {row.n} of {batch.garments}, {batch.name} ({batch.reference})"
    state, reason = state_words(row), garment.progress.reason
    yield f"It is {state}: {reason}." if reason and not row.taken_out else f"It is {state}."
    yield from (f"{words[0].upper()}{words[1:]}." for words in remedy_words(row))


def garment_answers(garment: StoredGarment) -> tuple[Button, ...]:
    """What can be done about the garment as it is now. A finger can take it up from here, but no foot."""
    row = garment.row
    if garment.batch.standing != Standing.OPEN:
        return (Button("The batch is closed: reopen it …", Action(Tap.CHANGE_BATCH, row.batch_reference)),)
    if row.taken_out:
        return (Button("Put it back into its batch", Action(Tap.PUT_BACK)),)
    answers = [Button("Correct name or number …", Action(Tap.TO_CORRECT))]
    if row.state not in ENDED:
        answers.insert(0, Button("Open it at the press", Action(Tap.OPEN_CODE, row.code)))
    if row.state == State.SPOILED and not row.remade_as:
        answers.insert(0, ask("Make it again …", Step.MAKE_AGAIN))
    if row.remade_as:
        answers.insert(0, Button(f"To {spoken(row.remade_as)}", Action(Tap.CHANGE_GARMENT, row.remade_as)))
    if row.state not in ENDED:
        answers.append(ask("Take it out of its batch …", Step.TAKE_OUT))
    return (*answers, Button("Print its tag", Action(Tap.PRINT_TAG, row.code)))


def ask(words: str, step: Step) -> Button:
    return Button(words, Action(Tap.ASK_CHANGE, step.value))


def make_again_question(flow: Flow) -> ChangeView:
    garment = flow.remedies.garment
    return ChangeView(
        header=header_naming(flow, garment),
        heading="Make it again?",
        body=f"A new garment for {called_words(garment.row)}, size {garment.row.size}, with a new tag. "
        "This one stays spoiled, and counts as spoiled.",
        groups=(),
        answers=(Button("No, leave it", Action(Tap.BACK)),),
        primary=Button("Make it again", Action(Tap.MAKE_AGAIN), Tone.ATTENTION),
    )


def take_out_question(flow: Flow) -> ChangeView:
    garment = flow.remedies.garment
    return ChangeView(
        header=header_naming(flow, garment),
        heading="Why is it taken out?",
        body=f"{called_words(garment.row)}, size {garment.row.size}: it is not called any more, and the "
        "batch can be done without it. It can be put back.",
        groups=(),
        answers=tuple(Button(reason, Action(Tap.TAKE_OUT, reason.lower())) for reason in REASONS),
        primary=Button("No, leave it in", Action(Tap.BACK)),
    )


# A batch


def batch_menu(flow: Flow) -> ChangeView:
    batch = flow.remedies.batch
    head = batch.head
    return ChangeView(
        header=header_of(flow, f"Change · {head.name}"),
        heading=f"{head.name} ({head.reference})",
        body=f"{count_of(head.garments, 'garment')} so far. The batch is {head.standing.value}.",
        groups=changes_of(batch, ""),
        answers=batch_answers(batch),
        primary=BACK,
    )


def batch_answers(batch: StoredBatch) -> tuple[Button, ...]:
    if batch.head.standing == Standing.CLOSED:
        return (Button("Reopen the batch", Action(Tap.REOPEN_BATCH)),)
    return (
        Button("Add a garment …", Action(Tap.TO_ADD)),
        priority_button(batch.head),
        Button("Close the batch: all is done", Action(Tap.CLOSE_BATCH)),
        ask("Take the batch back: it was loaded wrongly …", Step.TAKE_BATCH_BACK),
    )


def priority_button(head: BatchHead) -> Button:
    """The way to let the batch go before the others, or by its due date as all do."""
    if head.priority > 0:
        return Button("Let it go by its due date again", Action(Tap.SET_PRIORITY, "0"))
    return Button("Let it go before the others", Action(Tap.SET_PRIORITY, "1"))


def take_batch_back_question(flow: Flow) -> ChangeView:
    head = flow.remedies.batch.head
    return ChangeView(
        header=header_of(flow, f"Change · {head.name}"),
        heading="Take the whole batch back?",
        body=f"All {head.garments} garments leave the Floor, and their tags are void for good. "
        f"{head.reference} can then be loaded anew. It cannot be undone.",
        groups=(),
        answers=(Button("Take it back for good", Action(Tap.TAKE_BATCH_BACK)),),
        primary=Button("No, keep the batch", Action(Tap.BACK)),
    )


# What was changed before


def changes_of(batch: StoredBatch, code: str) -> tuple[Group, ...]:
    """The changes to this garment, or to the batch where no code is given, the latest first."""
    told = [Line(line_of(event)) for event in reversed(batch.log) if not code or is_about(event.what, code)]
    return (Group("Changed so far", tuple(told)),) if told else ()


def is_about(what: BatchHappening, code: str) -> bool:
    own = getattr(what, "code", "") == code
    return own or (isinstance(what, GarmentAdded) and what.remake_of == code)


def line_of(event: BatchEvent) -> str:
    local = event.at.astimezone()
    by = " · ".join(who for who in (event.person, event.station) if who)
    return f"{local:%a %d %b %H:%M}: {words_of(event.what)} ({by})"


def words_of(what: BatchHappening) -> str:
    match what:
        case GarmentAdded(code=code, remake_of=""):
            return f"{spoken(code)} added"
        case GarmentAdded(code=code, remake_of=spoiled):
            return f"{spoken(code)} made again for {spoken(spoiled)}"
        case GarmentTakenOut(code, reason):
            return f"{spoken(code)} taken out: {reason}"
        case GarmentPutBack(code):
            return f"{spoken(code)} put back"
        case WearerCorrected() as corrected:
            before = _named(corrected.was_wearer, corrected.was_number)
            after = _named(corrected.wearer, corrected.number)
            return f"{spoken(corrected.code)}: {before} corrected to {after}"
        case PrioritySet(priority):
            return "before the others" if priority > 0 else "by its due date"
        case BatchClosed():
            return "closed"
        case BatchReopened():
            return "reopened"
        case _:
            return "taken back"


def _named(wearer: str, number: str) -> str:
    return " ".join(word for word in (wearer, numbered(number)) if word) or "no name"

"""Why a garment is held or spoiled: a few reasons to choose from, or one that is typed."""

from dataclasses import dataclass

from floorapp.flow import Flow
from floorapp.reason_flow import ReasonDraft
from floorapp.screens.garment_presenter import header_of_garment
from floorapp.views import Action, Button, Header, Tap, Tone

HOLD_REASONS = (
    "A piece of the kit is missing",
    "Name or number is not right",
    "Wrong size or garment",
    "Torn, stained or wet",
    "The press does not hold its heat",
    "Somebody has to be asked",
)
"""Common practice, no source."""
SPOIL_REASONS = (
    "Scorched or melted",
    "Pressed in the wrong place",
    "Wrong piece, name or number",
    "Torn or stained",
    "Pieces do not hold",
)
"""Common practice, no source."""
TYPE_IT = Button("Type another …", Action(Tap.TYPE_REASON))
BACK = Button("Back", Action(Tap.BACK))


@dataclass(frozen=True, slots=True)
class ReasonView:
    """`ends` stand apart from the primary action: spoiling is never the primary one."""

    header: Header
    heading: str
    told: str
    reasons: tuple[Button, ...]
    ends: tuple[Button, ...]
    primary: Button | None


@dataclass(frozen=True, slots=True)
class ReasonEntryView:
    """A reason that is typed on large keys."""

    header: Header
    heading: str
    typed: str
    primary: Button | None


def reason_entry_view(flow: Flow) -> ReasonEntryView:
    draft = flow.reason.draft
    return ReasonEntryView(header_of_garment(flow), heading_of(draft), draft.typed, take_button(draft))


def take_button(draft: ReasonDraft) -> Button | None:
    """Return the primary action of the large keys, once anything is typed."""
    return Button("That is the reason", Action(Tap.TAKE_REASON), Tone.ATTENTION) if draft.typed else None


def heading_of(draft: ReasonDraft) -> str:
    return "Why is it spoiled?" if draft.is_spoiling else "Why is it held?"


def reason_view(flow: Flow) -> ReasonView:
    draft = flow.reason.draft
    spoil = Button("Spoil it", Action(Tap.SPOIL, draft.chosen), Tone.SPOILED)
    return ReasonView(
        header=header_of_garment(flow),
        heading=heading_of(draft),
        told="It takes no more hits then." if draft.is_spoiling else "It waits until somebody decides.",
        reasons=(*(_choice(reason, draft.chosen) for reason in offered(draft)), TYPE_IT),
        ends=(BACK, spoil) if draft.is_spoiling and draft.chosen else (BACK,),
        primary=hold_button(draft),
    )


def offered(draft: ReasonDraft) -> tuple[str, ...]:
    """Return the reasons to choose from: what is known of this garment first, what was typed last."""
    usual = SPOIL_REASONS if draft.is_spoiling else HOLD_REASONS
    return tuple(dict.fromkeys(reason for reason in (draft.suggested, *usual, draft.typed) if reason))


def hold_button(draft: ReasonDraft) -> Button | None:
    """Return the one primary action: to hold it, once a reason is chosen. Spoiling is never that."""
    if draft.is_spoiling or not draft.chosen:
        return None
    return Button("Hold it", Action(Tap.HOLD, draft.chosen), Tone.HELD)


def _choice(reason: str, chosen: str) -> Button:
    is_chosen = reason == chosen
    tone = Tone.HELD if is_chosen else Tone.PLAIN
    return Button(reason, Action(Tap.CHOOSE_REASON, reason), tone, is_chosen, is_choice=True)

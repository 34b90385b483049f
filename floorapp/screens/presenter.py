"""The view of whatever screen is shown, and the one primary action on it."""

from collections.abc import Callable
from dataclasses import dataclass

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.change_presenter import ChangeView, change_view
from floorapp.screens.find_presenter import FindView, find_view
from floorapp.screens.finding_presenter import FindingView, finding_view
from floorapp.screens.floor_presenter import FloorView, floor_view
from floorapp.screens.garment_presenter import GarmentView, garment_view, header_of, header_of_garment
from floorapp.screens.pressing_presenter import running_of
from floorapp.screens.reason_presenter import (
    ReasonEntryView,
    ReasonView,
    hold_button,
    reason_entry_view,
    reason_view,
    take_button,
)
from floorapp.screens.review_presenter import ReviewView, review_view
from floorapp.screens.set_up_presenter import SetUpView, set_up_view
from floorapp.screens.wearer_presenter import WearerView, wearer_view
from floorapp.screens.what_if_presenter import WhatIfView, what_if_view
from floorapp.screens.why_presenter import WhyView, planned_hit_view, why_view
from floorapp.views import Action, Button, Header, NoticeView, Tap, Tone


@dataclass(frozen=True, slots=True)
class EntryView:
    """A screen of large keys: a tag's code, or the seconds of a hit that was opened early."""

    header: Header
    heading: str
    body: str


SHOWN_AFTER_S = 0.3
"""A tap that is stored sooner does not seem to wait."""

View = (
    FloorView
    | GarmentView
    | FindingView
    | ReasonView
    | ReasonEntryView
    | ReviewView
    | SetUpView
    | WhatIfView
    | WhyView
    | EntryView
    | FindView
    | ChangeView
    | WearerView
)


def present(flow: Flow) -> View:
    """What the screen shows now, but for what the seconds change."""
    return PRESENTERS[flow.screen](flow)


def notice_of(flow: Flow) -> NoticeView | None:
    """The line across the screen: that a tap waits to be stored, or what there is to tell."""
    waited_s = flow.waited_s
    if waited_s is None or waited_s < SHOWN_AFTER_S:
        return flow.notice or flow.standing.first
    return NoticeView(f"Storing your tap … {waited_s:.0f} s. It counts once this line is gone.", Tone.PLAIN)


def primary_of(flow: Flow) -> Button | None:
    """What the large block, the space bar, Enter and the foot switch do now."""
    match flow.screen:
        case ScreenName.GARMENT:
            running = running_of(flow)
            return running.primary if running else garment_view(flow).card.primary
        case ScreenName.FINDING:
            return finding_view(flow).primary
        case ScreenName.REASON:
            return hold_button(flow.reason.draft)
        case ScreenName.REASON_ENTRY:
            return take_button(flow.reason.draft)
        case ScreenName.SET_UP:
            return set_up_view(flow).primary
        case ScreenName.FLOOR:
            return SCAN
        case ScreenName.CHANGE:
            return change_view(flow).primary
        case ScreenName.WEARER_ENTRY:
            return wearer_view(flow).primary
        case ScreenName.WHY | ScreenName.PLANNED_HIT | ScreenName.REVIEW | ScreenName.WHAT_IF:
            return Button("Back", Action(Tap.BACK))
        case _:
            return None


SCAN = Button("Scan a tag", Action(Tap.TYPE_CODE))


def _seconds_view(flow: Flow) -> EntryView:
    step = flow.in_hand.progress.step
    return EntryView(
        header_of_garment(flow),
        "Seconds it was really pressed",
        f"Hit {step.label}, of {step.hit.dwell_s} s. What is missing is planned in as a further hit.",
    )


def _code_view(flow: Flow) -> EntryView:
    return EntryView(
        header_of(flow, "Type the code"),
        "The code on the tag",
        "Eight characters, two groups of four. There is no zero, one, two, five or eight in a code.",
    )


PRESENTERS: dict[ScreenName, Callable[[Flow], View]] = {
    ScreenName.FLOOR: floor_view,
    ScreenName.GARMENT: garment_view,
    ScreenName.FINDING: finding_view,
    ScreenName.REASON: reason_view,
    ScreenName.REASON_ENTRY: reason_entry_view,
    ScreenName.REVIEW: review_view,
    ScreenName.SET_UP: set_up_view,
    ScreenName.WHY: why_view,
    ScreenName.PLANNED_HIT: planned_hit_view,
    ScreenName.WHAT_IF: what_if_view,
    ScreenName.CODE_ENTRY: _code_view,
    ScreenName.SECONDS_ENTRY: _seconds_view,
    ScreenName.FIND: find_view,
    ScreenName.CHANGE: change_view,
    ScreenName.WEARER_ENTRY: wearer_view,
}

"""What the Garment screen says: the card of each phase, the ladder, the map, the countdown."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from floorapp.flow import Flow
from floorapp.running_hits import PressSetting
from floorapp.screen_names import ScreenName
from floorapp.screens.call_presenter import next_groups, open_button
from floorapp.screens.check_presenter import WRONG, check_card, fault_groups, short_pieces
from floorapp.screens.heat_presenter import too_little_in_short
from floorapp.screens.map_presenter import map_of_step
from floorapp.screens.naming import called_words, name_of
from floorapp.screens.peel_presenter import Wait, peel_card, rest_card, warm_wait_card
from floorapp.screens.pressing_presenter import ending_card
from floorapp.screens.words import (
    TAP_WORDS,
    celsius,
    count_of,
    covered_under,
    degrees,
    fahrenheit,
    heading_of,
    listed,
    material_line,
    pieces_by_material,
    raised_under,
    whole_seconds_to,
)
from floorapp.views import (
    Action,
    Button,
    Card,
    Group,
    Header,
    Line,
    Setting,
    Tap,
    Tone,
)
from floorapp.widget_views import MapView, Rung, RungState
from models.garment.cycle import State
from models.garment.events import kind_of
from models.garment.progress import Progress, last_happening
from models.job.job import Job
from models.plan.plan import Hit
from models.store.records import GarmentRow, StoredGarment
from models.tags.code import spoken

HOT_SURFACE = (
    "Hot press, pinching jaw, fumes: gloves, fresh air, the material maker's sheet, your local rules."
)
BACK_WORDS = {
    ScreenName.FLOOR: "To the floor",
    ScreenName.REVIEW: "Back to the review",
    ScreenName.FIND: "Back to Find",
}
TO_FLOOR = Button("To the floor", Action(Tap.TO_FLOOR))
SCAN_NEXT = Button("Scan the next", Action(Tap.TO_FLOOR), Tone.ATTENTION)


@dataclass(frozen=True, slots=True)
class GarmentView:
    header: Header
    rungs: tuple[Rung, ...]
    map: MapView
    card: Card
    can_mark: bool


def garment_view(flow: Flow) -> GarmentView:
    """The whole screen for the garment in hand, but for what the seconds change."""
    garment = flow.in_hand
    return GarmentView(
        header=header_of_garment(flow),
        rungs=rungs_of(garment, can_tick=is_checked(garment) and not flow.only_looks),
        map=map_of_step(garment.progress, flow.clock.utc_now()),
        card=card_of(flow),
        can_mark=is_checked(garment) and not flow.only_looks,
    )


def header_of(flow: Flow, title: str) -> Header:
    return Header(title, seat_words(flow))


def seat_words(flow: Flow) -> str:
    """Return who works where, and the time of day."""
    seat = flow.work.seat
    local = flow.clock.utc_now().astimezone()
    words = (seat.station, seat.person, f"{local:%H:%M}")
    return " · ".join(word for word in words if word)


def header_of_garment(flow: Flow) -> Header:
    """Return the head of every screen that is about the garment in hand."""
    return header_naming(flow, flow.in_hand)


def header_naming(flow: Flow, garment: StoredGarment) -> Header:
    return replace(header_of(flow, ""), garment=name_of(garment.row, garment.batch))


def is_checked(garment: StoredGarment) -> bool:
    """Return whether somebody looks at it edge by edge now."""
    return garment.progress.state == State.CHECKING and not short_pieces(garment)


def rungs_of(garment: StoredGarment, *, can_tick: bool) -> tuple[Rung, ...]:
    """The ladder: done, in hand, to come; the rung in hand can be ticked once its hit is to be checked, and
    no rung has a tick on which a piece is not right.
    """
    progress = garment.progress
    can_tick = can_tick and not progress.open_findings

    def state(index: int) -> RungState:
        if index < progress.done_steps:
            is_faulty = not progress.faulty.isdisjoint(progress.steps[index].hit.count)
            return RungState.FAULTY if is_faulty else RungState.DONE
        return RungState.CURRENT if index == progress.position else RungState.TO_COME

    return tuple(
        Rung(step.label, step.hit.side, state(index), can_tick and index == progress.position)
        for index, step in enumerate(progress.steps)
    )


def card_of(flow: Flow) -> Card:
    """The card of the phase that the garment is in."""
    garment = flow.in_hand
    if garment.row.taken_out:
        return taken_out_card(garment)
    if flow.only_looks:
        return look_card(garment, flow.looked_from)
    match garment.progress.state:
        case State.IDLE | State.LAYING:
            card = lay_card(garment.progress, flow.press.running.last_settings)
            card = _if_in_use(card, flow.press.running.holder(flow.pressing, garment))
        case State.PRESSING:
            card = ending_card(flow)
        case State.PEELING:
            card = _peeling_card(flow, garment)
        case State.RESTING:
            card = rest_card(garment.progress, flow.work.rest_of(garment.progress), _wait_of(flow, garment))
        case State.CHECKING:
            card = check_card(garment)
        case State.HELD:
            card = held_card(garment.progress)
        case State.COMPLETE | State.SPOILED:
            card = ended_card(garment)
    if garment.progress.state == State.PRESSING:
        # its answers say how the hit ended; one of them takes the closing back
        return replace(card, choices=(*card.choices, TO_FLOOR))
    leads_on = card.primary is not None and card.primary.action == TO_FLOOR.action
    floor = () if leads_on else (TO_FLOOR,)
    return replace(card, choices=(*card.choices, *floor, *take_back(garment)))


def look_card(garment: StoredGarment, looked_from: ScreenName) -> Card:
    """Of a garment that somebody looks up: looking stores nothing, and neither does a foot on the switch."""
    progress = garment.progress
    at = f"Hit {progress.step.label} of {progress.steps[-1].label}: {progress.state.value}"
    begun = f"{at}, at {progress.station}." if progress.state != State.IDLE else "Nobody has begun it."
    return Card(
        heading="Looked up",
        body=f"{begun} It is not taken up at this station.",
        answers=(Button("Take it up here", Action(Tap.OPEN_CODE, garment.row.code)),),
        choices=() if looked_from == ScreenName.FLOOR else (TO_FLOOR,),
        primary=Button(BACK_WORDS[looked_from], Action(Tap.BACK)),
    )


def _peeling_card(flow: Flow, garment: StoredGarment) -> Card:
    """What comes off now, or the wait until it does."""
    progress, work = garment.progress, flow.work
    rest, warm, wait = work.rest_of(progress), work.warm_wait_of(progress), _wait_of(flow, garment)
    if warm is not None and wait.left_s:
        return warm_wait_card(progress, rest, warm, wait)
    return peel_card(progress, rest, warm, work.rest_left_s(progress))


def _wait_of(flow: Flow, garment: StoredGarment) -> Wait:
    return Wait(
        left_s=whole_seconds_to(garment.progress.ready_at, flow.clock.utc_now()),
        is_doubtful=flow.work.this_run.is_doubtful(garment.row),
        following=next_groups(flow),
        onward=open_button(flow) or replace(TO_FLOOR, tone=Tone.ATTENTION),
    )


def lay_card(progress: Progress, last: Mapping[str, PressSetting]) -> Card:
    job, hit = progress.recipe.job, progress.hit
    lines = tuple(
        Line(material_line(material, labels), material.peel)
        for material, labels in pieces_by_material(job, hit.lay)
    )
    heading = f"Lay {count_of(len(hit.lay), 'piece')}, the filled" if hit.lay else "Lay nothing new"
    if hit.lay:
        heading += " one" if len(hit.lay) == 1 else " ones"
    again = Line(f"press again: {listed(job.piece(p).label for p in hit.count if p not in hit.lay)}")
    extra = () if len(hit.lay) == len(hit.count) else (again,)
    return Card(
        heading=heading_of(progress, "lay"),
        settings=settings_of(progress, last),
        warning=too_little_in_short(progress),
        groups=(Group(heading, (*lines, *extra)),),
        choices=(Button("Why these together?", Action(Tap.WHY)), WRONG),
        primary=Button(f"Laid. Press {hit.dwell_s} s", Action(Tap.CLOSE_PRESS), Tone.PRESS),
        caution=HOT_SURFACE,
    )


def _if_in_use(card: Card, holder: GarmentRow | None) -> Card:
    """A press that holds another garment cannot come down on this one: the way leads there first."""
    if holder is None:
        return card
    name = called_words(holder)
    to_holder = Button(f"To the press: {name}", Action(Tap.OPEN_CODE, holder.code), Tone.ATTENTION)
    told = f"{name} is still in the press. Open it, and say so there, before this one is pressed."
    return replace(card, body=told, primary=to_holder)


def settings_of(progress: Progress, last: Mapping[str, PressSetting]) -> tuple[Setting, ...]:
    """Press, temperature and seconds, pad and cover where they go in or come out; changes stand out.

    `last` is how each press was last closed, the one closed last at the end.
    """
    job, hit = progress.recipe.job, progress.hit
    own = last.get(hit.press)
    heat, dwell = _heat(hit, own), _dwell(hit, own)
    return (*_press(hit, last), heat, dwell, *_pad(job, hit, own), *_cover(progress, own))


def _press(hit: Hit, last: Mapping[str, PressSetting]) -> tuple[Setting, ...]:
    """Only where there are several."""
    if not hit.press:
        return ()
    if last and list(last)[-1] != hit.press:
        return (Setting(hit.press, "walk to this press", Tone.ATTENTION),)
    return (Setting(hit.press, "this press"),)


def _heat(hit: Hit, last: PressSetting | None) -> Setting:
    if last is None or last.temperature_c == hit.temperature_c:
        return Setting(celsius(hit.temperature_c), fahrenheit(hit.temperature_c))
    change = f"{fahrenheit(hit.temperature_c)} · change it from {degrees(last.temperature_c)}"
    return Setting(celsius(hit.temperature_c), change, Tone.ATTENTION)


def _dwell(hit: Hit, last: PressSetting | None) -> Setting:
    bare = "" if hit.pad or hit.cover else ", no pad or cover"
    words = f"{hit.pressure.value} pressure{bare}"
    if last is None or last.pressure == hit.pressure:
        return Setting(f"{hit.dwell_s} s", words)
    return Setting(f"{hit.dwell_s} s", f"{words} · change it from {last.pressure.value}", Tone.ATTENTION)


def _pad(job: Job, hit: Hit, last: PressSetting | None) -> tuple[Setting, ...]:
    if hit.pad:
        return (Setting("Pad in", f"under {raised_under(job, hit)}", Tone.ATTENTION),)
    return (Setting("Pad out", "this lies flat", Tone.ATTENTION),) if last and last.pad else ()


def _cover(progress: Progress, last: PressSetting | None) -> tuple[Setting, ...]:
    if progress.hit.cover:
        over = covered_under(progress)
        return (Setting("Cover on", f"over {over}" if over else "planned", Tone.ATTENTION),)
    return (Setting("Cover off", "bare platen", Tone.ATTENTION),) if last and last.cover else ()


def held_card(progress: Progress) -> Card:
    """Only a finger ends a hold: a foot that comes down once more goes on to the next garment."""
    go_on = "Go on with it" if is_begun(progress) else "Begin it"
    return Card(
        heading="Held",
        body=f"{progress.reason}. {_place_before(progress)}",
        choices=(
            Button("Spoil it …", Action(Tap.ASK_SPOIL, progress.reason)),
            Button(go_on, Action(Tap.RELEASE)),
        ),
        primary=replace(TO_FLOOR, tone=Tone.ATTENTION),
    )


def is_begun(progress: Progress) -> bool:
    return progress.before_hold != State.IDLE


def _place_before(progress: Progress) -> str:
    if progress.before_hold is None or not is_begun(progress):
        return "It has not been begun."
    return f"It was at hit {progress.step.label}, {progress.before_hold.value}."


def taken_out_card(garment: StoredGarment) -> Card:
    """It is put back only on purpose, on the screen that also says who took it out."""
    return Card(
        heading="Taken out of its batch",
        body=f"{garment.row.taken_out}. Do not press it.",
        choices=(Button("Put it back …", Action(Tap.CHANGE_GARMENT, garment.row.code)),),
        primary=SCAN_NEXT,
    )


def ended_card(garment: StoredGarment) -> Card:
    progress = garment.progress
    if progress.state == State.SPOILED:
        return spoiled_card(garment)
    faults = fault_groups(progress, "Let go as it is")
    return Card(
        heading="Done",
        body=f"All {len(progress.steps)} hits pressed, {'all else' if faults else 'all pieces'} down.",
        groups=faults,
        choices=(Button("Something lifts after all", Action(Tap.LOOK_CLOSER)),),
        primary=SCAN_NEXT,
    )


def spoiled_card(garment: StoredGarment) -> Card:
    row = garment.row
    again = f"It was made again as {spoken(row.remade_as)}." if row.remade_as else ""
    way = "To the new one …" if row.remade_as else "Make it again …"
    return Card(
        heading="Spoiled",
        body=f"{garment.progress.reason}. It takes no more hits; put it aside. {again}".rstrip(),
        choices=(Button(way, Action(Tap.CHANGE_GARMENT, row.code)),),
        primary=SCAN_NEXT,
    )


def take_back(garment: StoredGarment) -> tuple[Button, ...]:
    """Takes back the last tap, and says which one that is; none where nothing has been tapped."""
    what = last_happening(garment.log)
    if what is None:
        return ()
    return (Button(f"Take back {TAP_WORDS[kind_of(what)]}", Action(Tap.TAKE_BACK)),)

"""What the Garment screen says: the card of each phase, the ladder, the map, the countdown."""

from dataclasses import dataclass, replace
from datetime import datetime

from floorapp.flow import Flow, PressSetting, short_pieces, title_of
from floorapp.screens.map_presenter import map_of_step
from floorapp.screens.words import (
    FINDING_WORDS,
    TAP_WORDS,
    celsius,
    count_of,
    covered_under,
    fahrenheit,
    listed,
    material_line,
    minutes,
    peel_words,
    pieces_by_material,
    raised_under,
)
from floorapp.views import (
    Action,
    Button,
    Card,
    Group,
    Header,
    Line,
    Running,
    Setting,
    Tap,
    Tone,
)
from floorapp.widget_views import MapView, Rung, RungState
from models.errors import NoExtraHitError
from models.floor.work import REST_S, extra_hits
from models.garment.cycle import State
from models.garment.events import kind_of
from models.garment.progress import Progress, last_happening
from models.job.job import Job, Peel
from models.planning.plan import Hit, PeelStep
from models.store.records import StoredGarment

HOT_SURFACE = (
    "Hot press, pinching jaw, fumes: gloves, fresh air, the material maker's sheet, your local rules."
)
WRONG = Button("Something is wrong", Action(Tap.LOOK_CLOSER))
TO_FLOOR = Button("To the floor", Action(Tap.TO_FLOOR))
HOW_TO_PEEL = {
    Peel.HOT: "Now, while it is hot",
    Peel.WARM: "When it is warm: count to ten first",
    Peel.COLD: "After the rest, cold",
}


@dataclass(frozen=True, slots=True)
class GarmentView:
    header: Header
    rungs: tuple[Rung, ...]
    map: MapView
    card: Card


def garment_view(flow: Flow) -> GarmentView:
    """The whole screen for the garment in hand, but for what the seconds change."""
    garment = flow.in_hand
    return GarmentView(
        header=header_of(flow, title_of(garment.row, garment.batch.garments)),
        rungs=rungs_of(garment),
        map=map_of_step(garment.progress),
        card=card_of(flow),
    )


def header_of(flow: Flow, title: str) -> Header:
    seat = flow.work.seat
    local = flow.clock.utc_now().astimezone()
    words = (seat.station, seat.person, f"{local:%H:%M}")
    return Header(title, " · ".join(word for word in words if word))


def rungs_of(garment: StoredGarment) -> tuple[Rung, ...]:
    """The ladder: done, in hand, to come; the rung in hand can be ticked once its hit is to be checked."""
    progress = garment.progress
    can_tick = progress.state == State.CHECKING and not short_pieces(garment)

    def state(index: int) -> RungState:
        if index < progress.done_steps:
            return RungState.DONE
        return RungState.CURRENT if index == progress.position else RungState.TO_COME

    return tuple(
        Rung(step.label, step.hit.side, state(index), can_tick and index == progress.position)
        for index, step in enumerate(progress.steps)
    )


def card_of(flow: Flow) -> Card:
    """The card of the phase that the garment is in."""
    garment = flow.in_hand
    match garment.progress.state:
        case State.IDLE | State.LAYING:
            card = lay_card(garment.progress, flow.last_setting)
        case State.PRESSING:
            card = interrupted_card(garment.progress, flow.clock.utc_now())
        case State.PEELING:
            card = peel_card(garment.progress)
        case State.RESTING:
            card = rest_card(garment.progress, flow.clock.utc_now())
        case State.CHECKING:
            card = check_card(garment)
        case State.HELD:
            card = held_card(garment.progress)
        case State.COMPLETE | State.SPOILED:
            card = ended_card(garment.progress)
    if garment.progress.state == State.PRESSING:
        return card  # its answers say how the hit ended; one of them takes the closing back
    return replace(card, choices=(*card.choices, *take_back(garment)))


def heading_of(progress: Progress, phase: str) -> str:
    return f"Hit {progress.step.label} of {progress.steps[-1].label}: {phase}"


def lay_card(progress: Progress, last: PressSetting | None) -> Card:
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
        body="" if hit.pad or hit.cover else "No pad and no cover sheet.",
        settings=settings_of(job, hit, last),
        groups=(Group(heading, (*lines, *extra)),),
        choices=(Button("Why these together?", Action(Tap.WHY)), WRONG),
        primary=Button(f"Laid. Press {hit.dwell_s} s", Action(Tap.CLOSE_PRESS), Tone.PRESS),
        caution=HOT_SURFACE,
    )


def settings_of(job: Job, hit: Hit, last: PressSetting | None) -> tuple[Setting, ...]:
    """Temperature and seconds, and pad and cover where they go in or come out; changes stand out."""
    return (_heat(hit, last), _dwell(hit, last), *_pad(job, hit, last), *_cover(job, hit, last))


def _heat(hit: Hit, last: PressSetting | None) -> Setting:
    if last is None or last.temperature_c == hit.temperature_c:
        return Setting(celsius(hit.temperature_c), fahrenheit(hit.temperature_c))
    change = f"{fahrenheit(hit.temperature_c)} · change it from {celsius(last.temperature_c)}"
    return Setting(celsius(hit.temperature_c), change, Tone.ATTENTION)


def _dwell(hit: Hit, last: PressSetting | None) -> Setting:
    if last is None or last.pressure == hit.pressure:
        return Setting(f"{hit.dwell_s} s", f"{hit.pressure.value} pressure")
    change = f"{hit.pressure.value} pressure · change it from {last.pressure.value}"
    return Setting(f"{hit.dwell_s} s", change, Tone.ATTENTION)


def _pad(job: Job, hit: Hit, last: PressSetting | None) -> tuple[Setting, ...]:
    if hit.pad:
        return (Setting("Pad in", f"under {raised_under(job, hit)}", Tone.ATTENTION),)
    return (Setting("Pad out", "this lies flat", Tone.ATTENTION),) if last and last.pad else ()


def _cover(job: Job, hit: Hit, last: PressSetting | None) -> tuple[Setting, ...]:
    if hit.cover:
        return (Setting("Cover on", f"over {covered_under(job, hit)}", Tone.ATTENTION),)
    return (Setting("Cover off", "bare platen", Tone.ATTENTION),) if last and last.cover else ()


def interrupted_card(progress: Progress, now: datetime) -> Card:
    """Asked where a hit ran on while nobody counted: app closed, battery, another station."""
    closed_at = progress.closed_at or now
    ago = minutes(max(0, int((now - closed_at).total_seconds())))
    dwell = progress.hit.dwell_s
    return Card(
        heading=heading_of(progress, "was it finished?"),
        body=(
            f"The press came down at {closed_at.astimezone():%H:%M:%S}, {ago} ago, for {dwell} s, and the "
            "countdown was cut off. Look at the garment, then say how the hit ended."
        ),
        answers=(
            Button(f"Yes, pressed the full {dwell} s", Action(Tap.PRESS_IS_OPEN), Tone.DONE),
            Button("Opened early: tell the seconds", Action(Tap.OPENED_EARLY)),
            Button("No, the press never came down", Action(Tap.NEVER_CLOSED)),
        ),
    )


def running_of(flow: Flow) -> Running | None:
    """The countdown of the garment in hand; None where none runs."""
    countdown = flow.countdown
    if countdown is None:
        return None
    progress = flow.in_hand.progress
    hit, is_over = progress.hit, countdown.is_over(flow.clock)
    opened = Button("The press is open", Action(Tap.PRESS_IS_OPEN), Tone.PRESS)
    early = Button("Opened early", Action(Tap.OPENED_EARLY))
    mistake = Button("Take back the closing", Action(Tap.TAKE_BACK))
    after = peel_words(hit)
    words = f"of {hit.dwell_s} s · {celsius(hit.temperature_c)} · {hit.pressure.value} · {after}"
    return Running(
        heading=heading_of(progress, "open the press" if is_over else "pressing"),
        left_s=countdown.left_s(flow.clock),
        fraction_left=countdown.fraction_left(flow.clock),
        words=words,
        is_over=is_over,
        choices=() if is_over else (early, mistake),
        primary=opened if is_over else None,
    )


def peel_card(progress: Progress) -> Card:
    groups = peel_groups(progress.recipe.job, progress.to_peel)
    if progress.next_peel == Peel.COLD:
        return _cold_card(progress, groups)
    kinds = {step.when for step in progress.to_peel}
    then = ". Rest it" if Peel.COLD in kinds and len(kinds) == 2 else ""
    word = progress.next_peel.value
    return Card(
        heading=heading_of(progress, "peel"),
        groups=groups,
        choices=(WRONG,),
        primary=Button(f"{word.capitalize()} ones off{then}", Action(Tap.PEEL, word), Tone.PRESS),
        caution="Low and even, in one pull, away from the press. Gloves: the pieces are hot.",
    )


def _cold_card(progress: Progress, groups: tuple[Group, ...]) -> Card:
    warm = Button("Try it warm: they are off", Action(Tap.PEEL, Peel.WARM.value))
    if progress.rested:
        off = Button("Cold ones off", Action(Tap.PEEL, Peel.COLD.value), Tone.REST)
        return Card(heading_of(progress, "peel"), groups=groups, choices=(WRONG,), primary=off)
    return Card(
        heading=heading_of(progress, "rest"),
        body="Off the press and flat on the table. It stays hot if it is left on the pad.",
        groups=groups,
        choices=(warm, WRONG),
        primary=Button(f"Rest it {minutes(REST_S)}", Action(Tap.REST), Tone.REST),
    )


def peel_groups(job: Job, steps: tuple[PeelStep, ...]) -> tuple[Group, ...]:
    """What comes off when: hot, then warm, then cold."""
    groups = []
    for when, heading in HOW_TO_PEEL.items():
        pieces = [step.piece for step in steps if step.when == when]
        lines = tuple(
            Line(f"{len(labels)} × {material.label}: {listed(labels)}", when)
            for material, labels in pieces_by_material(job, pieces)
        )
        if lines:
            groups.append(Group(heading, lines, Tone.REST if when == Peel.COLD else Tone.PRESS))
    return tuple(groups)


def rest_card(progress: Progress, now: datetime) -> Card:
    ends_at = progress.rest_ends_at or now
    groups = peel_groups(progress.recipe.job, progress.to_peel)
    if ends_at <= now:
        return Card(
            heading=heading_of(progress, "peel"),
            groups=groups,
            choices=(WRONG,),
            primary=Button("Cold ones off", Action(Tap.PEEL, Peel.COLD.value), Tone.REST),
            caution="Feel the back of the fabric first: no warmth left. If it is warm, let it rest on.",
        )
    return Card(
        heading=heading_of(progress, "resting"),
        body=f"Leave it flat until {ends_at.astimezone():%H:%M:%S}. Meanwhile scan another garment.",
        groups=groups,
        choices=(Button("Try it warm: they are off", Action(Tap.PEEL, Peel.WARM.value)),),
        primary=Button("To the floor", Action(Tap.TO_FLOOR), Tone.ATTENTION),
    )


def check_card(garment: StoredGarment) -> Card:
    progress = garment.progress
    missing = short_pieces(garment)
    if missing:
        return _short_card(progress, missing)
    last = progress.is_last_step
    return Card(
        heading=heading_of(progress, "check"),
        body="Rub each edge once. Tap on the map what is not right.",
        groups=(Group("Just pressed", pressed_lines(progress)), *open_finding_groups(progress)),
        choices=(WRONG,),
        primary=Button("All down. It is done" if last else "All down", Action(Tap.PASS), Tone.DONE),
    )


def open_finding_groups(progress: Progress) -> tuple[Group, ...]:
    """What was found before and is not yet mended: a hold does not make it good."""
    job = progress.recipe.job
    lines = tuple(
        Line(f"{FINDING_WORDS[found.kind]}: {listed(job.piece(piece).label for piece in found.pieces)}")
        for found in progress.open_findings
    )
    return (Group("Found before, still open", lines, Tone.HELD),) if lines else ()


def pressed_lines(progress: Progress) -> tuple[Line, ...]:
    pieces = pieces_by_material(progress.recipe.job, progress.hit.count)
    return tuple(Line(f"{len(labels)} × {material.label}: {listed(labels)}") for material, labels in pieces)


def _short_card(progress: Progress, missing: dict[str, int]) -> Card:
    """After an early opening: the missing seconds are pressed, or the reason says why they cannot be."""
    job = progress.recipe.job
    lines = tuple(Line(f"{job.piece(piece).label}: {seconds} s short") for piece, seconds in missing.items())
    groups = (Group("Opened early, not down yet", lines, Tone.HELD),)
    try:
        hits = extra_hits(progress, missing)
    except NoExtraHitError as error:
        return Card(
            heading_of(progress, "not down"),
            body=str(error),
            groups=groups,
            primary=Button("Hold or spoil it", Action(Tap.LOOK_CLOSER), Tone.HELD),
        )
    seconds = " + ".join(f"{hit.dwell_s} s" for hit in hits)
    return Card(
        heading_of(progress, "not down yet"),
        groups=groups,
        choices=(WRONG,),
        primary=Button(f"Press it on: {seconds}", Action(Tap.PRESS_REMAINDER), Tone.PRESS),
    )


def held_card(progress: Progress) -> Card:
    return Card(
        heading="Held",
        body=f"{progress.reason}. It was at hit {progress.step.label}, {_phase_before(progress)}.",
        choices=(TO_FLOOR, Button("Spoil it", Action(Tap.SPOIL, progress.reason))),
        primary=Button("Go on with it", Action(Tap.RELEASE), Tone.ATTENTION),
    )


def _phase_before(progress: Progress) -> str:
    return progress.before_hold.value if progress.before_hold else "not begun"


def ended_card(progress: Progress) -> Card:
    scan_next = Button("Scan the next", Action(Tap.TO_FLOOR), Tone.ATTENTION)
    if progress.state == State.SPOILED:
        return Card(
            heading="Spoiled",
            body=f"{progress.reason}. It takes no more hits; put it aside.",
            primary=scan_next,
        )
    return Card(
        heading="Done",
        body=f"All {len(progress.steps)} hits pressed, all pieces down.",
        choices=(Button("Something lifts after all", Action(Tap.LOOK_CLOSER)),),
        primary=scan_next,
    )


def take_back(garment: StoredGarment) -> tuple[Button, ...]:
    """Takes back the last tap, and says which one that is; none where nothing has been tapped."""
    what = last_happening(garment.log)
    if what is None:
        return ()
    return (Button(f"Take back {TAP_WORDS[kind_of(what)]}", Action(Tap.TAKE_BACK)),)

"""What the Set-up screen says: the folder, the chosen job's plan or faults, and the next step."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from floorapp.flow import Flow
from floorapp.planned_job import PlannedJob, Way, planned_hits, ways_of
from floorapp.screens.garment_presenter import header_of
from floorapp.screens.heat_presenter import too_little_groups
from floorapp.screens.words import count_of, degrees, plan_words
from floorapp.set_up_flow import Entry, SetUpPhase, SetUpState
from floorapp.views import Action, Button, Group, Header, Line, Tap, Tone
from floorapp.widget_views import MapPiece, MapView, Role
from models.job.job import Job
from models.job.sizes import sizes_of
from models.plan.plan import Hit, Plan
from models.recipe.heat_finding import HeatFinding

TAP_A_HIT = "Tap a hit for its reasons and its heat."
PAPER_WORDS = {"a4": "A4", "letter": "Letter"}


@dataclass(frozen=True, slots=True)
class HitMapView:
    """One hit of the plan, to be tapped; `warning` stands under its title."""

    title: str
    map: MapView
    warning: str
    action: Action


@dataclass(frozen=True, slots=True)
class SetUpView:
    header: Header
    folder: str
    entries: tuple[Button, ...]
    heading: str
    body: str
    groups: tuple[Group, ...]
    maps: tuple[HitMapView, ...]
    choices: tuple[Button, ...]
    primary: Button | None


def set_up_view(flow: Flow) -> SetUpView:
    state = flow.set_up.state
    heading, body, groups = _told(state)
    return SetUpView(
        header=header_of(flow, "Set-up"),
        folder=folder_words(state.folder),
        entries=tuple(entry_button(entry, state.chosen) for entry in state.entries),
        heading=heading,
        body=body,
        groups=groups,
        maps=hit_maps(state.planned) if state.planned and state.phase == SetUpPhase.PLANNED else (),
        choices=_choices(state),
        primary=_primary(state),
    )


def folder_words(folder: Path) -> str:
    """The folder by its last two names: a whole path does not fit and is not read."""
    return str(Path("…", *folder.parts[-2:])) if len(folder.parts) > 2 else str(folder)


def entry_button(entry: Entry, chosen: Path | None) -> Button:
    if entry.is_folder:
        return Button(f"{entry.text} ›", Action(Tap.OPEN_FOLDER, str(entry.path)))
    is_chosen = entry.path == chosen
    return Button(entry.text, Action(Tap.CHOOSE_FILE, str(entry.path)), is_chosen=is_chosen)


Told = tuple[str, str, tuple[Group, ...]]


def _told(state: SetUpState) -> Told:
    told: Told
    name = state.chosen.name if state.chosen else ""
    match state.phase:
        case SetUpPhase.CHOOSING:
            told = ("Choose a job file", "Its hits are worked out; nothing is stored before you say so.", ())
        case SetUpPhase.READING | SetUpPhase.WRITING:
            told = (name or "Tags", state.progress, ())
        case SetUpPhase.REFUSED:
            heading = count_of(len(state.refusal), "fault")
            told = ("Refused, nothing stored", "", (_why_not(heading, state.refusal),))
        case SetUpPhase.UNWRITTEN:
            why = _why_not("Why not", state.refusal)
            told = ("Tags not written", "The batch is stored. Mend this, then print them again.", (why,))
        case SetUpPhase.PLANNED:
            told = _planned(state.planned) if state.planned else (name, "", ())
        case SetUpPhase.LOADED:
            told = ("Loaded", f"{state.batch.name if state.batch else ''} is stored. Now print its tags.", ())
        case SetUpPhase.WRITTEN:
            told = ("Tags written", f"Every symbol was read back. Print at 100 %: {state.written}", ())
    return told


def _why_not(heading: str, lines: Sequence[str]) -> Group:
    return Group(heading, tuple(Line(line) for line in lines), Tone.HELD)


def _planned(planned: PlannedJob) -> Told:
    job = planned.job
    words = f"{job.reference} · {count_of(len(job.garments), 'garment')} · {plan_words(planned.plan)}"
    if not planned.heat_findings:
        words = f"{words} By the estimate, every piece has its time at heat."
    differs = tuple(Line(sentence) for sentence in planned.plan.differs)
    sizes = (Group("Sizes that differ", differs),) if differs else ()
    groups = (*_to_look_at(planned), *too_little_groups(planned.heat_findings), *sizes)
    return job.name, f"{words} {TAP_A_HIT}", groups


def _to_look_at(planned: PlannedJob) -> tuple[Group, ...]:
    """What was left out of the roster, and which names no font can draw."""
    lines = tuple(Line(remark) for remark in planned.remarks)
    return (Group("Look at this before you load", lines, Tone.ATTENTION),) if lines else ()


def hit_maps(planned: PlannedJob) -> tuple[HitMapView, ...]:
    """Each hit on its side, with its platen: those of most garments, then of sizes worked otherwise."""
    drawn = [entry for way in ways_of(planned) for entry in maps_of(way.job, way.plan)]
    return tuple(
        HitMapView(
            title=_title_of(way, hit),
            map=side_map,
            warning="too little heat" if _is_short(way, hit, planned.heat_findings) else "",
            action=Action(Tap.LOOK_AT_HIT, str(place)),
        )
        for place, ((way, hit), side_map) in enumerate(zip(planned_hits(planned), drawn, strict=True))
    )


def _title_of(way: Way, hit: Hit) -> str:
    title = "\n".join(hit_title(hit))
    return f"Size {', '.join(way.sizes)}: {title}" if way.sizes else title


def _is_short(way: Way, hit: Hit, findings: Sequence[HeatFinding]) -> bool:
    sizes = way.sizes or sizes_of(way.job)[:1]
    return any(found.hit_n == hit.n and any(map(found.is_about, sizes)) for found in findings)


def maps_of(job: Job, plan: Plan) -> tuple[MapView, ...]:
    """The side of each hit of a plan, as it looks then."""
    maps, down = [], set[str]()
    for hit in plan.hits:
        pieces = tuple(
            MapPiece(piece, _role(piece.id, hit, down)) for piece in job.pieces if piece.side == hit.side
        )
        maps.append(MapView(job.side(hit.side), pieces, hit.platen))
        down |= set(hit.lay)
    return tuple(maps)


def hit_title(hit: Hit) -> tuple[str, str, str]:
    """One hit of a plan in three short lines: where, how hot, how long."""
    aids = [word for word, wanted in (("pad", hit.pad), ("cover", hit.cover)) if wanted]
    place = f"{hit.side}, {hit.press}" if hit.press else hit.side
    return (f"Hit {hit.n}, {place}", degrees(hit.temperature_c), " · ".join((f"{hit.dwell_s} s", *aids)))


def title_in_two_lines(hit: Hit) -> str:
    where, *setting = hit_title(hit)
    return f"{where}\n{' · '.join(setting)}"


def _role(piece: str, hit: Hit, down: set[str]) -> Role:
    if piece in hit.lay or piece in hit.count:
        return Role.NOW
    return Role.DOWN if piece in down else Role.LATER


def _choices(state: SetUpState) -> tuple[Button, ...]:
    match state.phase:
        case SetUpPhase.READING:
            return (Button("Take the best so far", Action(Tap.STOP_PLANNING)),)
        case SetUpPhase.PLANNED:
            return (Button("What if …", Action(Tap.WHAT_IF)),)
        case SetUpPhase.LOADED | SetUpPhase.UNWRITTEN:
            return tuple(
                Button(words, Action(Tap.CHOOSE_PAPER, paper), is_chosen=paper == state.paper)
                for paper, words in PAPER_WORDS.items()
            )
        case _:
            return ()


def _primary(state: SetUpState) -> Button | None:
    match state.phase:
        case SetUpPhase.PLANNED:
            return Button("Load the batch", Action(Tap.LOAD_BATCH), Tone.PRESS)
        case SetUpPhase.LOADED | SetUpPhase.UNWRITTEN:
            reference = state.batch.reference if state.batch else ""
            return Button("Print its tags", Action(Tap.WRITE_TAGS, reference), Tone.PRESS)
        case SetUpPhase.WRITTEN:
            return Button("To the floor", Action(Tap.TO_FLOOR), Tone.ATTENTION)
        case _:
            return None

"""What the What-if screen says: the tried plan hit by hit, the totals before and after, and the steps."""

from dataclasses import dataclass

from floorapp.flow import Flow
from floorapp.screens.garment_presenter import header_of
from floorapp.screens.set_up_presenter import hit_title, maps_of
from floorapp.screens.words import count_of
from floorapp.views import Action, Button, Group, Header, Line, Tap, Tone
from floorapp.what_if_flow import MATERIAL, PIECE, PLATEN, WhatIf
from floorapp.widget_views import MapPiece, MapView, Role
from models.job.job import Job, Material
from models.job.sizes import job_for_most
from models.planning.plan import PlanStatus
from models.planning.what_if import Compared, changes, compared

PLATEN_STEP_MM, PIECE_STEP_MM = 10, 5
KEPT = "Nothing is stored. A batch on the floor keeps its frozen hits."
NUMBERS = {
    "lowest_c": ("lowest", "°C"),
    "set_c": ("set", "°C"),
    "hottest_c": ("hottest", "°C"),
    "least_s": ("least", "s"),
    "longest_s": ("longest", "s"),
}


@dataclass(frozen=True, slots=True)
class WhatIfView:
    header: Header
    map: MapView
    hit: str
    turns: tuple[Button, ...]
    heading: str
    totals: str
    kept: str
    news: tuple[Group, ...]
    groups: tuple[Group, ...]
    subjects: tuple[Button, ...]
    steps: tuple[Button, ...]
    choices: tuple[Button, ...]
    primary: Button


def what_if_view(flow: Flow) -> WhatIfView:
    state = flow.what_if.state
    if state is None:
        raise LookupError("no job is being tried")
    title, side_map = _shown(state)
    return WhatIfView(
        header=header_of(flow, f"What if · {state.job.name}"),
        map=side_map,
        hit=title,
        turns=_turns(state),
        heading=_heading(state),
        totals=" · ".join(_row(row) for row in _rows(state)),
        kept=KEPT,
        news=_news(state),
        groups=(Group("Changed", _changes(state)),),
        subjects=_subjects(state),
        steps=_steps(state),
        choices=_choices(state),
        primary=Button("Back", Action(Tap.BACK)),
    )


def _shown(state: WhatIf) -> tuple[str, MapView]:
    """The hit that is looked at; without a plan the side of the piece that is being moved, or the first."""
    job = job_for_most(state.tried)
    if state.tried_plan is not None and state.tried_plan.hits:
        hits = state.tried_plan.hits
        place = min(state.hit, len(hits) - 1)
        _, side_map = maps_of(job, state.tried_plan)[place]
        return hit_title(hits[place]), side_map
    kind, name = state.subject
    side = job.piece(name).side if kind == PIECE else job.pieces[0].side
    pieces = tuple(MapPiece(piece, Role.LATER) for piece in job.pieces if piece.side == side)
    return f"No plan yet\n{side}", MapView(job.side(side), pieces)


def _turns(state: WhatIf) -> tuple[Button, ...]:
    hits = len(state.tried_plan.hits) if state.tried_plan is not None else 0
    if hits < 2:
        return ()
    before, after = (state.hit - 1) % hits, (state.hit + 1) % hits
    return (
        Button("‹ Hit before", Action(Tap.TURN_TO_HIT, str(before))),
        Button("Next hit ›", Action(Tap.TURN_TO_HIT, str(after))),
    )


def _news(state: WhatIf) -> tuple[Group, ...]:
    """Why there is no plan, or how far it is."""
    if state.refusal:
        return (Group("Why", tuple(Line(line) for line in state.refusal.splitlines()), Tone.HELD),)
    return (Group("", (Line(state.progress),), Tone.ATTENTION),) if state.progress else ()


def _changes(state: WhatIf) -> tuple[Line, ...]:
    told = tuple(Line(words) for words in changes(state.job, state.tried))
    return told or (Line("nothing yet"),)


def _heading(state: WhatIf) -> str:
    if state.tried_plan is None:
        return "No plan" if state.refusal else "Planning …"
    if state.progress:
        return f"{count_of(len(state.tried_plan.hits), 'hit')} so far"
    hits = count_of(len(state.tried_plan.hits), "hit")
    if state.tried_plan.status == PlanStatus.OPTIMAL:
        return f"{hits}, proved the fewest"
    return f"{hits}, at least {state.tried_plan.lower_bound}"


def _rows(state: WhatIf) -> list[Compared]:
    """The totals that are not nothing before and after."""
    return [row for row in compared(state.plan, state.tried_plan) if row.before or row.after]


def _row(row: Compared) -> str:
    if row.after is None:
        return f"{row.name}: {row.before}, now none"
    if row.after == row.before:
        return f"{row.name}: {row.before}, the same"
    far = abs(row.after - row.before)
    return f"{row.name}: {row.before}, now {row.after}: {far} {'fewer' if row.after < row.before else 'more'}"


def _subjects(state: WhatIf) -> tuple[Button, ...]:
    """What can be changed: a platen, a material; a piece is tapped on the map."""
    presses = [(f"{PLATEN} {n}", f"Platen {press.name}".strip()) for n, press in enumerate(state.job.presses)]
    materials = [(f"{MATERIAL} {material.key}", material.label) for material in used_materials(state.job)]
    chosen = " ".join(state.subject)
    buttons = [
        Button(words, Action(Tap.TRY_WHAT, subject), is_chosen=subject == chosen)
        for subject, words in (*presses, *materials)
    ]
    kind, name = state.subject
    if kind == PIECE:
        buttons.append(Button(state.tried.piece(name).label, Action(Tap.TRY_WHAT, chosen), is_chosen=True))
    return tuple(buttons)


def used_materials(job: Job) -> list[Material]:
    used = {piece.material for piece in job.pieces}
    return [material for material in job.materials if material.key in used]


def _steps(state: WhatIf) -> tuple[Button, ...]:
    """A row that takes less of each number, and below it one that takes more."""
    kind, name = state.subject
    if kind == PLATEN:
        press = state.tried.presses[int(name)]
        numbers = [
            ("wider", f"width mm\n{press.platen_width_mm:g}", PLATEN_STEP_MM),
            ("higher", f"height mm\n{press.platen_height_mm:g}", PLATEN_STEP_MM),
        ]
    elif kind == MATERIAL:
        material = state.tried.material(name)
        numbers = [
            (number, f"{word} {unit}\n{getattr(material, number):g}", 1)
            for number, (word, unit) in NUMBERS.items()
        ]
    else:
        numbers = [("right", "across mm\n", PIECE_STEP_MM), ("down", "down mm\n", PIECE_STEP_MM)]
    signs = {"−": -1, "+": 1}
    return tuple(
        Button(f"{words} {sign} {step}", Action(Tap.TRY_STEP, f"{number} {of_sign * step}"))
        for sign, of_sign in signs.items()
        for number, words, step in numbers
    )


def _choices(state: WhatIf) -> tuple[Button, ...]:
    stop = (Button("Take the best so far", Action(Tap.STOP_TRY)),) if state.progress else ()
    undo = (Button("Back to the job as it is", Action(Tap.UNDO_TRY)),) if state.tried != state.job else ()
    return (*stop, *undo)

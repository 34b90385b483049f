"""What the What-if screen says: both plans hit by hit, the totals before and after, and the steps."""

from dataclasses import dataclass

from floorapp.flow import Flow
from floorapp.screens.garment_presenter import header_of
from floorapp.screens.set_up_presenter import maps_of, title_in_two_lines
from floorapp.screens.words import count_of
from floorapp.views import Action, Button, Group, Header, Line, Tap, Tone
from floorapp.what_if_flow import MATERIAL, PIECE, PLATEN, WhatIf
from floorapp.widget_views import HitShown, MapPiece, MapView, Role, TotalRow
from models.job.job import Job, Material
from models.job.sizes import job_for_most
from models.plan.plan import Plan, PlanStatus
from models.planning.what_if import WALKS, Compared, changes, compared
from models.units import celsius_to_fahrenheit

PLATEN_STEP_MM = 10
PIECE_STEPS_MM = (5, 1)
WAYS = {"left": ("right", -1), "right": ("right", 1), "up": ("down", -1), "down": ("down", 1)}
TRIED = "Tried (tap or drag a piece)"
KEPT = "A batch on the floor keeps its frozen hits, whatever is tried here."
NUMBERS = {
    "lowest_c": ("lowest", "°C"),
    "set_c": ("set", "°C"),
    "hottest_c": ("hottest", "°C"),
    "least_s": ("least", "s"),
    "longest_s": ("longest", "s"),
}


@dataclass(frozen=True, slots=True)
class WhatIfView:
    """`before` and `now` are the same hit of the plan as it is and of the tried one."""

    header: Header
    before: HitShown
    now: HitShown
    turns: tuple[Button, ...]
    heading: str
    totals: tuple[TotalRow, ...]
    kept: str
    why: tuple[Group, ...]
    groups: tuple[Group, ...]
    subjects: tuple[Button, ...]
    steps: tuple[Button, ...]
    moves_piece: bool
    choices: tuple[Button, ...]
    primary: Button


def what_if_view(flow: Flow) -> WhatIfView:
    state = flow.what_if.state
    if state is None:
        raise LookupError("no job is being tried")
    return WhatIfView(
        header=header_of(flow, f"What if · {state.job.name} · nothing is stored"),
        before=_shown(state, state.job, state.plan, "As it is"),
        now=_shown(state, state.tried, state.tried_plan, TRIED),
        turns=_turns(state),
        heading=_heading(state),
        totals=_totals(state),
        kept=KEPT,
        why=_why(state),
        groups=(Group("Changed", _changes(state)),),
        subjects=_subjects(state),
        steps=_steps(state),
        moves_piece=state.subject[0] == PIECE,
        choices=_choices(state),
        primary=Button("Back", Action(Tap.BACK)),
    )


def _most_hits(state: WhatIf) -> int:
    return max(len(plan.hits) for plan in (state.plan, state.tried_plan) if plan is not None)


def _place(state: WhatIf) -> int:
    """The hit that is looked at; the tried plan may have fewer than the one before it."""
    return max(0, min(state.hit, _most_hits(state) - 1))


def _shown(state: WhatIf, job: Job, plan: Plan | None, whose: str) -> HitShown:
    """The hit that is looked at; where this plan has none such, the side as it is after its last one."""
    job, place = job_for_most(job), _place(state)
    if plan is None:
        told = "no plan" if state.refusal else "planning …"
        return HitShown(f"{whose}: {told}\n", _side_of(job, _side_looked_at(state), Role.LATER))
    if place >= len(plan.hits):
        side = plan.hits[-1].side if plan.hits else job.sides[0].name
        return HitShown(f"{whose}: no hit {place + 1}\nall is down before", _side_of(job, side, Role.DOWN))
    return HitShown(f"{whose}: {title_in_two_lines(plan.hits[place])}", maps_of(job, plan)[place])


def _side_looked_at(state: WhatIf) -> str:
    """Without a plan: that of the piece that is being moved, or of the hit before the try."""
    kind, name = state.subject
    if kind == PIECE:
        return state.job.piece(name).side
    hits = state.plan.hits
    return hits[min(_place(state), len(hits) - 1)].side if hits else state.job.sides[0].name


def _side_of(job: Job, side: str, role: Role) -> MapView:
    pieces = tuple(MapPiece(piece, role) for piece in job.pieces if piece.side == side)
    return MapView(job.side(side), pieces)


def _turns(state: WhatIf) -> tuple[Button, ...]:
    hits, place = _most_hits(state), _place(state)
    if hits < 2:
        return ()
    before, after = (place - 1) % hits, (place + 1) % hits
    return (
        Button("‹ Hit before", Action(Tap.TURN_TO_HIT, str(before))),
        Button("Next hit ›", Action(Tap.TURN_TO_HIT, str(after))),
    )


def _why(state: WhatIf) -> tuple[Group, ...]:
    """Why there is no plan."""
    if not state.refusal:
        return ()
    return (Group("Why", tuple(Line(line) for line in state.refusal.splitlines()), Tone.HELD),)


def _changes(state: WhatIf) -> tuple[Line, ...]:
    told = tuple(Line(words) for words in changes(state.job, state.tried))
    return told or (Line("nothing yet"),)


def _heading(state: WhatIf) -> str:
    if state.tried_plan is None:
        return _why_none(state) if state.refusal else "Planning …"
    hits = count_of(len(state.tried_plan.hits), "hit")
    if state.is_planning:
        return f"{hits} so far, at least {state.tried_plan.lower_bound}"
    if state.tried_plan.status == PlanStatus.OPTIMAL:
        return f"{hits}, proved the fewest"
    return f"{hits}, at least {state.tried_plan.lower_bound}"


def _why_none(state: WhatIf) -> str:
    return "No plan is possible" if state.is_proved_none else "No plan was found"


def _totals(state: WhatIf) -> tuple[TotalRow, ...]:
    """All that counts, in its order; walks only where there are several presses; none without a plan."""
    if state.refusal:
        return ()
    rows = compared(state.plan, state.tried_plan)
    return tuple(_row(row) for row in rows if row.name != WALKS or state.job.more_presses)


def _row(row: Compared) -> TotalRow:
    if row.after is None:
        return TotalRow(row.name, str(row.before), "…")
    more = row.after - row.before
    told = f"{row.after} ({'+' if more > 0 else '−'}{abs(more)})" if more else str(row.after)
    return TotalRow(row.name, str(row.before), told, is_other=bool(more))


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
    """For each number a step that takes less and one that takes more; for a piece the four ways."""
    kind, name = state.subject
    if kind == PIECE:
        return tuple(_move(way, step) for step in PIECE_STEPS_MM for way in WAYS)
    if kind == PLATEN:
        press = state.tried.presses[int(name)]
        numbers = [
            ("wider", "width", "mm", press.platen_width_mm, PLATEN_STEP_MM),
            ("higher", "height", "mm", press.platen_height_mm, PLATEN_STEP_MM),
        ]
    else:
        material = state.tried.material(name)
        numbers = [(key, *words, getattr(material, key), 1) for key, words in NUMBERS.items()]
    return tuple(_step(*number, more=more) for number in numbers for more in (False, True))


def _step(key: str, word: str, unit: str, now: float, step: int, *, more: bool) -> Button:
    change = step if more else -step
    then = now + change
    told = f"{word}\n{now:.4g}→{then:.4g} {unit}"
    if unit == "°C":
        told += f"\n{celsius_to_fahrenheit(now):.0f}→{celsius_to_fahrenheit(then):.0f} °F"
    return Button(told, Action(Tap.TRY_STEP, f"{key} {change}"))


def _move(way: str, step_mm: int) -> Button:
    key, sign = WAYS[way]
    return Button(f"{step_mm} mm\n{way}", Action(Tap.TRY_STEP, f"{key} {sign * step_mm}"))


def _choices(state: WhatIf) -> tuple[Button, ...]:
    stop = (Button("Take the best so far", Action(Tap.STOP_TRY)),) if state.is_planning else ()
    undo = (Button("Undo all changes", Action(Tap.UNDO_TRY)),) if state.tried != state.job else ()
    return (*stop, *undo)

"""The next garment as the screens call it, and when the batches will be done."""

from collections.abc import Mapping

from floorapp.flow import Flow
from floorapp.screens.end_words import end_words
from floorapp.screens.naming import called_words, place_words, tag_words, wearer_words
from floorapp.screens.words import count_of, minutes
from floorapp.views import Action, Button, Group, Line, Tap, Tone
from floorapp.widget_views import CallView
from models.floor.calling import Call
from models.garment.cycle import ENDED, State
from models.rotation.problem.shop import Setting
from models.rotation.rules.compare_policies import Passes
from models.rotation.simulation.simulator import Act
from models.store.records import BatchHead, GarmentRow
from models.units import in_both_degrees

WORTH_TELLING_S = 60.0
"""A way of working that saves less is not told."""
UNCOUNTED = "Its countdown was cut off: look at the garment, and say how the hit ended."


def call_view(flow: Flow) -> CallView | None:
    """A press that is to be opened comes first, then the next garment; None where nothing can go on."""
    return open_view(flow) or next_view(flow)


def open_view(flow: Flow) -> CallView | None:
    """Of the presses whose hit is over, or that nobody has counted, the first to see to; not the one whose
    garment is on the screen itself.
    """
    rows = [row for row in flow.press.running.to_open(flow.pressing) if row.code != flow.code_on_screen]
    if not rows:
        return None
    row, countdown = rows[0], flow.press.running.countdown_of(rows[0])
    name, tag, action = called_words(row), _tag_of(row), Action(Tap.OPEN_CODE, row.code)
    if countdown is None:
        return CallView("Look now: the press may be closed", name, tag, UNCOUNTED, Tone.ATTENTION, action)
    heading = f"Open now: {flow.press.running.press_of(row) or 'the press'}"
    over = f"Its hit has been over for {minutes(countdown.overrun_s(flow.clock))}."
    return CallView(heading, name, tag, over, Tone.PRESS, action, is_due=True)


def next_view(flow: Flow) -> CallView | None:
    """None where no batch has been begun, or nothing can go on."""
    call = flow.calls.call
    if call is None:
        return None
    press = call.act == Act.PRESS
    return CallView(
        heading=f"Next{_when(flow, call)}: {_what(call)}",
        name=called_words(call.row),
        tag=f"{_tag_of(call.row)} · {place_words(call.row, call.of)}",
        why="".join((*_changes(call.presses), call.why[:1].upper(), call.why[1:], ".")),
        tone=Tone.PRESS if press else Tone.REST,
        action=Action(Tap.OPEN_CODE, call.row.code),
    )


def next_groups(flow: Flow) -> tuple[Group, ...]:
    """What to see to next, on the card of a garment that rests; that one itself is not called on it."""
    call = call_view(flow)
    if call is None or call.action.value == flow.in_hand.row.code:
        return ()
    return (Group(f"{call.heading} · {call.name}", (Line(call.tag), Line(call.why)), call.tone),)


def open_button(flow: Flow) -> Button | None:
    """The way to the garment whose press is to be opened; None where there is none."""
    view = open_view(flow)
    if view is None:
        return None
    what = "Open now" if view.is_due else "Look now"
    return Button(f"{what}: {view.name}", view.action, view.tone)


def meanwhile(flow: Flow) -> tuple[Button, ...]:
    """While one garment is under the press: another press to open, or else a garment that can be seen to
    before this one has to be opened.
    """
    opening = open_button(flow)
    if opening is not None:
        return (opening,)
    call = flow.calls.call
    if call is None or call.act != Act.FINISH or call.at > flow.clock.utc_now():
        return ()
    if call.row.code == flow.in_hand.row.code:
        return ()
    words = f"Meanwhile {_what(call)}: {called_words(call.row)}"
    return (Button(words, Action(Tap.OPEN_CODE, call.row.code), Tone.REST),)


def ends_words(flow: Flow, head: BatchHead, by_state: Mapping[State, int]) -> str:
    """When the batch will be done, what is held left out; nothing where nothing of it goes on."""
    outlook = flow.calls.outlook
    ends = outlook.ends.get(head.reference) if outlook is not None else None
    goes_on = any(many for state, many in by_state.items() if state not in {*ENDED, State.HELD})
    if outlook is None or ends is None or not goes_on:
        return ""
    measured = f"from {count_of(outlook.measured, 'measured time')}"
    basis = measured if outlook.measured else "none measured yet"
    held = by_state.get(State.HELD, 0)
    without = f" without the {held} held" if held else ""
    end = end_words(ends, head.due, flow.clock.utc_now())
    return f"done about {end}{without}, if nobody pauses; {basis}"


def outlook_words(flow: Flow, head: BatchHead, by_state: Mapping[State, int]) -> str:
    """The end of the batch, and the order that leads to it."""
    ends, outlook = ends_words(flow, head, by_state), flow.calls.outlook
    if not ends or outlook is None:
        return ""
    return f"{ends[:1].upper()}{ends[1:]}. {passes_words(outlook.passes)}"


def passes_words(passes: Passes) -> str:
    """The way through the settings, and what it saves."""
    whole_s, best_s = passes.whole_s, passes.best.course.end_s
    told = [f"Each garment whole before the next would take {_hours(whole_s)}, this order {_hours(best_s)}."]
    settings = [_setting(setting) for setting in passes.settings]
    if passes.best.earlier_s:
        changes = count_of(passes.best.course.changes, "change")
        told.insert(0, f"What is due first goes first: {changes} of heat.")
    elif len(set(settings)) > 1 and passes.is_by_setting:
        told.insert(0, f"All garments at {', then at '.join(settings)}.")
    elif len(set(settings)) > 1 and passes.by_setting_s - best_s >= WORTH_TELLING_S:
        slower = _hours(passes.by_setting_s)
        changes = count_of(passes.best.course.changes, "change")
        told.insert(0, f"{changes} of heat; setting by setting it would take {slower}.")
    return " ".join(told)


def _tag_of(row: GarmentRow) -> str:
    """Size and code, unless the garment is called by them, and its batch."""
    tag = (tag_words(row),) if wearer_words(row) else ()
    return " · ".join((*tag, row.batch_reference))


def _when(flow: Flow, call: Call) -> str:
    left_s = (call.at - flow.clock.utc_now()).total_seconds()
    return f" in {minutes(-int(-left_s // 1))}" if left_s > 1 else ""


def _what(call: Call) -> str:
    return f"press hit {call.hit_label}" if call.act == Act.PRESS else "peel and check"


def _changes(presses: tuple[Setting, ...]) -> tuple[str, ...]:
    return tuple(f"The press goes to {_setting(setting)}. " for setting in presses)


def _setting(setting: Setting) -> str:
    heat = in_both_degrees(setting.temperature_c)
    return f"{heat} on {setting.press}" if setting.press else heat


def _hours(seconds: float) -> str:
    whole = round(seconds / 60)
    return f"{whole // 60} h {whole % 60:02d} min" if whole >= 60 else f"{whole} min"

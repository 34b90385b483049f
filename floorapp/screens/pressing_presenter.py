"""A running hit on the Garment screen: its countdown, and the questions that it may leave open."""

from datetime import datetime

from floorapp.flow import Flow
from floorapp.screens.call_presenter import meanwhile
from floorapp.screens.words import degrees, heading_of, minutes, peel_words
from floorapp.views import Action, Button, Card, Running, Tap, Tone
from models.garment.countdown import Countdown
from models.garment.progress import Progress


def running_of(flow: Flow) -> Running | None:
    """The countdown of the garment in hand; None where none runs."""
    countdown = flow.countdown
    if countdown is None or flow.press.late_s is not None:
        return None
    if flow.press.closing_of(flow.in_hand) is not None:
        return _not_stored(flow, countdown)
    progress = flow.in_hand.progress
    hit, is_over = progress.hit, countdown.is_over(flow.clock)
    opened = Button("The press is open", Action(Tap.PRESS_IS_OPEN), Tone.PRESS)
    early = Button("Opened early", Action(Tap.OPENED_EARLY))
    mistake = Button("Take back the closing", Action(Tap.TAKE_BACK))
    words = f"of {hit.dwell_s} s · {degrees(hit.temperature_c)} · {hit.pressure.value} · {peel_words(hit)}"
    if is_over:
        words = f"over for {minutes(countdown.overrun_s(flow.clock))} · {peel_words(hit)}"
    if flow.press.is_doubtful(flow.in_hand.row):
        words = f"≈ counted from the record · {words}"
    return Running(
        heading=heading_of(progress, "open the press" if is_over else "pressing"),
        left_s=countdown.left_s(flow.clock),
        fraction_left=countdown.fraction_left(flow.clock),
        words=words,
        is_over=is_over,
        choices=() if is_over else (*meanwhile(flow), early, mistake),
        primary=opened if is_over else None,
    )


def _not_stored(flow: Flow, countdown: Countdown) -> Running:
    """The press is down, but its closing is not stored yet: the seconds count all the same."""
    closing, is_over = flow.press.closing_of(flow.in_hand), countdown.is_over(flow.clock)
    is_refused = closing is not None and bool(closing.refusal)
    again = Button("Store the closing again", Action(Tap.CLOSE_PRESS), Tone.ATTENTION)
    mistake = Button("It never came down", Action(Tap.NEVER_CLOSED))
    return Running(
        heading=heading_of(flow.in_hand.progress, "open the press" if is_over else "pressing"),
        left_s=countdown.left_s(flow.clock),
        fraction_left=countdown.fraction_left(flow.clock),
        words="the closing is not stored yet",
        is_over=is_over,
        choices=(mistake,) if is_refused else (),
        primary=again if is_refused else None,
    )


def ending_card(flow: Flow) -> Card:
    """Asked where only the operator knows when the press was opened."""
    progress = flow.in_hand.progress
    if flow.press.late_s is not None:
        return late_card(progress, flow.press.late_s)
    is_doubtful = not flow.work.store.is_on_server
    return interrupted_card(progress, flow.clock.utc_now(), is_doubtful=is_doubtful)


def late_card(progress: Progress, closed_s: int) -> Card:
    """Asked where the tap came long after the end of the hit: the press may have been open since, or not."""
    dwell = progress.hit.dwell_s
    return Card(
        heading=heading_of(progress, "when was it opened?"),
        body=f"The hit was over {minutes(closed_s - dwell)} ago. How long was the press really closed?",
        answers=(
            Button(f"{dwell} s: it was opened at the signal", pressed_for(dwell), Tone.DONE),
            Button(f"{closed_s} s: it was opened only now", pressed_for(closed_s)),
            Button("In between: tell the seconds", Action(Tap.OPENED_EARLY)),
        ),
    )


def pressed_for(seconds: int) -> Action:
    return Action(Tap.PRESS_IS_OPEN, str(seconds))


def interrupted_card(progress: Progress, now: datetime, *, is_doubtful: bool) -> Card:
    """Asked where a hit ran on while nobody counted: app closed, battery, another station.

    `is_doubtful` if the clock may have been set since the press came down.
    """
    closed_at = progress.closed_at or now
    ago = minutes(max(0, int((now - closed_at).total_seconds())))
    dwell, about = progress.hit.dwell_s, "≈" if is_doubtful else ""
    return Card(
        heading=heading_of(progress, "was it finished?"),
        body=(
            f"The press came down at {closed_at.astimezone():%H:%M:%S}, {about}{ago} ago, for {dwell} s, and "
            "the countdown was cut off. Look at the garment, then say how the hit ended."
        ),
        answers=(
            Button("Still closed: count on", Action(Tap.STILL_CLOSED), Tone.PRESS),
            Button(f"Yes, pressed the full {dwell} s", pressed_for(dwell), Tone.DONE),
            Button("Shorter or longer: tell the seconds", Action(Tap.OPENED_EARLY)),
            Button("No, the press never came down", Action(Tap.NEVER_CLOSED)),
        ),
    )

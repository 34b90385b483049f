"""The cards of peeling and resting: which carriers come off when, and how long the garment rests before."""

from datetime import datetime

from floorapp.screens.check_presenter import WRONG
from floorapp.screens.words import (
    PLACE_WORDS,
    about,
    count_of,
    heading_of,
    listed,
    minutes,
    pieces_by_material,
)
from floorapp.views import Action, Button, Card, Group, Line, Tap, Tone
from models.floor.resting import Basis, Rest
from models.garment.progress import Progress
from models.job.job import Peel

HOW_TO_PEEL = {
    Peel.HOT: "Now, while it is hot",
    Peel.WARM: "When it is warm: count to ten first",
    Peel.COLD: "After the rest, cold",
}
TRY_WARM = Button("Try it warm: they are off", Action(Tap.PEEL, Peel.WARM.value))
COLD_OFF = Button("Cold ones off", Action(Tap.PEEL, Peel.COLD.value), Tone.REST)
COLD_ALREADY = Button("Cold already: they are off", Action(Tap.PEEL, Peel.COLD.value))


def peel_card(progress: Progress, rest: Rest, warm: Rest | None) -> Card:
    """`rest` is that of the cold ones, `warm` the wait until the warm ones come off, where it is known."""
    groups = peel_groups(progress, rest, warm)
    if progress.next_peel == Peel.COLD:
        return _cold_card(progress, rest, groups)
    kinds = {step.when for step in progress.to_peel}
    then = ". Rest it" if Peel.COLD in kinds and len(kinds) == 2 else ""
    word = progress.next_peel.value
    waits = warm if progress.next_peel == Peel.WARM else None
    return Card(
        heading=heading_of(progress, "peel"),
        body=f"Off the press and {PLACE_WORDS[waits.place]} until it is warm." if waits else "",
        groups=groups,
        choices=(WRONG,),
        primary=Button(f"{word.capitalize()} ones off{then}", Action(Tap.PEEL, word), Tone.PRESS),
        caution="Low and even, in one pull, away from the press. Gloves: the pieces are hot.",
    )


def _cold_card(progress: Progress, rest: Rest, groups: tuple[Group, ...]) -> Card:
    if progress.rested:
        return Card(heading_of(progress, "peel"), groups=groups, choices=(WRONG,), primary=COLD_OFF)
    return Card(
        heading=heading_of(progress, "rest"),
        body=f"Off the press and {PLACE_WORDS[rest.place]}. It stays hot if it is left on the pad.",
        groups=groups,
        choices=(TRY_WARM, WRONG),
        primary=Button(f"Rest it {minutes(rest.seconds)}", Action(Tap.REST), Tone.REST),
    )


def rest_card(
    progress: Progress, rest: Rest, now: datetime, following: tuple[Group, ...], onward: Button
) -> Card:
    """A hand that finds it cold before its time, or warm after it, teaches the next rests.

    `following` is what to do meanwhile, `onward` where the primary action leads until it has rested.
    """
    ends_at = progress.rest_ends_at or now
    groups = peel_groups(progress, rest)
    if ends_at <= now:
        longer = Button(f"Still warm: rest it {minutes(rest.longer_s)} more", Action(Tap.REST_ON))
        return Card(
            heading=heading_of(progress, "peel"),
            groups=groups,
            choices=(longer, WRONG),
            primary=COLD_OFF,
            caution="Feel the back of the fabric first: no warmth left. If it is warm, let it rest on.",
        )
    return Card(
        heading=heading_of(progress, "resting"),
        body=f"Leave it {PLACE_WORDS[rest.place]} until {ends_at.astimezone():%H:%M:%S}. "
        "Meanwhile scan another garment.",
        groups=(*following, *groups),
        choices=(COLD_ALREADY, TRY_WARM),
        primary=onward,
    )


def peel_groups(progress: Progress, rest: Rest, warm: Rest | None = None) -> tuple[Group, ...]:
    """What comes off when: hot, then warm, then cold; the rest is told once it is the next thing but one."""
    groups, kinds = [], {step.when for step in progress.to_peel}
    for when in HOW_TO_PEEL:
        pieces = [step.piece for step in progress.to_peel if step.when == when]
        lines = [
            Line(f"{len(labels)} × {material.label}: {listed(labels)}", when)
            for material, labels in pieces_by_material(progress.recipe.job, pieces)
        ]
        if when == Peel.WARM == progress.next_peel and warm:
            lines.append(Line(basis_words(warm, "peel")))
        if when == Peel.COLD and len(kinds) < len(HOW_TO_PEEL):
            lines.append(Line(rest_words(rest)))
        if pieces:
            tone = Tone.REST if when == Peel.COLD else Tone.PRESS
            groups.append(Group(_how_to_peel(when, warm), tuple(lines), tone))
    return tuple(groups)


def _how_to_peel(when: Peel, warm: Rest | None) -> str:
    if when == Peel.WARM and warm:
        return f"Warm, after {about(warm.band_s, 's')}"
    return HOW_TO_PEEL[when]


def rest_words(rest: Rest) -> str:
    """How long, with its band, and how that was found: few words, for a card that is full."""
    if rest.basis == Basis.HABIT:
        return f"{rest.seconds} s by habit: none was estimated"
    return f"{rest.seconds} s ({rest.band_s.low:.0f} to {rest.band_s.high:.0f}), {basis_words(rest, 'rest')}"


def basis_words(rest: Rest, one: str) -> str:
    """How it was found: estimated, or from so many of them."""
    if rest.basis == Basis.LEARNED:
        return f"from {count_of(rest.n, one)} here"
    return f"an estimate, {rest.n} seen here" if rest.n else "a first estimate"

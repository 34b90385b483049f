"""The cards of peeling and resting: which carriers come off when, and how long the garment rests before."""

from dataclasses import dataclass, replace

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


WARM_ALREADY = Button("Warm already: they are off", Action(Tap.PEEL, Peel.WARM.value))
DOUBT = "≈ counted from before the app was opened, by the clock of then: feel the garment."
FEEL_IT = "Feel the back of the fabric first: no warmth left. If it is warm, let it rest on."


@dataclass(frozen=True, slots=True)
class Wait:
    """What a garment waits for: `left_s` until its carriers come off, `is_doubtful` by a clock set since.

    `following` is what to do meanwhile, `onward` where the primary action leads until then.
    """

    left_s: int
    is_doubtful: bool
    following: tuple[Group, ...]
    onward: Button

    @property
    def count(self) -> str:
        """The running count."""
        return f"{'≈' if self.is_doubtful else ''}{minutes(self.left_s)}"

    @property
    def warning(self) -> str:
        return DOUBT if self.is_doubtful else ""


def peel_card(progress: Progress, rest: Rest, warm: Rest | None, rest_left_s: int) -> Card:
    """`rest` is that of the cold ones, of which `rest_left_s` are left; `warm` the wait of the warm ones,
    where it is known.
    """
    groups = peel_groups(progress, rest, warm)
    if progress.next_peel == Peel.COLD:
        return _cold_card(progress, rest, groups, rest_left_s)
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


def warm_wait_card(progress: Progress, rest: Rest, warm: Rest, wait: Wait) -> Card:
    """A hand that finds it warm before its time teaches the next waits."""
    return Card(
        heading=heading_of(progress, f"warm in {wait.count}"),
        body=f"Off the press and {PLACE_WORDS[warm.place]} until it is warm. Meanwhile scan another garment.",
        warning=wait.warning,
        groups=(*wait.following, peel_groups(progress, rest, warm)[0]),
        choices=(WARM_ALREADY, WRONG),
        primary=wait.onward,
    )


def _cold_card(progress: Progress, rest: Rest, groups: tuple[Group, ...], left_s: int) -> Card:
    """A garment that has cooled since the opening for as long as it rests needs no rest any more."""
    if progress.rested:
        return Card(heading_of(progress, "peel"), groups=groups, choices=(WRONG,), primary=COLD_OFF)
    if not left_s:
        return _rested_card(progress, rest, groups)
    return Card(
        heading=heading_of(progress, "rest"),
        body=f"Off the press and {PLACE_WORDS[rest.place]}. It stays hot if it is left on the pad.",
        groups=groups,
        choices=(TRY_WARM, WRONG),
        primary=Button(f"Rest it {minutes(left_s)}", Action(Tap.REST), Tone.REST),
    )


def rest_card(progress: Progress, rest: Rest, wait: Wait) -> Card:
    """A hand that finds it cold before its time, or warm after it, teaches the next rests."""
    groups = peel_groups(progress, rest)
    if not wait.left_s:
        return replace(_rested_card(progress, rest, groups), warning=wait.warning)
    return Card(
        heading=heading_of(progress, f"cold in {wait.count}"),
        body=f"Leave it {PLACE_WORDS[rest.place]} until it is cold. Meanwhile scan another garment.",
        warning=wait.warning,
        groups=(*wait.following, *groups),
        choices=(COLD_ALREADY, TRY_WARM),
        primary=wait.onward,
    )


def _rested_card(progress: Progress, rest: Rest, groups: tuple[Group, ...]) -> Card:
    longer = Button(f"Still warm: rest it {minutes(rest.longer_s)} more", Action(Tap.REST_ON))
    return Card(
        heading=heading_of(progress, "peel"),
        groups=groups,
        choices=(longer, WRONG),
        primary=COLD_OFF,
        caution=FEEL_IT,
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

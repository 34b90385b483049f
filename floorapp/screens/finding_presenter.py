"""What the Finding screen says: what was found, on which pieces, and what may be done about it."""

from collections.abc import Iterable
from dataclasses import dataclass

from floorapp.finding_draft import FindingDraft
from floorapp.finding_flow import FindingFlow
from floorapp.flow import Flow
from floorapp.screens.garment_presenter import header_of_garment
from floorapp.screens.map_presenter import map_of_side
from floorapp.screens.words import FINDING_WORDS, count_of, listed
from floorapp.views import Action, Button, Header, Tap, Tone
from floorapp.widget_views import MapView
from models.errors import NoExtraHitError
from models.floor.mending import MENDED_BY_PRESSING, hits_ahead, missing_seconds, seconds_again
from models.garment.cycle import State
from models.garment.events import FindingKind
from models.garment.progress import Progress
from models.job.job import Job
from models.plan.plan import Hit

MENDABLE = frozenset({State.CHECKING, State.COMPLETE})
"""Where a piece may be pressed again or laid anew: once the hit in hand is peeled."""


@dataclass(frozen=True, slots=True)
class FindingView:
    header: Header
    map: MapView
    kinds: tuple[Button, ...]
    marked: str
    told: str
    steps: tuple[Button, ...]
    choices: tuple[Button, ...]
    ends: tuple[Button, ...]
    primary: Button | None


def finding_view(flow: Flow) -> FindingView:
    progress, draft = flow.in_hand.progress, flow.finding.draft
    job = progress.recipe.job
    labels = labels_of(job, draft.pieces)
    told, primary = remedy(progress, flow.finding)
    side = draft.side or progress.hit.side
    return FindingView(
        header=header_of_garment(flow),
        map=map_of_side(progress, side, marked=draft.pieces, with_platen=False),
        kinds=kind_buttons(draft.kind),
        marked=listed(labels) if labels else "No piece marked: tap it on the map.",
        told=told,
        steps=seconds_steps(progress, draft),
        choices=choices_of(progress, draft),
        ends=ends_of(progress, draft, labels),
        primary=primary,
    )


def kind_buttons(chosen: FindingKind | None) -> tuple[Button, ...]:
    return tuple(
        Button(
            FINDING_WORDS[kind],
            Action(Tap.CHOOSE_KIND, kind.value),
            Tone.HELD if kind == chosen else Tone.PLAIN,
            is_chosen=kind == chosen,
            is_choice=True,
        )
        for kind in FindingKind
    )


def choices_of(progress: Progress, draft: FindingDraft) -> tuple[Button, ...]:
    """The ways on beside the primary one; only a checked garment can be let go as it is."""
    sides, is_told = [side.name for side in progress.recipe.job.sides], draft.found is not None
    turn = Button(f"Show the {draft.turned(sides).side}", Action(Tap.TURN_MAP))
    anew = Button("Replace the pieces" if len(draft.pieces) > 1 else "Replace the piece", Action(Tap.REPLACE))
    keep = Button("Good as it is", Action(Tap.ACCEPT))
    checked = progress.state == State.CHECKING and is_told and not missing_seconds(progress)
    return (
        *((turn,) if len(sides) > 1 else ()),
        *((anew,) if is_told and progress.state in MENDABLE else ()),
        *((keep,) if checked else ()),
    )


def ends_of(progress: Progress, draft: FindingDraft, labels: list[str]) -> tuple[Button, ...]:
    """Always at the same place: a finger on its way to one must never meet another. A garment that is done is
    held or spoiled only for something that was found on it.
    """
    reason, back = reason_of(draft.kind, labels), Button("Back", Action(Tap.BACK))
    if progress.state == State.COMPLETE and draft.found is None:
        return (back,)
    hold = Button("Hold it …", Action(Tap.ASK_HOLD, reason))
    return (hold, Button("Spoil it …", Action(Tap.ASK_SPOIL, reason)), back)


def reason_of(kind: FindingKind | None, labels: list[str]) -> str:
    """Return the finding as a reason to hold or to spoil; empty as long as nobody has said what it is."""
    if kind is None:
        return ""
    return f"{FINDING_WORDS[kind]}: {listed(labels)}" if labels else FINDING_WORDS[kind]


def seconds_steps(progress: Progress, draft: FindingDraft) -> tuple[Button, ...]:
    """One second less or more to press again, between the shortest closing and the least of the materials."""
    if draft.found is None or progress.state not in MENDABLE or draft.kind not in MENDED_BY_PRESSING:
        return ()
    job = progress.recipe.job
    least_s = max(seconds_again(job, draft.pieces).values())
    now_s = draft.seconds or least_s
    fewer, more = max(job.shortest_s, now_s - 1), min(least_s, now_s + 1)
    return (
        Button("1 s less", Action(Tap.CHOOSE_SECONDS, str(fewer))),
        Button("1 s more", Action(Tap.CHOOSE_SECONDS, str(more))),
    )


def remedy(progress: Progress, finding: FindingFlow) -> tuple[str, Button | None]:
    """A line that tells what pressing again would be, or why it cannot be; and the one primary action, if
    what was found has been told.
    """
    kind, pieces, job = finding.draft.kind, finding.draft.pieces, progress.recipe.job
    if kind is None or not pieces:
        return still_to_tell(finding.draft), None
    reason = reason_of(kind, labels_of(job, pieces))
    hold = Button("Hold it …", Action(Tap.ASK_HOLD, reason), Tone.HELD)
    if kind not in MENDED_BY_PRESSING:
        return f"{FINDING_WORDS[kind]}: another hit does not mend this.", hold
    if progress.state not in MENDABLE:
        return "It can be pressed again at the check, once this hit is peeled.", hold
    try:
        mending = finding.repressing(progress)
    except NoExtraHitError as error:
        return str(error), hold
    again = Button(press_again_words(mending.hits), Action(Tap.PRESS_AGAIN), Tone.PRESS)
    return " ".join([*mending.hits[0].why, *rest_words(progress, mending.rest)]), again


def still_to_tell(draft: FindingDraft) -> str:
    """Return what has to be said before anything is done about a finding."""
    if draft.pieces:
        return "Choose what was found on it."
    return "Tap the piece on the map." if draft.kind else "Choose what was found, and tap the piece."


def press_again_words(hits: tuple[Hit, ...]) -> str:
    seconds = " + ".join(f"{hit.dwell_s} s" for hit in hits)
    return f"Press again: {seconds}{', cover sheet on' if any(hit.cover for hit in hits) else ''}"


def rest_words(progress: Progress, rest: tuple[Hit, ...] | None) -> tuple[str, ...]:
    """That the hits still to come change, where they do."""
    if rest is None:
        return ()
    before = len(hits_ahead(progress))
    if len(rest) == before:
        return ("The hits still to come change with it.",)
    then = f"{count_of(len(rest), 'hit')} still to come" if rest else "no hit follows"
    return (f"Then {then}, instead of {before}.",)


def labels_of(job: Job, pieces: Iterable[str]) -> list[str]:
    return [job.piece(piece).label for piece in sorted(pieces)]

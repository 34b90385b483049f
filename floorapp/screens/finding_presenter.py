"""What the Finding screen says: what was found, on which pieces, and what may be done about it."""

from dataclasses import dataclass

from floorapp.flow import Flow, title_of
from floorapp.screens.garment_presenter import header_of
from floorapp.screens.map_presenter import map_of_side
from floorapp.screens.words import FINDING_WORDS, listed
from floorapp.views import Action, Button, Header, Tap, Tone
from floorapp.widget_views import MapView
from models.errors import NoExtraHitError
from models.floor.work import MENDED_BY_PRESSING, extra_hits, least_again, missing_seconds
from models.garment.cycle import State
from models.garment.events import FindingKind
from models.garment.progress import Progress


@dataclass(frozen=True, slots=True)
class FindingView:
    header: Header
    map: MapView
    kinds: tuple[Button, ...]
    marked: str
    told: str
    choices: tuple[Button, ...]
    primary: Button


def finding_view(flow: Flow) -> FindingView:
    progress, draft = flow.in_hand.progress, flow.draft
    job = progress.recipe.job
    labels = [job.piece(piece).label for piece in sorted(draft.pieces)]
    told, primary = remedy(progress, draft.kind, draft.pieces)
    side = draft.side or progress.hit.side
    return FindingView(
        header=header_of(flow, title_of(flow.in_hand.row, flow.in_hand.batch.garments)),
        map=map_of_side(progress, side, marked=draft.pieces, with_platen=False),
        kinds=kind_buttons(draft.kind),
        marked=listed(labels) if labels else "No piece marked yet: tap it on the map.",
        told=told,
        choices=tuple(
            choice for choice in choices_of(progress, draft.kind, labels) if choice.action != primary.action
        ),
        primary=primary,
    )


def kind_buttons(chosen: FindingKind) -> tuple[Button, ...]:
    return tuple(
        Button(
            FINDING_WORDS[kind],
            Action(Tap.CHOOSE_KIND, kind.value),
            Tone.HELD if kind == chosen else Tone.PLAIN,
            is_chosen=kind == chosen,
        )
        for kind in FindingKind
    )


def choices_of(progress: Progress, kind: FindingKind, labels: list[str]) -> tuple[Button, ...]:
    """The ways on beside the primary one; only a checked garment can be let go as it is."""
    reason = reason_of(kind, labels)
    turn = Button("Turn the map", Action(Tap.TURN_MAP))
    keep = Button("Good as it is", Action(Tap.ACCEPT))
    checked = progress.state == State.CHECKING and bool(labels) and not missing_seconds(progress)
    return (
        *((turn,) if len(progress.recipe.job.sides) > 1 else ()),
        *((keep,) if checked else ()),
        Button("Hold it", Action(Tap.HOLD, reason)),
        Button("Spoil it", Action(Tap.SPOIL, reason)),
        Button("Back", Action(Tap.BACK)),
    )


def reason_of(kind: FindingKind, labels: list[str]) -> str:
    return f"{FINDING_WORDS[kind]}: {listed(labels)}" if labels else "Put aside at the press"


def remedy(progress: Progress, kind: FindingKind, pieces: frozenset[str]) -> tuple[str, Button]:
    """A line that tells what pressing again would be, or why it cannot be; and the one primary action."""
    labels = [progress.recipe.job.piece(piece).label for piece in sorted(pieces)]
    hold = Button("Hold it", Action(Tap.HOLD, reason_of(kind, labels)), Tone.HELD)
    if not pieces and progress.state == State.COMPLETE:
        return "Mark the piece that is not right.", Button("Back", Action(Tap.BACK))
    if not pieces:
        return "Mark the pieces, or hold the garment as it is.", hold
    if kind not in MENDED_BY_PRESSING:
        return f"{FINDING_WORDS[kind]}: another hit does not mend this.", hold
    if progress.state not in {State.CHECKING, State.COMPLETE}:
        return "It can be pressed again at the check, once this hit is peeled.", hold
    try:
        hits = extra_hits(progress, least_again(progress.recipe.job, tuple(sorted(pieces))))
    except NoExtraHitError as error:
        return str(error), hold
    seconds = " + ".join(f"{hit.dwell_s} s" for hit in hits)
    cover = ", cover sheet on" if any(hit.cover for hit in hits) else ""
    again = Button(f"Press again: {seconds}{cover}", Action(Tap.PRESS_AGAIN), Tone.PRESS)
    return " ".join(hits[0].why), again

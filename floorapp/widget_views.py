"""What the drawn widgets show, as plain records: the map, the ladder of hits, a batch's shares, a curve."""

from dataclasses import dataclass
from enum import StrEnum

from floorapp.views import Action, Tone
from models.geometry import Box
from models.heat.estimates.curves import Curve
from models.job.job import Piece, Side


class Role(StrEnum):
    """What a piece is to the hit in hand."""

    NOW = "now"
    PEEL = "peel"  # its carrier comes off now
    LEAVE = "leave"  # pressed, but not to be peeled now
    RUB = "rub"  # just pressed, to be checked
    DOWN = "down"
    FAULTY = "not right"  # pressed, and found not to be good
    LATER = "later"
    MARKED = "marked"  # by a finding


@dataclass(frozen=True, slots=True)
class MapPiece:
    piece: Piece
    role: Role


@dataclass(frozen=True, slots=True)
class MapView:
    """A side to scale. Pieces stand in file order, so that what is stacked comes after what it lies on."""

    side: Side
    pieces: tuple[MapPiece, ...] = ()
    platen: Box | None = None


@dataclass(frozen=True, slots=True)
class HitShown:
    """One hit of a plan on its side, with its title; or, without a hit, what stands there in its place."""

    title: str
    map: MapView


@dataclass(frozen=True, slots=True)
class TotalRow:
    """One total of a plan as it is and as it is tried, in words; `is_other` where they are not the same."""

    name: str
    before: str
    now: str
    is_other: bool = False


class RungState(StrEnum):
    DONE = "done"
    FAULTY = "not right"  # done, but a piece of it is not good
    CURRENT = "now"
    TO_COME = "to come"


@dataclass(frozen=True, slots=True)
class Rung:
    """One hit on the ladder: its label ("2", or "2+1" for an extra one), its side and where it stands."""

    label: str
    side: str
    state: RungState
    can_tick: bool = False


@dataclass(frozen=True, slots=True)
class Share:
    """The garments of a batch in one state: `word` says which."""

    word: str
    count: int
    tone: Tone


@dataclass(frozen=True, slots=True)
class Level:
    """A temperature that matters, as a line across a curve."""

    at_c: float
    words: str


@dataclass(frozen=True, slots=True)
class CurveView:
    """A temperature over time, from its first second on; without points, `waiting` says why."""

    heading: str
    tone: Tone
    points: Curve = ()
    levels: tuple[Level, ...] = ()
    waiting: str = ""


@dataclass(frozen=True, slots=True)
class CallView:
    """What to do next, with which garment, and why; a tap on it opens the garment.

    `name` is its wearer and number; `tag` are its size, code and batch. `is_due` where a press has to be
    opened now.
    """

    heading: str
    name: str
    tag: str
    why: str
    tone: Tone
    action: Action
    is_due: bool = False

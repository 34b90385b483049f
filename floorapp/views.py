"""What a screen shows, as plain records: presenters make them, widgets draw them."""

from dataclasses import dataclass
from enum import StrEnum

from models.job.job import Peel


class Tap(StrEnum):
    """Everything a tap, a key or the foot switch can ask for; `Action.value` says which one where it must."""

    TO_FLOOR = "to floor"
    TO_REVIEW = "to review"
    TO_SET_UP = "to set-up"
    TYPE_CODE = "type the code"
    OPEN_CODE = "open the code"
    LOOK_AT_GARMENT = "look at a garment"
    BACK = "back"
    WAY_ON = "the way on after a start that failed"
    DISMISS = "dismiss"
    CLOSE_PRESS = "close the press"
    PRESS_IS_OPEN = "the press is open"
    OPENED_EARLY = "opened early"
    NEVER_CLOSED = "never closed"
    STILL_CLOSED = "still closed"
    PEEL = "peel"
    REST = "rest"
    REST_ON = "rest on"
    PASS = "all down"
    PRESS_REMAINDER = "press the remainder"
    LOOK_CLOSER = "something is wrong"
    CHOOSE_KIND = "choose what was found"
    MARK_PIECE = "mark a piece"
    TURN_MAP = "turn the map"
    PRESS_AGAIN = "press again"
    CHOOSE_SECONDS = "choose the seconds"
    REPLACE = "replace the piece"
    ACCEPT = "accept as it is"
    ASK_HOLD = "ask why it is held"
    ASK_SPOIL = "ask why it is spoiled"
    CHOOSE_REASON = "choose a reason"
    TYPE_REASON = "type a reason"
    TAKE_REASON = "take the typed reason"
    HOLD = "hold"
    SPOIL = "spoil"
    RELEASE = "go on with it"
    TAKE_BACK = "take back"
    WHY = "why"
    LOOK_AT_HIT = "look at a planned hit"
    OPEN_FOLDER = "open a folder"
    CHOOSE_FILE = "choose a file"
    STOP_PLANNING = "take the best so far"
    LOAD_BATCH = "load the batch"
    CHOOSE_PAPER = "choose the paper"
    WRITE_TAGS = "write the tags"
    WRITE_CSV = "write the list"
    FILTER = "show only"
    WHAT_IF = "what if"
    TRY_WHAT = "try another number of"
    TRY_PIECE = "try a piece elsewhere"
    TRY_DRAG = "try a piece where it was dragged to"
    TRY_STEP = "one step of a try"
    TURN_TO_HIT = "turn to a hit"
    STOP_TRY = "take the best try so far"
    UNDO_TRY = "back to the job as it is"
    TO_FIND = "find"
    KEY = "a large key"
    CHANGE_GARMENT = "change a garment"
    CHANGE_BATCH = "change a batch"
    ASK_CHANGE = "ask about a change"
    MAKE_AGAIN = "make again"
    TAKE_OUT = "take out"
    PUT_BACK = "put back"
    TO_CORRECT = "correct the wearer"
    TO_ADD = "add a garment"
    CHOOSE_FIELD = "choose what is typed"
    CHOOSE_SIZE = "choose the size"
    SAVE_WEARER = "save the wearer"
    CLOSE_BATCH = "close the batch"
    REOPEN_BATCH = "reopen the batch"
    TAKE_BATCH_BACK = "take the batch back"
    SET_PRIORITY = "set the priority"
    PRINT_TAG = "print the tag"


@dataclass(frozen=True, slots=True)
class Action:
    tap: Tap
    value: str = ""


class Tone(StrEnum):
    """The condition that a block stands for; the theme gives it colours, and a word always stands by."""

    PLAIN = "plain"
    PRESS = "press"
    REST = "rest"
    DONE = "done"
    ATTENTION = "attention"
    HELD = "held"
    SPOILED = "spoiled"


@dataclass(frozen=True, slots=True)
class Button:
    """`is_choice` where it is one of several to choose from, none of which may be chosen yet."""

    text: str
    action: Action
    tone: Tone = Tone.PLAIN
    is_chosen: bool = False
    is_choice: bool = False


@dataclass(frozen=True, slots=True)
class GarmentName:
    """A garment as the head of its screens names it: `number` and `wearer` large, the others small."""

    number: str
    wearer: str
    tag: str
    batch: str


@dataclass(frozen=True, slots=True)
class Header:
    """The head of a screen: its title, or the garment that it is about."""

    title: str
    right: str
    garment: GarmentName | None = None


@dataclass(frozen=True, slots=True)
class Setting:
    """A box with one large value and a few words under it."""

    big: str
    small: str
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a list, with the peel's thermometer before it where it is about a peel."""

    text: str
    peel: Peel | None = None


@dataclass(frozen=True, slots=True)
class Group:
    heading: str
    lines: tuple[Line, ...]
    tone: Tone = Tone.PLAIN


@dataclass(frozen=True, slots=True)
class Card:
    """What to do now: at most one primary action, and smaller ways on."""

    heading: str
    body: str = ""
    settings: tuple[Setting, ...] = ()
    warning: str = ""  # under the settings, with its sign
    groups: tuple[Group, ...] = ()
    answers: tuple[Button, ...] = ()  # to a question, none of them likelier than the others
    choices: tuple[Button, ...] = ()  # the smaller ways on
    primary: Button | None = None
    caution: str = ""


@dataclass(frozen=True, slots=True)
class Running:
    """A countdown as it is shown."""

    heading: str
    left_s: int
    fraction_left: float
    words: str
    is_over: bool
    choices: tuple[Button, ...]
    primary: Button | None


@dataclass(frozen=True, slots=True)
class RailItem:
    """A garment that waits for its time: pressing or resting; no time where nobody counted it."""

    code: str
    name: str  # its wearer and number, or else its size and code
    tag: str
    batch: str
    left_s: int | None
    is_pressing: bool
    is_warm: bool = False  # it is peeled warm when its time is over
    is_doubtful: bool = False  # its time hangs on a clock that may have been set since

    @property
    def is_due(self) -> bool:
        """Its time is over, or nobody knows how far it is: either way it wants a person."""
        return not self.left_s


@dataclass(frozen=True, slots=True)
class NoticeView:
    """One plain line that stays until it is tapped or the next thing happens.

    `way` is where a tap on it leads, said by its words; left out, a tap only takes the line away.
    """

    text: str
    tone: Tone
    way: Button | None = None

    @property
    def answer(self) -> Button:
        return self.way or Button("OK", Action(Tap.DISMISS))


class Cue(StrEnum):
    """What calls the operator, by sound and by flash."""

    HIT_OVER = "hit over"
    PEEL_NOW = "peel now"
    REST_OVER = "rest over"

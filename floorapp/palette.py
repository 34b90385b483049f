"""The colours, what each stands for, and every pair of them that carries text or a sign. No Kivy here."""

from dataclasses import dataclass
from enum import Enum

from floorapp.views import Tone

Colour = tuple[float, float, float, float]


def colour(code: str, alpha: float = 1.0) -> Colour:
    """Red, green, blue and alpha, each 0 to 1, of a code like '#F6F3EC'."""
    red, green, blue = (int(code[place : place + 2], 16) / 255 for place in (1, 3, 5))
    return (red, green, blue, alpha)


def darker(tint: Colour) -> Colour:
    """The same colour under a finger."""
    red, green, blue, alpha = tint
    return (red * 0.82, green * 0.82, blue * 0.82, alpha)


def paler(tint: Colour) -> Colour:
    """The same colour as a wash on paper."""
    red, green, blue = (1 - (1 - part) * 0.22 for part in tint[:3])
    return (red, green, blue, tint[3])


GROUND = colour("#F6F3EC")  # the screen, like pattern paper
CLOTH = colour("#ECE6D6")  # the garment, and bars that stay
PAPER = colour("#FFFFFF")  # boxes and pieces that are down
INK = colour("#20242B")
FAINT_INK = colour("#4A4F57")  # words that are not needed to do the work
RULE = colour("#8A8676")  # lines that only divide
SEAM = colour("#6B5B39")
PRESS = colour("#B5401B")
PRESS_DEEP = colour("#9A3412")  # under the words of a running hit, which are instructions
REST = colour("#0F6B6B")
DONE = colour("#3E6B2F")
ATTENTION = colour("#E0A100")
ATTENTION_WASH = colour("#FBE7B0")
HELD = colour("#8C1D40")


@dataclass(frozen=True, slots=True)
class ToneColours:
    """How one condition looks: a solid block, the text on it, and its line on paper or ground."""

    block: Colour
    on_block: Colour
    line: Colour
    wash: Colour = PAPER


TONES = {
    Tone.PLAIN: ToneColours(block=PAPER, on_block=INK, line=INK),
    Tone.PRESS: ToneColours(block=PRESS, on_block=PAPER, line=PRESS),
    Tone.REST: ToneColours(block=REST, on_block=PAPER, line=REST),
    Tone.DONE: ToneColours(block=DONE, on_block=PAPER, line=DONE),
    Tone.ATTENTION: ToneColours(block=ATTENTION, on_block=INK, line=INK, wash=ATTENTION_WASH),
    Tone.HELD: ToneColours(block=HELD, on_block=PAPER, line=HELD),
    Tone.SPOILED: ToneColours(block=INK, on_block=PAPER, line=INK),
}


class Carries(Enum):
    """What a pair of colours is for, and the least contrast that this asks for."""

    INSTRUCTION = 7.0
    TEXT = 4.5
    SIGN = 3.0


@dataclass(frozen=True, slots=True)
class Pair:
    foreground: Colour
    background: Colour
    carries: Carries
    where: str


PAIRS = (
    Pair(INK, GROUND, Carries.INSTRUCTION, "headings, lists and what to do, on the screen"),
    Pair(INK, PAPER, Carries.INSTRUCTION, "settings, buttons, what to peel, in a box"),
    Pair(INK, CLOTH, Carries.INSTRUCTION, "the rest rail; labels on the map"),
    Pair(INK, ATTENTION_WASH, Carries.INSTRUCTION, "pad in, cover on, cautions"),
    Pair(PAPER, INK, Carries.INSTRUCTION, "the garment to take next; a hit that runs, its drained part"),
    Pair(
        PAPER, PRESS_DEEP, Carries.INSTRUCTION, "a hit that runs, the part still to come; a press to open now"
    ),
    Pair(PAPER, HELD, Carries.INSTRUCTION, "a refusal that must be read"),
    Pair(FAINT_INK, GROUND, Carries.TEXT, "small words on the screen"),
    Pair(FAINT_INK, PAPER, Carries.TEXT, "small words in a box; a rung to come"),
    Pair(FAINT_INK, CLOTH, Carries.TEXT, "small words on the rest rail"),
    Pair(PAPER, PRESS, Carries.TEXT, "the large words of the primary action"),
    Pair(PAPER, REST, Carries.TEXT, "the large words of a rest block"),
    Pair(PAPER, DONE, Carries.TEXT, "rungs and shares that are done"),
    Pair(INK, ATTENTION, Carries.TEXT, "the large words of the scan block"),
    Pair(REST, PAPER, Carries.TEXT, "the time left of a resting garment"),
    Pair(PRESS, PAPER, Carries.TEXT, "the time left of a running hit on the rail"),
    Pair(HELD, PAPER, Carries.TEXT, "the name of a finding"),
    Pair(SEAM, CLOTH, Carries.TEXT, "the name of a seam on the map"),
    Pair(HELD, CLOTH, Carries.TEXT, "the name of a keep-out on the map"),
    Pair(DONE, PAPER, Carries.SIGN, "the tick on a piece that is down"),
    Pair(PRESS, CLOTH, Carries.SIGN, "a piece to lay now, on the garment"),
    Pair(DONE, CLOTH, Carries.SIGN, "the edge of a piece that is down"),
    Pair(FAINT_INK, CLOTH, Carries.SIGN, "the dashes of a piece that comes later"),
    Pair(INK, CLOTH, Carries.SIGN, "the edge of the side, and the platen"),
    Pair(RULE, GROUND, Carries.SIGN, "the frame of a rung to come"),
    Pair(ATTENTION, INK, Carries.SIGN, "the focus frame around a dark block"),
)

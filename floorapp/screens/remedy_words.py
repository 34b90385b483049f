"""What is said of a garment that was made again, or taken out of its batch."""

from collections.abc import Iterator
from typing import Protocol

from floorapp.views import Tone
from models.garment.cycle import State
from models.tags.code import spoken

STATE_WORDS = {State.COMPLETE: "done", State.IDLE: "to do"}
STATE_TONES = {
    State.COMPLETE: Tone.DONE,
    State.RESTING: Tone.REST,
    State.HELD: Tone.HELD,
    State.SPOILED: Tone.SPOILED,
    State.IDLE: Tone.PLAIN,
}


class Remedied(Protocol):
    """A garment's row in the store, or its line in a review."""

    @property
    def state(self) -> State: ...
    @property
    def remake_of(self) -> str: ...
    @property
    def remade_as(self) -> str: ...
    @property
    def taken_out(self) -> str: ...


def remedy_words(garment: Remedied) -> Iterator[str]:
    """Yield what was done about the garment, in a few words each; nothing for most."""
    if garment.taken_out:
        yield f"taken out: {garment.taken_out}"
    if garment.remade_as:
        yield f"made again as {spoken(garment.remade_as)}"
    if garment.remake_of:
        yield f"made again for {spoken(garment.remake_of)}"


def state_words(garment: Remedied) -> str:
    """Return how the garment stands, in one or two words."""
    if garment.taken_out:
        return "taken out"
    return STATE_WORDS.get(garment.state, garment.state.value)


def state_tone(garment: Remedied) -> Tone:
    """Return the tone that says the same."""
    return Tone.PLAIN if garment.taken_out else STATE_TONES.get(garment.state, Tone.PRESS)

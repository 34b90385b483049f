"""Three sounds, unlike each other: the hit is over, peel now, the rest is over.

The files are made by `write_sounds` and shipped; run this module to make them anew. The screen flashes as
well, always. A machine that plays nothing is told of: `Sounds.fails`.
"""

import logging
import wave
from array import array
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from math import pi, sin
from pathlib import Path
from typing import Any

from floorapp.views import Cue

FOLDER = Path(__file__).parent / "sound_files"
RATE_HZ = 22_050
LOUDNESS = 1.0
RAMP_S = 0.005
"""A note swells and fades this long, so that it does not click."""


@dataclass(frozen=True, slots=True)
class Note:
    """One tone, or a silence where the pitch is 0."""

    pitch_hz: float
    seconds: float
    is_harsh: bool = False


MELODIES = {
    # three harsh calls of one pitch: open the press
    Cue.HIT_OVER: (Note(1000, 0.22, is_harsh=True), Note(0, 0.08)) * 3,
    # quick steps up: it will not stay hot for long
    Cue.PEEL_NOW: (Note(1200, 0.09), Note(1600, 0.09), Note(2100, 0.09), Note(0, 0.06)) * 2,
    # two slow, soft tones down: whenever you come to it
    Cue.REST_OVER: (Note(880, 0.35), Note(660, 0.5)),
}


def _loaded_by_kivy(path: Path) -> Any:
    from kivy.core.audio import SoundLoader

    return SoundLoader.load(str(path))


class NoSoundError(Exception):
    """The sound system loaded or played nothing, and said nothing of it."""


class Sounds:
    """Plays the cues. `fails` after a sound that could not be loaded or played, until one is played again.

    `load` gives the sound of a file; without a device it gives none, or one without length.
    """

    def __init__(self, *, is_on: bool = True, load: Callable[[Path], Any] = _loaded_by_kivy) -> None:
        self.is_on = is_on
        self.fails = False
        self._load = load
        self._loaded: dict[Cue, Any] = {}

    def prepare(self) -> None:
        """Load all sounds before the first is wanted; never raises."""
        done = [self._is_done(partial(self._sound, cue), cue) for cue in Cue]
        self.fails = not all(done)

    def play(self, cue: Cue, loudness: float = 1.0) -> None:
        """Play the sound from its start, as loud as that, from 0 to 1; never raises."""
        self.fails = not self._is_done(partial(self._play, cue, loudness), cue)

    def _is_done(self, work: Callable[[], Any], cue: Cue) -> bool:
        """Do it, and return whether it went well; with the sound off there is nothing to do."""
        try:
            if self.is_on:
                work()
        except Exception:  # whatever a sound system does, the hit goes on
            logging.getLogger(__name__).warning(
                "the sound for %r could not be played", cue.value, exc_info=True
            )
            return False
        return True

    def _play(self, cue: Cue, loudness: float) -> None:
        sound = self._sound(cue)
        sound.stop()
        sound.volume = loudness
        sound.play()
        if sound.state != "play":
            del self._loaded[cue]  # the device may be back when it is wanted next
            raise NoSoundError("the sound does not play")

    def _sound(self, cue: Cue) -> Any:
        if cue not in self._loaded:
            sound = self._load(sound_path(cue))
            if sound is None or sound.length <= 0:
                raise NoSoundError("the file was not loaded")
            self._loaded[cue] = sound
        return self._loaded[cue]


def sound_path(cue: Cue) -> Path:
    return FOLDER / f"{cue.value.replace(' ', '_')}.wav"


def write_sounds(folder: Path = FOLDER) -> None:
    """Makes the three files: one channel, 16 bit."""
    folder.mkdir(exist_ok=True)
    for cue in Cue:
        with wave.open(str(folder / sound_path(cue).name), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(RATE_HZ)
            file.writeframes(samples_of(MELODIES[cue]).tobytes())


def samples_of(notes: tuple[Note, ...]) -> "array[int]":
    samples = array("h")
    for note in notes:
        count = round(note.seconds * RATE_HZ)
        samples.extend(_sample(note, k, count) for k in range(count))
    return samples


def _sample(note: Note, k: int, count: int) -> int:
    """A sine; a harsh note has its third and fifth harmonics as well, and is heard through noise."""
    phase = 2 * pi * note.pitch_hz * k / RATE_HZ
    height = sin(phase)
    if note.is_harsh:
        height = (sin(phase) + sin(3 * phase) / 3 + sin(5 * phase) / 5) / 1.1
    ramp = min(1.0, k / (RAMP_S * RATE_HZ), (count - k) / (RAMP_S * RATE_HZ))
    return round(32_767 * LOUDNESS * ramp * max(-1.0, min(1.0, height)))


if __name__ == "__main__":
    write_sounds()

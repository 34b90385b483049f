"""Three sounds, unlike each other: the hit is over, peel now, the rest is over.

The files are made by `write_sounds` and shipped; run this module to make them anew. A machine without sound
plays nothing and says nothing: the screen flashes as well, always.
"""

import logging
import wave
from array import array
from dataclasses import dataclass
from math import pi, sin
from pathlib import Path
from typing import Any

from floorapp.views import Cue

FOLDER = Path(__file__).parent / "sound_files"
RATE_HZ = 22_050
LOUDNESS = 0.8
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


class Sounds:
    """Plays the cues; a file is loaded when it is first wanted."""

    def __init__(self, *, is_on: bool = True) -> None:
        self.is_on = is_on
        self._loaded: dict[Cue, Any] = {}

    def play(self, cue: Cue) -> None:
        """Plays the sound from its start, where that is possible; never raises."""
        if not self.is_on:
            return
        try:
            self._play(cue)
        except Exception:  # whatever a sound system does, the hit goes on
            logging.getLogger(__name__).warning(
                "the sound for %r could not be played", cue.value, exc_info=True
            )

    def _play(self, cue: Cue) -> None:
        from kivy.core.audio import SoundLoader

        if cue not in self._loaded:
            self._loaded[cue] = SoundLoader.load(str(sound_path(cue)))
        sound = self._loaded[cue]
        if sound is not None:
            sound.stop()
            sound.play()


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

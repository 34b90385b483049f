"""The sounds differ, can be off, and never stand in the way."""

import wave
from array import array
from itertools import pairwise
from pathlib import Path

import pytest

from floorapp.sounds import MELODIES, RATE_HZ, samples_of, sound_path, write_sounds
from floorapp.views import Cue
from tests.floorapp.driver import Driver


@pytest.mark.parametrize("cue", Cue)
def test_the_shipped_files_are_those_that_the_code_makes(cue: Cue, tmp_path: Path) -> None:
    write_sounds(tmp_path)
    assert (tmp_path / sound_path(cue).name).read_bytes() == sound_path(cue).read_bytes()


@pytest.mark.parametrize("cue", Cue)
def test_a_sound_is_one_channel_of_sixteen_bits_and_shorter_than_a_second(cue: Cue) -> None:
    with wave.open(str(sound_path(cue))) as file:
        assert (file.getnchannels(), file.getsampwidth(), file.getframerate()) == (1, 2, RATE_HZ)
        assert 0.3 < file.getnframes() / RATE_HZ < 1.0


def test_the_three_sounds_differ_in_pitch_and_rhythm() -> None:
    assert len({tuple(note.pitch_hz for note in notes) for notes in MELODIES.values()}) == 3
    assert len({len(notes) for notes in MELODIES.values()}) == 3


@pytest.mark.parametrize("cue", Cue)
def test_a_sound_is_loud_and_begins_and_ends_in_silence(cue: Cue) -> None:
    samples: array[int] = samples_of(MELODIES[cue])
    assert max(map(abs, samples)) > 20_000
    assert samples[0] == 0
    assert abs(samples[-1]) < 1_500


def test_the_pitch_is_the_one_written_down() -> None:
    first = MELODIES[Cue.REST_OVER][0]
    samples = samples_of((first,))
    rises = sum(a < 0 <= b for a, b in pairwise(samples))
    assert rises / first.seconds == pytest.approx(first.pitch_hz, rel=0.01)  # one whole wave in 300


def test_a_sound_is_played(stage: Driver) -> None:
    from floorapp.sounds import Sounds

    sounds = Sounds()
    sounds.play(Cue.HIT_OVER)
    assert sounds._loaded[Cue.HIT_OVER].state == "play"


def test_sound_can_be_off(stage: Driver) -> None:
    from floorapp.sounds import Sounds

    sounds = Sounds(is_on=False)
    sounds.play(Cue.HIT_OVER)
    assert sounds._loaded == {}


def test_a_sound_system_that_breaks_does_not_stop_the_hit(stage: Driver, caplog) -> None:
    from floorapp.sounds import Sounds

    class Broken:
        def stop(self) -> None:
            raise RuntimeError("the sound card was pulled out")

    sounds = Sounds()
    sounds._loaded[Cue.PEEL_NOW] = Broken()
    sounds.play(Cue.PEEL_NOW)
    assert "peel now" in caplog.text

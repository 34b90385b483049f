"""The sounds differ, can be off, and never stand in the way."""

import wave
from array import array
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest

from floorapp.sounds import MELODIES, RATE_HZ, Sounds, samples_of, sound_path, write_sounds
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


class Sound:
    """Of a machine whose sound goes, or does not; without a device Kivy's sounds have no length."""

    def __init__(self, *, goes: bool = True, length: float = 0.5) -> None:
        self.goes, self.length, self.volume, self.state = goes, length, 1.0, "stop"

    def stop(self) -> None:
        self.state = "stop"

    def play(self) -> None:
        self.state = "play" if self.goes else "stop"


def test_a_sound_is_played(stage: Driver) -> None:
    sounds = Sounds()
    sounds.play(Cue.HIT_OVER)
    assert sounds._loaded[Cue.HIT_OVER].state == "play"
    assert not sounds.fails


def test_a_sound_is_as_loud_as_it_is_asked_for(stage: Driver) -> None:
    sounds = Sounds()
    sounds.play(Cue.HIT_OVER, 0.7)
    assert sounds._loaded[Cue.HIT_OVER].volume == pytest.approx(0.7, abs=0.01)


def test_sound_can_be_off(stage: Driver) -> None:
    sounds = Sounds(is_on=False)
    sounds.prepare()
    sounds.play(Cue.HIT_OVER)
    assert sounds._loaded == {}
    assert not sounds.fails


def no_device(_: Path) -> Sound:
    return Sound(length=0)


def nothing(_: Path) -> None:
    return None


def broken(_: Path) -> None:
    raise RuntimeError("the sound card was pulled out")


@pytest.mark.parametrize("load", [no_device, nothing, broken])
def test_a_machine_without_sound_is_found_out_at_the_start(load: Callable[[Path], object], caplog) -> None:
    sounds = Sounds(load=load)
    sounds.prepare()
    assert sounds.fails
    assert "hit over" in caplog.text


def test_one_sound_that_is_not_loaded_is_enough(caplog) -> None:
    sounds = Sounds(load=lambda path: nothing(path) if "hit" in path.name else Sound())
    sounds.prepare()
    assert sounds.fails


def test_a_sound_that_fails_later_is_found_out_and_does_not_stop_the_hit(caplog) -> None:
    sound = Sound()
    sounds = Sounds(load=lambda _: sound)
    sounds.prepare()
    at_first = sounds.fails
    sound.goes = False
    sounds.play(Cue.PEEL_NOW)
    later = sounds.fails
    sound.goes = True
    sounds.play(Cue.PEEL_NOW)

    assert (at_first, later, sounds.fails) == (False, True, False)

"""The large keys: codes and seconds typed without a keyboard."""

from typing import Any

import pytest

from tests.floorapp.driver import Driver


class TestKeyPad:
    @pytest.fixture
    def pad(self, show: Any) -> Any:
        from floorapp.widgets.key_pad import KeyPad

        return show(KeyPad())

    def done(self, pad: Any) -> list[str]:
        told: list[str] = []
        pad.bind(on_done=lambda _, text: told.append(text))
        return told

    def key(self, pad: Any, words: str) -> Any:
        return next(key for key in pad.ids.grid.children if getattr(key, "words", None) == words)

    def test_a_code_is_tapped_and_shown_in_groups_of_four(self, stage: Driver, pad: Any) -> None:
        for character in "KTQ4W":
            stage.tap(self.key(pad, character))
        assert pad.shown == "KTQ4 W–––"

    def test_the_last_character_can_be_taken_back(self, stage: Driver, pad: Any) -> None:
        from floorapp.widgets.key_pad import BackKey

        pad.typed = "KT"
        stage.tap(next(key for key in pad.ids.grid.children if isinstance(key, BackKey)))
        assert pad.typed == "K"

    def test_the_block_hands_the_code_on_and_begins_anew(self, stage: Driver, pad: Any) -> None:
        from floorapp.widgets.buttons import PrimaryButton

        told = self.done(pad)
        pad.typed = "KTQ4W4JC"
        stage.frames(2)
        stage.tap(next(part for part in pad.walk() if isinstance(part, PrimaryButton)))
        assert told == ["KTQ4W4JC"]
        assert pad.typed == ""

    def test_nothing_typed_is_nothing_to_hand_on(self, pad: Any) -> None:
        told = self.done(pad)
        pad.finish()
        assert told == []

    def test_no_more_than_a_code_can_be_typed(self, pad: Any) -> None:
        for _ in range(20):
            pad.type("K")
        assert pad.typed == "K" * 8

    @pytest.mark.usefixtures("stage")
    def test_as_many_keys_as_fit_stand_side_by_side(self) -> None:
        from floorapp import theme
        from floorapp.widgets.key_pad import columns_in

        key = theme.px(theme.TARGET_MM)
        assert [columns_in(width * key, 0.0) for width in (20, 8, 7.9, 5.9, 3)] == [8, 8, 6, 4, 3]

    def test_seconds_are_digits_alone(self, stage: Driver, pad: Any) -> None:
        pad.is_digits = True
        stage.frames(3)
        for character in "120":
            stage.tap(self.key(pad, character))
        assert pad.shown == "120"
        assert len(pad.ids.grid.children) == 11

    def test_digits_stand_as_on_a_telephone(self, stage: Driver, pad: Any) -> None:
        pad.is_digits = True
        stage.frames(3)
        places = {words: self.key(pad, words).center for words in ("1", "2", "3", "5", "8", "0")}

        assert places["1"][1] == places["2"][1] == places["3"][1]
        assert places["2"][0] == places["5"][0] == places["8"][0] == places["0"][0]
        assert places["2"][1] > places["5"][1] > places["8"][1] > places["0"][1]

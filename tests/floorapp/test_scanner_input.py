"""Scans, the foot switch and the operator's keys, told apart whatever has the focus."""

from collections.abc import Iterator
from dataclasses import dataclass, field

import pytest

from tests.floorapp.driver import Driver


@dataclass
class Heard:
    """What the reader handed on, in order."""

    told: list = field(default_factory=list)


@pytest.fixture
def heard(stage: Driver) -> Iterator[Heard]:
    from floorapp.scanner_input import WedgeReader

    heard = Heard()
    reader = WedgeReader(
        on_code=heard.told.append,
        on_primary=lambda: heard.told.append("primary"),
        on_back=lambda: heard.told.append("back"),
        on_move=heard.told.append,
        on_tab=lambda steps: heard.told.append(f"tab {steps}"),
        takes_text=lambda: False,
        clock=stage.clock,
    )
    yield heard
    reader.close()


def test_a_scan_is_one_code(stage: Driver, heard: Heard) -> None:
    stage.scan("KTQ4W4JC")
    assert heard.told == ["KTQ4W4JC"]


def test_a_scanner_that_types_small_letters_gives_the_same_code(stage: Driver, heard: Heard) -> None:
    stage.scan("ktq4w4jc")
    assert heard.told == ["KTQ4W4JC"]


@pytest.mark.parametrize("modifier", ["shift", "caps lock"])
def test_a_scanner_may_press_a_modifier_within_a_code(stage: Driver, heard: Heard, modifier: str) -> None:
    for key in ("K", modifier, "T", "enter"):
        stage.press_key(key)
    assert heard.told == ["KT"]


def test_a_scanner_that_ends_with_tab_is_understood(stage: Driver, heard: Heard) -> None:
    for character in "KTQ4":
        stage.press_key(character)
    stage.press_key("tab")
    assert heard.told == ["KTQ4"]


def test_a_second_enter_of_the_scanner_does_not_act_on_the_screen_it_opened(
    stage: Driver, heard: Heard
) -> None:
    stage.scan("KTQ4W4JC")
    stage.press_key("enter")
    assert heard.told == ["KTQ4W4JC"]


def test_enter_acts_again_soon_after_a_scan(stage: Driver, heard: Heard) -> None:
    stage.scan("KTQ4W4JC")
    stage.advance(0.6)
    stage.press_key("enter")
    assert heard.told == ["KTQ4W4JC", "primary"]


@pytest.mark.parametrize("key", ["space", "enter", "page down"])
def test_the_keys_of_a_foot_switch_are_the_primary_action(stage: Driver, heard: Heard, key: str) -> None:
    stage.press_key(key)
    assert heard.told == ["primary"]


@pytest.mark.parametrize("key", ["escape", "page up", "backspace"])
def test_the_keys_that_lead_back(stage: Driver, heard: Heard, key: str) -> None:
    stage.press_key(key)
    assert heard.told == ["back"]


def test_a_foot_that_stays_on_the_switch_acts_once(stage: Driver, heard: Heard) -> None:
    stage.hold_key("space", repeats=40)
    assert heard.told == ["primary"]


def test_a_foot_that_comes_down_twice_acts_twice(stage: Driver, heard: Heard) -> None:
    stage.press_key("space")
    stage.press_key("space")
    assert heard.told == ["primary", "primary"]


def test_a_key_whose_letting_go_was_lost_works_again_later(stage: Driver, heard: Heard) -> None:
    stage._down("space", ())
    stage.advance(1.5)
    stage.press_key("space")
    assert heard.told == ["primary", "primary"]


def test_backspace_takes_the_last_typed_character_back(stage: Driver, heard: Heard) -> None:
    for key in ("K", "T", "X", "backspace", "Q", "enter"):
        stage.press_key(key)
    assert heard.told == ["KTQ"]


def test_a_scan_without_an_end_is_told_once_and_fills_no_memory(stage: Driver, heard: Heard) -> None:
    from floorapp.scanner_input import LONGEST_TYPED

    stage.scan("K" * 20 * LONGEST_TYPED)
    assert [len(told) for told in heard.told] == [LONGEST_TYPED + 1]


def test_after_a_scan_without_an_end_the_next_one_is_read(stage: Driver, heard: Heard) -> None:
    stage.scan("K" * 1_000)
    stage.advance(0.6)
    stage.scan("KTQ4W4JC")
    stage.advance(0.6)
    stage.press_key("enter")
    assert heard.told[1:] == ["KTQ4W4JC", "primary"]


def test_characters_that_stop_without_an_enter_are_forgotten_as_well(stage: Driver, heard: Heard) -> None:
    for _ in range(200):
        stage.press_key("K")
    stage.advance(2.1)
    stage.press_key("enter")
    assert heard.told[1:] == ["primary"]


def test_a_stray_letter_is_forgotten_after_two_seconds(stage: Driver, heard: Heard) -> None:
    stage.press_key("K")
    stage.advance(2.1)
    stage.press_key("enter")
    assert heard.told == ["primary"]


def test_tab_and_arrows_move_the_focus(stage: Driver, heard: Heard) -> None:
    stage.press_key("tab")
    stage.press_key("tab", ("shift",))
    for key in ("right", "down", "left", "up"):
        stage.press_key(key)
    assert heard.told == ["tab 1", "tab -1", 1, 1, -1, -1]


def test_a_closed_reader_hears_nothing(stage: Driver) -> None:
    from floorapp.scanner_input import WedgeReader

    told: list[str] = []
    reader = WedgeReader(
        on_code=told.append,
        on_primary=lambda: told.append("primary"),
        on_back=lambda: told.append("back"),
        on_move=lambda _: told.append("move"),
        on_tab=lambda _: told.append("tab"),
        takes_text=lambda: False,
        clock=stage.clock,
    )
    reader.close()
    stage.scan("KTQ4W4JC")
    assert told == []


def test_a_scan_is_read_while_a_text_box_has_the_keyboard(stage: Driver, heard: Heard) -> None:
    from kivy.uix.textinput import TextInput

    box = TextInput()
    stage.app.root.add_widget(box)
    stage.frames(2)
    stage.tap(box)
    assert box.focus
    stage.scan("KTQ4W4JC")
    assert heard.told == ["KTQ4W4JC"]

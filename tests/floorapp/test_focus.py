"""Keys reach every target on the screen."""

from typing import Any

import pytest

from tests.floorapp.driver import Driver


@pytest.fixture
def row(stage: Driver) -> list[Any]:
    """Three buttons, and a fourth that is switched off."""
    from kivy.uix.boxlayout import BoxLayout

    from floorapp.widgets.buttons import PlainButton

    box = BoxLayout()
    buttons = [PlainButton(words=words) for words in ("Hold", "Spoil", "Back", "Off")]
    for button in buttons:
        box.add_widget(button)
    buttons[3].disabled = True
    stage.app.root.add_widget(box)
    stage.frames(2)
    return buttons


def ring_of(stage: Driver) -> Any:
    from floorapp.focus import FocusRing

    return FocusRing(lambda: stage.app.root)


def framed(buttons: list[Any]) -> list[str]:
    return [button.words for button in buttons if button.is_focused]


def test_nothing_is_framed_before_a_key_moves(stage: Driver, row: list[Any]) -> None:
    assert framed(row) == []
    assert not ring_of(stage).activate()


def test_the_first_move_frames_the_first_target(stage: Driver, row: list[Any]) -> None:
    ring_of(stage).move(1)
    assert framed(row) == ["Hold"]


def test_moving_back_at_first_frames_the_last_target(stage: Driver, row: list[Any]) -> None:
    ring_of(stage).move(-1)
    assert framed(row) == ["Back"]


def test_the_frame_goes_around_and_leaves_out_what_is_switched_off(stage: Driver, row: list[Any]) -> None:
    ring = ring_of(stage)
    seen = []
    for _ in range(4):
        ring.move(1)
        seen += framed(row)
    assert seen == ["Hold", "Spoil", "Back", "Hold"]


def test_the_framed_target_is_tapped(stage: Driver, row: list[Any]) -> None:
    tapped = []
    for button in row:
        button.bind(on_tap=lambda tapped_one: tapped.append(tapped_one.words))
    ring = ring_of(stage)
    ring.move(1)
    ring.move(1)
    assert ring.activate()
    assert tapped == ["Spoil"]


def test_the_frame_can_be_seen_and_is_gone_afterwards(stage: Driver, row: list[Any], tmp_path) -> None:
    ring = ring_of(stage)
    before = stage.shot(tmp_path / "before.png").read_bytes()
    ring.move(1)
    during = stage.shot(tmp_path / "during.png").read_bytes()
    ring.clear()
    after = stage.shot(tmp_path / "after.png").read_bytes()
    assert during != before == after


def test_an_empty_screen_has_nothing_to_move_to(stage: Driver) -> None:
    ring_of(stage).move(1)

"""The driver itself: one held time line, both sizes, real touches, and nothing left behind."""

from pathlib import Path

from PIL import Image

from floorapp.palette import GROUND
from tests.floorapp.driver import LANDSCAPE, PORTRAIT, Driver


def colour_at(path: Path, x: int, y: int) -> tuple[float, ...]:
    with Image.open(path) as picture:
        return tuple(channel / 255 for channel in picture.getpixel((x, y)))


def test_kivys_time_and_the_held_clock_move_together(stage: Driver) -> None:
    from kivy.clock import Clock

    start_s, start_ns = Clock.get_time(), stage.clock.monotonic_ns()
    stage.advance(12.5)
    assert stage.clock.monotonic_ns() - start_ns == 12_500_000_000
    assert abs(Clock.get_time() - start_s - 12.5) < 1e-6  # seconds as floats


def test_time_stands_while_frames_are_drawn(stage: Driver) -> None:
    before = stage.clock.monotonic_ns()
    stage.frames(5)
    assert stage.clock.monotonic_ns() == before


def test_a_stalled_screen_jumps(stage: Driver) -> None:
    from kivy.clock import Clock

    ticks: list[float] = []
    event = Clock.schedule_interval(ticks.append, 0.1)
    stage.jump(7.0)
    event.cancel()
    assert len(ticks) == 1
    assert ticks[0] >= 7.0


def test_a_picture_is_as_large_as_the_window_either_way_up(stage: Driver, tmp_path: Path) -> None:
    for size in (LANDSCAPE, PORTRAIT):
        stage.resize(size)
        path = stage.shot(tmp_path / "page.png")
        with Image.open(path) as picture:
            assert picture.size == size


def test_a_turned_tablet_is_drawn_to_its_far_corner(stage: Driver, tmp_path: Path) -> None:
    stage.resize(PORTRAIT)
    path = stage.shot(tmp_path / "page.png")
    assert colour_at(path, 799, 0) == colour_at(path, 0, 1279) == GROUND[:3]


def test_the_window_still_draws_after_a_picture(stage: Driver, tmp_path: Path) -> None:
    from floorapp.widgets.buttons import PrimaryButton

    before = stage.shot(tmp_path / "before.png").read_bytes()
    stage.app.root.add_widget(PrimaryButton(words="Laid. Press 15 s"))
    assert stage.shot(tmp_path / "after.png").read_bytes() != before


def test_a_touch_presses_what_is_under_it(stage: Driver) -> None:
    from floorapp.widgets.buttons import PlainButton

    tapped = []
    button = PlainButton(words="Hold", size_hint=(None, None), width=300, pos=(500, 300))
    button.bind(on_tap=tapped.append)
    stage.app.root.add_widget(button)
    stage.frames(2)
    stage.touch(100, 100)
    assert tapped == []
    stage.tap(button)
    assert tapped == [button]


def test_two_apps_can_follow_each_other(start_app) -> None:
    from tests.floorapp.conftest import bare_app

    first = start_app(bare_app)
    first.stop()
    before_ns = first.clock.monotonic_ns()
    second = start_app(bare_app, PORTRAIT)
    assert second.app.root.size == [*PORTRAIT]
    assert second.clock.monotonic_ns() >= before_ns

"""The running hit: digits, the draining ground and the flash."""

from typing import Any

import pytest

from tests.floorapp.driver import Driver


class TestCountdown:
    @pytest.fixture
    def panel(self, show: Any) -> Any:
        from floorapp.widgets.countdown_panel import CountdownPanel

        return show(CountdownPanel(left_s=15, fraction_left=1.0, heading="Hit 2 of 5: pressing"))

    @pytest.mark.parametrize(
        ("left_s", "shown"), [(0, "0"), (9, "9"), (99, "99"), (100, "1:40"), (605, "10:05")]
    )
    def test_seconds_are_shown_alone_as_long_as_they_can_be(
        self, panel: Any, left_s: int, shown: str
    ) -> None:
        panel.left_s = left_s
        assert panel.shown == shown

    def test_the_ground_drains_with_the_time(self, panel: Any) -> None:
        panel.fraction_left = 0.5
        assert panel.drain_px == panel.height / 2
        panel.fraction_left = 0
        assert panel.drain_px == 0

    def test_a_move_of_less_than_two_pixels_draws_nothing(self, stage: Driver, panel: Any) -> None:
        stage.frames(2)
        before = panel.drain_px
        panel.fraction_left = 1 - 1.9 / panel.height
        assert panel.drain_px == before
        panel.fraction_left = 1 - 2.1 / panel.height
        assert panel.drain_px < before

    def test_a_flash_turns_the_panel_over_a_few_times_and_ends(self, stage: Driver, panel: Any) -> None:
        seen: list[bool] = []
        panel.bind(is_flashing=lambda _, value: seen.append(value))
        panel.flash()
        stage.advance(5)
        assert seen == [True, False] * 4

    def test_a_flash_is_never_faster_than_three_in_a_second(self, stage: Driver, panel: Any) -> None:
        lit: list[float] = []
        start_ns = stage.clock.monotonic_ns()
        panel.bind(
            is_flashing=lambda _, value: value and lit.append((stage.clock.monotonic_ns() - start_ns) / 1e9)
        )
        panel.flash()
        stage.advance(5, step_s=0.01)
        assert all(sum(start <= other < start + 1 for other in lit) <= 3 for start in lit)

    def test_a_flash_can_be_stopped(self, stage: Driver, panel: Any) -> None:
        panel.flash()
        panel.stop_flash()
        stage.advance(1)
        assert not panel.is_flashing

    def test_the_owners_buttons_stand_in_the_panel(self, stage: Driver, panel: Any) -> None:
        from floorapp.widgets.buttons import PlainButton

        tapped: list[Any] = []
        button = PlainButton(words="Opened early")
        button.bind(on_tap=tapped.append)
        panel.actions.add_widget(button)
        stage.frames(3)
        stage.tap(button)
        assert tapped == [button]

"""The widgets one by one: what they show of their records, and what they dispatch."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from floorapp.views import Group, Line, NoticeView, RailItem, Setting, Tone
from floorapp.widget_views import Rung, RungState, Share
from models.job.job import Peel
from tests.floorapp.driver import Driver
from tests.floorapp.test_kivy_setup import OPEN, run


@pytest.fixture
def show(stage: Driver) -> Any:
    """Puts a widget on the screen, at the left lower corner."""

    def place(widget: Any) -> Any:
        stage.app.root.add_widget(widget)
        stage.frames(4)
        return widget

    return place


def words_in(widget: Any) -> list[str]:
    from floorapp.widgets.words import Text

    return [part.words for part in widget.walk(restrict=True) if isinstance(part, Text) and part.words]


def signs_in(widget: Any) -> list[str]:
    from floorapp.widgets.signs import Sign

    return [part.name for part in widget.walk(restrict=True) if isinstance(part, Sign) and part.name]


@pytest.mark.parametrize(
    ("module", "made"),
    [
        ("batch_bar", "BatchBar()"),
        ("buttons", "PrimaryButton()"),
        ("cards", "GroupBox()"),
        ("countdown_panel", "CountdownPanel()"),
        ("hit_ladder", "RungBox()"),
        ("key_pad", "KeyPad()"),
        ("notice", "Notice()"),
        ("placement_map", "PlacementMap()"),
        ("rest_rail", "RailBox()"),
    ],
)
def test_each_widget_brings_along_all_that_it_is_made_of(module: str, made: str) -> None:
    done = run(OPEN + f"open_window(); from floorapp.widgets import {module}; {module}.{made}")
    assert done.stderr == ""


class TestButtons:
    def test_a_button_under_a_finger_is_darker(self, stage: Driver, show: Any, tmp_path: Path) -> None:
        from floorapp.widgets.buttons import PlainButton

        button = show(PlainButton(words="Hold"))
        before = stage.shot(tmp_path / "before.png").read_bytes()
        button.state = "down"
        assert stage.shot(tmp_path / "down.png").read_bytes() != before

    def test_a_button_tells_its_tap(self, stage: Driver, show: Any) -> None:
        from floorapp.widgets.buttons import PlainButton

        button = show(PlainButton(words="Hold"))
        tapped: list[Any] = []
        button.bind(on_tap=tapped.append)
        stage.tap(button)
        assert tapped == [button]

    def test_a_button_that_is_switched_off_takes_no_tap(self, stage: Driver, show: Any) -> None:
        from floorapp.widgets.buttons import PlainButton

        button = show(PlainButton(words="Hold", disabled=True))
        tapped: list[Any] = []
        button.bind(on_tap=tapped.append)
        stage.tap(button)
        assert tapped == []

    def test_long_words_make_a_button_higher_and_not_wider(self, show: Any) -> None:
        from floorapp.widgets.buttons import PlainButton

        words = "Opened early, tell the seconds that it was really pressed, please"
        button = show(PlainButton(words=words, size_hint_x=None, width=200))
        assert button.width == 200
        assert button.height > 120

    def test_a_choice_is_told_by_its_sign_as_well(self, show: Any) -> None:
        from floorapp.widgets.buttons import ChoiceButton

        choice = show(ChoiceButton(words="Lifts", tone=Tone.HELD))
        assert signs_in(choice) == ["box"]
        choice.is_chosen = True
        assert signs_in(choice) == ["ticked box"]


class TestLadder:
    RUNGS = (
        Rung("1", "back", RungState.DONE),
        Rung("2", "back", RungState.CURRENT, can_tick=True),
        Rung("2+1", "back", RungState.TO_COME),
    )

    @pytest.fixture
    def ladder(self, show: Any) -> Any:
        from floorapp.widgets.hit_ladder import HitLadder

        return show(HitLadder(rungs=self.RUNGS))

    def ticks(self, ladder: Any) -> list[Any]:
        told: list[Any] = []
        ladder.bind(on_tick=told.append)
        return told

    def test_every_rung_tells_its_hit_its_side_and_its_state(self, ladder: Any) -> None:
        assert [words_in(box) for box in ladder.boxes()] == [["1", "back"], ["2", "back"], ["2+1", "back"]]
        assert [signs_in(box) for box in ladder.boxes()] == [["tick"], ["box"], []]

    def test_the_rung_in_hand_is_ticked_by_a_tap(self, stage: Driver, ladder: Any) -> None:
        told = self.ticks(ladder)
        stage.tap(ladder.boxes()[1])
        assert told == [ladder]

    @pytest.mark.parametrize("place", [0, 2])
    def test_other_rungs_take_no_tap(self, stage: Driver, ladder: Any, place: int) -> None:
        told = self.ticks(ladder)
        stage.tap(ladder.boxes()[place])
        assert told == []

    def test_a_rung_that_cannot_be_ticked_yet_takes_no_tap(self, stage: Driver, ladder: Any) -> None:
        ladder.rungs = (Rung("1", "back", RungState.CURRENT),)
        stage.frames(3)
        told = self.ticks(ladder)
        stage.tap(ladder.boxes()[0])
        assert told == []
        assert signs_in(ladder) == []

    @pytest.mark.parametrize("place", [0, 9, 17])
    @pytest.mark.parametrize("is_upright", [True, False])
    def test_the_rung_in_hand_is_in_view_of_a_long_ladder(
        self, stage: Driver, ladder: Any, place: int, is_upright: bool
    ) -> None:
        states = [RungState.DONE] * place + [RungState.CURRENT] + [RungState.TO_COME] * (17 - place)
        ladder.is_upright = is_upright
        ladder.rungs = tuple(Rung(str(n + 1), "back", state) for n, state in enumerate(states))
        stage.frames(5)
        box = ladder.boxes()[place]
        x, y = box.to_window(*box.center)
        assert ladder.collide_point(x, y)

    def test_a_short_ladder_begins_at_the_top(self, ladder: Any) -> None:
        first = ladder.boxes()[0]
        assert ladder.top - first.to_window(first.x, first.top)[1] < first.height


class TestRestRail:
    RESTING = RailItem("KTQ4M9XF", "KTQ4 M9XF", "Tor Lindqvist", "L", 65, is_pressing=False)
    PRESSING = RailItem("KTQ4W4JC", "KTQ4 W4JC", "Ines Okafor", "M", 9, is_pressing=True)

    @pytest.fixture
    def rail(self, show: Any) -> Any:
        from floorapp.widgets.rest_rail import RestRail

        return show(RestRail(items=(self.PRESSING, self.RESTING)))

    def test_an_item_tells_time_code_wearer_and_size(self, rail: Any) -> None:
        assert words_in(rail.boxes()[1]) == ["1:05", "KTQ4 M9XF", "L · Tor Lindqvist"]

    def test_pressing_and_resting_have_signs_of_their_own(self, rail: Any) -> None:
        assert [signs_in(box) for box in rail.boxes()] == [["press"], ["rest"]]

    def test_what_is_due_says_what_to_do(self, rail: Any) -> None:
        rail.items = tuple(replace(item, left_s=0) for item in rail.items)
        assert [box.time_told for box in rail.boxes()] == ["open now", "peel now"]
        assert rail.told == "2 waiting\n2 due now"

    def test_a_second_less_changes_the_boxes_that_stand_there(self, rail: Any) -> None:
        before = rail.boxes()
        rail.items = tuple(replace(item, left_s=item.left_s - 1) for item in rail.items)
        assert rail.boxes() == before
        assert [box.time_told for box in before] == ["0:08", "1:04"]

    def test_another_order_is_followed(self, rail: Any) -> None:
        rail.items = (self.RESTING, self.PRESSING)
        assert [box.item.code for box in rail.boxes()] == ["KTQ4M9XF", "KTQ4W4JC"]

    def test_a_tap_picks_the_garment(self, stage: Driver, rail: Any) -> None:
        picked: list[str] = []
        rail.bind(on_pick=lambda _, code: picked.append(code))
        stage.tap(rail.boxes()[1])
        assert picked == ["KTQ4M9XF"]

    def test_an_empty_rail_says_so(self, rail: Any) -> None:
        rail.items = ()
        assert rail.boxes() == []
        assert rail.told == "nothing rests"


class TestBatchBar:
    SHARES = (Share("done", 8, Tone.DONE), Share("held", 1, Tone.HELD), Share("to do", 15, Tone.PLAIN))

    def test_the_legend_tells_sign_count_and_word(self, show: Any) -> None:
        from floorapp.widgets.batch_bar import BatchBar

        bar = show(BatchBar(shares=self.SHARES))
        assert words_in(bar) == ["8 done", "1 held", "15 to do"]
        assert signs_in(bar) == ["tick", "held", "to do"]

    @pytest.mark.usefixtures("stage")
    def test_the_shares_fill_the_bar_and_none_is_too_narrow_for_its_number(self) -> None:
        from floorapp.widgets.batch_bar import widths_of

        shares = [Share("done", 998, Tone.DONE), Share("held", 1, Tone.HELD), Share("to do", 1, Tone.PLAIN)]
        widths = widths_of(shares, 600.0, 30.0)
        assert sum(widths) == pytest.approx(600.0)
        assert min(widths) >= 30.0

    @pytest.mark.usefixtures("stage")
    def test_shares_are_to_scale(self) -> None:
        from floorapp.widgets.batch_bar import widths_of

        shares = [Share("done", 3, Tone.DONE), Share("to do", 1, Tone.PLAIN)]
        assert widths_of(shares, 400.0, 0.0) == [300.0, 100.0]


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
        stage.tap(next(child for child in pad.children if isinstance(child, PrimaryButton)))
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


class TestCards:
    def test_a_setting_is_told_in_a_value_and_words(self, show: Any) -> None:
        from floorapp.widgets.cards import SettingBox

        assert words_in(show(SettingBox(setting=Setting("149 °C", "300 °F")))) == ["149 °C", "300 °F"]

    def test_settings_beside_each_other_are_equally_high(self, show: Any) -> None:
        from floorapp.widgets.cards import SettingGrid

        long = "300 °F · the press was last at 160 °C, so change it now and wait until it is there"
        grid = show(SettingGrid(settings=(Setting("149 °C", long), Setting("15 s", "medium"))))
        assert len({box.height for box in grid.children}) == 1

    def test_a_line_about_a_peel_has_its_thermometer_and_the_word(self, show: Any) -> None:
        from floorapp.widgets.cards import GroupBox

        box = show(GroupBox(group=Group("After the rest", (Line("4 × foam ring", Peel.COLD),), Tone.REST)))
        assert words_in(box) == ["After the rest", "cold", "4 × foam ring"]
        assert signs_in(box) == ["cold"]

    def test_a_line_about_anything_else_has_none(self, show: Any) -> None:
        from floorapp.widgets.cards import GroupBox

        assert signs_in(show(GroupBox(group=Group("Short", (Line("anchor: 3 s short"),))))) == []

    def test_another_group_takes_the_place_of_the_first(self, show: Any) -> None:
        from floorapp.widgets.cards import GroupBox

        box = show(GroupBox(group=Group("One", (Line("a"), Line("b")))))
        box.group = Group("Two", (Line("c"),))
        assert words_in(box) == ["Two", "c"]


class TestNotice:
    def test_a_refusal_has_a_sign_its_line_and_a_way_to_take_it_away(self, stage: Driver, show: Any) -> None:
        from floorapp.widgets.notice import Notice

        line = "This code has a wrong check character. Scan it again, or type it."
        notice = show(Notice(notice=NoticeView(line, Tone.HELD)))
        tapped: list[Any] = []
        notice.bind(on_tap=tapped.append)
        stage.tap(notice)
        assert signs_in(notice) == ["caution"]
        assert words_in(notice) == [line, "OK"]
        assert tapped == [notice]

    def test_good_news_has_another_sign(self, show: Any) -> None:
        from floorapp.widgets.notice import Notice

        assert signs_in(show(Notice(notice=NoticeView("24 tags were written.", Tone.DONE)))) == ["tick"]

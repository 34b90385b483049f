"""Buttons, cards and the notice: what they show of their records, and what they dispatch."""

from pathlib import Path
from typing import Any

import pytest

from floorapp.screens.words import degrees
from floorapp.views import Group, Line, NoticeView, Setting, Tone
from models.job.job import Peel
from tests.floorapp.driver import Driver
from tests.floorapp.test_kivy_setup import OPEN, run
from tests.floorapp.what_is_told import signs_in, words_in


def parted_words(shown: Any) -> list[str]:
    """The words that find no room in a line of their own, and so are cut in two."""
    from floorapp.widgets.drawing import words_texture
    from floorapp.widgets.words import Words

    labels = [part for part in shown.walk(restrict=True) if isinstance(part, Words)]
    return [
        word
        for label in labels
        for word in label.words.split(" ")
        if words_texture(word, label.font_size, bold=label.bold).width > label.width
    ]


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


class TestCards:
    def test_a_setting_is_told_in_a_value_and_words(self, show: Any) -> None:
        from floorapp.widgets.cards import SettingBox

        assert words_in(show(SettingBox(setting=Setting("149 °C", "300 °F")))) == ["149 °C", "300 °F"]

    def test_settings_beside_each_other_are_equally_high(self, show: Any) -> None:
        from floorapp.widgets.cards import SettingGrid

        long = "300 °F · the press was last at 160 °C, so change it now and wait until it is there"
        grid = show(SettingGrid(settings=(Setting("149 °C", long), Setting("15 s", "medium"))))
        assert len({box.height for box in grid.children}) == 1

    @pytest.mark.parametrize(("width_px", "in_a_row"), [(500, 3), (740, 5)])
    def test_five_settings_take_two_rows_where_one_would_part_their_words(
        self, show: Any, width_px: int, in_a_row: int
    ) -> None:
        from floorapp.widgets.cards import SettingGrid

        settings = (
            Setting("wide press", "walk to this press"),
            Setting("149 °C", f"300 °F · change it from {degrees(135)}"),
            Setting("20 s", "medium pressure · change it from light"),
            Setting("Pad in", "under yoke seam"),
            Setting("Cover off", "bare platen"),
        )
        grid = show(SettingGrid(settings=settings, size_hint_x=None, width=width_px))

        boxes = list(reversed(grid.children))
        assert sum(box.top == boxes[0].top for box in boxes) == in_a_row
        assert parted_words(grid) == []

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

"""The rail of waiting garments, and the bar of a batch."""

from dataclasses import replace
from typing import Any

import pytest

from floorapp.views import RailItem, Tone
from floorapp.widget_views import Share
from tests.floorapp.driver import Driver
from tests.floorapp.what_is_told import signs_in, words_in


class TestRestRail:
    RESTING = RailItem(
        "KTQ4M9XF", "No 12 Tor Lindqvist", "size L · KTQ4 M9XF", "LC-0147", 65, is_pressing=False
    )
    PRESSING = RailItem("KTQ4W4JC", "Ines Okafor", "size M · KTQ4 W4JC", "LC-0147", 9, is_pressing=True)

    @pytest.fixture
    def rail(self, show: Any) -> Any:
        from floorapp.widgets.rest_rail import RestRail

        return show(RestRail(items=(self.PRESSING, self.RESTING)))

    def test_an_item_tells_time_number_and_wearer_then_size_code_and_batch(self, rail: Any) -> None:
        told = ["1:05", "No 12 Tor Lindqvist", "size L · KTQ4 M9XF", "LC-0147"]
        assert words_in(rail.boxes()[1]) == told

    def test_pressing_and_resting_have_signs_of_their_own(self, rail: Any) -> None:
        assert [signs_in(box) for box in rail.boxes()] == [["press"], ["rest"]]

    def test_what_is_due_says_what_to_do(self, rail: Any) -> None:
        rail.items = tuple(replace(item, left_s=0) for item in rail.items)
        assert [box.time_told for box in rail.boxes()] == ["open now", "peel now"]
        assert rail.told == "2 waiting\n2 due now"

    def test_a_hit_that_nobody_counted_has_to_be_looked_at(self, rail: Any) -> None:
        rail.items = (replace(self.PRESSING, left_s=None),)
        assert [box.time_told for box in rail.boxes()] == ["look now"]
        assert signs_in(rail.boxes()[0]) == ["caution"]
        assert rail.told == "1 waiting\n1 due now"

    def test_a_long_name_is_not_cut(self, stage: Driver, rail: Any) -> None:
        rail.items = (replace(self.RESTING, name="No 12 Bartholomäus-Maximilian von Achterveld-Okonkwo"),)
        stage.frames(4)
        name = next(w for w in rail.boxes()[0].walk() if getattr(w, "words", "").startswith("No 12"))
        assert not name.shorten
        assert name.texture_size[0] <= name.width <= rail.boxes()[0].width

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

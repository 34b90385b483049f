"""The ladder of hits."""

from typing import Any

import pytest

from floorapp.widget_views import Rung, RungState
from tests.floorapp.driver import Driver
from tests.floorapp.what_is_told import signs_in, words_in


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
        stage.frames(6)
        box, scroll = ladder.boxes()[place], ladder.ids.scroll
        for x, y in (box.to_window(*box.pos), box.to_window(box.right, box.top)):
            assert scroll.collide_point(x, y)

    @pytest.mark.parametrize("place", [0, 9, 17])
    @pytest.mark.parametrize("is_upright", [True, False])
    def test_a_long_ladder_says_how_many_rungs_it_hides(
        self, stage: Driver, ladder: Any, place: int, is_upright: bool
    ) -> None:
        states = [RungState.DONE] * place + [RungState.CURRENT] + [RungState.TO_COME] * (17 - place)
        ladder.is_upright = is_upright
        ladder.rungs = tuple(Rung(str(n + 1), "back", state) for n, state in enumerate(states))
        stage.frames(6)
        middles = [box.to_window(*box.center) for box in ladder.boxes()]
        seen = [n for n, (x, y) in enumerate(middles) if ladder.ids.scroll.collide_point(x, y)]
        before, after = seen[0], 17 - seen[-1]
        assert ladder.before == (f"{before} before" if before else "")
        assert ladder.after == (f"{after} more" if after else "")
        assert before + after > 0

    def test_eight_hits_stand_on_the_tablet_without_scrolling(self, stage: Driver, ladder: Any) -> None:
        states = [RungState.CURRENT] + [RungState.TO_COME] * 7
        ladder.size_hint_y, ladder.height = None, 628  # between the bar above and the rail below
        ladder.rungs = tuple(Rung(str(n + 1), "back", state) for n, state in enumerate(states))
        stage.frames(6)
        assert not ladder.is_long

    def test_a_short_ladder_begins_at_the_top(self, ladder: Any) -> None:
        first = ladder.boxes()[0]
        assert ladder.top - first.to_window(first.x, first.top)[1] < first.height

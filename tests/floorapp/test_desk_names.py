"""Whose garment it is stands large on every screen of it, in the real window at both sizes."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from floorapp.views import Action, Tap
from models.garment.progress import Recipe
from models.job.job import GarmentOrder
from models.store.store import Store
from tests.floorapp.conftest import StartApp
from tests.floorapp.driver import LANDSCAPE, PORTRAIT
from tests.floorapp.press_operator import PressOperator, app_on
from tests.held_clock import HeldClock
from tests.sample_jobs import crew_vest_recipe
from tests.small_floor import codes_of, loaded_store

SIZES = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])
LEAST_MM = 6.0
ORDERS = (GarmentOrder(1, "M", "Ines Okafor", "31"), GarmentOrder(2, "L"), GarmentOrder(3, "S", "", "1"))


@pytest.fixture
def recipe() -> Recipe:
    """Three vests, none of which has the number of its place in the batch."""
    recipe = crew_vest_recipe()
    return replace(recipe, job=replace(recipe.job, garments=ORDERS))


def shown_large(operator: PressOperator) -> list[str]:
    """What stands in the head of the screen in large letters, whole and inside the window."""
    from kivy.metrics import mm

    from floorapp.widgets.garment_bar import GarmentBar, WearerName, WearerNumber

    screen = operator.desk.screens[operator.flow.screen]
    bars = [bar for bar in screen.walk(restrict=True) if isinstance(bar, GarmentBar)]
    told = [w for bar in bars for w in bar.walk(restrict=True) if isinstance(w, WearerName | WearerNumber)]
    return [w.words for w in told if w.words and w.font_size >= mm(LEAST_MM) and is_whole(operator, w)]


def is_whole(operator: PressOperator, label: Any) -> bool:
    width, height = operator.driver.window.size
    x, y = label.to_window(*label.pos)
    fits = label.texture_size[0] <= label.width + 1 and label.texture_size[1] <= label.height + 1
    return fits and not label.shorten and x >= 0 and y >= 0 and x + label.width <= width and y < height


def screens_of(operator: PressOperator, code: str) -> Iterator[str]:
    """Every card of a garment, from the scan to the hold."""
    operator.scan(code)
    yield "lay"
    operator.tap("Why these together?")
    yield "why"
    operator.tap("Back")
    operator.tap("Laid")
    yield "pressing"
    operator.tap("Opened early")
    yield "seconds"
    operator.tap("Back")
    operator.driver.advance(operator.flow.in_hand.progress.hit.dwell_s)
    yield "hit over"
    operator.tap("The press is open")
    yield "peel"
    operator.tap("Hot ones off")
    operator.scan(code)
    yield "resting"
    operator.wait_for_the_rest()
    operator.tap("Cold ones off")
    yield "check"
    operator.tap("Something is wrong")
    yield "finding"
    operator.flow.act(Action(Tap.HOLD, "the kit is short of a wave"))
    operator.desk.draw()
    operator.driver.frames(3)
    yield "held"


@SIZES
def test_every_card_of_a_garment_tells_number_and_wearer_large_and_its_batch(
    sit_down: Callable[..., PressOperator], store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    told = {
        name: (shown_large(operator), operator.sees("LC-0147 · "))
        for name in screens_of(operator, codes_of(store)[0])
    }

    assert len(told) == 10
    assert set(map(str, told.values())) == {str((["No 31", "Ines Okafor"], True))}


@SIZES
def test_a_garment_of_nobody_tells_its_size_and_code_large(
    sit_down: Callable[..., PressOperator], store: Store, size: tuple[int, int]
) -> None:
    operator = sit_down(size)
    code = codes_of(store)[1]
    operator.scan(code)

    assert shown_large(operator) == [f"size L · {code[:4]}\N{NO-BREAK SPACE}{code[4:]}"]


def test_no_number_but_the_wearer_s_is_told_as_one(
    sit_down: Callable[..., PressOperator], store: Store
) -> None:
    """The garment at place 3 is worn by No 1."""
    operator = sit_down()
    operator.scan(codes_of(store)[2])
    large = shown_large(operator)
    operator.tap("Laid")
    operator.driver.press_key("escape")
    operator.driver.advance(0.5, draw=True)
    operator.flow.act(Action(Tap.TO_REVIEW, "LC-0147"))
    operator.desk.draw()
    operator.driver.frames(3)

    assert large == ["No 1"]
    assert operator.sees("No 31 Ines Okafor")
    assert operator.sees("No 1 · size S")
    assert not operator.sees("No 2")
    assert not operator.sees("No 3 ")


LONG = "Bartholomäus-Maximilian von Achterveld-Okonkwo zu Lindqvist"


@SIZES
@pytest.mark.parametrize("wearer", ["Marangoni-Vossenkuhl-Achterveld", LONG, f"{LONG} {LONG} {LONG}"])
def test_a_long_name_is_never_cut(
    start_app: StartApp, tmp_path: Path, size: tuple[int, int], wearer: str
) -> None:
    recipe = crew_vest_recipe()
    orders = (GarmentOrder(1, "M", wearer, "31"), GarmentOrder(2, "M", wearer[:-1], "32"))
    store = loaded_store(
        tmp_path / "long", HeldClock(), replace(recipe, job=replace(recipe.job, garments=orders))
    )
    operator = PressOperator(start_app(lambda clock: app_on(store, tmp_path, clock), size))
    operator.scan(codes_of(store)[0])
    operator.driver.frames(3)
    from floorapp.widgets.garment_bar import WearerName

    names = [w for w in operator.desk.screens[operator.flow.screen].walk() if isinstance(w, WearerName)]

    assert [name.words for name in names] == [wearer]
    assert is_whole(operator, names[0])
    if len(wearer) < 80:
        assert shown_large(operator) == ["No 31", wearer]
    assert operator.target("Laid")
    store.close()

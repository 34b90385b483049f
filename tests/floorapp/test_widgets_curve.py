"""The curve on the screen: its line, its band, its levels, and what stands there before it is worked out."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from floorapp.palette import PAPER, PRESS, Colour, paler
from floorapp.views import Tone
from floorapp.widget_views import CurveView, Level
from models.geometry import Box
from models.heat.estimates.curves import CurvePoint
from tests.floorapp.driver import Driver

RISING = tuple(CurvePoint(s, 20 + 5.0 * s, 20 + 7.0 * s, 20 + 8.0 * s) for s in range(16))
VIEW = CurveView("Adhesive of lantern", Tone.PRESS, RISING, (Level(110, "at heat"),))


@pytest.fixture
def curve_of(stage: Driver) -> Callable[[CurveView], Any]:
    """Shows a curve that fills the screen, and answers its plot."""
    from floorapp.widgets.heat_curve import CurvePlot, HeatCurve

    def show(view: CurveView) -> Any:
        shown = HeatCurve(view=view)
        stage.app.root.add_widget(shown)
        stage.frames(3)
        return next(part for part in shown.walk() if isinstance(part, CurvePlot))

    return show


def colours_on(stage: Driver, box: Box, tmp_path: Path) -> set[Colour]:
    """The colours of the pixels in a box of the window [px, lower left corner]."""
    with Image.open(stage.shot(tmp_path / "curve.png")) as picture:
        height = picture.height
        edges = (box.x, height - box.bottom, box.right, height - box.y)
        crop = picture.crop(tuple(map(round, edges)))
        return {(red / 255, green / 255, blue / 255, 1.0) for red, green, blue in crop.get_flattened_data()}


def around(point: tuple[float, float], half: float) -> Box:
    return Box(point[0] - half, point[1] - half, 2 * half, 2 * half)


def same(colour: Colour) -> Colour:
    """As eight bits a channel tell it."""
    red, green, blue, alpha = (round(part * 255) / 255 for part in colour)
    return (red, green, blue, alpha)


def test_the_likely_curve_is_drawn_where_it_belongs(stage: Driver, curve_of: Any, tmp_path: Path) -> None:
    plot = curve_of(VIEW)
    assert PRESS in colours_on(stage, around(plot.scale.to_px(10, 90), 1), tmp_path)


def test_the_band_is_paler_than_the_curve_and_hatched(stage: Driver, curve_of: Any, tmp_path: Path) -> None:
    plot = curve_of(VIEW)
    (x, low), (_, likely) = plot.scale.to_px(12, 80), plot.scale.to_px(12, 104)
    inside = colours_on(stage, Box(x, (low + likely) / 2, 30, 4), tmp_path)
    assert same(paler(PRESS)) in inside
    assert len(inside) > 1  # the hatching: told without its colour too


def test_outside_the_band_the_paper_is_bare(stage: Driver, curve_of: Any, tmp_path: Path) -> None:
    plot = curve_of(VIEW)
    under = plot.scale.to_px(12, 55)
    assert colours_on(stage, around(under, 3), tmp_path) == {PAPER}


def test_while_it_is_worked_out_there_is_no_curve(stage: Driver, curve_of: Any, tmp_path: Path) -> None:
    plot = curve_of(CurveView("Adhesive, pressed", Tone.PRESS, waiting="working it out …"))
    room = Box(plot.plot.x + 2, plot.plot.y + 2, plot.plot.width - 4, plot.plot.height - 4)
    colours = colours_on(stage, room, tmp_path)
    assert PRESS not in colours
    assert len(colours) > 1  # its words


def test_a_curve_that_comes_takes_the_place_of_the_words(
    stage: Driver, curve_of: Any, tmp_path: Path
) -> None:
    plot = curve_of(CurveView("Adhesive, pressed", Tone.PRESS, waiting="working it out …"))
    plot.parent.view = VIEW
    stage.frames(3)
    assert PRESS in colours_on(stage, around(plot.scale.to_px(10, 90), 1), tmp_path)


def test_its_axes_tell_both_degrees(stage: Driver, curve_of: Any, tmp_path: Path) -> None:
    """At the height of 60 °C words stand at either side, and each axis has its unit over it."""
    plot = curve_of(VIEW)
    from kivy.metrics import mm

    from floorapp.widgets.heat_curve import LEFT_MM, RIGHT_MM

    y, box = plot.scale.to_px(0, 60)[1], plot.plot
    left = Box(plot.x, y - 8, mm(LEFT_MM) - 6, 16)
    right = Box(box.right + 6, y - 8, mm(RIGHT_MM) - 6, 16)
    assert all(len(colours_on(stage, side, tmp_path)) > 1 for side in (left, right))
    units = {w.words: w.center_x for w in plot.parent.walk() if getattr(w, "words", "") in {"°C", "°F"}}
    assert units["°C"] < box.x < box.right < units["°F"]


def test_it_takes_no_touches(stage: Driver, curve_of: Any) -> None:
    plot = curve_of(VIEW)
    from kivy.tests.common import UnitTestTouch

    assert not plot.on_touch_down(UnitTestTouch(*plot.center))


def test_a_garment_that_is_cold_at_once_has_a_plot_all_the_same(stage: Driver, curve_of: Any) -> None:
    still = tuple(CurvePoint(0.0, 30.0, 30.0, 30.0) for _ in range(3))
    curve_of(replace(VIEW, points=still, levels=(Level(43, "cold"),)))

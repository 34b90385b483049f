"""Which garments the key figures count, and as what."""

from dataclasses import replace

import pytest

from models.errors import CalculationError
from models.garment.cycle import State
from models.garment.events import ExtraReason
from models.garment.progress import Progress, Step, begin
from models.intervals import wilson_interval
from models.quality.key_figures import KeyFigures, key_figures_of
from tests.sample_jobs import crew_vest_recipe


def garment(state: State, extra: ExtraReason | None = None) -> Progress:
    fresh = begin(crew_vest_recipe())
    steps = fresh.steps if extra is None else (*fresh.steps, Step("2+1", fresh.hit, extra))
    return replace(fresh, state=state, steps=steps)


def test_a_garment_without_a_re_press_is_good_at_the_first_pass():
    assert key_figures_of([garment(State.COMPLETE)]) == KeyFigures(1, 1, 0, 0)


def test_a_re_pressed_garment_is_produced_and_reworked():
    assert key_figures_of([garment(State.COMPLETE, ExtraReason.REPRESS)]) == KeyFigures(1, 0, 1, 0)


def test_seconds_made_up_after_an_early_opening_are_no_rework():
    assert key_figures_of([garment(State.COMPLETE, ExtraReason.REMAINDER)]) == KeyFigures(1, 1, 0, 0)


def test_a_spoiled_garment_is_inspected_and_scrap():
    assert key_figures_of([garment(State.SPOILED)]) == KeyFigures(1, 0, 0, 1)


def test_a_garment_spoiled_after_its_re_press_is_rework_and_scrap():
    assert key_figures_of([garment(State.SPOILED, ExtraReason.REPRESS)]) == KeyFigures(1, 0, 1, 1)


@pytest.mark.parametrize("state", sorted(set(State) - {State.COMPLETE, State.SPOILED}))
def test_a_garment_that_has_not_ended_counts_nowhere(state):
    assert key_figures_of([garment(state, ExtraReason.REPRESS)]) == KeyFigures(0, 0, 0, 0)


def test_ratios_of_nothing_are_none():
    figures = key_figures_of([])
    assert figures.first_pass_yield is None
    assert figures.rework_ratio is None
    assert figures.scrap_ratio is None
    assert figures.first_pass_interval is None


@pytest.mark.parametrize(("good", "of"), [(0, 0), (3, 2), (-1, 5)])
def test_no_interval_is_made_up_for_a_share_that_is_none(good, of):
    with pytest.raises(CalculationError, match="no share"):
        wilson_interval(good, of)


def test_the_interval_narrows_as_more_garments_are_counted():
    few, many = wilson_interval(9, 10), wilson_interval(90, 100)
    assert many.high - many.low < few.high - few.low


def test_the_interval_is_the_mirror_of_that_of_the_bad_ones():
    good, bad = wilson_interval(21, 24), wilson_interval(3, 24)
    assert good.low == pytest.approx(1 - bad.high, abs=1e-12)

"""A temperature is told in both degrees on every screen: a press and a sheet of settings may have either."""

from collections.abc import Callable

from floorapp.views import Action, Tap
from models.store.store import Store
from tests.floorapp.press_operator import PressOperator
from tests.floorapp.what_is_told import words_in
from tests.small_floor import codes_of


def temperatures_on(operator: PressOperator) -> list[list[str]]:
    """Each label that tells °C, with what stands beside it; the planner's own sentences are in °C."""
    from floorapp.widgets.words import Text

    plan = operator.flow.work.store.recipe(operator.flow.work.store.batch("LC-0147").id).plan
    sentences = {sentence for hit in plan.hits for sentence in hit.why}
    operator.driver.frames(4)
    screen = operator.desk.screens[operator.flow.screen]
    labels = [part for part in screen.walk(restrict=True) if isinstance(part, Text) and "°C" in part.words]
    return [words_in(label.parent) for label in labels if label.words not in sentences]


def are_in_both_degrees(told: list[list[str]]) -> bool:
    return bool(told) and all(any("°F" in words for words in beside) for beside in told)


def test_laying_pressing_and_why_tell_both_degrees(
    sit_down: Callable[..., PressOperator], store: Store
) -> None:
    operator = sit_down()
    operator.scan(codes_of(store)[0])
    assert are_in_both_degrees(temperatures_on(operator))
    operator.tap("Why these together?")
    assert are_in_both_degrees(temperatures_on(operator))
    operator.tap("Back")
    operator.tap("Laid")
    assert are_in_both_degrees(temperatures_on(operator))


def test_what_if_tells_both_degrees(sit_down: Callable[..., PressOperator]) -> None:
    operator = sit_down()
    operator.desk.act(Action(Tap.WHAT_IF, "LC-0147"))
    operator.driver.advance(0.5)
    operator.desk.act(Action(Tap.TRY_WHAT, "material raised-foam"))

    told = temperatures_on(operator)
    assert len(told) == 8  # of two hits, and two steps of three numbers
    assert are_in_both_degrees(told)

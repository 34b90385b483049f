"""A person who taps at random: scans, waits, and touches whatever is offered."""

from random import Random

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.finding_presenter import finding_view
from floorapp.screens.floor_presenter import floor_view, rail_of
from floorapp.screens.garment_presenter import garment_view
from floorapp.screens.presenter import primary_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.views import Action, Button, Tap
from tests.held_clock import HeldClock


def offered(flow: Flow) -> list[Action]:
    """Every action that can be tapped on the screen now."""
    buttons: list[Button] = []
    match flow.screen:
        case ScreenName.GARMENT:
            running = running_of(flow)
            card = garment_view(flow).card
            buttons += running.choices if running else (*card.answers, *card.choices)
        case ScreenName.FINDING:
            view = finding_view(flow)
            buttons += (*view.kinds, *view.choices)
            buttons += [Button("", Action(Tap.MARK_PIECE, entry.piece.id)) for entry in view.map.pieces]
        case ScreenName.FLOOR:
            buttons += floor_view(flow).in_hand
    primary = primary_of(flow)
    actions = [button.action for button in (*buttons, *([primary] if primary else []))]
    actions += [Action(Tap.OPEN_CODE, item.code) for item in rail_of(flow)]
    return [*actions, Action(Tap.BACK)]


def one_step(
    flow: Flow, clock: HeldClock, codes: list[str], random: Random, *, may_fail: bool = False
) -> None:
    """One tap, scan or wait. If the store `may_fail`, what is offered may be refused."""
    chance = random.random()
    if chance < 0.1:
        flow.scan(random.choice(codes))
    elif chance < 0.15:
        clock.advance(random.choice([1, 400]))
    elif chance < 0.4:
        clock.advance(random.choice([1, 5, 15, 70]))
        flow.tick()
    elif flow.screen == ScreenName.SECONDS_ENTRY and chance < 0.8:
        flow.enter_seconds(random.randint(0, 30))
    elif chance < 0.7:
        tap_primary(flow, may_fail=may_fail)
    else:
        flow.act(random.choice(offered(flow)))


def tap_primary(flow: Flow, *, may_fail: bool) -> None:
    """What is offered as the one thing to do now can be done, where the screen is up to date."""
    flow.look_around()
    primary = primary_of(flow)
    if primary is not None:
        flow.act(primary.action)
        assert may_fail or flow.notice is None, f"{primary.text!r} was offered and refused: {flow.notice}"

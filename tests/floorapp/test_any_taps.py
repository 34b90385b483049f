"""Whatever is tapped in whatever order, the app says a line or goes on, and the record stays whole."""

from pathlib import Path
from random import Random

import pytest

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.finding_presenter import finding_view
from floorapp.screens.floor_presenter import floor_view, rail_of
from floorapp.screens.garment_presenter import garment_view
from floorapp.screens.presenter import present, primary_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.views import Action, Button, Tap
from models.store.store import Store
from tests.held_clock import HeldClock
from tests.small_floor import codes_of, flow_on, loaded_store

STEPS = 400


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


def one_step(flow: Flow, clock: HeldClock, codes: list[str], random: Random) -> None:
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
        tap_primary(flow)
    else:
        flow.act(random.choice(offered(flow)))


def tap_primary(flow: Flow) -> None:
    """What is offered as the one thing to do now can be done, where the screen is up to date."""
    flow.look_around()
    primary = primary_of(flow)
    if primary is not None:
        flow.act(primary.action)
        assert flow.notice is None, f"{primary.text!r} was offered and refused: {flow.notice}"


@pytest.mark.parametrize("seed", range(8))
def test_any_taps_in_any_order_leave_a_whole_record(seed: int, tmp_path: Path) -> None:
    """What a station goes on from is, after each tap, what another reads from the disk."""
    random, clock = Random(seed), HeldClock()
    store = loaded_store(tmp_path, clock)
    codes = codes_of(store)
    stations = [flow_on(store, clock, tmp_path, station=name) for name in ("Station 1", "Station 2")]
    elsewhere = Store.open(f"sqlite:///{tmp_path / 'floor.db'}", clock, Random(seed))
    for _ in range(STEPS):
        flow = random.choice(stations)
        before = flow.garment
        one_step(flow, clock, codes, random)
        present(flow)
        if flow.garment is not None and flow.garment is not before:
            assert flow.garment == elsewhere.garment(flow.garment.row.code)
    states = {code: elsewhere.garment(code) for code in codes}
    assert all(garment.row.state == garment.progress.state for garment in states.values())
    elsewhere.close()
    store.close()

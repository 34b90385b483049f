"""The desk: the flow's screens in the window, redrawn when the flow has moved.

Taps, keys, the foot switch and scans all end in one call of the flow; then what is shown is drawn anew.
Between those, ten times a second, only what the seconds change is looked at.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

from kivy.clock import Clock as FrameClock
from kivy.properties import BooleanProperty, ObjectProperty
from kivy.uix.floatlayout import FloatLayout
from kivy.uix.screenmanager import NoTransition, ScreenManager

from floorapp.calm_collector import CalmCollector
from floorapp.flow import Flow
from floorapp.focus import FocusRing
from floorapp.kivy_setup import load_kv_beside
from floorapp.scanner_input import WedgeReader
from floorapp.screen_names import ScreenName
from floorapp.screens.call_presenter import call_view
from floorapp.screens.change import ChangeScreen
from floorapp.screens.entry import EntryScreen
from floorapp.screens.find import FindScreen
from floorapp.screens.finding import FindingScreen
from floorapp.screens.floor import FloorOfBatches
from floorapp.screens.floor_presenter import rail_of
from floorapp.screens.garment import GarmentScreen
from floorapp.screens.garment_presenter import card_of, seat_words
from floorapp.screens.parts import FloorScreen
from floorapp.screens.presenter import notice_of, present, primary_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.screens.reason import ReasonScreen
from floorapp.screens.reason_entry import ReasonEntryScreen
from floorapp.screens.review import ReviewScreen
from floorapp.screens.set_up import SetUpScreen
from floorapp.screens.wearer import WearerScreen
from floorapp.screens.what_if import WhatIfScreen
from floorapp.screens.why import WhyScreen
from floorapp.sounds import Sounds
from floorapp.views import Action, Tap
from floorapp.widgets import notice, rest_rail  # noqa: F401  (their kv rules are used in ours)
from floorapp.widgets.countdown_panel import FLASH_S, FLASHES
from floorapp.widgets.key_pad import SECONDS_LENGTH
from models.errors import OperatorError
from models.garment.countdown import NS_PER_S
from models.tags.code import OtherShopError, read_code

TYPED = frozenset({ScreenName.FIND, ScreenName.REASON_ENTRY, ScreenName.WEARER_ENTRY})
"""Screens on which a keyboard types text; a scan opens its garment on them as well."""
TICK_S = 0.1
REREAD_S = 5.0
"""How often a screen that stands looks for what other stations have done."""
DEAD_NS = NS_PER_S * 4 // 10
"""So long after a screen has changed no tap is taken: a finger or a foot that bounces did not mean it."""
FRAMED_NS = 15 * NS_PER_S
"""A frame that no key has moved for so long is forgotten."""

NO_SOUND = "This device plays no sound: only the frame flashes. Turn on or plug in a loudspeaker."


class DeskRoot(FloatLayout):
    """The current screen, the rail of waiting garments below it, and a notice above all of it."""

    notice = ObjectProperty(None, allownone=True)
    rail = ObjectProperty(())
    is_lit = BooleanProperty(False)

    __events__ = ("on_action",)

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings)
        self._turns = FrameClock.schedule_interval(self._turn, FLASH_S)
        self._turns.cancel()

    def flash(self) -> None:
        """A heavy frame around the whole window, lit a few times: seen where nothing can be heard."""
        self._turns_left = 2 * FLASHES
        self._turns.cancel()
        self._turns()

    @property
    def is_flashing(self) -> bool:
        return bool(self._turns.is_triggered)

    def _turn(self, _dt: float) -> bool:
        self._turns_left -= 1
        self.is_lit = self._turns_left % 2 == 1
        return self._turns_left > 0

    def on_action(self, action: Action) -> None:
        """The default handler does nothing; the desk binds to the event."""

    def answer(self) -> None:
        """Take the notice away, and go where it leads."""
        self.dispatch("on_action", self.notice.answer.action)

    def pick(self, code: str) -> None:
        self.dispatch("on_action", Action(Tap.OPEN_CODE, code))


class Desk:
    """Keeps the window showing what the flow says, from `place` being filled until `close`."""

    def __init__(self, flow: Flow, place: Any, sounds: Sounds) -> None:
        self.flow = flow
        self.sounds = sounds
        self._dead_until_ns = flow.clock.monotonic_ns()
        self._called = ""
        self._framed_until_ns: int | None = None
        self._drawn = self._standing()
        self.root = DeskRoot()
        self.root.bind(on_action=lambda _, action: self.act(action))
        self.screens: dict[ScreenName, FloorScreen] = {}
        self.manager = ScreenManager(transition=NoTransition())
        self.root.ids.place.add_widget(self.manager)
        self.focus = FocusRing(lambda: self.root)
        self.keys = WedgeReader(
            on_code=self.scan,
            on_primary=self.primary,
            on_back=self.back,
            on_move=self.move,
            on_tab=self.tab,
            takes_text=lambda: self.flow.screen in TYPED,
            clock=flow.clock,
        )
        self.collector = CalmCollector(flow.clock)
        self.collector.begin()
        place.clear_widgets()
        place.add_widget(self.root)
        self._ticks = FrameClock.schedule_interval(lambda _: self.tick(), TICK_S)
        self._rereads = FrameClock.schedule_interval(lambda _: self.flow.look_around(), REREAD_S)
        flow.listen(self.draw, self._draw_if_other)
        self.draw()
        self._prepares = FrameClock.schedule_once(lambda _: self._prepare_sounds(), TICK_S)

    def close(self) -> None:
        self.collector.end()
        self._ticks.cancel()
        self._rereads.cancel()
        self._prepares.cancel()
        self.keys.close()
        self.flow.listen(lambda: None)

    @property
    def is_flashing(self) -> bool:
        garment = self.screens.get(ScreenName.GARMENT)
        return self.root.is_flashing or (garment is not None and garment.is_flashing)

    def act(self, action: Action) -> None:
        """What was tapped, unless the screen has only just changed under the finger."""
        if self.flow.clock.monotonic_ns() >= self._dead_until_ns:
            self._follow(partial(self.flow.act, action))

    def scan(self, text: str) -> None:
        """What came with an Enter, by scanner or keyboard: a code, or the seconds that are asked for."""
        if self.flow.screen == ScreenName.SECONDS_ENTRY and is_seconds(text):
            self._follow(partial(self.flow.enter_seconds, int(text)))
        elif self.flow.screen in TYPED and not is_tag_code(text, self.flow.work.store.shop_code):
            self._follow(partial(self.flow.type, text))
        else:
            self._follow(partial(self.flow.scan, text))

    def _follow(self, done: Callable[[], None]) -> None:
        """Does and draws it."""
        done()
        self.draw()

    def _standing(self) -> tuple[object, ...]:
        """What decides which buttons stand under a finger; a line that comes by itself moves them all."""
        flow = self.flow
        asked = (flow.press.late_s, flow.press.closing, flow.set_up.state.phase)
        return (flow.screen, flow.garment, flow.is_due, *asked, flow.standing.first is None)

    def primary(self) -> None:
        """Space, Enter and the foot switch: the target that a key has framed, or else the large block."""
        if self.focus.activate():
            self._framed_until_ns = self.flow.clock.monotonic_ns() + FRAMED_NS
            return
        button = primary_of(self.flow)
        if button is not None:
            self.act(button.action)
        else:
            self.screens[self.flow.screen].finish()

    def back(self) -> None:
        self.act(Action(Tap.BACK))

    def move(self, steps: int) -> None:
        """The arrows: frames another target, for as long as somebody is likely to mean it."""
        self.focus.move(steps)
        self._framed_until_ns = self.flow.clock.monotonic_ns() + FRAMED_NS

    def tab(self, steps: int) -> None:
        """Moves the frame as the arrows do, but on the Floor: some scanners end a code with Tab."""
        if self.flow.screen != ScreenName.FLOOR:
            self.move(steps)

    def _forget_the_frame(self) -> None:
        """The frame goes after a while: the next foot on the switch means the large block."""
        if self._framed_until_ns is not None and self.flow.clock.monotonic_ns() > self._framed_until_ns:
            self._framed_until_ns = None
            self.focus.clear()

    def _prepare_sounds(self) -> None:
        """Loads them once the first screen is drawn, which does not wait for it."""
        self.sounds.prepare()
        self._tell_of_sounds()

    def _tell_of_sounds(self) -> None:
        if self.sounds.fails:
            self.flow.standing.tell(NO_SOUND)
        else:
            self.flow.standing.withdraw(NO_SOUND)

    def tick(self) -> None:
        self.collector.look()
        self._forget_the_frame()
        if self.flow.tick():  # what has become due has other words and another primary action
            self.draw()
        else:
            self._draw_seconds()

    def draw(self) -> None:
        """Shows the flow's screen after something was done. The next Enter is the primary action's again;
        only What if keeps its frame, since a step is often taken several times.
        """
        self.collector.tapped()
        if self.flow.screen != ScreenName.WHAT_IF or self.manager.current != ScreenName.WHAT_IF.value:
            self.focus.clear()
        self._show()

    def _draw_if_other(self) -> None:
        """Shows what was found in the background; a frame stays where the same buttons stand."""
        if self._standing() == self._drawn:
            self._show()
        else:
            self.draw()

    def _show(self) -> None:
        """Shows the flow's screen as it is now."""
        self.screen(self.flow.screen).show(present(self.flow))
        self.manager.current = self.flow.screen.value
        self._draw_seconds()

    def screen(self, name: ScreenName) -> FloorScreen:
        """The screen of that name, built when it is first shown."""
        if name not in self.screens:
            made = _made(name)
            made.bind(on_action=lambda _, action: self.act(action), on_typed=lambda _, text: self.scan(text))
            self.screens[name] = made
            self.manager.add_widget(made)
        return self.screens[name]

    def _draw_seconds(self) -> None:
        """The time of day, the waiting garments, the countdown, and what has just become due.

        Where other buttons stand now, the next tap must be meant for them: a finger or a foot that is on its
        way was not.
        """
        self.root.notice = notice_of(self.flow)
        screen = self.screens[self.flow.screen]
        screen.header = replace(screen.header, right=seat_words(self.flow))
        self.root.rail = rail_of(self.flow)
        if self.flow.screen == ScreenName.GARMENT:
            self._draw_hit(screen)
        elif self.flow.screen == ScreenName.FLOOR:
            self._draw_call(screen)
        for cue in self.flow.signals.take():
            self.sounds.play(cue, self.flow.signals.loudness(cue))
            self.root.flash()
            self._tell_of_sounds()
        if self._standing() != self._drawn:
            self._dead_until_ns = self.flow.clock.monotonic_ns() + DEAD_NS
        self._drawn = self._standing()

    def _draw_hit(self, screen: FloorScreen) -> None:
        """The countdown, or the question that a hit leaves open, which tells how long ago it began."""
        screen.running = running_of(self.flow)
        if self.flow.is_interrupted or self.flow.waits_to_peel:
            screen.card = card_of(self.flow)

    def _draw_call(self, screen: FloorOfBatches) -> None:
        """The call, which counts down; where it is of another garment, a finger on its way meant the last."""
        call = call_view(self.flow)
        called = call.action.value if call is not None else ""
        if called != self._called:
            self.focus.clear()  # what is framed may be another garment now
            self._dead_until_ns = self.flow.clock.monotonic_ns() + DEAD_NS
        self._called = called
        screen.tell(call)


def is_seconds(text: str) -> bool:
    """Whether the text is a number of seconds and can be no code."""
    return text.isdigit() and len(text) <= SECONDS_LENGTH


def is_tag_code(text: str, shop_code: str) -> bool:
    """Whether a scanner has read it off a tag, of this shop or another, and not a person typed a name."""
    try:
        read_code(text, shop_code)
    except OtherShopError:
        return True
    except OperatorError:
        return False
    return True


SCREENS: dict[ScreenName, type[FloorScreen]] = {
    ScreenName.FLOOR: FloorOfBatches,
    ScreenName.GARMENT: GarmentScreen,
    ScreenName.FINDING: FindingScreen,
    ScreenName.REASON: ReasonScreen,
    ScreenName.REASON_ENTRY: ReasonEntryScreen,
    ScreenName.REVIEW: ReviewScreen,
    ScreenName.SET_UP: SetUpScreen,
    ScreenName.WHAT_IF: WhatIfScreen,
    ScreenName.WHY: WhyScreen,
    ScreenName.PLANNED_HIT: WhyScreen,
    ScreenName.FIND: FindScreen,
    ScreenName.CHANGE: ChangeScreen,
    ScreenName.WEARER_ENTRY: WearerScreen,
}


def _made(name: ScreenName) -> FloorScreen:
    if name in SCREENS:
        return SCREENS[name](name=name.value)
    return EntryScreen(name=name.value, is_digits=name == ScreenName.SECONDS_ENTRY)


load_kv_beside(__file__)

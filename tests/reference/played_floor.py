"""A floor played through, under no clock but its own: what rotation and forecast are measured on.

Hands take other times than were expected, which is known only once they are through. Everything else goes as
on a real floor: whenever a person is free the next step is asked for, and followed.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from models.rotation.next_step import LIVE_EFFORT, next_step
from models.rotation.problem.dispatch_rule import Rule
from models.rotation.problem.shop import Garment, Press, Shop, Span
from models.rotation.simulation.simulator import Act, Step
from models.rotation.times.pace import Hand, HandTime, Lasts, at_pace, pace_of

SOON_S = 1.0
"""What takes longer than expected is expected to end so soon."""


@dataclass(frozen=True, slots=True)
class Played:
    """When the last garment was done, for how long garments lay on presses and presses were set anew, in s.

    `late_s` is how long pieces stayed under the press beyond their dwell, for want of a free person.
    """

    end_s: float
    on_press_s: float
    changes_s: float
    late_s: float

    def idle_share(self, presses: int = 1) -> float:
        """The share of the time in which a press stood empty and was not being set anew."""
        return 1 - (self.on_press_s + self.changes_s) / (self.end_s * presses)


@dataclass(slots=True)
class _Hit:
    """A garment in a press, and when that wants to be opened: as expected until it is closed."""

    garment: int
    press: str
    opens_s: float
    is_closed: bool = False


@dataclass(slots=True)
class _Busy:
    """A person at work on a garment, at a press or at none: until when as far as anybody knows, until when in
    truth, and what it leads to."""

    garment: int
    press: str
    expected_s: float
    ends_s: float
    then: Callable[[], None]


@dataclass(frozen=True, slots=True)
class _Held:
    """Nothing else can be done with this garment, and the press that it lies on, before the span is over."""

    garment: int
    press: str
    span: Span


class PlayedFloor:
    """One play. `seen` are the hand times so far; `lifts` says after each hit whether it is pressed again."""

    def __init__(
        self, shop: Shop, lasts: Lasts, lifts: Callable[[], bool] = lambda: False, effort: int = LIVE_EFFORT
    ) -> None:
        self.shop, self.lasts, self.lifts, self.effort = shop, lasts, lifts, effort
        self.now_s = 0.0
        self.garments = list(shop.garments)
        self.presses = {press.name: press for press in shop.presses}
        self.hits: list[_Hit] = []
        self.busy: list[_Busy] = []
        self.seen: list[HandTime] = []
        self.on_press_s = self.changes_s = self.late_s = self.end_s = 0.0
        self.hits_done = self.again = 0
        self.rule: tuple[Rule, ...] = ()

    def play(self, until: Callable[["PlayedFloor"], bool] = lambda _: False) -> Played:
        """Goes on until all is done, or until `until` holds; can be called again to go on from there."""
        while not until(self) and self._moves_on():
            pass
        return Played(self.end_s, self.on_press_s, self.changes_s, self.late_s)

    @property
    def left(self) -> int:
        """Garments that are not done yet."""
        return sum(bool(garment.visits) for garment in self.garments)

    def shop_now(self) -> Shop:
        """What is known now: garments and presses with what they are expected to do, seconds from now."""
        held = list(self._held())
        return Shop(
            presses=tuple(self._press_now(press, held) for press in self.presses.values()),
            garments=tuple(
                self._from_now(n, held) for n, garment in enumerate(self.garments) if garment.visits
            ),
            people=self.shop.people,
            taken=tuple(one.span for one in held),
        )

    def _held(self) -> Iterator[_Held]:
        for busy in self.busy:
            yield _Held(busy.garment, busy.press, Span(0.0, max(busy.expected_s - self.now_s, SOON_S)))
        for hit in self.hits:
            opens_s = max(0.0 if hit.is_closed else SOON_S, hit.opens_s - self.now_s)
            off_s = opens_s + self.garments[hit.garment].visits[0].off_s
            yield _Held(hit.garment, hit.press, Span(opens_s, off_s))

    def _press_now(self, press: Press, held: Sequence[_Held]) -> Press:
        ends_s = [one.span.end_s for one in held if one.press == press.name]
        return replace(press, free_s=max(0.0, press.free_s - self.now_s, *ends_s))

    def _from_now(self, index: int, held: Sequence[_Held]) -> Garment:
        garment = self.garments[index]
        ends_s = [one.span.end_s for one in held if one.garment == index]
        return replace(garment, ready_s=max(0.0, garment.ready_s - self.now_s, *ends_s))

    def _moves_on(self) -> bool:
        """Does what is due, then lets time pass until something ends; false once all is done."""
        self._end_what_is_over()
        while len(self.busy) < self.shop.people and (self._open_press() or self._take_next_step()):
            pass
        following_s = min(self._ends_s(), default=math.inf)
        self.now_s = following_s if following_s < math.inf else self.now_s
        return following_s < math.inf

    def _end_what_is_over(self) -> None:
        over = [busy for busy in self.busy if busy.ends_s <= self.now_s]
        self.busy = [busy for busy in self.busy if busy.ends_s > self.now_s]
        for busy in over:
            busy.then()

    def _ends_s(self) -> list[float]:
        ends_s = [busy.ends_s for busy in self.busy] + [hit.opens_s for hit in self.hits]
        ends_s += [press.free_s for press in self.presses.values()]
        ends_s += [garment.ready_s for garment in self.garments if garment.visits]
        return [end_s for end_s in ends_s if end_s > self.now_s]

    def _open_press(self) -> bool:
        """Of the hits whose time is over, the one that has waited longest."""
        due = [hit for hit in self.hits if hit.is_closed and hit.opens_s <= self.now_s]
        if not due:
            return False
        hit = min(due, key=lambda hit: hit.opens_s)
        self.hits.remove(hit)
        self.late_s += self.now_s - hit.opens_s
        visit = self.garments[hit.garment].visits[0]
        self._use_hands(
            Hand.OFF, visit.off_s, hit.garment, hit.press, lambda: self._taken_off(hit, visit.rest_s)
        )
        self._expect(hit, self.busy[-1].expected_s, visit.rest_s)
        return True

    def _take_next_step(self) -> bool:
        expected = at_pace(self.shop_now(), pace_of(self.seen))
        told = next_step(expected, self.rule, self.effort)
        self.rule = (told.rule,)
        for setting in told.changes:
            press = self.presses[setting.press]
            change_s = press.change_s(press.temperature_c, setting.temperature_c)
            self.changes_s += change_s
            self.presses[press.name] = replace(
                press, temperature_c=setting.temperature_c, free_s=self.now_s + change_s
            )
        if told.step is None or told.step.start_s > 0:
            return False
        self._begin(told.step, [n for n, garment in enumerate(self.garments) if garment.visits])
        return True

    def _begin(self, step: Step, ahead: list[int]) -> None:
        index = ahead[step.garment]
        visit = self.garments[index].visits[0]
        if step.act == Act.FINISH:
            self._finish(index)
            return
        press = self.presses[step.setting.press]
        self.on_press_s -= self.now_s
        hit = _Hit(index, press.name, self.now_s + visit.lay_s + visit.dwell_s)
        self._use_hands(Hand.LAY, visit.lay_s, index, press.name, lambda: self._closed(hit))
        self.hits.append(hit)
        self.presses[press.name] = replace(press, temperature_c=step.setting.temperature_c)
        self._expect(hit, hit.opens_s + visit.off_s, visit.rest_s)

    def _finish(self, index: int) -> None:
        """Until the check has told otherwise, the garment is expected to go on."""
        garment = self.garments[index]
        self._use_hands(
            Hand.FINISH, garment.visits[0].finish_s, index, "", lambda: self._finished(index, garment)
        )
        self.garments[index] = _gone_on(garment, self.busy[-1].expected_s)

    def _use_hands(
        self, hand: Hand, expected_s: float, garment: int, press: str, then: Callable[[], None]
    ) -> None:
        took_s = self.lasts(hand, expected_s)
        self.seen.append(HandTime(hand, expected_s, took_s))
        self.busy.append(_Busy(garment, press, self.now_s + expected_s, self.now_s + took_s, then))

    def _expect(self, hit: _Hit, off_s: float, rest_s: float) -> None:
        """What is known of a garment in the press: off it then, and rested so much later."""
        garment = self.garments[hit.garment]
        self.garments[hit.garment] = replace(garment, is_off=True, ready_s=off_s + rest_s)
        self.presses[hit.press] = replace(self.presses[hit.press], free_s=off_s)

    def _closed(self, hit: _Hit) -> None:
        visit = self.garments[hit.garment].visits[0]
        hit.opens_s, hit.is_closed = self.now_s + visit.dwell_s, True
        self._expect(hit, hit.opens_s + visit.off_s, visit.rest_s)

    def _taken_off(self, hit: _Hit, rest_s: float) -> None:
        self.on_press_s += self.now_s
        self._expect(hit, self.now_s, rest_s)
        garment = self.garments[hit.garment]
        if not rest_s and not garment.visits[0].finish_s:
            self._finished(hit.garment, garment)

    def _finished(self, index: int, garment: Garment) -> None:
        """The check is over: what has lifted is pressed again, everything else goes on."""
        self.hits_done += 1
        if self.lifts():
            self.again += 1
            self.garments[index] = replace(garment, ready_s=self.now_s, is_off=False)
            return
        self.garments[index] = _gone_on(garment, self.now_s)
        self.end_s = max(self.end_s, self.now_s)


def _gone_on(garment: Garment, at_s: float) -> Garment:
    """The garment with its hit behind it, from `at_s` on."""
    return replace(garment, visits=garment.visits[1:], ready_s=at_s, is_off=False, done=garment.done + 1)

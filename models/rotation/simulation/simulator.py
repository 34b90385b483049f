"""How a floor goes on from now when it is worked by one rule: event by event, to the last check."""

import heapq
import math
from dataclasses import dataclass
from enum import StrEnum

from models.errors import CalculationError
from models.rotation.problem.dispatch_rule import Rule
from models.rotation.problem.shop import Garment, Setting, Shop, Visit
from models.rotation.simulation.people import People
from models.rotation.simulation.press_now import PressNow
from models.rotation.simulation.priorities import claims_of
from models.rotation.simulation.queues import Entry, Queues
from models.rotation.simulation.setup_rule import setting_to_change_to

LOOK_AT = 3
"""How many garments are looked at for one that people have the time for."""


class Act(StrEnum):
    PRESS = "press"  # lay the garment and press it
    FINISH = "finish"  # peel and check what has rested
    CHANGE = "change"  # set the press to another temperature


@dataclass(frozen=True, slots=True)
class Step:
    """One thing begun at `start_s`. `garment` is its index in the shop, -1 where a press is set anew."""

    act: Act
    start_s: float
    end_s: float
    garment: int
    visit: int
    setting: Setting


@dataclass(frozen=True, slots=True)
class Course:
    """The steps in the order in which they begin, and when the last garment is done."""

    steps: tuple[Step, ...]
    end_s: float

    @property
    def changes_s(self) -> float:
        return sum(step.end_s - step.start_s for step in self.steps if step.act == Act.CHANGE)

    @property
    def changes(self) -> int:
        return sum(step.act == Act.CHANGE for step in self.steps)


def course_by(shop: Shop, rule: Rule) -> Course:
    """The course of `shop` from second 0 on, worked by `rule`.

    Raises:
        CalculationError: a visit needs a press that the shop does not have.
    """
    return _Floor(shop, rule).run()


def beginning_by(shop: Shop, rule: Rule) -> Course:
    """The same course, but only up to the first thing that hands begin."""
    return _Floor(shop, rule).run(only_beginning=True)


class _Floor:
    """The floor at one instant, moved on from event to event."""

    def __init__(self, shop: Shop, rule: Rule) -> None:
        self.shop, self.rule = shop, rule
        self.now_s = 0.0
        self.people = People(shop)
        self.presses = {press.name: PressNow(press) for press in shop.presses}
        self.claims = [tuple(claims_of(garment, rule)) for garment in shop.garments]
        self.to_repeat = [garment.repeats for garment in shop.garments]
        self.queues = Queues(shop.garments)
        self.to_finish: dict[float, list[Entry]] = {}  # by the seconds that the check takes
        self.arrivals: list[tuple[float, int, int, bool]] = []
        self.steps: list[Step] = []
        self.end_s = 0.0
        for index, garment in enumerate(shop.garments):
            self._refuse_unknown_press(garment)
            self._arrive_at(garment.ready_s, index, 0, is_off=garment.is_off)

    def run(self, *, only_beginning: bool = False) -> Course:
        while True:
            self._take_in()
            while self._begin_something():
                pass
            following_s = self._next_s()
            if following_s == math.inf or (only_beginning and self._hands_have_begun()):
                return Course(tuple(self.steps), self.end_s)
            self.now_s = following_s
            self.people.pass_to(following_s)

    def _hands_have_begun(self) -> bool:
        return any(step.act != Act.CHANGE for step in self.steps)

    def _refuse_unknown_press(self, garment: Garment) -> None:
        for visit in garment.visits:
            if visit.setting.press not in self.presses:
                raise CalculationError(f"garment {garment.code} goes to a press that is not there")

    # What becomes of a garment

    def _arrive_at(self, at_s: float, index: int, visit: int, *, is_off: bool) -> None:
        """From `at_s` on the garment can be finished, where it is off, or laid for this visit."""
        visits = self.shop.garments[index].visits
        if visit == len(visits):
            self.end_s = max(self.end_s, at_s)
            return
        heapq.heappush(self.arrivals, (at_s, index, visit, is_off))
        self.queues.expect(index, visit + is_off, at_s + (visits[visit].finish_s if is_off else 0.0))

    def _take_in(self) -> None:
        while self.arrivals and self.arrivals[0][0] <= self.now_s:
            _, index, visit, is_off = heapq.heappop(self.arrivals)
            if is_off:
                lasts_s = self.shop.garments[index].visits[visit].finish_s
                rank = self.shop.garments[index].rank
                entry = ((rank, -self._tail_s(index, visit)), index, visit)
                heapq.heappush(self.to_finish.setdefault(lasts_s, []), entry)
            else:
                self.queues.put(self.claims[index][visit].place, index, visit)

    def _tail_s(self, index: int, visit: int) -> float:
        tails = self.shop.garments[index].tails_s
        return tails[visit + 1] if visit + 1 < len(tails) else 0.0

    # What is begun

    def _begin_something(self) -> bool:
        ways = (self._finish, self._press) if self._finishes_first() else (self._press, self._finish)
        return any(way() for way in ways)

    def _finishes_first(self) -> bool:
        if not self.to_finish:
            return False
        (rank, _), index, visit_n = min(waiting[0] for waiting in self.to_finish.values())
        if self.queues.has_ranks:
            rank_to_press = self.queues.rank_to_press([press.made.name for press in self._free_presses()])
            if rank != rank_to_press < math.inf:
                return rank < rank_to_press
        return self.rule.finish_first != self.claims[index][visit_n].swaps

    def _press(self) -> bool:
        """The press with the longest laying goes first: a shorter one may fit into its dwell."""
        free = self._free_presses()
        if len(free) > 1:
            free.sort(key=self._laying_s, reverse=True)
        return any(self._fill(press) for press in free)

    def _free_presses(self) -> list[PressNow]:
        return [press for press in self.presses.values() if press.free_s <= self.now_s]

    def _laying_s(self, press: PressNow) -> float:
        """Of the garment that claims most at the press's setting, as it is weighed; 0 where none is ready."""
        waiting = self.queues.ready.get(press.setting) if press.setting is not None else None
        if not waiting:
            return 0.0
        _, index, visit_n = waiting[0]
        return self.shop.garments[index].visits[visit_n].lay_s * self.claims[index][visit_n].weight

    def _fill(self, press: PressNow) -> bool:
        """Lays a garment on a free press, or sets it anew where its setting has nothing more to wait for."""
        here = press.setting
        if here is not None and self.queues.ready[here] and not self.queues.is_outranked(here):
            return self._lay(press, here)
        wanted = setting_to_change_to(press, self.queues, self.rule, self.now_s)
        if wanted is None:
            return False
        change_s = press.change_s(wanted)
        press.setting = wanted
        if change_s:
            self._note(Act.CHANGE, change_s, -1, -1, wanted)
            press.free_s = self.now_s + change_s
        return True

    def _lay(self, press: PressNow, setting: Setting) -> bool:
        """The garment that claims most, of those that somebody can lay now and open when its time is over."""
        if self.people.free_until_s(self.now_s) <= self.now_s:
            return False
        for entry in self.queues.first(setting, LOOK_AT):
            _, index, visit_n = entry
            visit = self.shop.garments[index].visits[visit_n]
            opens_s = self.now_s + visit.lay_s + visit.dwell_s
            laying, opening = (self.now_s, self.now_s + visit.lay_s), (opens_s, opens_s + visit.off_s)
            if self.people.take(laying, opening):
                self.queues.take_out(setting, entry)
                self._note(Act.PRESS, visit.on_press_s, index, visit_n, setting)
                press.free_s = self.now_s + visit.on_press_s
                self._rest(press.free_s, index, visit_n, visit)
                return True
        return False

    def _rest(self, off_s: float, index: int, visit_n: int, visit: Visit) -> None:
        if visit.finish_s or visit.rest_s:
            self._arrive_at(off_s + visit.rest_s, index, visit_n, is_off=True)
        else:
            self._arrive_at(off_s, index, visit_n + 1, is_off=False)

    def _finish(self) -> bool:
        """Peels and checks a rested garment for which somebody has the time."""
        lasts_s = self._check_to_make()
        if lasts_s is None:
            return False
        self.people.take((self.now_s, self.now_s + lasts_s))
        _, index, visit_n = heapq.heappop(self.to_finish[lasts_s])
        if not self.to_finish[lasts_s]:
            del self.to_finish[lasts_s]
        visit = self.shop.garments[index].visits[visit_n]
        self._note(Act.FINISH, visit.finish_s, index, visit_n, visit.setting)
        self._come(index, visit_n, visit)
        return True

    def _check_to_make(self) -> float | None:
        """The longest that is through before all hands are bound, or else that with most ahead of it."""
        free_until_s = self.people.free_until_s(self.now_s)
        if free_until_s <= self.now_s:
            return None
        if free_until_s < math.inf:
            return max((s for s in self.to_finish if self.now_s + s <= free_until_s), default=None)
        return min(self.to_finish, key=lambda lasts_s: self.to_finish[lasts_s][0], default=None)

    def _come(self, index: int, visit_n: int, visit: Visit) -> None:
        is_again = visit_n in self.to_repeat[index]
        if is_again:
            self.to_repeat[index] -= {visit_n}
        self._arrive_at(self.now_s + visit.finish_s, index, visit_n + (not is_again), is_off=False)

    def _note(self, act: Act, lasts_s: float, index: int, visit: int, setting: Setting) -> None:
        self.steps.append(Step(act, self.now_s, self.now_s + lasts_s, index, visit, setting))

    def _next_s(self) -> float:
        """The next instant at which something can have changed."""
        ends = [press.free_s for press in self.presses.values()] + self.people.ends_s()
        later = [end_s for end_s in ends if end_s > self.now_s]
        if self.arrivals:
            later.append(self.arrivals[0][0])
        waits = self.to_finish or any(self.queues.ready.values()) or self.arrivals
        return min(later, default=math.inf) if waits else math.inf

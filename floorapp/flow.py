"""Which screen is shown and what each tap does there: the whole app without a window.

The flow holds what is on the screen and in hand, never a fact of a garment: those are in the store before the
screen moves on. Whatever is refused becomes a notice, and the screen stays where it was.

The store is asked off the screen's thread, through `at_store`. While a tap waits for it, countdowns, calls
and alarms go on, and further taps are not taken.
"""

from collections.abc import Callable
from functools import partial

from floorapp.background import Background, T
from floorapp.call_flow import CallFlow
from floorapp.clock_watch import ClockWatch
from floorapp.copy_keeper import CopyKeeper
from floorapp.find_flow import FindFlow
from floorapp.finding_flow import FindingFlow
from floorapp.floor_lists import FloorLists, read_lists
from floorapp.os_errors import told_in_a_line
from floorapp.planned_job import planned_hits
from floorapp.press_flow import PressFlow
from floorapp.reason_flow import ReasonFlow
from floorapp.refusals import notice_of
from floorapp.remedy_flow import RemedyFlow, Screens, changed_words
from floorapp.review_flow import ReviewFlow
from floorapp.screen_names import OF_A_GARMENT, TELLS_A_FINDING, ScreenName
from floorapp.set_up_flow import SetUpFlow
from floorapp.signals import Signals
from floorapp.standing_notices import StandingNotices
from floorapp.views import Action, NoticeView, Tap, Tone
from floorapp.what_if_flow import WhatIfFlow
from floorapp.why_flow import WhyFlow
from models.batch.standing import Standing
from models.clock import Clock
from models.errors import FloorError
from models.floor.calling import Caller
from models.floor.work import FloorWork, PickedUp
from models.garment.countdown import NS_PER_S, Countdown
from models.garment.cycle import State
from models.garment.progress import Recipe
from models.job.job import Peel
from models.store.errors import GarmentMovedError
from models.store.records import BatchHead, BatchProgress, GarmentRow, StoredGarment

ANSWERING_NS = 15 * NS_PER_S
"""A person who says how a hit ended takes no longer (common practice, no source)."""


class Flow:
    """One station's screens."""

    def __init__(
        self, work: FloorWork, clock: Clock, set_up: SetUpFlow, background: Background, at_store: Background
    ) -> None:
        self.work = work
        self.clock = clock
        self.set_up = set_up
        self.changed: Callable[[], None] = lambda: None
        self.looked: Callable[[], None] = lambda: None
        self.at_store = at_store
        self.waiting_since_ns: int | None = None
        self._answering_until_ns = 0
        self.screen = ScreenName.FLOOR
        self.garment: StoredGarment | None = None
        self.finding = FindingFlow(work)
        self.reason = ReasonFlow()
        self._looks_on = False  # at a garment that nobody has taken up for it
        self.looked_from = ScreenName.FLOOR
        self.review = ReviewFlow(work, background, self._tell_later)
        self.what_if = WhatIfFlow(background)
        caller = Caller(work.store, clock, work.seat.station, work.seat.rests)
        self.calls = CallFlow(caller, clock, background)
        self.why = WhyFlow(background, work.seat.rests)
        self._tried_from = ScreenName.SET_UP
        self.notice: NoticeView | None = None
        self.signals = Signals(clock)
        self.press = PressFlow(work, clock, self.signals)
        self.lists = self._read_lists(FloorLists(), with_batches=True)  # no screen waits for it yet
        self.find = FindFlow(work.store, at_store, self._could_not_look)
        screens = Screens(self._show, lambda: self.screen, self._tell, self._tell_later, self._to_review)
        self.remedies = RemedyFlow(work, set_up, background, self._work_at, screens)
        self._is_looking = self._is_acting = self._tells_of_looking = False
        self.standing = StandingNotices()
        self.copies: CopyKeeper | None = None
        self._clocks = ClockWatch(clock, is_on_server=work.store.is_on_server)
        self._actions: dict[Tap, Callable[[str], None]] = self._action_table()

    # What the screens ask

    @property
    def resting(self) -> tuple[GarmentRow, ...]:
        return self.lists.resting

    @property
    def in_work(self) -> tuple[GarmentRow, ...]:
        return self.lists.in_work

    @property
    def batches(self) -> tuple[BatchProgress, ...]:
        return self.lists.batches

    @property
    def waited_s(self) -> float | None:
        """How long the last tap has waited for the store [s]; None if none waits."""
        if self.waiting_since_ns is None:
            return None
        return (self.clock.monotonic_ns() - self.waiting_since_ns) / NS_PER_S

    @property
    def in_hand(self) -> StoredGarment:
        """The garment on the screen; only asked where there is one."""
        if self.garment is None:
            raise LookupError("no garment is on the screen")
        return self.garment

    @property
    def shows_garment(self) -> bool:
        """Whether the screen is about the garment in hand."""
        return self.garment is not None and self.screen in OF_A_GARMENT

    @property
    def only_looks(self) -> bool:
        """Whether the garment on the screen is looked at, and not in this station's hands."""
        return self._looks_on and self.garment is not None and self.work.can_take_up(self.garment)

    @property
    def code_on_screen(self) -> str:
        """Of the garment whose own screen is shown; empty on all other screens."""
        return self.in_hand.row.code if self.screen == ScreenName.GARMENT else ""

    @property
    def countdown(self) -> Countdown | None:
        """The running hit of the garment in hand, where this station knows how far it is."""
        return self.press.countdown_of(self.garment) if self.garment is not None else None

    @property
    def is_interrupted(self) -> bool:
        """Whether the hit ran on unseen, so that only the operator knows how it ended."""
        pressing = self.garment is not None and self.garment.progress.state == State.PRESSING
        return pressing and self.countdown is None

    @property
    def waits_to_peel(self) -> bool:
        """Whether the card of the garment in hand counts down until its carriers come off."""
        if self.garment is None:
            return False
        progress = self.garment.progress
        cools = progress.state == State.PEELING and progress.next_peel == Peel.COLD
        return progress.ready_at is not None or cools

    @property
    def is_due(self) -> bool:
        """Whether the garment in hand waits for the operator: its hit is over, or it can be peeled."""
        if self.garment is None:
            return False
        ready_at, countdown = self.garment.progress.ready_at, self.countdown
        is_over = countdown is not None and countdown.is_over(self.clock)
        return is_over or (ready_at is not None and ready_at <= self.clock.utc_now())

    @property
    def pressing(self) -> tuple[GarmentRow, ...]:
        """The garments that this station has under a closed press, the one in hand among them."""
        in_hand = (self.in_hand.row,) if self.shows_garment and not self.only_looks else ()
        rows = {row.code: row for row in (*self.in_work, *in_hand, *self.press.not_stored)}
        return tuple(row for row in rows.values() if row.state == State.PRESSING)

    def listen(self, changed: Callable[[], None], called: Callable[[], None] = lambda: None) -> None:
        """`changed` is called when background work has moved what a screen shows, `called` when it has worked
        out another next garment or what other stations have done.
        """
        self.changed, self.looked = changed, called
        for part in (self.set_up, self.review, self.what_if, self.why, self.find):
            part.changed = changed
        self.calls.changed = called
        if self.copies is not None:
            self.copies.changed = called

    # What moves it

    def scan(self, text: str) -> None:
        """A tag was scanned or typed, on whatever screen: its garment opens at its place."""
        self._guarded(lambda _: self._open(text), "")

    def act(self, action: Action) -> None:
        """Does what was tapped; a refusal becomes a notice and nothing else changes."""
        self._guarded(self._actions[action.tap], action.value)

    def type(self, text: str) -> None:
        """Text came from a keyboard, on a screen that takes some."""
        self._guarded(self._typing().type, text)

    def enter_seconds(self, seconds: int) -> None:
        """The seconds that an early opened hit was really pressed."""
        self._guarded(lambda _: self._open_after(seconds), "")

    @property
    def _unseen(self) -> tuple[GarmentRow, ...]:
        """The garments under a press but for the one that somebody is just saying of how its hit ended."""
        press, code = self.press, self.in_hand.row.code if self.shows_garment else ""
        asks = self.screen == ScreenName.SECONDS_ENTRY or press.late_s is not None
        is_answering = asks and self.clock.monotonic_ns() < self._answering_until_ns
        answered = code if is_answering or press.is_said_open else ""
        return tuple(row for row in self.pressing if row.code != answered)

    def tick(self) -> bool:
        """Calls what is due: a hit that is over, a garment that has rested; and lets the next garment be
        worked out where the floor has moved. Returns whether anything has become due since the last tick.
        """
        for told in (*self._clocks.look(self.lists.newest_at), *self.lists.damaged):
            self.standing.tell(told)
        if self.copies is not None:
            self.copies.tick()
        has_new = self.signals.look(self.press.running, self._unseen, self.resting)
        shows_ends = self.screen in {ScreenName.FLOOR, ScreenName.REVIEW}
        self.calls.tick(is_call_shown=self._calls_next, is_outlook_shown=shows_ends)
        return has_new

    @property
    def _calls_next(self) -> bool:
        """Whether the screen calls the next garment: hands are free, or will be while this one is pressed."""
        if self.screen == ScreenName.GARMENT:
            return self.in_hand.progress.state == State.PRESSING or self.waits_to_peel
        return self.screen == ScreenName.FLOOR

    def look_around(self) -> None:
        """Look for what other stations have done; a refusal of the store is a notice."""
        if self._is_looking or self.waiting_since_ns is not None:
            return
        self._is_looking = True
        code = self.in_hand.row.code if self.shows_garment else ""
        looked = partial(self._read_all, code, self.lists, with_batches=self.screen == ScreenName.FLOOR)
        self.at_store.run(looked, self._look, self._could_not_look)

    def _read_all(
        self, code: str, known: FloorLists, *, with_batches: bool
    ) -> tuple[StoredGarment | None, FloorLists]:
        """The garment on the screen, if there is one, and the lists."""
        garment = self.work.store.garment(code) if code else None
        return garment, read_lists(self.work.store, self.work.seat.station, known, with_batches=with_batches)

    def _look(self, read: tuple[StoredGarment | None, FloorLists]) -> None:
        self._is_looking = False
        garment, lists = read
        has_moved = self._leave_if_moved(garment) or lists != self.lists
        has_recovered, self._tells_of_looking = self._tells_of_looking, False
        self.lists = lists
        if has_recovered:
            self.notice = None
        if has_moved:
            self.calls.moved()
        if has_moved or has_recovered:
            self.looked()

    def _could_not_look(self, error: FloorError) -> None:
        self._is_looking, self._tells_of_looking = False, True
        self.notice = NoticeView(str(error), Tone.ATTENTION)
        self.looked()

    def _leave_if_moved(self, now: StoredGarment | None) -> bool:
        """Another station may have worked the garment on the screen: it is shown as it is now, and told."""
        if now is None or not self.shows_garment or now.row.code != self.in_hand.row.code:
            return False
        told = changed_words(self.in_hand, now)
        if told:
            self._leave_changed(now, told)
            return True
        if now.progress.seq <= self.in_hand.progress.seq:
            return False
        self._hold_in_hand(now)
        self._show(ScreenName.GARMENT)
        self.notice = NoticeView(_moved_words(now.log[-1].station, self.work.seat.station), Tone.ATTENTION)
        return True

    def _leave_changed(self, now: StoredGarment, told: str) -> None:
        """Another station has changed what the garment is; one of a batch that is gone leaves the screen."""
        self._hold_in_hand(now)
        is_gone = now.batch.standing == Standing.WITHDRAWN
        self._show(ScreenName.FLOOR if is_gone else ScreenName.GARMENT)
        self.notice = NoticeView(told, Tone.ATTENTION)

    # How the store is asked

    def _ask(self, read: Callable[[], T], shown: Callable[[T], None]) -> None:
        """Do `read` on the store's thread, then `shown` with its result; taps wait meanwhile."""
        self.waiting_since_ns = self.clock.monotonic_ns()
        self.at_store.run(read, partial(self._answered, shown), self._refused)

    def _answered(self, shown: Callable[[T], None], result: T) -> None:
        self.waiting_since_ns = None
        self._finish(lambda: shown(result))

    def _refused(self, error: FloorError) -> None:
        """Tell the refusal; a garment that another station has moved is shown as it is now."""
        self.waiting_since_ns = None
        self.press.refused(error)
        notice = notice_of(error)
        if isinstance(error, GarmentMovedError) and self.garment is not None:
            moved = partial(self.work.store.garment, self.garment.row.code)
            self._ask(moved, partial(self._show_moved, notice))
        else:
            self._finish(lambda: self._tell(notice))

    def _show_moved(self, notice: NoticeView, garment: StoredGarment) -> None:
        self._hold_in_hand(garment)
        self._show(ScreenName.GARMENT)
        self.notice = notice

    def _finish(self, show: Callable[[], None]) -> None:
        """Show what came of a tap; one that had to wait is drawn by itself."""
        show()
        if not self._is_acting:
            self.changed()

    def _work(self, work: Callable[[StoredGarment], StoredGarment]) -> None:
        """Store one tap on the garment in hand, and show where it stands then."""
        self._work_at(partial(work, self.in_hand), self._worked)

    def _work_at(self, work: Callable[[], T], shown: Callable[[T], None]) -> None:
        """Do `work`, read the lists that it may have moved, and show both."""
        known, with_batches = self.lists, self.screen == ScreenName.FLOOR

        def worked() -> tuple[T, FloorLists]:
            result = work()
            return result, self._read_lists(known, with_batches=with_batches)

        def show(read: tuple[T, FloorLists]) -> None:
            result, self.lists = read
            shown(result)

        self._ask(worked, show)

    def _read_lists(self, known: FloorLists, *, with_batches: bool) -> FloorLists:
        """The lists anew, or as they are known if they can't be read: what was stored before stays stored."""
        try:
            return read_lists(self.work.store, self.work.seat.station, known, with_batches=with_batches)
        except FloorError:
            return known

    # The actions

    def _action_table(self) -> dict[Tap, Callable[[str], None]]:
        return {
            Tap.TO_FLOOR: lambda _: self._show(ScreenName.FLOOR),
            Tap.TO_REVIEW: self._to_review,
            Tap.TO_SET_UP: self._to_set_up,
            Tap.TYPE_CODE: lambda _: self._show(ScreenName.CODE_ENTRY),
            Tap.OPEN_CODE: self._open_tapped,
            Tap.LOOK_AT_GARMENT: self._look_at_garment,
            Tap.BACK: lambda _: self._back(),
            Tap.DISMISS: self.standing.dismiss,
            Tap.CLOSE_PRESS: lambda _: self._close_press(),
            Tap.PRESS_IS_OPEN: self._press_is_open,
            Tap.OPENED_EARLY: lambda _: self._show_question(ScreenName.SECONDS_ENTRY),
            Tap.NEVER_CLOSED: lambda _: self._never_closed(),
            Tap.STILL_CLOSED: lambda _: self._count_on(),
            Tap.PEEL: lambda how: self._work(lambda garment: self.work.peel(garment, Peel(how))),
            Tap.REST: lambda _: self._work(self.work.rest),
            Tap.REST_ON: lambda _: self._work(self.work.rest_on),
            Tap.PASS: lambda _: self._work(self.work.pass_check),
            Tap.PRESS_REMAINDER: lambda _: self._work(self.work.press_remainder),
            Tap.LOOK_CLOSER: self._look_closer,
            Tap.CHOOSE_KIND: self.finding.choose_kind,
            Tap.MARK_PIECE: self.finding.mark,
            Tap.TURN_MAP: lambda _: self.finding.turn_map(self.in_hand),
            Tap.CHOOSE_SECONDS: self.finding.choose_seconds,
            Tap.PRESS_AGAIN: lambda _: self._work(self.finding.press_again),
            Tap.REPLACE: lambda _: self._work(self.finding.replace),
            Tap.ACCEPT: lambda _: self._work(self.finding.accept),
            Tap.ASK_HOLD: partial(self._ask_why, self.reason.ask_hold),
            Tap.ASK_SPOIL: partial(self._ask_why, self.reason.ask_spoiling),
            Tap.CHOOSE_REASON: self.reason.choose,
            Tap.TYPE_REASON: lambda _: self._show(ScreenName.REASON_ENTRY),
            Tap.TAKE_REASON: lambda _: self._take_typed_reason(),
            Tap.HOLD: lambda reason: self._work(lambda garment: self.finding.hold(garment, reason)),
            Tap.SPOIL: lambda reason: self._work(lambda garment: self.finding.spoil(garment, reason)),
            Tap.RELEASE: lambda _: self._work(self.work.release),
            Tap.TAKE_BACK: lambda _: self._work(self.work.take_back),
            Tap.WHY: lambda _: self._to_why(),
            Tap.LOOK_AT_HIT: self._look_at_hit,
            Tap.FILTER: self.review.show_only,
            Tap.WHAT_IF: self._to_what_if,
            Tap.TRY_WHAT: self.what_if.choose,
            Tap.TRY_PIECE: self.what_if.choose_piece,
            Tap.TRY_DRAG: self.what_if.drag,
            Tap.TRY_STEP: self.what_if.step,
            Tap.TURN_TO_HIT: self.what_if.turn_to,
            Tap.STOP_TRY: lambda _: self.what_if.stop(),
            Tap.UNDO_TRY: lambda _: self.what_if.undo_all(),
            Tap.OPEN_FOLDER: self.set_up.look_into,
            Tap.CHOOSE_FILE: self.set_up.choose,
            Tap.STOP_PLANNING: lambda _: self.set_up.stop_planning(),
            Tap.LOAD_BATCH: lambda _: self._ask(self.set_up.load, self.set_up.loaded),
            Tap.CHOOSE_PAPER: self.set_up.choose_paper,
            Tap.WRITE_TAGS: self._write_tags,
            Tap.WRITE_CSV: lambda batch: self.review.write(partial(self.set_up.write_csv, batch)),
            Tap.TO_FIND: lambda _: self._to_find(),
            Tap.KEY: lambda key: self._typing().key(key),
            **self.remedies.actions,
        }

    def _guarded(self, action: Callable[[str], None], value: str) -> None:
        """Do what was asked for, unless the tap before it still waits to be stored."""
        if self.waiting_since_ns is not None:
            return
        self.notice, self._tells_of_looking, self._is_acting = None, False, True
        try:
            with told_in_a_line():
                action(value)
        except FloorError as error:
            self.notice = notice_of(error)
        finally:
            self._is_acting = False

    def _show(self, screen: ScreenName) -> None:
        self.screen = screen
        if screen not in TELLS_A_FINDING:
            self.finding.forget()
        if screen == ScreenName.FLOOR:
            self.look_around()

    def _back(self) -> None:
        if self.screen == ScreenName.WHAT_IF:
            self.notice = self.what_if.leave()
            self._show(self._tried_from)
            return
        if self.screen == ScreenName.PLANNED_HIT:
            self._show(ScreenName.SET_UP)
            return
        if self.screen in {ScreenName.CHANGE, ScreenName.WEARER_ENTRY}:
            self.remedies.back()
            return
        self._show(self._screen_before)

    @property
    def _screen_before(self) -> ScreenName:
        """Where the way back leads, but for tries and remedies."""
        if self.screen == ScreenName.REASON_ENTRY:
            return ScreenName.REASON
        if self.screen == ScreenName.REASON and self.finding.is_begun:
            return ScreenName.FINDING
        if self.shows_garment and self.screen != ScreenName.GARMENT:
            return ScreenName.GARMENT
        is_looked_at = self.screen == ScreenName.GARMENT and self._looks_on
        return self.looked_from if is_looked_at else ScreenName.FLOOR

    def _to_find(self) -> None:
        self.find.begin()
        self._show(ScreenName.FIND)

    def _typing(self) -> FindFlow | ReasonFlow | RemedyFlow:
        """What the screen of large keys types into."""
        if self.screen == ScreenName.REASON_ENTRY:
            return self.reason
        return self.find if self.screen == ScreenName.FIND else self.remedies

    def _to_review(self, reference: str) -> None:
        self._ask(partial(self.work.store.batch, reference), self._show_review)

    def _show_review(self, batch: BatchHead) -> None:
        self.review.open(batch)
        self._show(ScreenName.REVIEW)

    def _to_what_if(self, reference: str) -> None:
        """Tries the job on the Set-up screen, or the stored batch that is named."""
        self._tried_from = self.screen
        planned = self.set_up.state.planned
        if reference:
            self._ask(partial(self._read_recipe, reference), self._show_what_if)
        elif planned is not None:
            self._show_what_if(Recipe(planned.job, planned.plan))

    def _read_recipe(self, reference: str) -> Recipe:
        return self.work.store.recipe(self.work.store.batch(reference).id)

    def _show_what_if(self, recipe: Recipe) -> None:
        self.what_if.begin(recipe.job, recipe.plan)
        self._show(ScreenName.WHAT_IF)

    def _to_why(self) -> None:
        recipe = self.in_hand.progress.recipe
        self.why.ask(recipe.job, recipe.plan, self.in_hand.progress.hit)
        self._show(ScreenName.WHY)

    def _look_at_hit(self, place: str) -> None:
        """A hit of the job on the Set-up screen, by its place among those shown there."""
        if self.set_up.state.planned is not None:
            way, hit = planned_hits(self.set_up.state.planned)[int(place)]
            self.why.ask(way.job, way.plan, hit)
            self._show(ScreenName.PLANNED_HIT)

    def _tell(self, notice: NoticeView) -> None:
        self.notice = notice

    def _tell_later(self, notice: NoticeView) -> None:
        self.notice = notice
        self.changed()

    def _to_set_up(self, _: str) -> None:
        self.set_up.enter()
        self._show(ScreenName.SET_UP)

    def _open(self, text: str, *, from_press: bool = False) -> None:
        self._work_at(partial(self.work.pick_up, text, from_press=from_press), self._opened)

    def _open_tapped(self, code: str) -> None:
        """A garment under another station's press is taken from it by a finger only: scanners scan twice."""
        self._open(code, from_press=self.only_looks and code == self.in_hand.row.code)

    def _look_at_garment(self, code: str) -> None:
        """Show a garment without taking it up: nothing is stored by it."""
        self._ask(partial(self.work.find, code), self._looked_at)

    def _looked_at(self, garment: StoredGarment) -> None:
        if self.screen in {ScreenName.REVIEW, ScreenName.FIND}:
            self.looked_from = self.screen
        elif self.screen not in {ScreenName.CHANGE, ScreenName.WEARER_ENTRY} and not self._looks_on:
            self.looked_from = ScreenName.FLOOR
        self._hold_in_hand(garment)
        self._looks_on = True
        self._show(ScreenName.GARMENT)

    def _opened(self, picked: PickedUp) -> None:
        if picked.is_left:
            self._looked_at(picked.garment)
            told = f"{picked.garment.progress.station} has it under its press, and counts its seconds"
            self.notice = NoticeView(told, Tone.ATTENTION)
            return
        self._worked(picked.garment)
        if picked.from_station:
            told = f"{picked.from_station} had this garment; it is at this station now"
            self.notice = NoticeView(told, Tone.ATTENTION)

    def _close_press(self) -> None:
        """The countdown begins with the tap, however long the store takes."""
        closing = self.press.begin_closing(self.in_hand)
        self._work_at(partial(self.press.close, closing), self._worked)

    def _never_closed(self) -> None:
        if self.press.not_stored:
            self.press.drop_closing()
        else:
            self._work(self.work.never_closed)

    def _count_on(self) -> None:
        """The press is still closed after an interruption."""
        self.press.running.count_on(self.in_hand)
        self._show(ScreenName.GARMENT)

    def _press_is_open(self, seconds: str) -> None:
        """`seconds` are the operator's own."""
        if seconds:
            self._open_after(int(seconds))
            return
        counted_s = self.press.seconds_at_opening(self.in_hand)
        if counted_s is None:
            self._show_question(ScreenName.GARMENT)  # which asks when it was opened
        else:
            self.press.is_said_open = True
            self._work_at(partial(self.press.open, self.in_hand, counted_s), self._press_opened)

    def _show_question(self, screen: ScreenName) -> None:
        """Ask how a hit ended. Whoever answers is not called meanwhile, unless the question was a slip."""
        self._answering_until_ns = self.clock.monotonic_ns() + ANSWERING_NS
        self._show(screen)

    def _open_after(self, seconds: int) -> None:
        garment, press = self.in_hand, self.press
        press.is_said_open = True
        opened = partial(press.open_after, garment, seconds, press.closed_s(garment))
        self._work_at(opened, self._press_opened)

    def _press_opened(self, garment: StoredGarment) -> None:
        self.press.opened(garment)
        self._worked(garment)

    def _look_closer(self, piece: str) -> None:
        self.finding.begin(self.in_hand, piece)
        self._show(ScreenName.FINDING)

    def _ask_why(self, ask: Callable[[str], None], suggested: str) -> None:
        ask(suggested)
        self._show(ScreenName.REASON)

    def _take_typed_reason(self) -> None:
        self.reason.take_typed()
        self._show(ScreenName.REASON)

    def _worked(self, garment: StoredGarment) -> None:
        """The garment after a stored tap: a resting one frees the hands for the next."""
        is_same = self.garment is not None and self.garment.row.code == garment.row.code
        before = self.garment.progress.state if self.garment is not None and is_same else None
        self._looks_on = False
        self._hold_in_hand(garment)
        went_to_rest = garment.progress.state == State.RESTING and before == State.PEELING
        self._show(ScreenName.FLOOR if went_to_rest and not self.is_due else ScreenName.GARMENT)

    def _hold_in_hand(self, garment: StoredGarment) -> None:
        self.calls.moved()
        self.garment = garment
        self.press.follow(garment)

    def _write_tags(self, reference: str) -> None:
        self._ask(partial(self.work.store.batch, reference), self._show_writing)

    def _show_writing(self, batch: BatchHead) -> None:
        self._show(ScreenName.SET_UP)  # where the progress of the writing is told
        self.set_up.write_tags(batch)


def _moved_words(station: str, own: str) -> str:
    """Who has moved the garment on the screen; a tap that was refused may have been stored after all."""
    who = "Your last tap was stored after all" if station == own else f"{station} has worked on this garment"
    return f"{who}; this is where it stands now"

"""Which screen is shown and what each tap does there: the whole app without a window.

The flow holds what is on the screen and in hand, never a fact of a garment: those are in the store before the
screen moves on. Whatever is refused becomes a notice, and the screen stays where it was.
"""

from collections.abc import Callable
from functools import partial

from floorapp.background import Background
from floorapp.call_flow import CallFlow
from floorapp.finding_flow import FindingFlow
from floorapp.os_errors import told_in_a_line
from floorapp.planned_job import planned_hits
from floorapp.press_flow import PressFlow
from floorapp.review_flow import ReviewFlow
from floorapp.screen_names import OF_A_GARMENT, ScreenName
from floorapp.set_up_flow import SetUpFlow
from floorapp.signals import Signals
from floorapp.views import Action, NoticeView, Tap, Tone
from floorapp.what_if_flow import WhatIfFlow
from floorapp.why_flow import WhyFlow
from models.clock import Clock
from models.errors import FloorError
from models.floor.calling import Caller
from models.floor.work import FloorWork
from models.garment.countdown import Countdown
from models.garment.cycle import State
from models.job.job import Peel
from models.store.errors import GarmentMovedError
from models.store.records import BatchProgress, GarmentRow, StoredGarment


class Flow:
    """One station's screens."""

    def __init__(self, work: FloorWork, clock: Clock, set_up: SetUpFlow, background: Background) -> None:
        self.work = work
        self.clock = clock
        self.set_up = set_up
        self.changed: Callable[[], None] = lambda: None
        self.screen = ScreenName.FLOOR
        self.garment: StoredGarment | None = None
        self.finding = FindingFlow(work)
        self.review = ReviewFlow(work, background, self._tell)
        self.what_if = WhatIfFlow(background)
        caller = Caller(work.store, clock, work.seat.station, work.seat.rests)
        self.calls = CallFlow(caller, clock, background)
        self.why = WhyFlow(background, work.seat.rests)
        self._tried_from = ScreenName.SET_UP
        self.notice: NoticeView | None = None
        self.signals = Signals(clock)
        self.press = PressFlow(work, clock, self.signals)
        self.resting: tuple[GarmentRow, ...] = ()
        self.in_work: tuple[GarmentRow, ...] = ()
        self.batches: tuple[BatchProgress, ...] = ()
        self._actions: dict[Tap, Callable[[str], None]] = self._action_table()
        self.reread()

    # What the screens ask

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
    def code_on_screen(self) -> str:
        """Of the garment whose own screen is shown; empty on all other screens."""
        return self.in_hand.row.code if self.screen == ScreenName.GARMENT else ""

    @property
    def countdown(self) -> Countdown | None:
        """The running hit of the garment in hand, where this station knows how far it is."""
        return self.press.running.countdown_of(self.garment.row) if self.garment is not None else None

    @property
    def is_interrupted(self) -> bool:
        """Whether the hit ran on unseen, so that only the operator knows how it ended."""
        pressing = self.garment is not None and self.garment.progress.state == State.PRESSING
        return pressing and self.countdown is None

    @property
    def pressing(self) -> tuple[GarmentRow, ...]:
        """The garments that this station has under a closed press, the one in hand among them."""
        in_hand = (self.in_hand.row,) if self.shows_garment else ()
        rows = {row.code: row for row in (*self.in_work, *in_hand)}
        return tuple(row for row in rows.values() if row.state == State.PRESSING)

    def listen(self, changed: Callable[[], None], called: Callable[[], None] = lambda: None) -> None:
        """`changed` is called when background work has moved what a screen shows, `called` when it has worked
        out another next garment.
        """
        self.changed = changed
        for part in (self.set_up, self.review, self.what_if, self.why):
            part.changed = changed
        self.calls.changed = called

    # What moves it

    def scan(self, text: str) -> None:
        """A tag was scanned or typed, on whatever screen: its garment opens at its place."""
        self._guarded(lambda _: self._open(text), "")

    def act(self, action: Action) -> None:
        """Does what was tapped; a refusal becomes a notice and nothing else changes."""
        self._guarded(self._actions[action.tap], action.value)

    def enter_seconds(self, seconds: int) -> None:
        """The seconds that an early opened hit was really pressed."""
        self._guarded(lambda _: self._worked(self.press.open_after(self.in_hand, seconds)), "")

    def tick(self) -> None:
        """Calls what has become due since the last tick: a hit that is over, a garment that has rested; and
        lets the next garment be worked out where the floor has moved.
        """
        if self.signals.look(self.press.running, self.pressing, self.resting):
            self.calls.moved()
        shows_ends = self.screen in {ScreenName.FLOOR, ScreenName.REVIEW}
        self.calls.tick(is_call_shown=self._calls_next, is_outlook_shown=shows_ends)

    @property
    def _calls_next(self) -> bool:
        """Whether the screen calls the next garment: hands are free, or will be while this one is pressed."""
        if self.screen == ScreenName.GARMENT:
            return self.in_hand.progress.state in {State.PRESSING, State.RESTING}
        return self.screen == ScreenName.FLOOR

    def reread(self) -> bool:
        """Reads again what the Floor screen and the rest rail show, and answers whether it has changed."""
        before = (self.resting, self.in_work, self.batches)
        self.resting = self.work.store.resting()
        self.in_work = self.work.store.in_work(self.work.seat.station)
        if self.screen == ScreenName.FLOOR:  # counting all batches costs the most, and only Floor shows them
            self.batches = self.work.store.batches()
        return before != (self.resting, self.in_work, self.batches)

    def look_around(self) -> bool:
        """Rereads, and answers whether there is anything new to show; a refusal of the store is a notice."""
        try:
            has_moved = self._leave_what_moved()
            has_moved = self.reread() or has_moved
        except FloorError as error:
            self.notice = NoticeView(str(error), Tone.ATTENTION)
            return True
        if has_moved:
            self.calls.moved()
        return has_moved

    def _leave_what_moved(self) -> bool:
        """Another station may have worked the garment on the screen: it is shown as it is now, and told."""
        if not self.shows_garment:
            return False
        now = self.work.store.garment(self.in_hand.row.code)
        if now.progress.seq == self.in_hand.progress.seq:
            return False
        self._hold_in_hand(now)
        self._show(ScreenName.GARMENT)
        told = f"{now.log[-1].station} has worked on this garment; this is where it stands now"
        self.notice = NoticeView(told, Tone.ATTENTION)
        return True

    # The actions

    def _action_table(self) -> dict[Tap, Callable[[str], None]]:
        return {
            Tap.TO_FLOOR: lambda _: self._show(ScreenName.FLOOR),
            Tap.TO_REVIEW: self._to_review,
            Tap.TO_SET_UP: self._to_set_up,
            Tap.TYPE_CODE: lambda _: self._show(ScreenName.CODE_ENTRY),
            Tap.OPEN_CODE: self._open,
            Tap.BACK: lambda _: self._back(),
            Tap.DISMISS: lambda _: None,
            Tap.CLOSE_PRESS: lambda _: self._worked(self.press.close(self.in_hand)),
            Tap.PRESS_IS_OPEN: self._press_is_open,
            Tap.OPENED_EARLY: lambda _: self._show(ScreenName.SECONDS_ENTRY),
            Tap.NEVER_CLOSED: lambda _: self._worked(self.work.never_closed(self.in_hand)),
            Tap.PEEL: lambda how: self._worked(self.work.peel(self.in_hand, Peel(how))),
            Tap.REST: lambda _: self._worked(self.work.rest(self.in_hand)),
            Tap.REST_ON: lambda _: self._worked(self.work.rest_on(self.in_hand)),
            Tap.PASS: lambda _: self._worked(self.work.pass_check(self.in_hand)),
            Tap.PRESS_REMAINDER: lambda _: self._worked(self.work.press_remainder(self.in_hand)),
            Tap.LOOK_CLOSER: self._look_closer,
            Tap.CHOOSE_KIND: self.finding.choose_kind,
            Tap.MARK_PIECE: self.finding.mark,
            Tap.TURN_MAP: lambda _: self.finding.turn_map(self.in_hand),
            Tap.CHOOSE_SECONDS: self.finding.choose_seconds,
            Tap.PRESS_AGAIN: lambda _: self._worked(self.finding.press_again(self.in_hand)),
            Tap.REPLACE: lambda _: self._worked(self.finding.replace(self.in_hand)),
            Tap.ACCEPT: lambda _: self._worked(self.finding.accept(self.in_hand)),
            Tap.HOLD: lambda reason: self._worked(self.finding.hold(self.in_hand, reason)),
            Tap.SPOIL: lambda reason: self._worked(self.finding.spoil(self.in_hand, reason)),
            Tap.RELEASE: lambda _: self._worked(self.work.release(self.in_hand)),
            Tap.TAKE_BACK: lambda _: self._worked(self.work.take_back(self.in_hand)),
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
            Tap.LOAD_BATCH: lambda _: self.set_up.load(),
            Tap.CHOOSE_PAPER: self.set_up.choose_paper,
            Tap.WRITE_TAGS: self._write_tags,
            Tap.WRITE_CSV: lambda batch: self.review.write(partial(self.set_up.write_csv, batch)),
        }

    def _guarded(self, action: Callable[[str], None], value: str) -> None:
        self.notice = None
        try:
            with told_in_a_line():
                action(value)
        except FloorError as error:
            self._refuse(error)

    def _refuse(self, error: FloorError) -> None:
        """Tells the refusal; a garment that another station has moved is shown as it is now."""
        if isinstance(error, GarmentMovedError) and self.garment is not None:
            try:
                self._hold_in_hand(self.work.store.garment(self.garment.row.code))
                self._show(ScreenName.GARMENT)
            except FloorError as further:
                error = further
        self.notice = NoticeView(str(error), Tone.ATTENTION)

    def _show(self, screen: ScreenName) -> None:
        self.screen = screen
        if screen != ScreenName.FINDING:
            self.finding.forget()
        self.reread()

    def _back(self) -> None:
        if self.screen == ScreenName.WHAT_IF:
            self.notice = self.what_if.leave()
            self._show(self._tried_from)
            return
        if self.screen == ScreenName.PLANNED_HIT:
            self._show(ScreenName.SET_UP)
            return
        is_inner = self.shows_garment and self.screen != ScreenName.GARMENT
        self._show(ScreenName.GARMENT if is_inner else ScreenName.FLOOR)

    def _to_review(self, reference: str) -> None:
        self.review.open(reference)
        self._show(ScreenName.REVIEW)

    def _to_what_if(self, reference: str) -> None:
        """Tries the job on the Set-up screen, or the stored batch that is named."""
        self._tried_from = self.screen
        if reference:
            recipe = self.work.store.recipe(self.work.store.batch(reference).id)
            self.what_if.begin(recipe.job, recipe.plan)
        elif self.set_up.state.planned is not None:
            self.what_if.begin(self.set_up.state.planned.job, self.set_up.state.planned.plan)
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
        self.changed()

    def _to_set_up(self, _: str) -> None:
        self.set_up.enter()
        self._show(ScreenName.SET_UP)

    def _open(self, text: str) -> None:
        garment = self.work.find(text)
        other = garment.progress.station
        try:
            taken = self.work.take_up(garment)
        except GarmentMovedError:  # another station scanned it in the same moment
            taken = self.work.take_up(self.work.find(text))
        self._worked(taken)
        if other and other != self.work.seat.station and self.in_hand.progress.seq != garment.progress.seq:
            self.notice = NoticeView(f"{other} had this garment; it is at this station now", Tone.ATTENTION)

    def _press_is_open(self, seconds: str) -> None:
        """`seconds` are the operator's own."""
        press, garment = self.press, self.in_hand
        opened = press.open_after(garment, int(seconds)) if seconds else press.open(garment)
        if opened is not None:
            self._worked(opened)
        else:
            self._show(ScreenName.GARMENT)  # which asks when it was opened

    def _look_closer(self, piece: str) -> None:
        self.finding.begin(self.in_hand, piece)
        self._show(ScreenName.FINDING)

    def _worked(self, garment: StoredGarment) -> None:
        """The garment after a stored tap: a resting one frees the hands for the next."""
        is_same = self.garment is not None and self.garment.row.code == garment.row.code
        before = self.garment.progress.state if self.garment is not None and is_same else None
        self._hold_in_hand(garment)
        went_to_rest = garment.progress.state == State.RESTING and before == State.PEELING
        self._show(ScreenName.FLOOR if went_to_rest else ScreenName.GARMENT)

    def _hold_in_hand(self, garment: StoredGarment) -> None:
        self.calls.moved()
        self.garment = garment
        self.press.follow(garment)

    def _write_tags(self, reference: str) -> None:
        self._show(ScreenName.SET_UP)  # where the progress of the writing is told
        self.set_up.write_tags(reference)

"""A batch walked without a person, on a held clock: the demo without a display, the album of screens.

The walk taps what a person would tap, the primary action of each screen, and lets a few things go wrong that
go wrong on a real floor. Seconds pass on the held clock only.
"""

from collections.abc import Callable
from dataclasses import dataclass

from floorapp.flow import Flow
from floorapp.remedy_flow import Step
from floorapp.running_hits import RunningHits
from floorapp.screen_names import ScreenName
from floorapp.screens.garment_presenter import card_of
from floorapp.screens.presenter import primary_of
from floorapp.screens.pressing_presenter import running_of
from floorapp.screens.reason_presenter import reason_view
from floorapp.screens.what_if_presenter import what_if_view
from floorapp.views import Action, Tap
from models.clock import HeldClock
from models.garment.cycle import ENDED, State
from models.garment.events import FindingKind
from models.store.records import GarmentRow

LAYING_S = 5.0
"""Seconds to lay one piece, in the walk."""
LATE_S = 40.0
"""Seconds after the end of a hit until somebody taps, where nobody was at the press."""
TAP_S = 3.0
"""Seconds for everything else between two taps, in the walk."""


@dataclass(frozen=True, slots=True)
class Incident:
    """Something that goes wrong at the n-th garment."""

    n: int
    what: str


LIFT, CUT_OFF, EARLY = "a piece lifts", "the battery ran out", "opened early"
SPOIL, HOLD, LATE = "scorched", "put aside", "opened unseen"
INCIDENTS = (
    Incident(2, LIFT), Incident(3, CUT_OFF), Incident(4, EARLY), Incident(5, SPOIL), Incident(6, LATE),
    Incident(7, HOLD),
)  # fmt: skip
LOOK_AT_THE_FLOOR = 12
"""Before this garment the walk looks at the Floor screen, when something of everything is on it."""


class Walk:
    """Walks one batch; `moment` is told the name of what is on the screen, `told` a line a garment."""

    def __init__(
        self,
        flow: Flow,
        clock: HeldClock,
        moment: Callable[[str], None],
        told: Callable[[str], None],
    ) -> None:
        self.flow = flow
        self.clock = clock
        self.moment = moment
        self.told = told
        self._pending = {incident.n: incident.what for incident in INCIDENTS}

    def everything(self, reference: str) -> None:
        """The whole batch, and on the way the screens that no garment leads to."""
        self._set_up()
        self.batch(reference)
        self._review(reference)
        self._look_at_changes(reference)

    def batch(self, reference: str) -> None:
        """Every garment of the batch, in order; what has rested comes before the next new one."""
        rows = self.flow.work.store.garments(reference)
        self.moment("floor")
        for row in rows:
            self._peel_what_has_rested()
            if row.n == LOOK_AT_THE_FLOOR:
                self.flow.act(Action(Tap.TO_FLOOR))
                self.moment("floor-in-work")
            self._garment(row)
        while self.flow.resting:
            self._wait_for_the_first()
            self._peel_what_has_rested()
        self.flow.act(Action(Tap.TO_FLOOR))
        self.moment("floor-at-the-end")

    def _garment(self, row: GarmentRow) -> None:
        self.flow.scan(row.code)
        while self.flow.screen != ScreenName.FLOOR:
            self._step(row)
        state = self.flow.in_hand.progress.state
        if state in ENDED or state == State.HELD:
            self.told(f"{row.n:>3}  {row.code}  {row.wearer or row.size}: {state.value}")

    def _step(self, row: GarmentRow) -> None:
        progress = self.flow.in_hand.progress
        running = running_of(self.flow)
        self.moment(f"garment-{progress.state.value}")
        if running is not None and not running.is_over:
            self._press(row, running.left_s)
        elif progress.state == State.CHECKING and self._pending.get(row.n) in {LIFT, SPOIL}:
            self._find_fault(row)
        elif progress.state == State.LAYING and self._pending.get(row.n) == HOLD and progress.position > 0:
            self._put_aside(row)
        elif progress.state == State.HELD:
            self.flow.act(Action(Tap.TO_FLOOR))
        else:
            self._tap_primary(LAYING_S * len(progress.hit.lay) if progress.state == State.LAYING else TAP_S)

    def _press(self, row: GarmentRow, left_s: int) -> None:
        what = self._pending.pop(row.n) if self._pending.get(row.n) in {CUT_OFF, EARLY, LATE} else ""
        if what == CUT_OFF:
            self._cut_off(left_s)
            return
        self.clock.advance(left_s / 2)
        self.moment("garment-pressing-half-way")
        if what == EARLY:
            self._open_early(left_s // 2)
            return
        self.clock.advance(left_s - left_s / 2)
        self.flow.tick()
        self.moment("garment-hit-over")
        if what == LATE:
            self._leave_alone(row)
            self._open_unseen()

    def _cut_off(self, left_s: int) -> None:
        """The app is started again later, and has counted no hit."""
        self.clock.advance(4 * left_s)
        self.flow.press.running = RunningHits(self.clock)
        self.moment("garment-interrupted")
        self.flow.act(card_of(self.flow).answers[1].action)

    def _open_early(self, seconds: int) -> None:
        self.flow.act(Action(Tap.OPENED_EARLY))
        self.moment("seconds-entry")
        self.flow.enter_seconds(seconds)

    def _leave_alone(self, row: GarmentRow) -> None:
        """Somebody looks at the Floor screen instead of opening the press."""
        self.flow.act(Action(Tap.TO_FLOOR))
        self.moment("floor-open-now")
        self.flow.act(Action(Tap.OPEN_CODE, row.code))

    def _open_unseen(self) -> None:
        self._tap_primary(LATE_S)
        self.moment("garment-opened-late")
        self.flow.act(card_of(self.flow).answers[0].action)

    def _find_fault(self, row: GarmentRow) -> None:
        what = self._pending.pop(row.n)
        piece = self.flow.in_hand.progress.hit.count[0]
        self.flow.act(Action(Tap.WHY))
        self.moment("why")
        self.flow.act(Action(Tap.BACK))
        self.flow.act(Action(Tap.LOOK_CLOSER, piece))
        kind = FindingKind.LIFT if what == LIFT else FindingKind.SCORCH
        self.flow.act(Action(Tap.CHOOSE_KIND, kind.value))
        self.moment(f"finding-{kind.value}")
        if what == LIFT:
            self._tap_primary(TAP_S)
        else:
            self.flow.act(Action(Tap.ASK_SPOIL, "Scorched at the check"))
            self.moment("reason-spoiled")
            self.flow.act(Action(Tap.SPOIL, "Scorched at the check"))

    def _put_aside(self, row: GarmentRow) -> None:
        del self._pending[row.n]
        self.flow.act(Action(Tap.LOOK_CLOSER))
        self.moment("finding-nothing-marked")
        self.flow.act(Action(Tap.ASK_HOLD))
        self.moment("reason-held")
        self.flow.act(Action(Tap.HOLD, reason_view(self.flow).reasons[0].action.value))

    def _tap_primary(self, seconds: float) -> None:
        button = primary_of(self.flow)
        if button is None:
            raise LookupError(f"nothing to tap on {self.flow.screen}")
        self.clock.advance(seconds)
        self.flow.act(button.action)
        self.flow.tick()

    def _set_up(self) -> None:
        """A job that is refused for having been loaded before, and the tags of the one that was."""
        self.flow.act(Action(Tap.TO_SET_UP))
        self.moment("set-up")
        job = [entry for entry in self.flow.set_up.state.entries if not entry.is_folder][-1]
        self.flow.act(Action(Tap.CHOOSE_FILE, str(job.path)))
        self.moment("set-up-planned")
        self.flow.act(Action(Tap.LOOK_AT_HIT, "0"))
        self.moment("planned-hit")
        self.flow.act(Action(Tap.BACK))
        self._what_if()
        self.flow.act(Action(Tap.LOAD_BATCH))
        self.moment("set-up-loaded-before")
        self.flow.act(Action(Tap.TO_FLOOR))
        self.flow.act(Action(Tap.TYPE_CODE))
        self.moment("code-entry")
        self.flow.act(Action(Tap.BACK))

    def _what_if(self) -> None:
        """The same job with a narrower platen, and with a piece moved."""
        self.flow.act(Action(Tap.WHAT_IF))
        for _ in range(5):
            self.flow.act(Action(Tap.TRY_STEP, "wider -10"))
        self.moment("what-if-platen")
        self.flow.act(Action(Tap.TRY_WHAT, what_if_view(self.flow).subjects[1].action.value))
        self.moment("what-if-material")
        piece = what_if_view(self.flow).now.map.pieces[0].piece
        self.flow.act(Action(Tap.TRY_DRAG, f"30 200 {piece.id}"))
        self.moment("what-if-piece")
        self.flow.act(Action(Tap.UNDO_TRY))
        self.flow.act(Action(Tap.BACK))

    def _review(self, reference: str) -> None:
        self.flow.act(Action(Tap.TO_REVIEW, reference))
        self.moment("review")
        self.flow.act(Action(Tap.FILTER, State.HELD.value))
        self.moment("review-held")

    def _look_at_changes(self, reference: str) -> None:
        """What could be done about the spoiled garment and the batch; nothing of it is done."""
        rows = self.flow.work.store.garments(reference)
        spoiled = next(row for row in rows if row.state == State.SPOILED)
        self.flow.act(Action(Tap.TO_FIND))
        for key in (spoiled.wearer or spoiled.code)[:2].upper():
            self.flow.act(Action(Tap.KEY, key))
        self.moment("find")
        self.flow.act(Action(Tap.CHANGE_GARMENT, spoiled.code))
        self.moment("change-garment")
        self.flow.act(Action(Tap.ASK_CHANGE, Step.MAKE_AGAIN.value))
        self.moment("change-make-again")
        self.flow.act(Action(Tap.BACK))
        self.flow.act(Action(Tap.TO_CORRECT))
        self.moment("wearer-entry")
        self.flow.act(Action(Tap.CHANGE_BATCH, reference))
        self.moment("change-batch")
        self.flow.act(Action(Tap.TO_ADD))
        self.moment("wearer-entry-added")

    def _wait_for_the_first(self) -> None:
        ends_at = self.flow.resting[0].rest_ends_at
        if ends_at is not None:
            self.clock.advance(max(0.0, (ends_at - self.clock.utc_now()).total_seconds()))
        self.flow.tick()
        self.moment("floor-rest-over")

    def _peel_what_has_rested(self) -> None:
        due = [r for r in self.flow.resting if r.rest_ends_at and r.rest_ends_at <= self.clock.utc_now()]
        for row in due:
            self._garment(row)

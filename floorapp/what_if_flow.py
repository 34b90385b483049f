"""What if, without a window: a job is changed for a try and planned anew, off the screen's thread."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from floorapp.background import Background
from floorapp.set_up_flow import Planning
from floorapp.views import NoticeView, Tone
from models.errors import FloorError, NoSequenceExistsError
from models.job.job import Job
from models.plan.plan import Plan
from models.plan.progress import SoFar
from models.planning.what_if import with_material, with_piece_moved, with_platen

PLATEN = "platen"
MATERIAL = "material"
PIECE = "piece"
TRY_KEPT = NoticeView("The try is kept: What if shows it again. Nothing of it is stored.", Tone.PLAIN)


@dataclass(frozen=True, slots=True)
class WhatIf:
    """`plan` is that of the job as it is. `tried_plan` is that of `tried`: while it is planned, the best
    so far, if any. Where there is none, `refusal` says why, and `is_proved_none` that there can be none.
    `subject` is what the steps change: ("platen", "0") and the like.
    """

    job: Job
    plan: Plan
    tried: Job
    tried_plan: Plan | None
    refusal: str = ""
    is_proved_none: bool = False
    is_planning: bool = False
    hit: int = 0
    subject: tuple[str, str] = (PLATEN, "0")


class WhatIfFlow:
    def __init__(self, background: Background) -> None:
        self.background = background
        self.changed: Callable[[], None] = lambda: None
        self.state: WhatIf | None = None
        self.planning = Planning()

    def begin(self, job: Job, plan: Plan) -> None:
        """Tries the job; the one that was tried last is there again as it was left."""
        kept = self.state
        if kept is None or (kept.job, kept.plan) != (job, plan):
            self._in_place_of_the_last()
            self.state = WhatIf(job, plan, tried=job, tried_plan=plan)
        elif kept.is_planning:
            self._try(kept.tried)

    def leave(self) -> NoticeView | None:
        """Ends what is being planned. The try is kept, which the notice says where there is one."""
        self._in_place_of_the_last()
        state = self._there()
        return TRY_KEPT if state.tried != state.job else None

    def choose(self, subject: str) -> None:
        """`subject` is like "material raised-foam"."""
        kind, _, name = subject.partition(" ")
        self._now(subject=(kind, name))

    def choose_piece(self, piece: str) -> None:
        self._now(subject=(PIECE, piece))

    def turn_to(self, hit: str) -> None:
        """Shows the hit with this place in the plan."""
        self._now(hit=int(hit))

    def step(self, written: str) -> None:
        """Changes the subject: "wider 10", "set_c -1", "right -5" and the like. Raises TryRefusedError."""
        state = self._there()
        what, _, amount = written.partition(" ")
        self._try(_changed(state.tried, state.subject, what, int(amount)))

    def drag(self, written: str) -> None:
        """Moves a piece by mm to the right and down: "12 -3 anchor-1". Raises TryRefusedError."""
        right_mm, down_mm, piece = written.split(" ", 2)
        self.choose_piece(piece)
        self._try(with_piece_moved(self._there().tried, piece, int(right_mm), int(down_mm)))

    def undo_all(self) -> None:
        """Back to the job as it is."""
        state = self._there()
        self._in_place_of_the_last()
        self._now(tried=state.job, tried_plan=state.plan, refusal="", is_planning=False)

    def stop(self) -> None:
        """The plan that is best so far will do."""
        self.planning.is_stopped = True

    def _try(self, job: Job) -> None:
        from models.planning.planner import plan_sizes

        planning = self._in_place_of_the_last()
        self._now(tried=job, tried_plan=None, refusal="", is_planning=True)
        self.background.run(
            lambda: plan_sizes(
                job,
                progress=lambda so_far: self._tell(planning, so_far),
                stop=lambda: planning.is_stopped,
            ),
            lambda plan: self._now_of(planning, tried_plan=plan, is_planning=False),
            lambda error: self._refused(planning, error),
        )

    def _tell(self, planning: Planning, so_far: SoFar) -> None:
        """The map shows the size of most garments, which is planned first: what follows is not for it."""
        if so_far.is_of_most:
            self.background.tell(lambda: self._now_of(planning, tried_plan=so_far.plan))

    def _in_place_of_the_last(self) -> Planning:
        """The planning that is listened to from now on: the last one ends soon and is told about no more."""
        self.planning.is_stopped = True
        self.planning = Planning()
        return self.planning

    def _refused(self, planning: Planning, error: FloorError) -> None:
        is_proved = isinstance(error, NoSequenceExistsError)
        self._now_of(
            planning, tried_plan=None, refusal=str(error), is_proved_none=is_proved, is_planning=False
        )

    def _now_of(self, planning: Planning, **changes: object) -> None:
        if planning is self.planning:
            self._now(**changes)

    def _now(self, **changes: object) -> None:
        self.state = replace(self._there(), **changes)  # type: ignore[arg-type]  # each name is a field of it
        self.changed()

    def _there(self) -> WhatIf:
        if self.state is None:
            raise LookupError("no job is being tried")
        return self.state


def _changed(job: Job, subject: tuple[str, str], what: str, amount: int) -> Job:
    kind, name = subject
    if kind == PLATEN:
        wider, higher = (amount, 0) if what == "wider" else (0, amount)
        return with_platen(job, int(name), wider, higher)
    if kind == MATERIAL:
        return with_material(job, name, what, amount)
    right, down = (amount, 0) if what == "right" else (0, amount)
    return with_piece_moved(job, name, right, down)

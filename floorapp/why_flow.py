"""Why a hit is as it is, without a window: its heat is worked out off the screen's thread."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from floorapp.background import Background
from models.job.job import Job
from models.plan.plan import Hit, Plan
from models.recipe.places import REST_PLACE, Place

if TYPE_CHECKING:
    from models.heat.estimates.hit_report import HitReport


@dataclass(frozen=True, slots=True)
class Why:
    """The hit that is asked about; neither `report` nor `refusal` is there while it is worked out."""

    job: Job
    plan: Plan
    hit: Hit
    report: "HitReport | None" = None
    refusal: str = ""

    def is_about(self, job: Job, plan: Plan, hit: Hit) -> bool:
        return (self.hit, self.plan, self.job) == (hit, plan, job)


class WhyFlow:
    """Keeps what was worked out last: whoever looks again need not wait. Garments rest at `place`."""

    def __init__(self, background: Background, place: Place = REST_PLACE) -> None:
        self.background = background
        self.place = place
        self.changed: Callable[[], None] = lambda: None
        self.state: Why | None = None

    def ask(self, job: Job, plan: Plan, hit: Hit) -> None:
        """`job` and `plan` are those of one garment size."""
        if self.state is not None and self.state.is_about(job, plan, hit):
            return
        self.state = asked = Why(job, plan, hit)
        self.background.run(
            lambda: _report(asked, self.place),
            lambda report: self._told(asked, replace(asked, report=report)),
            lambda error: self._told(asked, replace(asked, refusal=str(error))),
        )

    def _told(self, asked: Why, told: Why) -> None:
        """What comes after another hit was asked about is dropped."""
        if self.state is asked:
            self.state = told
            self.changed()


def _report(asked: Why, place: Place) -> "HitReport":
    from models.heat.estimates.hit_report import hit_report

    return hit_report(asked.job, asked.plan, asked.hit, place)

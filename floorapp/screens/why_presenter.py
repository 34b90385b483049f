"""The reasons of the hit in hand, one tap away."""

from dataclasses import dataclass

from floorapp.flow import Flow, title_of
from floorapp.screens.garment_presenter import header_of
from floorapp.screens.map_presenter import map_of_step
from floorapp.screens.words import plan_words
from floorapp.views import Header
from floorapp.widget_views import MapView


@dataclass(frozen=True, slots=True)
class WhyView:
    header: Header
    map: MapView
    heading: str
    reasons: tuple[str, ...]


def why_view(flow: Flow) -> WhyView:
    progress = flow.in_hand.progress
    plan = progress.recipe.plan
    return WhyView(
        header=header_of(flow, title_of(flow.in_hand.row, flow.in_hand.batch.garments)),
        map=map_of_step(progress, flow.clock.utc_now()),
        heading=f"Hit {progress.step.label} of {progress.steps[-1].label}: why like this",
        reasons=(*progress.hit.why, plan_words(plan), *plan.why_not_fewer),
    )

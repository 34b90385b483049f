"""Why a hit is as it is: its reasons, its heat and the rest after it, one tap away."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from floorapp.flow import Flow
from floorapp.screens.garment_presenter import header_of, header_of_garment
from floorapp.screens.heat_presenter import GIVES_WAY, heat_view, learned_words
from floorapp.screens.map_presenter import map_of_step
from floorapp.screens.set_up_presenter import maps_of, title_in_two_lines
from floorapp.screens.words import plan_words
from floorapp.views import Group, Header, Line, Tone
from floorapp.why_flow import Why
from floorapp.widget_views import CurveView, MapView
from models.plan.plan import Plan


@dataclass(frozen=True, slots=True)
class WhyView:
    header: Header
    map: MapView
    heading: str
    groups: tuple[Group, ...]
    curves: tuple[CurveView, CurveView]
    caution: str


def why_view(flow: Flow) -> WhyView:
    """Of the hit of the garment in hand."""
    progress = flow.in_hand.progress
    warm, cold = flow.work.waits_after(progress)
    view = _view(
        asked(flow),
        header_of_garment(flow),
        map_of_step(progress, flow.clock.utc_now()),
        f"Hit {progress.step.label} of {progress.steps[-1].label}: why like this",
    )
    learned = (learned_words(warm, "warm peel"), learned_words(cold, "rest"))
    return replace(view, groups=(*view.groups, *_learned_group(learned)))


def planned_hit_view(flow: Flow) -> WhyView:
    """Of a hit of the job on the Set-up screen."""
    why = asked(flow)
    side_map = maps_of(why.job, why.plan)[why.plan.hits.index(why.hit)]
    header = header_of(flow, f"Set-up · {why.job.name}")
    return _view(why, header, side_map, title_in_two_lines(why.hit))


def asked(flow: Flow) -> Why:
    if flow.why.state is None:
        raise LookupError("no hit was asked about")
    return flow.why.state


def _view(why: Why, header: Header, side_map: MapView, heading: str) -> WhyView:
    heat = heat_view(why)
    reasons = (_group("Why these together", why.hit.why), _group("Why so many hits", _why_so_many(why.plan)))
    groups = (*heat.warnings, reasons[0], *heat.groups, reasons[1])
    return WhyView(header, side_map, heading, groups, heat.curves, GIVES_WAY)


def _learned_group(learned: Iterable[str]) -> tuple[Group, ...]:
    """What the floor has taught about this hit's rests; no group where it has taught nothing."""
    lines = tuple(Line(words) for words in learned if words)
    return (Group("Rests seen here", lines, Tone.REST),) if lines else ()


def _why_so_many(plan: Plan) -> tuple[str, ...]:
    return (plan_words(plan), *plan.why_not_fewer)


def _group(heading: str, reasons: Sequence[str]) -> Group:
    return Group(heading, tuple(Line(reason) for reason in reasons))

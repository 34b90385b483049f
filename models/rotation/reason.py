"""Why this garment is the next: one line for the person at the press."""

from collections.abc import Collection

from models.rotation.next_step import NextStep
from models.rotation.problem.shop import Press, Shop
from models.rotation.simulation.simulator import Act, Step
from models.units import in_both_degrees


def reason_of(shop: Shop, told: NextStep, set_anew: Collection[str] = ()) -> str:
    """What speaks for the step that `told` names, in a line; nothing where all is done.

    `set_anew` are the presses that were told to be set to another temperature, and not closed since.
    """
    step = told.step
    if step is None:
        return ""
    if step.act == Act.FINISH:
        return _why_finish(shop, step)
    due = sum(garment.is_off and garment.ready_s <= step.start_s for garment in shop.garments)
    meanwhile = "; what is ready can be peeled while the press is closed" if due else ""
    return f"{_why_setting(shop, step, set_anew)}; {_why_garment(shop, step)}{meanwhile}"


def _why_finish(shop: Shop, step: Step) -> str:
    opens_s = min((span.start_s for span in shop.taken if span.start_s > step.start_s), default=None)
    ready = "it is ready to be peeled and checked" if step.start_s == 0 else _ready_later(shop, step)
    if opens_s is not None and step.end_s <= opens_s:
        return f"{ready}, and there is time before the press opens"
    if step.visit + 1 < len(shop.garments[step.garment].visits):
        return f"{ready}, and can then go on"
    return f"{ready}, which finishes it"


def _ready_later(shop: Shop, step: Step) -> str:
    """It rests until then, or somebody has to be free first."""
    if shop.garments[step.garment].ready_s < step.start_s:
        return "it is to be peeled and checked as soon as hands are free"
    return "it is peeled and checked as soon as its rest is over"


def _why_setting(shop: Shop, step: Step, set_anew: Collection[str]) -> str:
    press = shop.press(step.setting.press)
    if press.temperature_c is None:
        return "the press takes its first setting"
    if press.temperature_c == step.setting.temperature_c:
        return "the press's new setting" if press.name in set_anew else "same setting"
    change_s = press.change_s(press.temperature_c, step.setting.temperature_c)
    before, after = in_both_degrees(press.temperature_c), in_both_degrees(step.setting.temperature_c)
    return f"changing from {before} to {after} takes {change_s:.0f} s, and {_why_change(shop, step, press)}"


def _why_change(shop: Shop, step: Step, press: Press) -> str:
    """Whether anything could have been waited for at the setting that the press leaves."""
    left = (press.name, press.temperature_c)
    ranks = [
        garment.rank
        for garment in shop.garments
        for visit in garment.visits[int(garment.is_off) :]
        if (visit.setting.press, visit.setting.temperature_c) == left
    ]
    if not ranks:
        return "nothing is left to press at the old one"
    if shop.garments[step.garment].rank < min(ranks):
        return "what is left at the old one can wait"
    return "all is done sooner than by waiting at the old one"


def _why_garment(shop: Shop, step: Step) -> str:
    garment = shop.garments[step.garment]
    following = len(garment.visits) - step.visit - 1
    if not following:
        return "it is its last hit"
    rest_s = sum(visit.rest_s for visit in garment.visits[step.visit :])
    ahead = f"{following} more hit{'s' if following > 1 else ''}"
    return f"it has {ahead} ahead" + (f" and {rest_s:.0f} s of rest" if rest_s else "")

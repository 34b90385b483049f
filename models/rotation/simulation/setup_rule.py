"""When a free press is set anew, and to what, once nothing is ready at its setting."""

from models.rotation.problem.dispatch_rule import Change, Rule, To
from models.rotation.problem.shop import Setting
from models.rotation.simulation.press_now import PressNow
from models.rotation.simulation.queues import Queues


def setting_to_change_to(press: PressNow, queues: Queues, rule: Rule, now_s: float) -> Setting | None:
    """None where the press had better wait at its setting, or has no other.

    The garments of the smallest rank decide where it goes. For a smaller rank that is ready it never waits.
    """
    wanted = list(queues.settings_of(press.made.name))
    others = [setting for setting in wanted if setting != press.setting]
    if not others:
        return None if wanted else _ahead_of_time(press, queues)
    chosen = min(others, key=lambda s: (queues.rank(s), *_claim(press, queues, rule.to, s, now_s)))
    if press.setting is not None and queues.rank_ready(chosen) < queues.rank(press.setting):
        return chosen
    return None if _stays(press, queues, rule.change, chosen, now_s) else chosen


def _ahead_of_time(press: PressNow, queues: Queues) -> Setting | None:
    """Nobody comes to the press next: it is made ready for the first who comes to it after another."""
    comes_s = queues.later_settings_of(press.made.name)
    soonest = min(comes_s, key=lambda setting: comes_s[setting], default=None)
    return None if soonest == press.setting else soonest


def _stays(press: PressNow, queues: Queues, change: Change, other: Setting, now_s: float) -> bool:
    here = press.setting
    if here is None or not queues.coming[here]:
        return False
    if change == Change.WHEN_EXHAUSTED:
        return True
    begins_there_s = _begins_s(press, queues, other, now_s)
    if change == Change.WHEN_QUICKER:
        begins_there_s += press.made.change_s(other.temperature_c, here.temperature_c)
    return queues.comes_s(here, now_s) <= begins_there_s


def _begins_s(press: PressNow, queues: Queues, setting: Setting, now_s: float) -> float:
    """When a hit could begin there, were the press set anew now."""
    return max(queues.comes_s(setting, now_s), now_s + press.change_s(setting))


def _claim(press: PressNow, queues: Queues, to: To, setting: Setting, now_s: float) -> tuple[float, ...]:
    begins_s, many = _begins_s(press, queues, setting, now_s), queues.many(setting)
    match to:
        case To.SOONEST:
            return (begins_s, -many, setting.temperature_c)
        case To.MOST:
            return (-many, begins_s, setting.temperature_c)
        case To.EARLIEST_STEP:
            return (queues.earliest_step(setting), begins_s, setting.temperature_c)

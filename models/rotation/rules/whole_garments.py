"""The floor without rotation: each garment is pressed whole, its rests waited for, before the next."""

from dataclasses import replace

from models.rotation.problem.shop import Shop
from models.rotation.simulation.simulator import Act, Course, Step


def course_whole(shop: Shop) -> Course:
    """One person takes the garments in their order; a press is set anew as soon as nothing lies on it."""
    presses = {press.name: press for press in shop.presses}
    steps: list[Step] = []
    now_s = 0.0
    for index, garment in enumerate(shop.garments):
        now_s = max(now_s, garment.ready_s)
        for n, visit in enumerate(garment.visits):
            if n or not garment.is_off:
                press = presses[visit.setting.press]
                set_s = press.free_s + press.change_s(press.temperature_c, visit.setting.temperature_c)
                if set_s > press.free_s:
                    steps.append(Step(Act.CHANGE, press.free_s, set_s, -1, -1, visit.setting))
                starts_s = max(now_s, set_s)
                off_s = starts_s + visit.on_press_s
                steps.append(Step(Act.PRESS, starts_s, off_s, index, n, visit.setting))
                presses[press.name] = replace(press, free_s=off_s, temperature_c=visit.setting.temperature_c)
                now_s = off_s + visit.rest_s
            steps.append(Step(Act.FINISH, now_s, now_s + visit.finish_s, index, n, visit.setting))
            now_s += visit.finish_s
    return Course(tuple(steps), now_s)

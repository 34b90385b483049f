"""A press at one instant of a course."""

from models.rotation.problem.shop import Press, Setting


class PressNow:
    """What it is set to, or is just being set to, and when it is free."""

    def __init__(self, made: Press) -> None:
        self.made = made
        self.free_s = made.free_s
        stands_c = made.temperature_c
        self.setting = None if stands_c is None else Setting(made.name, stands_c)

    @property
    def temperature_c(self) -> float | None:
        return None if self.setting is None else self.setting.temperature_c

    def change_s(self, to: Setting) -> float:
        return self.made.change_s(self.temperature_c, to.temperature_c)

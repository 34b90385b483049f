"""How often pieces lift by how they were really peeled: so that a warm peel that does as well can be seen."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from models.intervals import Interval, wilson_interval
from models.job.job import Peel
from models.plan.plan import PEEL_ORDER


@dataclass(frozen=True, slots=True)
class PeelObservation:
    """One piece whose carrier came off in this way, and whether the check then found it lifted."""

    material: str
    fabric: str
    how: Peel
    lifted: bool


@dataclass(frozen=True, slots=True)
class LiftRate:
    """So many of so many pieces lifted; the interval holds the true share at 95 % confidence."""

    material: str
    fabric: str
    how: Peel
    lifted: int
    of: int
    interval: Interval

    @property
    def share(self) -> float:
        return self.lifted / self.of


def lift_rates(observations: Iterable[PeelObservation]) -> tuple[LiftRate, ...]:
    """A line for each material, fabric and way of peeling: by name, hot before warm before cold."""
    peeled: Counter[tuple[str, str, Peel]] = Counter()
    lifted: Counter[tuple[str, str, Peel]] = Counter()
    for seen in observations:
        key = (seen.material, seen.fabric, seen.how)
        peeled[key] += 1
        lifted[key] += seen.lifted
    return tuple(
        LiftRate(*key, lifted[key], peeled[key], wilson_interval(lifted[key], peeled[key]))
        for key in sorted(peeled, key=_by_name_then_heat)
    )


def _by_name_then_heat(key: tuple[str, str, Peel]) -> tuple[str, str, int]:
    material, fabric, how = key
    return (material, fabric, PEEL_ORDER.index(how))

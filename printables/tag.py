"""What one tag says. The caller fills it in from the batch and the plan."""

from dataclasses import dataclass

from models.planning.plan import Hit, Plan
from printables.lettering import NO_BREAK_SPACE


@dataclass(frozen=True, slots=True)
class Tag:
    """One garment's tag: garment `n` of `of`; `wearer` and `number` are empty where the roster names none."""

    code: str
    batch_name: str
    batch_reference: str
    size: str
    wearer: str
    number: str
    n: int
    of: int
    hits_line: str


def hits_line(plan: Plan) -> str:
    """The hits in order: side, set temperature in °C, seconds, and where it needs a cover sheet or a pad.

    Within a hit the blanks don't break, so that a long line breaks between two hits.
    """
    return f"{NO_BREAK_SPACE}· ".join(_hit_words(hit).replace(" ", NO_BREAK_SPACE) for hit in plan.hits)


def _hit_words(hit: Hit) -> str:
    extras = [word for word, wanted in (("cover", hit.cover), ("pad", hit.pad)) if wanted]
    return " ".join([f"{hit.n} {hit.side} {hit.temperature_c:g}° {hit.dwell_s} s", *extras])

"""What one tag says. The caller fills it in from the batch and the plan."""

from dataclasses import dataclass

from models.plan.plan import Hit, Plan
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
    """How many hits, then the seconds of each; press, side and °C where they change, pad, cover sheet.

    Like "3 hits (s): front 149 °C 15, 15 pad · back 20 cover". A long line breaks between two hits only.
    """
    hits = "1 hit" if len(plan.hits) == 1 else f"{len(plan.hits)} hits"
    told = (_hit_words(hit, before) for before, hit in zip((None, *plan.hits), plan.hits, strict=False))
    return f"{hits} (s):".replace(" ", NO_BREAK_SPACE) + "".join(told)


def _hit_words(hit: Hit, before: Hit | None) -> str:
    """One hit, and what parts it from the one before."""
    turns = before is None or hit.side != before.side
    heats = before is None or hit.temperature_c != before.temperature_c
    walks = bool(hit.press) and (before is None or hit.press != before.press)
    words = (
        [f"{hit.press}:"] * walks
        + [hit.side] * turns
        + [f"{hit.temperature_c:g} °C"] * heats
        + [str(hit.dwell_s)]
    )
    words += [word for word, wanted in (("pad", hit.pad), ("cover", hit.cover)) if wanted]
    link = " " if before is None else f"{NO_BREAK_SPACE}· " if walks or turns or heats else ", "
    return link + " ".join(words).replace(" ", NO_BREAK_SPACE)

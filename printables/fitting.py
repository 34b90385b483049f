"""Text put into a box: as large as it goes, on as many lines as fit, shortened only if nothing else helps."""

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from models.geometry import Box
from printables.code_points import code_point_advance_em, code_point_lettering
from printables.lettering import REGULAR, Chain, Run, clusters_of, plain_line, run_width_em, runs_of, width_em
from printables.placed import Lettering, PlacedRun

LEADING = 1.25  # from baseline to baseline, in ems
BASELINE = 0.95  # from the top of a line to its baseline, in ems
SMALLER = 0.93  # from one size that is tried to the next
ELLIPSIS = "…"
MOST_CHARACTERS = 300  # no box of a tag shows more


class Align(StrEnum):
    LEFT = "left"
    CENTRE = "centre"
    RIGHT = "right"


SPARE_BEFORE = {Align.LEFT: 0.0, Align.CENTRE: 0.5, Align.RIGHT: 1.0}


@dataclass(frozen=True, slots=True)
class TextBox:
    """Where a text may stand [mm], the size it should have and the least size that can be read."""

    box: Box
    em_mm: float
    least_em_mm: float
    chain: Chain = REGULAR
    align: Align = Align.LEFT


@dataclass(frozen=True, slots=True)
class Fitted:
    lines: tuple[str, ...]
    em_mm: float


def fit(text: str, text_box: TextBox) -> Fitted:
    """The largest size, and the lines at that size, in which the text stands wholly in the box.

    At the least size it is shortened with "…".
    """
    line = plain_line(text[:MOST_CHARACTERS])
    em_mm = text_box.em_mm
    while em_mm > text_box.least_em_mm:
        lines = _wrap(line, text_box.box.width / em_mm, text_box.chain)
        if lines is not None and len(lines) <= _line_count(text_box, em_mm):
            return Fitted(lines, em_mm)
        em_mm *= SMALLER
    return Fitted(_shortened(line, text_box), text_box.least_em_mm)


@lru_cache(maxsize=4096)
def letter(text: str, text_box: TextBox) -> Lettering:
    """The text fitted into its box and cut into runs, its lines in the middle of the box's height."""
    fitted = fit(text, text_box)
    em_mm = fitted.em_mm
    top_mm = text_box.box.y + (text_box.box.height - len(fitted.lines) * LEADING * em_mm) / 2
    baselines_mm = [top_mm + (place * LEADING + BASELINE) * em_mm for place in range(len(fitted.lines))]
    lines = (
        _letter_line(line, text_box, baseline_mm, em_mm)
        for line, baseline_mm in zip(fitted.lines, baselines_mm, strict=True)
    )
    return sum(lines, Lettering())


def _line_count(text_box: TextBox, em_mm: float) -> int:
    return max(1, int(text_box.box.height / (LEADING * em_mm) + 1e-9))


def _wrap(line: str, limit_em: float, chain: Chain) -> tuple[str, ...] | None:
    """The line broken at blanks so that none is wider than the limit; None where a word is wider."""
    lines: list[str] = []
    for word in line.split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_em(longer, chain) <= limit_em:
            lines[-1] = longer
        elif width_em(word, chain) <= limit_em:
            lines.append(word)
        else:
            return None
    return tuple(lines)


def _shortened(line: str, text_box: TextBox) -> tuple[str, ...]:
    """As many lines as the box takes at its least size, words cut where they must be, the last with "…"."""
    limit_em = text_box.box.width / text_box.least_em_mm
    count = _line_count(text_box, text_box.least_em_mm)
    whole = _wrap(line, limit_em, text_box.chain)
    if whole is not None and len(whole) <= count:
        return whole
    lines: list[str] = []
    rest = line
    while rest and len(lines) < count - 1:
        head = _head(rest, limit_em, text_box.chain)
        lines.append(head.rstrip())
        rest = rest[len(head) :].lstrip()
    if width_em(rest, text_box.chain) > limit_em:
        rest = _head(rest, limit_em - width_em(ELLIPSIS, text_box.chain), text_box.chain).rstrip() + ELLIPSIS
    return (*lines, rest)


def _head(text: str, limit_em: float, chain: Chain) -> str:
    """The longest beginning no wider than the limit; up to a blank if its later two thirds have one."""
    letters = clusters_of(text)
    while letters and width_em("".join(letters), chain) > limit_em:
        letters.pop()
    head = "".join(letters)
    blank = head.rfind(" ")
    return head[: blank + 1] if len(head) < len(text) and blank > len(head) / 3 else head


def _letter_line(line: str, text_box: TextBox, baseline_mm: float, em_mm: float) -> Lettering:
    spare_mm = text_box.box.width - width_em(line, text_box.chain) * em_mm
    x_mm = text_box.box.x + spare_mm * SPARE_BEFORE[text_box.align]
    lettering = Lettering()
    for run in runs_of(line, text_box.chain):
        lettering += _letter_run(run, x_mm, baseline_mm, em_mm)
        x_mm += run_width_em(run) * em_mm
    return lettering


def _letter_run(run: Run, x_mm: float, baseline_mm: float, em_mm: float) -> Lettering:
    if run.font is not None:
        return Lettering((PlacedRun(run.font, run.text, x_mm, baseline_mm, em_mm),))
    lettering = Lettering()
    for character in run.text:
        lettering += code_point_lettering(character, x_mm, baseline_mm, em_mm)
        x_mm += code_point_advance_em(character) * em_mm
    return lettering

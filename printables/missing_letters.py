"""Which names of a job no font can draw, told before anything is printed or pressed."""

from collections.abc import Iterator

from models.job.job import GarmentOrder, Job
from printables.lettering import REGULAR, missing_letters
from printables.system_fonts import SETTING, SystemFonts

MOST_TOLD = 20
"""Wearers told one by one; a batch in a script without a font would fill the screen."""

MEND = (
    "Letters without a font are printed and shown by their codes. Install a font that has them, "
    f"or name its folder in {SETTING}."
)


def remarks_on_letters(job: Job, fonts: SystemFonts) -> tuple[str, ...]:
    """Return a line for each wearer with letters that neither the shipped fonts nor `fonts` have.

    One more line says how to mend it. There is none where all can be drawn.
    """
    named = dict(_named_texts(job))
    wanted = frozenset().union(*(missing_letters(text) for text in named.values()))
    chain = REGULAR + fonts.search(wanted)
    without = {who: missing_letters(text, chain) for who, text in named.items()}
    lines = [f"{who}: no font for {_codes(letters)}" for who, letters in without.items() if letters]
    if len(lines) > MOST_TOLD:
        lines = [*lines[:MOST_TOLD], f"and {len(lines) - MOST_TOLD} more"]
    return (*lines, MEND) if lines else ()


def _named_texts(job: Job) -> Iterator[tuple[str, str]]:
    """Who or what each text is about; a wearer of several garments stands there once."""
    for garment in job.garments:
        yield _words_for(garment), f"{garment.size} {garment.wearer} {garment.number}"
    labels = [job.name, job.fabric.name, *(press.name for press in job.presses)]
    labels += [material.label for material in job.materials] + [piece.label for piece in job.pieces]
    labels += [text for side in job.sides for text in (side.name, *(zone.label for zone in side.zones))]
    yield "Names in the job file", " ".join(labels)


def _words_for(garment: GarmentOrder) -> str:
    number = f"No {garment.number}" if garment.number else ""
    return " ".join(word for word in (number, garment.wearer) if word) or f"Garments of size {garment.size}"


def _codes(letters: frozenset[str]) -> str:
    return ", ".join(f"U+{ord(letter):04X}" for letter in sorted(letters))

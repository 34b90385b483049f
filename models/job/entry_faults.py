"""What the schema finds wrong, in the words of a person who mends a job file."""

from collections.abc import Iterator
from difflib import get_close_matches
from typing import Any, TypeVar, get_args

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from models.job.fault_list import FaultList
from models.job.schema import Entry

E = TypeVar("E", bound=Entry)
Location = tuple[int | str, ...]

IN_WORDS = {
    "contradiction": ("{wrong}", "{mend}"),
    "missing": ("is missing", "add it"),
    "float_type": ("must be a number", "write it without quotes"),
    "int_type": ("must be a whole number", "write it without quotes and without a point"),
    "string_type": ("must be text", "write it in quotes"),
    "bool_type": ("must be true or false", "write true or false without quotes"),
    "list_type": ("must be a list", "write it in square brackets"),
    "tuple_type": ("must be a list", "write it in square brackets"),
    "dict_type": ("must be a table", "write it as keys with values"),
    "model_type": ("must be a table", "write it as keys with values"),
    "finite_number": ("is not a finite number", "write a plain number"),
    "greater_than": ("must be more than {gt:g}", "correct the number"),
    "greater_than_equal": ("must be at least {ge:g}", "correct the number"),
    "less_than_equal": ("must be at most {le:g}", "correct the number"),
    "literal_error": ("is not one that is known here", "write {expected}"),
    "enum": ("is not one that is known here", "write {expected}"),
    "string_too_long": ("is longer than {max_length} letters", "shorten it"),
    "too_long": ("has more than {max_length} entries", "leave some out"),
    "too_short": ("holds too few entries", "write {min_length} at least"),
}
"""What is wrong, and the mend, by the validator's own name for it."""


MOST_TOLD = 500
"""Faults told of one entry; nobody reads more, and a hostile file has a million."""


def read_entry(model: type[E], raw: Any, place: str, faults: FaultList) -> E | None:
    """The entry, or nothing where it has faults, which are noted."""
    try:
        return model.model_validate(raw)
    except ValidationError as error:
        for details in error.errors(include_url=False)[:MOST_TOLD]:
            wrong, mend = _in_words(model, details)
            faults.note(place_of(place, details["loc"]), wrong, mend)
        return None


def place_of(start: str, location: Location) -> str:
    """The way to a value as a person counts it: from 1.

    >>> place_of('pieces[3] "anchor-1"', ("shape", "polygon", 0))
    'pieces[3] "anchor-1" shape.polygon[1]'
    """
    steps = "".join(f"[{step + 1}]" if isinstance(step, int) else f".{step}" for step in location)
    if start.endswith('"'):
        return f"{start} {steps.removeprefix('.')}".rstrip()
    return f"{start}{steps}".removeprefix(".") or "the whole file"


def _in_words(model: type[Entry], details: ErrorDetails) -> tuple[str, str]:
    if details["type"] == "extra_forbidden":
        return "is not a key of format 1", _mend_of_unknown(model, details["loc"])
    wrong, mend = IN_WORDS.get(details["type"], (details["msg"], "correct it"))
    told = details.get("ctx", {})
    return wrong.format(**told), mend.format(**told)


def _mend_of_unknown(model: type[Entry], location: Location) -> str:
    known = list(_entry_at(model, location[:-1]).model_fields)
    near = get_close_matches(str(location[-1]), known, n=1)
    return f'did you mean "{near[0]}"?' if near else f"take it out; known here are {', '.join(known)}"


def _entry_at(model: type[Entry], location: Location) -> type[Entry]:
    for step in location:
        if isinstance(step, str):
            model = next(_entries_in(model.model_fields[step].annotation))
    return model


def _entries_in(annotation: Any) -> Iterator[type[Entry]]:
    if isinstance(annotation, type) and issubclass(annotation, Entry):
        yield annotation
    for inner in get_args(annotation):
        yield from _entries_in(inner)

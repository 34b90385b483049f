"""Shows records with the widgets that are there already: making one costs far more than filling it."""

from collections.abc import Callable, Sequence
from typing import Any


def keep_filled(box: Any, records: Sequence[Any], make: Callable[[Any], Any], shows: str) -> None:
    """One child of `box` for each record: those there take it as their property `shows`, `make` adds more."""
    kept = list(reversed(box.children))
    for widget in kept[len(records) :]:
        box.remove_widget(widget)
    for widget, record in zip(kept, records, strict=False):
        setattr(widget, shows, record)
    for record in records[len(kept) :]:
        box.add_widget(make(record))

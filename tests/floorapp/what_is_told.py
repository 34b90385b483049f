"""What a widget tells: the words and the signs that stand in it."""

from typing import Any


def words_in(widget: Any) -> list[str]:
    from floorapp.widgets.words import Text

    return [part.words for part in widget.walk(restrict=True) if isinstance(part, Text) and part.words]


def signs_in(widget: Any) -> list[str]:
    from floorapp.widgets.signs import Sign

    return [part.name for part in widget.walk(restrict=True) if isinstance(part, Sign) and part.name]

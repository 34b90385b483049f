"""What is told: the words and the signs in a widget, and words without what keeps them in one line."""

from typing import Any


def plain(text: str) -> str:
    """Without the blanks at which no line may end."""
    return text.replace("\N{NO-BREAK SPACE}", " ")


def words_in(widget: Any) -> list[str]:
    from floorapp.widgets.words import Text

    return [part.words for part in widget.walk(restrict=True) if isinstance(part, Text) and part.words]


def signs_in(widget: Any) -> list[str]:
    from floorapp.widgets.signs import Sign

    return [part.name for part in widget.walk(restrict=True) if isinstance(part, Sign) and part.name]

"""What a garment is found by: its wearer's name and number and its code, each made alike."""

from models.text_folding import folded


def sought_of(wearer: str, number: str, code: str) -> str:
    """Return the text in which a part of name, number or code is looked for.

    A name stands in it with its blanks and without, since a scanner's keys have no blank.

    >>> sought_of("Ann Lee", "7", "K7KM4EQ7")
    'ann lee annlee 7 k7km4eq7'
    """
    name = folded(wearer)
    joined = name.replace(" ", "")
    words = (name, joined if joined != name else "", folded(number), code.lower())
    return " ".join(word for word in words if word)

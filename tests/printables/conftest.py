from random import Random

import pytest

from models.tags.code import new_code
from printables.tag import Tag

NAMES = (
    "Ane Ødegård",
    "محمد علي",
    "שרה לוי",
    "山田太郎",
    "Αλέξανδρος Παπαδόπουλος",
    "Борис Годунов",
    "Zoë 👩‍🚒 O'Neill",
    "",
    "สมชาย ใจดี",
    "Maria\nFernández de la Vega y Rodríguez-Sánchez " * 4,
)
HITS = "2 hits (s): back 149 °C 15 pad, 5 pad cover"


@pytest.fixture(scope="session")
def crew_tags() -> tuple[Tag, ...]:
    """Fifteen tags: more than a sheet holds, with names in many scripts and one that no tag has room for."""
    random = Random(147)
    return tuple(
        Tag(
            code=new_code("K7", random),
            batch_name="Lightship crew vests",
            batch_reference="LC-0147",
            size=("S", "M", "XL", "10-12 years")[n % 4],
            wearer=NAMES[n % len(NAMES)],
            number=str(n * 7) if n % 3 else "",
            n=n + 1,
            of=15,
            hits_line=HITS,
        )
        for n in range(15)
    )

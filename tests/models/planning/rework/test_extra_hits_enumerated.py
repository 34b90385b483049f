"""Extra hits of tiny garments against everything that could be tried."""

import random
from collections import Counter
from functools import partial

import pytest

from models.errors import NoExtraHitError
from models.planning.rework.incident import Mending
from tests.extra_enumeration import end_finished_after, fewest_extra_hits
from tests.judged_extra_hits import judged_mending
from tests.pressed_garment import Garment
from tests.tiny_troubles import KINDS, Kind, Scene, in_work

CASES = 16
MOST_HITS = 3  # so many are tried before a no is believed


def kept(scene: Scene, garment: Garment) -> bool:
    """Whether all that lifted or is new is down, and the hits ahead do the rest just as they are."""
    wanted = scene.trouble.pieces
    return all(garment.is_down(piece) for piece in wanted) and end_finished_after(garment, scene.ahead)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("seed", range(CASES))
def test_no_fewer_extra_hits_do_and_a_no_is_a_no(seed: int, kind: Kind) -> None:
    scene = kind(random.Random(seed))
    mending = _mended(scene)
    most = MOST_HITS if mending is None else len(mending.hits) - 1
    assert fewest_extra_hits(scene.troubled(), most, partial(kept, scene)) is None


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind is not in_work])
def test_what_is_found_where_no_hit_is_ahead_is_said_to_be_the_fewest(kind: Kind) -> None:
    found = [mending for mending in _mendings(kind) if mending is not None]
    assert len(found) >= CASES // 3
    assert all(mending.is_fewest for mending in found)


def test_what_is_found_beside_hits_ahead_is_mostly_said_to_be_the_fewest() -> None:
    """Where those cannot stay, the side is planned anew, and a quick plan of several hits is not proved."""
    found = [mending for mending in _mendings(in_work) if mending is not None]
    assert sum(mending.is_fewest for mending in found) > len(found) // 2
    assert all(len(mending.hits) > 1 for mending in found if not mending.is_fewest)


def test_the_tiny_garments_are_of_every_kind() -> None:
    """Some take one hit, some more, some none do: each answer above is really asked for."""
    found = [mending for kind in KINDS for mending in _mendings(kind)]
    answers = Counter(0 if mending is None else len(mending.hits) for mending in found)
    assert min(answers[0], answers[1], answers[2], answers[3]) >= 5


def _mendings(kind: Kind) -> list[Mending | None]:
    return [_mended(kind(random.Random(seed))) for seed in range(CASES)]


def _mended(scene: Scene) -> Mending | None:
    try:
        return judged_mending(scene.job, scene.records, scene.peeled, scene.ahead, scene.trouble)
    except NoExtraHitError:
        return None

"""Lets some garments of a large floor stand for all of them, so that many courses can be tried soon."""

from collections import Counter
from math import ceil

from models.rotation.problem.shop import Shop


def visits_of(shop: Shop) -> int:
    return sum(len(garment.visits) for garment in shop.garments)


def thinned(shop: Shop, most_visits: int) -> Shop:
    """Return the shop with every n-th garment of each kind, so that about `most_visits` visits are left.

    Garments of one kind are of one batch and have the same settings ahead of them. The first of each kind
    stays. A shop that is small enough is returned itself.
    """
    every = ceil(visits_of(shop) / most_visits)
    if every <= 1:
        return shop
    met: Counter[object] = Counter()
    kept = []
    for garment in shop.garments:
        kind = (garment.batch, garment.is_off, tuple(visit.setting for visit in garment.visits))
        if garment.is_in_hand or met[kind] % every == 0:
            kept.append(garment)
        met[kind] += 1
    return Shop(shop.presses, tuple(kept), shop.people, shop.taken)

"""What no way of working the floor can be quicker than."""

from collections import Counter
from collections.abc import Collection, Iterable, Iterator
from itertools import chain, pairwise, starmap

from models.rotation.problem.shop import Garment, Press, Shop, Visit


def least_s(shop: Shop) -> float:
    """A lower bound of the seconds until all garments are done: the longest of four loads.

    Each garment takes its own visits and rests; each press is taken by all its visits and by the changes of
    heat between its settings; the people have all laying, taking off and finishing to do; and one person at
    one press has no dwell long enough for some checks.
    """
    return max(
        max((garment.alone_s for garment in shop.garments), default=0.0),
        max((_press_s(shop, press) for press in shop.presses), default=0.0),
        _people_s(shop),
        _one_person_s(shop),
    )


def pressed_s(shop: Shop, press: Press) -> float:
    """Seconds for which the press is taken by garments."""
    return sum(visit.on_press_s for visit in _ahead(shop.garments) if visit.setting.press == press.name)


def least_change_s(press: Press, wanted: Collection[float], stands_c: float | None) -> float:
    """The least that changing its heat can take: from where it stands through all temperatures wanted."""
    low, high = min(wanted), max(wanted)
    ways = ((low, high), (high, low))
    return min(press.change_s(stands_c, first) + press.change_s(first, last) for first, last in ways)


def _press_s(shop: Shop, press: Press) -> float:
    """From when it can begin, by the press or by the garments, through its load, to the last check."""
    if not any(visit.setting.press == press.name for visit in _ahead(shop.garments)):
        return 0.0
    by_press_s = press.free_s + _changes_s(shop, press, press.temperature_c)
    comes_s = min(_before_press_s(garment, press) for garment in shop.garments)
    by_garments_s = comes_s + _changes_s(shop, press, None)
    last_s = min(_after_press_s(garment, press) for garment in shop.garments)
    return max(by_press_s, by_garments_s) + pressed_s(shop, press) + last_s


def _changes_s(shop: Shop, press: Press, stands_c: float | None) -> float:
    """All temperatures have to be come to, and those of each garment in its own order."""
    ways = {tuple(_temperatures(garment, press)) for garment in shop.garments}
    wanted = set(chain.from_iterable(ways))
    in_order_s = (sum(starmap(press.change_s, pairwise((stands_c, *way)))) for way in ways if way)
    return max(least_change_s(press, wanted, stands_c), *in_order_s)


def _temperatures(garment: Garment, press: Press) -> Iterator[float]:
    for visit in _ahead((garment,)):
        if visit.setting.press == press.name:
            yield visit.setting.temperature_c


def _before_press_s(garment: Garment, press: Press) -> float:
    """How early the garment could come to this press; infinite where it never does."""
    at_s = garment.ready_s
    for n, visit in enumerate(garment.visits):
        off = n == 0 and garment.is_off
        if not off and visit.setting.press == press.name:
            return at_s
        at_s += visit.finish_s if off else visit.whole_s
    return float("inf")


def _after_press_s(garment: Garment, press: Press) -> float:
    """What the garment still needs after its last visit to this press; infinite where it has none."""
    after_s = 0.0
    for n, visit in reversed(list(enumerate(garment.visits))):
        off = n == 0 and garment.is_off
        if not off and visit.setting.press == press.name:
            return after_s + visit.rest_s + visit.finish_s
        after_s += visit.finish_s if off else visit.whole_s
    return float("inf")


def _people_s(shop: Shop) -> float:
    """When all hands' work is through, were it done from the beginning on by everybody who is not bound."""
    left_s = sum(visit.lay_s + visit.off_s for visit in _ahead(shop.garments))
    left_s += sum(visit.finish_s for garment in shop.garments for visit in garment.visits)
    edges_s = sorted(edge for span in shop.taken for edge in (span.start_s, span.end_s) if edge > 0)
    at_s, free = 0.0, shop.people
    for until_s in edges_s if left_s else ():
        free = shop.people - sum(span.start_s <= at_s < span.end_s for span in shop.taken)
        if free * (until_s - at_s) >= left_s:
            break
        left_s -= free * (until_s - at_s)
        at_s, free = until_s, shop.people
    return at_s + left_s / free


def _one_person_s(shop: Shop) -> float:
    """One person at one press: beside all hits, the checks that fit into no dwell.

    A check of t seconds lies in one dwell or in none, and a dwell holds no more checks of at least t than t
    goes into it. What is left over of each length, the longest first, has to be done with the press open.
    """
    if shop.people > 1 or len(shop.presses) > 1:
        return 0.0
    dwells = Counter(visit.dwell_s for visit in _ahead(shop.garments))
    finishes = Counter(visit.finish_s for garment in shop.garments for visit in garment.visits)
    lengths = sorted((length for length in finishes if length), reverse=True)
    checks, left_over, open_s = 0, 0.0, 0.0
    for length, shorter in pairwise((*lengths, 0.0)):
        checks += finishes[length]
        held = sum(many * (dwell // length) for dwell, many in dwells.items())
        left_over = max(left_over, checks - held)
        open_s += left_over * (length - shorter)
    return open_s + sum(pressed_s(shop, press) for press in shop.presses)


def _ahead(garments: Iterable[Garment]) -> Iterable[Visit]:
    """The visits whose hits are still to come."""
    return (visit for garment in garments for visit in garment.visits[int(garment.is_off) :])

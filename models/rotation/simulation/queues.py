"""Which garments wait at which setting, and which come there, at one instant of a course."""

import heapq
from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from math import inf

from models.rotation.problem.shop import Garment, Setting
from models.rotation.simulation.priorities import Place

Entry = tuple[Place, int, int]
"""A garment that waits: its place in the queue, its index, its visit."""


class Queues:
    """`ready` are queues with the first in front. `coming` and `later` tell when each garment can be laid:
    for its next visit, and for its first one to each of the other presses.
    """

    def __init__(self, garments: Sequence[Garment]) -> None:
        self.garments = garments
        self.ready: dict[Setting, list[Entry]] = defaultdict(list)
        self.coming: dict[Setting, dict[int, float]] = defaultdict(dict)
        self.later: dict[Setting, dict[int, float]] = defaultdict(dict)
        self.next_visit = [0] * len(garments)
        self.has_ranks = len({garment.rank for garment in garments}) > 1

    def expect(self, index: int, visit: int, at_s: float) -> None:
        """The garment goes on with this visit at `at_s`, and with those behind it if nobody is in the way."""
        for known in (*self.coming.values(), *self.later.values()):
            known.pop(index, None)
        self.next_visit[index] = visit
        garment = self.garments[index]
        for first in garment.first_visits[visit]:
            comes_s = at_s + garment.tails_s[visit] - garment.tails_s[first]
            expected = self.coming if first == visit else self.later
            expected[garment.visits[first].setting][index] = comes_s

    def put(self, place: Place, index: int, visit: int) -> None:
        """What was expected has come, and waits."""
        setting = self.garments[index].visits[visit].setting
        del self.coming[setting][index]
        heapq.heappush(self.ready[setting], (place, index, visit))

    def first(self, setting: Setting, many: int) -> list[Entry]:
        """The first of the queue, in order: in a heap, n of them stand among the first 2 ** n - 1."""
        return sorted(self.ready[setting][: 2**many - 1])[:many]

    def take_out(self, setting: Setting, entry: Entry) -> None:
        waiting = self.ready[setting]
        if waiting[0] == entry:
            heapq.heappop(waiting)
        else:
            waiting.remove(entry)
            heapq.heapify(waiting)

    def settings_of(self, press: str) -> Iterator[Setting]:
        """Those of the press at which a garment waits or to which one comes next."""
        for setting in {**self.ready, **self.coming}:
            if setting.press == press and (self.ready[setting] or self.coming[setting]):
                yield setting

    def later_settings_of(self, press: str) -> dict[Setting, float]:
        """Those to which one comes after another press, and when the first does."""
        return {s: min(later.values()) for s, later in self.later.items() if later and s.press == press}

    def many(self, setting: Setting) -> int:
        return len(self.ready[setting]) + len(self.coming[setting])

    def comes_s(self, setting: Setting, now_s: float) -> float:
        """When the first garment can be laid there."""
        return now_s if self.ready[setting] else min(self.coming[setting].values())

    def is_outranked(self, setting: Setting) -> bool:
        """Return whether a garment of smaller rank is ready at another setting of the same press."""
        if not self.has_ranks:
            return False
        rank = self.rank_ready(setting)
        return any(s.press == setting.press and self.rank_ready(s) < rank for s in self.ready)

    def rank_to_press(self, presses: Collection[str]) -> float:
        """Return the smallest rank that is ready at one of these presses; infinite if none is."""
        return min((self.rank_ready(s) for s in self.ready if s.press in presses), default=inf)

    def rank_ready(self, setting: Setting) -> float:
        """Return the rank of the first garment that is ready at the setting; infinite if none is."""
        ready = self.ready[setting]
        return self.garments[ready[0][1]].rank if ready else inf

    def rank(self, setting: Setting) -> float:
        """Return the smallest rank of the garments that wait or come there; infinite if none does."""
        if not self.has_ranks:
            return 0 if self.many(setting) else inf
        coming = (self.garments[index].rank for index in self.coming[setting])
        return min((self.rank_ready(setting), *coming))

    def earliest_step(self, setting: Setting) -> int:
        """The visit that its garments have come to, of the one that has come least far."""
        waiting = [index for _, index, _ in self.ready[setting]] + list(self.coming[setting])
        return min(self.garments[index].done + self.next_visit[index] for index in waiting)

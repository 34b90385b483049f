"""Who is bound from when to when, in a course."""

import math

from models.rotation.problem.shop import Shop


class People:
    """As many as the shop has; every one of them can do everything."""

    def __init__(self, shop: Shop) -> None:
        self.many = shop.people
        self.spans = [(span.start_s, span.end_s) for span in shop.taken]

    def pass_to(self, now_s: float) -> None:
        self.spans = [span for span in self.spans if span[1] > now_s]

    def free_until_s(self, now_s: float) -> float:
        """How long somebody is free from now on without a break; `now_s` where nobody is."""
        if not self.spans:
            return math.inf
        starts_s = (now_s, *sorted(start_s for start_s, _ in self.spans if start_s > now_s))
        return next((at_s for at_s in starts_s if self._taken(at_s) >= self.many), math.inf)

    def take(self, *wanted: tuple[float, float]) -> bool:
        """Binds one person for each of the spans, where there is one free all that time; or nobody."""
        lasting = [span for span in wanted if span[1] > span[0]]
        free = all(self._most_taken(*span) < self.many for span in lasting)
        if free:
            self.spans += lasting
        return free

    def ends_s(self) -> list[float]:
        return [end_s for _, end_s in self.spans]

    def _most_taken(self, from_s: float, to_s: float) -> int:
        """How many are bound at once at most in that time."""
        met = [span for span in self.spans if span[0] < to_s and from_s < span[1]]
        if len(met) < self.many:
            return len(met)
        starts = [from_s, *(start_s for start_s, _ in met if start_s > from_s)]
        return max(map(self._taken, starts))

    def _taken(self, at_s: float) -> int:
        return sum(start_s <= at_s < end_s for start_s, end_s in self.spans)

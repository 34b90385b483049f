"""Who is bound from when to when, in a course."""

from models.rotation.shop import Shop


class People:
    """As many as the shop has; every one of them can do everything."""

    def __init__(self, shop: Shop) -> None:
        self.many = shop.people
        self.spans = [(span.start_s, span.end_s) for span in shop.taken]

    def pass_to(self, now_s: float) -> None:
        self.spans = [span for span in self.spans if span[1] > now_s]

    def is_one_free(self, now_s: float) -> bool:
        """Whether somebody could begin something now."""
        return sum(start_s <= now_s for start_s, _ in self.spans) < self.many

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
        return max(sum(start_s <= at_s < end_s for start_s, end_s in met) for at_s in starts)

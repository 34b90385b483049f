"""How far planning is: the best plan so far, and for which garments it is."""

from dataclasses import dataclass

from models.plan.plan import Plan
from models.text import in_a_row


@dataclass(frozen=True, slots=True)
class SoFar:
    """The best plan so far for garments of `sizes`, on the sides of the first of them.

    No sizes are named where the job is the same in all. `to_come` are planned after these. `are_alike`: each
    of these has its plan already, and one that suits all of them is sought. `is_of_most`: it is the plan of
    the size that most garments have, by itself.
    """

    plan: Plan
    sizes: tuple[str, ...] = ()
    to_come: tuple[str, ...] = ()
    are_alike: bool = False
    is_of_most: bool = False

    @property
    def told(self) -> str:
        """As "8 hits for size M; at least 7 are needed; then size L"."""
        n, least = len(self.plan.hits), self.plan.lower_bound
        hits = f"{n} hit{'' if n == 1 else 's'}{self._for_whom}"
        needed = f"at least {least} {'is' if least == 1 else 'are'} needed"
        return "; ".join([hits, needed, *([f"then {_named(self.to_come)}"] if self.to_come else [])])

    @property
    def _for_whom(self) -> str:
        if not self.sizes:
            return ""
        return f" for {_named(self.sizes)}{' alike' if self.are_alike else ''}"


def _named(sizes: tuple[str, ...]) -> str:
    return f"{'size' if len(sizes) == 1 else 'sizes'} {in_a_row(sizes)}"

"""A random garment on its way through its planned hits, each mending found sound by the independent judge."""

import random

from models.job.job import Job
from models.planning.hits.piece_record import Records, after_hit, untouched
from models.planning.rework.hits_ahead import plan_rest
from models.planning.rework.incident import Mending, Pressed, Trouble
from models.planning.rework.plan_rework import seconds_short
from models.planning.search.solve_job import EFFORT, plan_hits
from tests.judged_extra_hits import judged_mending, lifted
from tests.pressed_garment import Garment
from tests.rule_checker import broken_rules_of_extra, harm_of


class PressedGarment:
    """A random garment on its way through its planned hits, as the floor works it."""

    def __init__(self, job: Job, effort: float = EFFORT) -> None:
        self.job = job
        self.records: Records = untouched(job)
        self.peeled: frozenset[str] = frozenset()
        self.ahead = plan_hits(job, effort=effort).hits

    @property
    def next_dwell_s(self) -> int:
        return self.ahead[0].dwell_s

    def press_next(self, seconds: int) -> None:
        """The next hit, really held for so many seconds; what it leaves short is planned in."""
        hit, self.ahead = self.ahead[0], self.ahead[1:]
        assert harm_of(self.judged(), hit) == []
        self.records = after_hit(self.records, self.job, hit, seconds)
        self.peeled |= {piece for piece, record in self.records.items() if record.down}
        short = seconds_short(self.job, self.records, hit, self.ahead)
        if short:
            self._mend(Trouble(short_s=short))

    def lift(self, piece: str) -> Mending:
        return self._mend(lifted({piece: self.job.material_of(piece).least_s}))

    def replace(self, piece: str) -> Mending:
        return self._mend(Trouble(replaced=(piece,)))

    def mend_several(self, dice: random.Random) -> Mending:
        """Some of the laid pieces lift, or have to be replaced."""
        laid = [piece for piece, record in self.records.items() if record.laid]
        hurt = dice.sample(laid, min(len(laid), dice.randint(1, 4)))
        new = [piece for piece in hurt if dice.random() < 0.5]
        lifted_s = {piece: self.job.material_of(piece).least_s for piece in hurt if piece not in new}
        return self._mend(Trouble(lifted_s=lifted_s, replaced=tuple(new)))

    def _mend(self, trouble: Trouble) -> Mending:
        mending = judged_mending(self.job, self.records, self.peeled, self.ahead, trouble)
        now = Pressed(self.job, self.records, self.peeled).after_trouble(trouble)
        self.records, self.peeled = now.records, now.peeled
        self.ahead = (*mending.hits, *(self.ahead if mending.rest is None else mending.rest))
        return mending

    def plan_the_rest(self) -> bool:
        """Whether the hits ahead had to be planned anew; the independent judge finds no fault in them."""
        rest = plan_rest(self.job, self.records, self.peeled, self.ahead)
        self.ahead = self.ahead if rest is None else rest
        assert broken_rules_of_extra(self.judged(), (), self.ahead) == []
        return rest is not None

    def judged(self) -> Garment:
        garment = Garment(self.job)
        garment.take_over(self.records, self.peeled)
        return garment

"""The judge judged, on extra hits: what they have to give, and what they leave for the hits ahead."""

from collections.abc import Sequence
from dataclasses import replace

from models.plan.plan import Hit
from tests.pressed_garment import Garment
from tests.rule_checker import broken_rules_of_extra
from tests.small_plans import (
    a_hit,
    twill_alone,
)


class ARecord:
    """A piece that is down, or was opened early after `counted_s`; a number for each part."""

    def __init__(self, *counted_s: int, heated_s: int = 20) -> None:
        self.laid = True
        self.needed_s = 20
        self.counted_s = counted_s or (20,)
        self.heated_s = tuple(heated_s for _ in self.counted_s)
        self.finish_due_s = tuple(0 for _ in self.counted_s)
        self.lifted = False


def pressed_badge(*counted_s: int) -> Garment:
    garment = Garment(twill_alone())
    garment.take_over({"badge": ARecord(*counted_s)}, frozenset())
    return garment


def judge_extra(*extra: Hit, rest: Sequence[Hit] = (), again_s: int = 20) -> list[str]:
    return broken_rules_of_extra(pressed_badge(), extra, rest, lifted_s={"badge": again_s})


COUNTED = a_hit(count=("badge",))


def test_an_extra_hit_that_gives_a_lifted_piece_its_seconds_breaks_no_rule() -> None:
    assert judge_extra(COUNTED) == []


def test_an_extra_hit_that_gives_too_few_seconds_is_caught() -> None:
    assert "the extra hits leave badge short of its seconds" in judge_extra(replace(COUNTED, dwell_s=19))


def test_fewer_seconds_are_enough_where_fewer_are_asked_for() -> None:
    assert judge_extra(replace(COUNTED, dwell_s=12), again_s=12) == []


def test_an_extra_hit_that_leaves_too_few_seconds_for_those_ahead_is_caught() -> None:
    broken = judge_extra(COUNTED, rest=(a_hit(2, touch_again=("badge",), dwell_s=21),))
    assert "hit 2 breaks rule 6: badge has then been heated for 61 s in all, which is too long" in broken


def test_an_extra_hit_that_lays_a_piece_a_second_time_is_caught() -> None:
    broken = judge_extra(a_hit(lay=("badge",), count=("badge",)))
    assert broken == ["hit 1 breaks rule 8: badge is laid a second time"]


def test_a_replaced_piece_that_is_not_laid_again_is_caught() -> None:
    broken = broken_rules_of_extra(pressed_badge(), (COUNTED,), (), replaced=("badge",))
    assert "the plan breaks rule 8: badge is never laid" in broken


def test_a_replaced_piece_bears_its_whole_total_again() -> None:
    garment = pressed_badge()
    garment.heated_s["badge"] = [60]
    lays = a_hit(lay=("badge",), count=("badge",))
    assert broken_rules_of_extra(garment, (lays,), (), replaced=("badge",)) == []


def test_seconds_that_an_early_opening_left_out_have_to_be_given() -> None:
    short = {"badge": (8,)}
    assert broken_rules_of_extra(pressed_badge(12), (replace(COUNTED, dwell_s=8),), (), short_s=short) == []
    assert broken_rules_of_extra(pressed_badge(12), (replace(COUNTED, dwell_s=7),), (), short_s=short) != []


def test_what_the_rest_leaves_half_done_is_caught() -> None:
    broken = broken_rules_of_extra(pressed_badge(12), (), ())
    assert broken == ["the plan breaks rule 8: badge is not down after the rest"]

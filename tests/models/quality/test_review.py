"""The review of a batch, from the logs of its garments."""

import csv
import json
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from io import StringIO
from uuid import UUID, uuid5

from models.garment.cycle import State
from models.garment.events import (
    AllPeeled,
    Closed,
    Completed,
    Event,
    ExtraAdded,
    ExtraReason,
    FindingKind,
    Found,
    Happening,
    Held,
    Opened,
    Passed,
    Peeled,
    Spoiled,
    TakenBack,
    TakenUp,
)
from models.job.job import Peel
from models.quality.key_figures import KeyFigures
from models.quality.review import LiftsOnFabric, Review, Tally, review_of
from models.quality.review_export import CSV_HEADING, review_to_csv, review_to_json
from tests.held_clock import MORNING
from tests.sample_jobs import crew_vest_plan, crew_vest_recipe

NAMESPACE = UUID(int=7)
HIT = (Closed(15), Opened(15), AllPeeled())
LIFT = Found(FindingKind.LIFT, ("anchor", "wave"))
AGAIN = ExtraAdded(ExtraReason.REPRESS, (crew_vest_plan().hits[1],), (("anchor", 15), ("wave", 10)))

GOOD = (TakenUp(), *HIT, Passed(), *HIT, Completed())
LIFTED = (TakenUp(), *HIT, LIFT, AGAIN, *HIT, Passed(), *HIT, Completed())
SCORCHED = (TakenUp(), *HIT, Found(FindingKind.SCORCH, ("life-ring",)), Spoiled("scorched"))
ON_HOLD = (TakenUp(), *HIT, Held("out of glitter film"))


@dataclass(frozen=True)
class Row:
    n: int
    size: str = "M"
    wearer: str = ""
    number: str = ""
    remake_of: str = ""
    remade_as: str = ""
    taken_out: str = ""

    @property
    def code(self) -> str:
        return f"CODE{self.n}"


def tap_of(seq: int) -> UUID:
    return uuid5(NAMESPACE, str(seq))


def log_of(happenings: Sequence[Happening]) -> list[Event]:
    """Each happening a tap of its own, a minute after the one before."""
    return [
        Event(tap_of(seq), seq, tap_of(seq), MORNING + timedelta(minutes=seq), "press 1", "Ines", what)
        for seq, what in enumerate(happenings, start=1)
    ]


def review(*garments: tuple[Row, Sequence[Happening]]) -> Review:
    return review_of(crew_vest_recipe(), [(row, log_of(what)) for row, what in garments])


def peeled(how: Peel, *then: Happening) -> tuple[Happening, ...]:
    """A garment whose anchor comes off `how` after its first hit."""
    off = (Peeled(("wave",), Peel.HOT), Peeled(("anchor",), how), AllPeeled())
    return (TakenUp(), Closed(15), Opened(15), *off, *then)


def whole_batch() -> Review:
    return review(
        (Row(1, "M"), GOOD),
        (Row(2, "M"), LIFTED),
        (Row(3, "L"), SCORCHED),
        (Row(4, "L"), ON_HOLD),
        (Row(5, "S"), ()),
    )


def test_garments_are_counted_by_state():
    counts = whole_batch().by_state
    assert counts[State.COMPLETE] == 2
    assert counts[State.SPOILED] == counts[State.HELD] == counts[State.IDLE] == 1
    assert sum(counts.values()) == 5


def test_sizes_stand_in_the_order_of_the_roster():
    by_size = whole_batch().by_size
    assert list(by_size) == ["M", "L", "S"]
    assert by_size["L"][State.HELD] == 1
    assert by_size["M"][State.COMPLETE] == 2


def test_the_key_figures_are_those_counted_by_hand():
    figures = whole_batch().figures
    assert figures == KeyFigures(produced=3, good_first_pass=1, reworked=1, spoiled=1)
    assert figures.first_pass_yield == figures.rework_ratio == figures.scrap_ratio == 1 / 3


def test_a_finding_counts_once_by_kind_and_once_for_each_of_its_pieces():
    batch = whole_batch()
    assert batch.by_kind == (Tally("lift", 1), Tally("scorch", 1))
    assert batch.by_material == (
        Tally("Glitter film", 1),
        Tally("Printed twill", 1),
        Tally("Raised foam film", 1),
    )
    assert batch.by_place == (Tally("back, plain cloth", 3),)


def test_the_most_frequent_finding_stands_first():
    batch = review((Row(1), SCORCHED), (Row(2), LIFTED), (Row(3), LIFTED))
    assert batch.by_kind == (Tally("lift", 2), Tally("scorch", 1))


def test_a_taken_back_finding_does_not_count():
    taken_back = (TakenUp(), *HIT, LIFT, TakenBack(tap_of(5)))
    batch = review((Row(1), taken_back))
    assert batch.by_kind == ()
    assert batch.garments[0].findings == ()


def test_seconds_of_a_taken_back_opening_do_not_count():
    taken_back = (TakenUp(), Closed(15), Opened(9), TakenBack(tap_of(3)), Opened(15))
    assert review((Row(1), taken_back)).garments[0].pressed_s == 15


def test_the_line_of_a_re_pressed_garment_tells_its_extra_hit():
    line = review((Row(2), LIFTED)).garments[0]
    assert (line.hits_done, line.extra_hits, line.pressed_s) == (3, 1, 45)
    assert line.findings == (LIFT,)


def test_a_garment_begins_when_first_taken_up_and_ends_with_its_last_verdict():
    line = review((Row(1), GOOD)).garments[0]
    assert line.first_taken_up_at == MORNING + timedelta(minutes=1)
    assert line.ended_at == MORNING + timedelta(minutes=len(GOOD))


def test_a_complete_garment_that_is_found_wrong_again_has_not_ended():
    line = review((Row(1), (*GOOD, LIFT))).garments[0]
    assert line.state == State.CHECKING
    assert line.ended_at is None


def test_an_untouched_garment_has_neither_beginning_nor_end():
    line = review((Row(5), ())).garments[0]
    assert line.first_taken_up_at is None
    assert line.ended_at is None
    assert line.hits_done == 0


def test_a_batch_of_nothing_reviews_to_nothing():
    empty = review()
    assert empty.garments == ()
    assert sum(empty.by_state.values()) == 0
    assert empty.figures.first_pass_yield is None


def test_the_list_has_one_line_a_garment_under_its_heading():
    rows = list(csv.reader(StringIO(review_to_csv(whole_batch()), newline="")))
    assert tuple(rows[0]) == CSV_HEADING
    assert rows[2] == [
        "2", "CODE2", "M", "", "", "complete", "3", "1", "lift (anchor, wave)", "45",
        "2026-11-03T08:01:00+00:00", "2026-11-03T08:14:00+00:00", "", "", "",
    ]  # fmt: skip
    assert len(rows) == 6


def test_a_name_with_a_comma_a_quote_or_a_line_break_stays_whole_in_the_list():
    name = 'Tor "the Lamp", Lindqvist\nmate'
    rows = list(csv.reader(StringIO(review_to_csv(review((Row(1, wearer=name), ()))), newline="")))
    assert rows[1][3] == name


def test_a_name_cannot_run_as_a_formula_in_a_spreadsheet():
    rows = list(csv.reader(StringIO(review_to_csv(review((Row(1, wearer="=1+1"), ()))), newline="")))
    assert rows[1][3] == "'=1+1"


def test_the_review_as_json_says_the_same():
    told = json.loads(json.dumps(review_to_json(whole_batch())))
    assert told["format"] == 1
    assert told["by_state"]["complete"] == 2
    assert told["by_size"]["L"]["held"] == 1
    assert told["key_figures"]["rework_ratio"] == 1 / 3
    assert told["findings"]["by_kind"] == {"lift": 1, "scorch": 1}
    assert told["garments"][1]["findings"] == [{"kind": "lift", "pieces": ["anchor", "wave"]}]


def test_the_json_of_an_untouched_batch_has_no_figures_instead_of_zeros():
    told = review_to_json(review((Row(1), ())))
    assert told["key_figures"]["first_pass_yield"] is None
    assert told["key_figures"]["first_pass_yield_95"] is None


def test_lifts_are_counted_by_how_the_piece_was_really_peeled() -> None:
    lifted = (Found(FindingKind.LIFT, ("anchor",)), Passed())
    cold, warm = peeled(Peel.COLD, Passed()), peeled(Peel.WARM, *lifted)
    reviewed = review((Row(1), cold), (Row(2), cold), (Row(3), peeled(Peel.WARM, Passed())), (Row(4), warm))

    told = [(rate.material, rate.how, rate.lifted, rate.of) for rate in reviewed.lift_rates]
    assert told == [
        ("Glitter film", Peel.HOT, 0, 4),
        ("Raised foam film", Peel.WARM, 1, 2),
        ("Raised foam film", Peel.COLD, 0, 2),
    ]


def test_lift_rates_in_the_json_have_their_interval() -> None:
    rate = review_to_json(review((Row(1), peeled(Peel.COLD, Passed()))))["lift_rates"][1]
    low, high = rate.pop("share_95")

    assert json.loads(json.dumps(rate)) == {
        "material": "Raised foam film",
        "fabric": "quilted polyamide",
        "peeled": "cold",
        "pieces": 1,
        "lifted": 0,
        "share": 0.0,
    }
    assert low == 0 < high < 1


def test_lifts_over_all_batches_on_the_fabric_stand_in_the_json_where_they_were_counted() -> None:
    reviewed = review((Row(1), peeled(Peel.COLD, Passed())))
    assert review_to_json(reviewed)["lift_rates_on_fabric"] is None

    lifts = LiftsOnFabric("quilted polyamide", 2, reviewed.lift_rates)
    told = review_to_json(replace(reviewed, lifts_on_fabric=lifts))
    assert told["lift_rates_on_fabric"] == {"batches": 2, "rates": told["lift_rates"]}


def test_what_no_check_has_seen_has_no_lift_rate() -> None:
    assert review((Row(1), peeled(Peel.COLD))).lift_rates == ()


def test_a_garment_made_again_is_no_further_order_and_its_spoiled_one_stays_scrap() -> None:
    made = review((Row(1, remade_as="CODE3"), SCORCHED), (Row(2), GOOD), (Row(3, remake_of="CODE1"), GOOD))
    assert (made.ordered, made.remade, made.taken_out) == (2, 1, 0)
    assert (made.figures.produced, made.figures.spoiled) == (3, 1)
    assert made.by_state[State.COMPLETE] == made.ordered


def test_a_garment_that_was_taken_out_is_listed_and_counts_in_no_state() -> None:
    out = review((Row(1, taken_out="no longer wanted"), ON_HOLD), (Row(2), GOOD))
    assert (out.ordered, out.taken_out) == (1, 1)
    assert out.by_state[State.HELD] == 0
    assert out.by_size == {"M": out.by_state}
    assert out.garments[0].taken_out == "no longer wanted"


def test_the_exports_say_what_was_made_again_and_what_was_taken_out() -> None:
    garments = (
        (Row(1, remade_as="CODE3"), SCORCHED),
        (Row(2, taken_out="torn"), ()),
        (Row(3, remake_of="CODE1"), ()),
    )
    told = review(*garments)
    rows = list(csv.DictReader(StringIO(review_to_csv(told))))
    assert [row["made again as"] for row in rows] == ["CODE3", "", ""]
    assert [row["made again for"] for row in rows] == ["", "", "CODE1"]
    assert [row["taken out"] for row in rows] == ["", "torn", ""]
    data = review_to_json(told)
    assert (data["ordered"], data["remade"], data["taken_out"]) == (1, 1, 1)
    assert data["garments"][1]["taken_out"] == "torn"

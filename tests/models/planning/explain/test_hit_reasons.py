"""Each hit says why it is so, and a job without a sequence says who clashes and what would free it."""

from dataclasses import replace

import pytest

from models.errors import NoSequenceExistsError, NoSequenceFoundError
from models.geometry import Box
from models.job.job import Job, Zone, ZoneKind
from models.planning.assembly.hit_builder import written_hits
from models.planning.assembly.merge_sides import interleaved
from models.planning.greedy.construct import first_sequence
from models.planning.problem.patterns import ways_to_hit
from models.planning.problem.resolved_hit import strokes_of
from models.planning.problem.side import side_work
from models.planning.search.solve_job import plan_hits
from tests.random_jobs import random_job
from tests.rule_checker import broken_rules
from tests.sample_jobs import BACK, FABRIC, FOAM, GLITTER, PRESS, TWILL, box_piece, crew_vest_job, job_of

PLAIN = replace(BACK, zones=())
MIDDLE = Box(200, 300, 100, 60)
JUST_BESIDE = Box(303, 300, 60, 60)
TOUCHY = replace(FOAM, key="touchy-film", label="Touchy film", carrier_safe=False)


def job_on_plain_back(*pieces, **changes) -> Job:
    materials = {material.key: material for _, material, _ in pieces}
    drawn = [box_piece(*piece) for piece in pieces]
    return job_of(drawn, tuple(materials.values()), **{"sides": (PLAIN,), **changes})


def explained(job: Job) -> list[tuple[str, ...]]:
    """The sentences of the first plan's hits, for a job of one side."""
    work = side_work(job, job.sides[0])
    sequence = first_sequence(work, ways_to_hit(work))
    assert sequence is not None
    return [hit.why for hit in written_hits(interleaved([strokes_of(work, sequence)]))]


def told_of(job: Job) -> str:
    with pytest.raises(NoSequenceExistsError) as error:
        plan_hits(job)
    return str(error.value)


# ---- why a hit is so


def test_a_hit_says_who_shares_it():
    why = explained(crew_vest_job())[0]
    assert why[0] == "Life ring, anchor and wave: they fit under one platen and take one setting."


def test_a_hit_says_who_bears_no_more_seconds_and_who_still_wants_some():
    why = explained(crew_vest_job())[0]
    assert why[1] == "15 s: wave bears no more at once; still to come: Life ring 5 s."


def test_a_hit_for_the_last_seconds_says_how_many_were_had():
    why = explained(crew_vest_job())[1]
    assert why[:2] == ("Life ring by itself: all else is down.", "5 s: Life ring has had 15 of its 20 s.")


def test_a_hit_says_what_bounds_its_temperature():
    hot = replace(TWILL, key="hot", label="Hot film", lowest_c=148)
    job = job_on_plain_back(("sun", hot, MIDDLE), ("patch", TWILL, Box(330, 300, 60, 60)))
    why = explained(job)[0]
    assert why[2] == "149 °C: Hot film wants at least 148 °C and bears 155 °C."


def test_a_hit_says_which_piece_under_the_platen_waits_for_its_base():
    job = job_on_plain_back(("lamp", FOAM, MIDDLE), ("gleam", GLITTER, Box(220, 310, 40, 40)))
    why = explained(job)[0]
    assert why[3] == "gleam not yet: it lies on lamp, which must be down before."


def test_a_hit_says_which_piece_under_the_platen_wants_more_seconds_than_it_gives():
    anyhow = replace(crew_vest_job(), materials=(TWILL, FOAM, GLITTER))
    first = plan_hits(anyhow).hits[0]
    assert "anchor not yet: it wants 15 s, and this hit gives 5." in first.why


@pytest.mark.parametrize("seed", range(10))
def test_no_piece_that_lies_under_the_platen_is_left_for_later_without_a_word(seed):
    job, laid = random_job(seed, pieces=8), set[str]()
    for hit in plan_hits(job, effort=1).hits:
        laid |= set(hit.lay)
        waiting = [piece for piece in job.pieces if piece.id not in laid and hit.platen.holds(piece.box)]
        told = [sentence for sentence in hit.why if " not yet: " in sentence]
        assert len(told) == min(2, len(waiting))
        assert any("laid later" in sentence for sentence in hit.why) == (len(waiting) > 2)


def test_a_second_press_says_that_it_is_one():
    film = replace(GLITTER, finish_s=5)
    why = explained(job_on_plain_back(("gleam", film, MIDDLE)))[1]
    assert why[:2] == (
        "second press, under a cover sheet, of gleam.",
        "5 s: gleam wants a second press of 5 s.",
    )


def test_a_piece_in_parts_says_how_many_of_them_are_pressed():
    why = explained(job_on_plain_back(("banner", TWILL, Box(10, 300, 540, 60))))[0]
    assert why[0] == "banner (1 of its 2 parts) by itself: all else is down."


def test_a_hit_of_one_piece_says_that_no_other_can_share_it():
    why = explained(
        job_on_plain_back(("sun", TWILL, Box(10, 10, 40, 40)), ("moon", TWILL, Box(500, 640, 40, 40)))
    )[0]
    assert why[0] == "sun by itself: nothing that is still to be pressed can share a hit with it."


def test_labels_with_commas_stand_between_semicolons():
    job = job_on_plain_back(("a", TWILL, MIDDLE), ("b", TWILL, Box(330, 300, 60, 60)))
    pieces = tuple(replace(piece, label=f"Buoy, {piece.id}") for piece in job.pieces)
    why = explained(replace(job, pieces=pieces))[0]
    assert why[0].startswith("Buoy, a and Buoy, b:")


def test_a_hit_says_why_it_takes_a_cover_sheet_and_a_pad():
    first, second = explained(crew_vest_job())
    assert first[-1] == "Pad: the platen lies over yoke seam."
    assert second[-2] == "Cover sheet: wave must not be heated again without."


def test_a_piece_that_is_not_pressed_bare_is_told_with_its_cover_sheet():
    patch = replace(TWILL, cover=True)
    (why,) = explained(job_on_plain_back(("sun", patch, MIDDLE)))
    assert why[-1] == "Cover sheet: sun must not be pressed bare."


def test_a_press_that_reaches_less_than_the_pieces_bear_bounds_the_temperature():
    (why,) = explained(job_on_plain_back(("sun", TWILL, MIDDLE), press=replace(PRESS, hottest_c=150)))
    assert why[2] == "149 °C: Printed twill wants at least 145 °C, the press reaches 150 °C."


def test_a_fabric_that_bears_less_than_the_pieces_bounds_the_temperature():
    tender = replace(FABRIC, hottest_c=151)
    (why,) = explained(job_on_plain_back(("sun", TWILL, MIDDLE), fabric=tender))
    assert why[2] == "149 °C: Printed twill wants at least 145 °C, quilted polyamide bears 151 °C."


# ---- why there is none


def test_two_carriers_in_each_others_way_are_told_with_the_trim_and_the_gap_that_free_them():
    told = told_of(job_on_plain_back(("north", TOUCHY, MIDDLE), ("south", TOUCHY, JUST_BESIDE)))
    assert told.startswith("north and south clash")
    assert "(the gap is 3.0 mm); trim the carrier of north to 3 mm; or" in told
    assert "move north 3 mm left" in told


def test_the_told_trim_does_free_them():
    trimmed = replace(TOUCHY, key="trimmed", carrier_margin_mm=3)
    job = job_on_plain_back(("north", trimmed, MIDDLE), ("south", TOUCHY, JUST_BESIDE))
    assert broken_rules(job, plan_hits(job)) == []


def test_the_told_gap_does_free_them():
    apart = Box(306, 300, 60, 60)
    job = job_on_plain_back(("north", TOUCHY, MIDDLE), ("south", TOUCHY, apart))
    assert broken_rules(job, plan_hits(job)) == []


def test_pieces_that_wait_for_one_another_in_a_circle_are_told_in_a_row():
    """The lamp lies on the deck, the deck on the base, and the lamp's carrier may not lie on the base."""
    touchy = replace(TWILL, key="touchy", carrier_safe=False, takes_on_top=frozenset({TWILL.key}))
    deck = replace(TWILL, takes_on_top=frozenset({FOAM.key}))
    job = job_on_plain_back(
        ("base", touchy, MIDDLE), ("deck", deck, Box(280, 300, 60, 60)), ("lamp", FOAM, Box(303, 310, 30, 30))
    )
    assert told_of(job) == (
        "base waits for lamp, lamp waits for deck, deck waits for base, in a circle; "
        "trim the carrier of lamp to 3 mm; or let carriers lie on Printed twill, if its maker allows it; or "
        "move base 3 mm left"
    )


def test_a_temperature_that_the_fabric_does_not_bear_is_told():
    hot = replace(TWILL, lowest_c=165, set_c=170, hottest_c=180)
    told = told_of(job_on_plain_back(("sun", hot, MIDDLE)))
    assert told == (
        "sun wants at least 165 °C, and quilted polyamide on this press bears 160 °C; "
        "let Printed twill be pressed at 160 °C, if its maker allows it"
    )


def test_metal_on_every_way_to_a_piece_is_told():
    metal = tuple(
        Zone(ZoneKind.KEEP_OUT, Box(x, 0, 10, 700), "zip") for x in (180, 310)
    )  # the piece lies between, with no room for the platen
    told = told_of(job_on_plain_back(("patch", TWILL, MIDDLE), sides=(replace(BACK, zones=metal),)))
    assert told == (
        "patch: the platen cannot hold it without coming down on a keep-out of back; "
        "move patch 120 mm left; or take a platen of 120 × 500 mm"
    )


def test_a_piece_that_no_platen_can_hold_is_told_so_also_where_another_lies_on_it():
    metal = tuple(Zone(ZoneKind.KEEP_OUT, Box(x, 0, 10, 700), "zip") for x in (180, 310))
    base = replace(TWILL, takes_on_top=frozenset({FOAM.key}))
    pieces = ("patch", base, MIDDLE), ("light", FOAM, Box(240, 320, 20, 20))
    told = told_of(job_on_plain_back(*pieces, sides=(replace(BACK, zones=metal),)))
    words = "the platen cannot hold it without coming down on a keep-out of back"
    assert [line.split(";")[0] for line in told.splitlines()][:2] == [f"patch: {words}", f"light: {words}"]


def test_the_smaller_platen_is_tried_on_each_press_and_told_with_its_name():
    metal = tuple(Zone(ZoneKind.KEEP_OUT, Box(x, 0, 10, 700), "zip") for x in (180, 310))
    wide, long = replace(PRESS, name="wide"), replace(PRESS, name="long", platen_width_mm=220)
    job = job_on_plain_back(("patch", TWILL, MIDDLE), sides=(replace(BACK, zones=metal),))
    told = told_of(replace(job, press=wide, more_presses=(long,)))
    assert told == (
        "patch: no press that it suits can hold it without coming down on a keep-out of back; "
        "move patch 120 mm left; or take a platen of 120 × 500 mm on long"
    )


def test_a_material_that_bears_less_heat_than_the_press_begins_with_is_told():
    tender = replace(TWILL, lowest_c=80, set_c=85, hottest_c=90)
    assert told_of(job_on_plain_back(("sun", tender, MIDDLE))) == (
        "sun bears 90 °C, and a press is set to 100 °C at least; "
        "let Printed twill be pressed at 100 °C, if its maker allows it"
    )


def test_seconds_that_do_not_fit_into_the_total_are_told():
    tender = replace(TWILL, label="Tender twill", finish_s=10, total_s=25)
    told = told_of(job_on_plain_back(("leaf", tender, MIDDLE)))
    assert told == (
        "leaf: Tender twill wants 30 s in all and bears 25 s; "
        "let Tender twill be pressed for 30 s in all, if its maker allows it"
    )


def test_a_material_that_bears_less_than_the_shortest_closing_is_told():
    tender = replace(TWILL, label="Tender twill", least_s=5, longest_s=8)
    told = told_of(job_on_plain_back(("leaf", tender, MIDDLE), press=replace(PRESS, shortest_s=10)))
    assert told == (
        "leaf: a closing lasts 10 s at least, and Tender twill bears 8 s at once; "
        "let Tender twill be pressed for 10 s at once, if its maker allows it"
    )


@pytest.mark.parametrize("wanted", ["finish_s", "first_s"])
def test_a_single_closing_that_is_longer_than_the_material_bears_is_told(wanted):
    tender = replace(TWILL, label="Tender twill", longest_s=20, **{wanted: 22})
    told = told_of(job_on_plain_back(("leaf", tender, MIDDLE)))
    assert told == (
        "leaf: Tender twill wants a closing of 22 s and bears 20 s at once; "
        "let Tender twill be pressed for 22 s at once, if its maker allows it"
    )


def test_pieces_that_are_stuck_together_are_named_without_the_bystanders():
    """Each of the two wants a temperature that scorches the other, whichever comes first."""
    hot = replace(TWILL, key="hot", label="Hot film", set_c=158, lowest_c=156, hottest_c=160)
    cold = replace(TWILL, key="cold", label="Cool film", set_c=140, lowest_c=135, hottest_c=150)
    base = replace(cold, takes_on_top=frozenset({"hot"}))
    job = job_on_plain_back(
        ("leaf", base, MIDDLE), ("sun", hot, Box(220, 310, 40, 40)), ("far", TWILL, Box(480, 640, 40, 40))
    )
    told = told_of(job)
    assert told.startswith("back: leaf and sun can never be pressed together, in however many hits; ")
    assert "far" not in told
    assert "let Cool film be pressed at 156 °C" in told


def test_a_base_that_would_get_too_much_in_all_is_told_with_the_seconds_that_it_gets():
    """The foam bears its own 15 s and 20 s more, and the twill on it wants 20, no more than 18 at once."""
    weak = replace(FOAM, key="weak-foam", label="Weak foam", total_s=34, takes_on_top=frozenset({TWILL.key}))
    short = replace(TWILL, longest_s=18)
    job = job_on_plain_back(("leaf", weak, MIDDLE), ("sun", short, Box(220, 310, 40, 40)))
    told = told_of(job)
    assert told.startswith("leaf bears 34 s in all, and with sun over it or beside it, it gets 35 s at least")
    assert told.endswith("or let Weak foam be pressed for 35 s in all, if its maker allows it")


def test_the_told_seconds_do_free_it():
    enough = replace(FOAM, key="foam", total_s=35, takes_on_top=frozenset({TWILL.key}))
    short = replace(TWILL, longest_s=18)
    job = job_on_plain_back(("leaf", enough, MIDDLE), ("sun", short, Box(220, 310, 40, 40)))
    assert broken_rules(job, plan_hits(job)) == []


def test_where_none_is_found_and_none_is_proved_the_words_say_so():
    """The leaf would get a second more than it bears, and planning is stopped before that is proved."""
    weak = replace(FOAM, key="weak-foam", label="Weak foam", total_s=34, takes_on_top=frozenset({TWILL.key}))
    short = replace(TWILL, longest_s=18)
    job = job_on_plain_back(("leaf", weak, MIDDLE), ("sun", short, Box(220, 310, 40, 40)))
    with pytest.raises(NoSequenceFoundError, match="stopped, and it is not proved that there is none"):
        plan_hits(job, stop=lambda: True)


def test_each_clash_is_told_in_a_line_of_its_own():
    job = job_on_plain_back(
        ("north", TOUCHY, MIDDLE),
        ("south", TOUCHY, JUST_BESIDE),
        ("east", TOUCHY, Box(20, 20, 60, 60)),
        ("west", TOUCHY, Box(83, 20, 60, 60)),
    )
    north, east, all_made = told_of(job).splitlines()
    assert north.startswith("north and south clash")
    assert east.startswith("east and west clash")
    assert all_made == "with the first change of each line made, the job has a plan"


def test_a_piece_whose_own_parts_get_too_much_is_told_without_the_others():
    """The zip leaves no room to press the left part without its neighbour, which gets both parts' seconds."""
    zip_left = Zone(ZoneKind.KEEP_OUT, Box(0, 0, 5, 700), "zip")
    weak = replace(TWILL, key="weak", total_s=22, takes_on_top=frozenset({TWILL.key}))
    job = job_on_plain_back(
        ("banner", weak, Box(10, 300, 540, 60)),
        ("tag", TWILL, Box(500, 310, 20, 20)),
        sides=(replace(PLAIN, zones=(zip_left,)),),
    )
    assert told_of(job).startswith(
        "banner bears 22 s in all, and it gets 40 s at least, in however many hits; "
    )

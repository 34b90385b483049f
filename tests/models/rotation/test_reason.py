"""The line that says why this garment is the next."""

from dataclasses import replace

from models.rotation.next_step import next_step
from models.rotation.problem.shop import Garment, Press, Setting, Shop, Span, Visit
from models.rotation.reason import reason_of

PRESS = Press("press", heating_s_per_degree=6, cooling_s_per_degree=20, temperature_c=149)
HIT = Visit(Setting("press", 149), lay_s=20, dwell_s=15, off_s=5, rest_s=60, finish_s=10)
HOTTER = replace(HIT, setting=Setting("press", 150))
CHANGING = "changing from 149 °C (300 °F) to 150 °C (302 °F) takes 6 s"


def why(*garments: Garment, press: Press = PRESS, taken: tuple[Span, ...] = ()) -> str:
    shop = Shop((press,), garments, taken=taken)
    return reason_of(shop, next_step(shop))


def test_the_setting_is_named_and_what_the_garment_has_ahead():
    assert why(Garment("a", (HIT, HIT))) == "same setting; it has 1 more hit ahead and 120 s of rest"
    assert why(Garment("a", (HIT,))) == "same setting; it is its last hit"
    assert why(Garment("a", (HIT,)), press=replace(PRESS, temperature_c=None)).startswith(
        "the press takes its first setting"
    )


def test_a_change_of_heat_is_told_with_its_seconds_and_why_it_is_worth_them():
    assert why(Garment("a", (HOTTER,))).startswith(f"{CHANGING}, and nothing is left to press at the old one")
    late = Garment("late", (HIT, HIT), ready_s=900)
    assert why(Garment("a", (HOTTER,)), late).startswith(
        f"{CHANGING}, and all is done sooner than by waiting at the old one"
    )


def test_a_check_is_told_with_what_comes_of_it():
    busy = replace(PRESS, free_s=20)
    rested = Garment("a", (HIT,), is_off=True)
    assert why(rested) == "it is ready to be peeled and checked, which finishes it"
    assert why(replace(rested, visits=(HIT, HIT)), press=busy).endswith("and can then go on")
    assert why(rested, press=busy, taken=(Span(15, 20),)).endswith("there is time before the press opens")


def test_a_garment_that_still_rests_is_not_said_to_be_ready():
    resting = Garment("a", (HIT,), ready_s=70, is_off=True)
    assert why(resting) == "it is peeled and checked as soon as its rest is over, which finishes it"


def test_a_check_that_has_to_wait_for_the_press_to_be_opened_is_told_so():
    """It takes 10 s, and the press opens in 5."""
    rested = Garment("a", (HIT,), is_off=True)
    told = why(rested, press=replace(PRESS, free_s=10), taken=(Span(5, 10),))
    assert told == "it is to be peeled and checked as soon as hands are free, which finishes it"


def test_a_press_that_is_being_set_anew_is_not_at_the_same_setting():
    shop = Shop((replace(PRESS, free_s=30),), (Garment("a", (HIT, HIT)),))
    assert reason_of(shop, next_step(shop), ["press"]).startswith("the press's new setting; ")
    assert reason_of(shop, next_step(shop)).startswith("same setting; ")


def test_what_has_rested_is_not_forgotten_while_another_is_laid():
    told = why(Garment("a", (HIT, HIT, HIT)), Garment("rested", (HIT,), is_off=True))
    assert told.endswith("what is ready can be peeled while the press is closed")


def test_where_all_is_done_nothing_is_said():
    assert why(Garment("a", ())) == ""

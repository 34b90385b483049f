"""What a scan opens, and what it refuses."""

import pytest

from floorapp.flow import Flow
from floorapp.screen_names import ScreenName
from floorapp.screens.garment_presenter import card_of
from floorapp.views import Tap
from models.store.store import Store
from models.tags.code import ALPHABET
from tests.floorapp.taps import tap, to_the_check
from tests.held_clock import HeldClock
from tests.small_floor import codes_of


def test_a_scan_opens_the_garment_at_its_first_hit(flow: Flow, store: Store) -> None:
    flow.scan(codes_of(store)[0])

    assert flow.screen == ScreenName.GARMENT
    assert card_of(flow).heading == "Hit 1 of 2: lay"


def test_a_garment_scanned_again_opens_where_it_was(flow: Flow, store: Store, clock: HeldClock) -> None:
    first, second = codes_of(store)
    to_the_check(flow, clock, first)
    flow.scan(second)
    flow.scan(first)

    assert card_of(flow).heading == "Hit 1 of 2: check"


@pytest.mark.parametrize(
    ("scanned", "told"),
    [
        ("HELLO", "“L” is in no tag code"),
        ("3467", "8 characters"),
    ],
)
def test_what_is_no_code_is_told_in_a_line_and_the_screen_stays(flow: Flow, scanned: str, told: str) -> None:
    flow.scan(scanned)

    assert flow.screen == ScreenName.FLOOR
    assert flow.notice is not None
    assert told in flow.notice.text
    assert "\n" not in flow.notice.text


def test_a_mistyped_code_is_told_apart_from_an_unknown_one(flow: Flow, store: Store) -> None:
    code = codes_of(store)[0]
    wrong = ALPHABET[(ALPHABET.index(code[4]) + 1) % len(ALPHABET)]
    flow.scan(code[:4] + wrong + code[5:])
    mistyped = flow.notice.text if flow.notice else ""
    flow.scan(other_code_of(store))
    unknown = flow.notice.text if flow.notice else ""

    assert mistyped
    assert unknown
    assert mistyped.split(";")[0] != unknown.split(";")[0]


def other_code_of(store: Store) -> str:
    """A sound code of this shop that no garment has."""
    from random import Random

    from models.tags.code import new_code

    return new_code(store.shop_code, Random(99))


def test_a_code_of_another_shop_is_refused(flow: Flow, store: Store) -> None:
    from random import Random

    from models.tags.code import new_code, new_shop_code

    random = Random(4)
    other = next(shop for shop in iter(lambda: new_shop_code(random), "") if shop != store.shop_code)
    flow.scan(new_code(other, random))

    assert flow.notice is not None
    assert "shop" in flow.notice.text


def test_a_spoiled_garment_says_so_when_it_is_scanned(flow: Flow, store: Store, clock: HeldClock) -> None:
    code = codes_of(store)[0]
    to_the_check(flow, clock, code)
    tap(flow, Tap.SPOIL, "scorched through")
    tap(flow, Tap.TO_FLOOR)
    flow.scan(code)

    assert card_of(flow).heading == "Spoiled"
    assert "scorched through" in card_of(flow).body


def test_the_review_opens_from_the_floor(flow: Flow) -> None:
    tap(flow, Tap.TO_REVIEW, "LC-0147")

    assert flow.screen == ScreenName.REVIEW
    assert flow.review.review is not None
    assert len(flow.review.review.garments) == 2

"""A person at the press finds garments and mends batches, in the real window."""

from collections.abc import Callable
from pathlib import Path

from floorapp.screen_names import ScreenName
from models.batch.standing import Standing
from models.floor.remedies import Remedies
from models.floor.work import FloorWork, Seat
from models.garment.cycle import State
from models.store.store import Store
from tests.floorapp.driver import LANDSCAPE, PORTRAIT
from tests.floorapp.press_operator import PressOperator
from tests.held_clock import HeldClock
from tests.small_floor import codes_of

SEAT = Seat("Station 1", "Mette")
SitDown = Callable[..., PressOperator]


def spoil_first(store: Store, clock: HeldClock) -> str:
    work = FloorWork(store, clock, SEAT)
    return work.spoil(work.take_up(work.find(codes_of(store)[0])), "scorched").row.code


def type_keys(operator: PressOperator, text: str) -> None:
    for key in text:
        touch_key(operator, "space" if key == " " else key)


def touch_key(operator: PressOperator, words: str) -> None:
    from floorapp.widgets.key_pad import Key

    keys = [w for w in operator.desk.screens[operator.flow.screen].walk() if isinstance(w, Key)]
    operator.driver.advance(0.5)
    operator.driver.tap(next(key for key in keys if key.words == words))
    operator.driver.frames(2)


def test_a_garment_is_found_by_typing_a_part_of_its_wearers_name(sit_down: SitDown, store: Store) -> None:
    operator = sit_down()
    operator.tap("Find")
    type_keys(operator, "LINDQ")
    operator.tap("No ")
    assert operator.flow.remedies.garment.row.code == codes_of(store)[1]
    operator.tap("Open it at the press")
    assert operator.flow.in_hand.progress.state == State.LAYING


def test_looking_at_a_found_garment_does_not_take_it_up(sit_down: SitDown, store: Store) -> None:
    operator = sit_down()
    operator.tap("Find")
    operator.scan("LINDQ")
    assert operator.flow.screen == ScreenName.FIND
    assert len(operator.flow.find.found.garments) == 1
    operator.tap("No ")
    assert store.garment(codes_of(store)[1]).progress.state == State.IDLE


def test_a_scan_opens_its_garment_on_the_find_screen_too(sit_down: SitDown, store: Store) -> None:
    operator = sit_down()
    operator.tap("Find")
    operator.scan(codes_of(store)[0])
    assert operator.flow.in_hand.row.code == codes_of(store)[0]


def test_what_nobody_is_called_is_said_and_a_letter_is_taken_back(sit_down: SitDown) -> None:
    operator = sit_down()
    operator.tap("Find")
    type_keys(operator, "TOZ")
    assert operator.sees("Nothing has “TOZ” on it")
    operator.driver.tap(back_key(operator))
    operator.driver.frames(2)
    assert operator.sees("Tap the one that you mean")


def back_key(operator: PressOperator) -> object:
    from floorapp.widgets.key_pad import BackKey

    return next(w for w in operator.desk.screens[operator.flow.screen].walk() if isinstance(w, BackKey))


def test_a_spoiled_garment_is_made_again_from_its_card(
    sit_down: SitDown, store: Store, clock: HeldClock
) -> None:
    spoiled = spoil_first(store, clock)
    operator = sit_down()
    operator.scan(spoiled)
    operator.tap("Make it again")
    operator.tap("Make it again …")
    assert operator.sees("This one stays spoiled")
    operator.tap("Make it again")
    again = store.garment(spoiled).row.remade_as
    assert operator.flow.remedies.garment.row.code == again
    assert operator.sees("is its new tag")
    operator.scan(spoiled)
    assert operator.sees("It was made again as")


def test_a_tag_is_printed_for_one_garment(sit_down: SitDown, store: Store, tmp_path: Path) -> None:
    operator = sit_down()
    operator.tap("Find")
    operator.scan("LINDQ")
    operator.tap("No ")
    operator.tap("Print its tag")
    operator.driver.frames(4)
    code = codes_of(store)[1]
    assert (tmp_path / f"tag-{code}-a4.pdf").read_bytes().startswith(b"%PDF")
    assert operator.sees("Written:")


def test_a_garment_is_taken_out_with_a_reason_and_put_back(sit_down: SitDown, store: Store) -> None:
    code = codes_of(store)[0]
    operator = sit_down()
    look_at(operator, code)
    operator.tap("Take it out of its batch")
    operator.tap("The garment is missing")
    assert store.garment(code).row.taken_out == "the garment is missing"
    operator.scan(code)
    assert operator.sees("Taken out of its batch")
    assert operator.sees("Do not press it")
    operator.tap("Put it back")
    operator.tap("Put it back into its batch")
    assert store.garment(code).row.taken_out == ""


def look_at(operator: PressOperator, code: str) -> None:
    operator.tap("Find")
    type_keys(operator, code)
    look_at_first(operator)


def look_at_first(operator: PressOperator) -> None:
    from floorapp.screens.find import FoundBox

    if not operator.flow.find.text:
        type_keys(operator, "IN")
    operator.driver.advance(0.5)
    row = next(w for w in operator.desk.screens[ScreenName.FIND].walk() if isinstance(w, FoundBox))
    operator.driver.tap(row)
    operator.driver.frames(2)


def test_a_wrong_name_is_corrected_with_the_large_keys(sit_down: SitDown, store: Store) -> None:
    code = codes_of(store)[1]
    operator = sit_down()
    look_at(operator, code)
    operator.tap("Correct name or number")
    for _ in range(len("Tor Lindqvist")):
        operator.driver.advance(0.5)
        operator.driver.tap(back_key(operator))
    type_keys(operator, "TO")
    touch_key(operator, "á")
    type_keys(operator, "R BERG")
    operator.tap("Save it")
    assert store.garment(code).row.wearer == "Tór Berg"
    assert operator.sees("corrected to Tór Berg")


def test_a_garment_is_added_from_the_review(sit_down: SitDown, store: Store) -> None:
    operator = sit_down()
    to_batch(operator)
    operator.tap("Add a garment")
    operator.tap("M")
    type_keys(operator, "AASE")
    operator.tap("Number")
    type_keys(operator, "12")
    operator.tap("Add it")
    row = store.garments("LC-0147")[-1]
    assert (row.n, row.wearer, row.number) == (3, "Aase", "12")
    assert operator.flow.remedies.garment.row.code == row.code


def to_batch(operator: PressOperator) -> None:
    from floorapp.views import Action, Tap

    operator.driver.advance(0.5)
    operator.desk.act(Action(Tap.TO_REVIEW, "LC-0147"))
    operator.driver.frames(2)
    operator.tap("Change …")


def test_a_batch_with_garments_to_do_is_not_closed_and_says_how_many(sit_down: SitDown) -> None:
    operator = sit_down()
    to_batch(operator)
    operator.tap("Close the batch")
    assert operator.flow.notice is not None
    assert "2 garments are still to be finished" in operator.flow.notice.text


def test_a_closed_batch_leaves_the_floor_and_is_found_and_reopened(sit_down: SitDown, store: Store) -> None:
    remedies = Remedies(store, SEAT)
    for code in codes_of(store):
        remedies.take_out(store.garment(code), "cancelled")
    operator = sit_down()
    to_batch(operator)
    operator.tap("Close the batch")
    assert operator.flow.screen == ScreenName.FLOOR
    assert operator.flow.batches == ()
    operator.tap("Find")
    operator.tap("Lightship crew vests")
    assert operator.sees("closed")
    operator.tap("Change …")
    operator.tap("Reopen the batch")
    assert [batch.head.reference for batch in operator.flow.batches] == ["LC-0147"]


def test_a_wrongly_loaded_batch_is_taken_back_only_after_a_question(sit_down: SitDown, store: Store) -> None:
    code = codes_of(store)[0]
    operator = sit_down()
    to_batch(operator)
    operator.tap("Take the batch back")
    assert store.batch("LC-0147").standing == Standing.OPEN
    operator.tap("Take it back for good")
    assert operator.flow.batches == ()
    operator.scan(code)
    assert "a batch that was taken back by Mette" in operator.flow.notice.text


def test_a_batch_that_was_changed_elsewhere_is_shown_anew_and_then_changed(
    sit_down: SitDown, store: Store
) -> None:
    code, other = codes_of(store)
    operator = sit_down()
    look_at(operator, code)
    operator.tap("Take it out of its batch")
    Remedies(store, Seat("Station 2", "Per")).take_out(store.garment(other), "torn")
    operator.tap("No longer wanted")
    assert operator.flow.notice is not None
    assert "changed at Station 2 meanwhile (taken out)" in operator.flow.notice.text
    operator.tap("Take it out of its batch")
    operator.tap("No longer wanted")
    assert store.garment(code).row.taken_out == "no longer wanted"


def test_the_keys_of_names_are_large_enough_for_a_glove(sit_down: SitDown) -> None:
    for size in (LANDSCAPE, PORTRAIT):
        operator = sit_down(size)
        operator.tap("Find")
        check_keys(operator, 40, size)
        look_at_first(operator)
        operator.tap("Correct name or number")
        check_keys(operator, 42, size)


def check_keys(operator: PressOperator, many: int, size: tuple[int, int]) -> None:
    """All keys are there, large enough, and none lies on another part of the screen."""
    from kivy.metrics import mm

    from floorapp.theme import TARGET_MM
    from floorapp.widgets.cards import TopBar
    from floorapp.widgets.key_pad import BackKey, Key

    shown = list(operator.desk.screens[operator.flow.screen].walk())
    keys = [widget for widget in shown if isinstance(widget, Key | BackKey)]
    bar = next(widget for widget in shown if isinstance(widget, TopBar))
    assert len(keys) == many
    assert all(min(key.size) >= mm(TARGET_MM) - 1 for key in keys)
    assert all(key.y >= 0 and key.top <= bar.y and key.right <= size[0] for key in keys)


def test_a_batch_is_let_go_before_the_others_and_by_its_due_date_again(
    sit_down: SitDown, store: Store
) -> None:
    operator = sit_down()
    to_batch(operator)
    operator.tap("Let it go before the others")
    assert store.batch("LC-0147").priority == 1
    assert operator.sees("Lightship crew vests goes before the others now.")
    operator.tap("Let it go by its due date again")
    assert store.batch("LC-0147").priority == 0

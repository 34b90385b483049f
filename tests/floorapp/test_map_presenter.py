"""The map of a garment says by form what is to be laid, what to be peeled now and what to be left alone."""

from datetime import timedelta

from floorapp.screens.map_presenter import map_of_step, peeled_now
from floorapp.widget_views import Role
from models.job.job import Peel
from tests.event_log import EventLog, laying, peeling, resting
from tests.sample_jobs import crew_vest_recipe

REST = timedelta(seconds=60)


def roles_in(log: EventLog) -> dict[str, Role]:
    return {entry.piece.id: entry.role for entry in map_of_step(log.progress, log.now).pieces}


def peels(log: EventLog) -> set[str]:
    return {piece for piece, role in roles_in(log).items() if role == Role.PEEL}


def test_the_pieces_of_a_hit_are_filled_while_they_are_laid() -> None:
    laid = crew_vest_recipe().plan.hits[0].lay

    assert {roles_in(laying())[piece] for piece in laid} == {Role.NOW}


def test_only_the_hot_ones_are_shown_to_be_peeled_while_it_is_hot() -> None:
    assert peels(peeling()) == {"wave"}
    assert roles_in(peeling())["anchor"] == Role.LEAVE


def test_nothing_is_shown_to_be_peeled_while_the_garment_rests() -> None:
    assert peels(resting()) == set()
    assert roles_in(resting())["anchor"] == Role.LEAVE


def test_the_cold_ones_are_shown_to_be_peeled_once_it_has_rested() -> None:
    log = resting()

    assert peeled_now(log.progress, log.now + REST) == {"anchor"}


def test_a_garment_that_has_to_rest_first_has_nothing_to_peel_yet() -> None:
    log = resting()
    off = log.progress.rest_ends_at

    assert off is not None
    assert peeled_now(log.progress, off - timedelta(seconds=1)) == frozenset()
    assert log.progress.next_peel == Peel.COLD

"""Whether extra hits are said to be proved the fewest, on garments of many pieces."""

import random

import pytest

from models.errors import NoExtraHitError
from models.job.job import Job
from models.job.stacking import stacked_pairs
from models.planning.rework import search as extra_search
from models.planning.rework.incident import Trouble
from models.planning.rework.plan_rework import plan_extra_hits
from models.planning.rework.reasons import NOT_PROVED
from tests.judged_extra_hits import all_down, judged_mending, lifted
from tests.random_jobs import random_job, with_second_press
from tests.troubled_vests import CLASHING, replaced


def fifteen_lifted(job: Job, seed: int) -> Trouble:
    pieces = random.Random(seed).sample([piece.id for piece in job.pieces], 15)
    return lifted({piece: job.material_of(piece).least_s for piece in pieces})


def new_and_lifted(job: Job, seed: int) -> Trouble:
    """Five pieces on which no other lies are new, and four others have lifted."""
    dice, below = random.Random(seed), {lower for _, lower in stacked_pairs(job)}
    new = dice.sample([piece.id for piece in job.pieces if piece.id not in below], 5)
    others = dice.sample([piece.id for piece in job.pieces if piece.id not in new], 4)
    return Trouble(lifted_s={p: job.material_of(p).least_s for p in others}, replaced=tuple(new))


@pytest.mark.parametrize("seed", [4, 6, 8])
@pytest.mark.parametrize("presses", [1, 2])
def test_fifteen_lifted_pieces_of_forty_are_proved(seed: int, presses: int) -> None:
    job = random_job(seed, pieces=40)
    job = with_second_press(job) if presses > 1 else job
    mending = judged_mending(job, all_down(job), frozenset(all_down(job)), (), fifteen_lifted(job, seed))
    assert mending.is_fewest
    assert not any(NOT_PROVED in hit.why for hit in mending.hits)


def test_what_is_not_proved_is_said_to_be_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(extra_search, "MOST_TRIED", 0)
    job = random_job(4, pieces=40)
    mending = judged_mending(job, all_down(job), frozenset(all_down(job)), (), fifteen_lifted(job, 4))
    assert not mending.is_fewest
    assert [NOT_PROVED in hit.why for hit in mending.hits] == [True] + [False] * (len(mending.hits) - 1)


@pytest.mark.parametrize("seed", [2, 3, 6])
def test_five_new_pieces_of_forty_and_four_lifted_ones_are_proved(seed: int) -> None:
    job = random_job(seed, pieces=40)
    records = all_down(job)
    mending = judged_mending(job, records, frozenset(records), (), new_and_lifted(job, seed))
    assert len(mending.hits) >= 4
    assert mending.is_fewest


def test_a_no_that_was_not_proved_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(extra_search, "MOST_TRIED", 0)
    job = random_job(1, pieces=40)
    with pytest.raises(NoExtraHitError, match="no extra hits were found, and not every way was tried"):
        plan_extra_hits(job, all_down(job), frozenset(all_down(job)), (), fifteen_lifted(job, 1))


def test_hits_that_cannot_be_fewer_whatever_is_tried_are_proved(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two pieces that may not be in work together take two hits, and two are found at once."""
    monkeypatch.setattr(extra_search, "MOST_TRIED", 0)
    trouble = replaced("anchor", "buoy", "lamp")
    assert judged_mending(CLASHING, all_down(CLASHING), frozenset(), (), trouble).is_fewest

"""A job in sizes on its whole way: read, planned, stored, printed on tags, opened on the floor."""

import json
from collections.abc import Iterator
from pathlib import Path
from random import Random
from typing import Any

import pytest
from click.testing import CliRunner

from floorapp.command_line import main
from floorapp.planned_job import read_and_plan
from floorapp.screens.map_presenter import map_of_step
from floorapp.screens.set_up_presenter import hit_maps, set_up_view
from floorapp.screens.why_presenter import planned_hit_view
from floorapp.views import Action, Tap
from models.quality.review import review_of
from models.store.store import Store
from printables.batch_tags import tags_of_batch
from tests.held_clock import MORNING, HeldClock
from tests.job_files import piece, small_job, write_job
from tests.rule_checker import broken_rules
from tests.small_floor import flow_on

REFERENCE = "LC-0147"
SNAP = {"kind": "keep-out", "box": [285, 315, 10, 10], "label": "snap"}


def vests_in_sizes() -> dict[str, Any]:
    """Two lights that one platen holds; in size XL a snap lies between them, in size S all is higher up."""
    job = small_job()
    higher, with_snap = {"size": "S", "flat": [520, 650], "shift": [0, -20]}, {"size": "XL", "zones": [SNAP]}
    job["sides"][0]["sizes"] = [higher, with_snap]
    job["pieces"] = [
        piece("port-light", "raised-foam", [120, 320], {"box": [40, 40]}),
        piece("lamp", "raised-foam", [460, 320], {"box": [40, 40]}),
    ]
    job["garments"] = {"sizes": {"S": 1, "M": 2, "XL": 1}}
    return job


@pytest.fixture
def job_file(tmp_path: Path) -> Path:
    return write_job(tmp_path, vests_in_sizes())


@pytest.fixture
def store(tmp_path: Path, job_file: Path) -> Iterator[Store]:
    """The batch as another start of the program finds it in the file."""
    url = f"sqlite:///{tmp_path / 'floor.db'}"
    planned = read_and_plan(job_file)
    loading = Store.open(url, HeldClock(), Random(3))
    loading.add_batch(planned.job, planned.plan, planned.heat_findings, planned.rests)
    loading.close()
    store = Store.open(url, HeldClock(), Random(4))
    yield store
    store.close()


def code_in(store: Store, size: str) -> str:
    return next(row.code for row in store.garments(REFERENCE) if row.size == size)


@pytest.mark.parametrize(("size", "hits"), [("S", 1), ("M", 1), ("XL", 2)])
def test_a_garment_opens_with_the_sound_sequence_of_its_size(store: Store, size: str, hits: int) -> None:
    progress = store.garment(code_in(store, size)).progress

    assert len(progress.steps) == hits
    assert [step.hit for step in progress.steps] == list(progress.recipe.plan.hits)
    assert broken_rules(progress.recipe.job, progress.recipe.plan) == []


def test_the_map_shows_the_side_as_it_lies_in_the_garments_size(store: Store) -> None:
    small, medium = (
        map_of_step(store.garment(code_in(store, size)).progress, MORNING) for size in ("S", "M")
    )

    assert (small.side.width_mm, small.side.height_mm) == (520, 650)
    assert small.pieces[0].piece.box == medium.pieces[0].piece.box.moved(0, -20)
    assert small.platen is not None
    assert medium.platen is not None
    assert small.platen == medium.platen.moved(0, -20)


def test_a_tag_tells_the_hits_of_its_garments_size(store: Store) -> None:
    lines = {
        tag.size: tag.hits_line.replace("\N{NO-BREAK SPACE}", " ") for tag in tags_of_batch(store, REFERENCE)
    }

    assert lines["M"].startswith("1 hit (s)")
    assert lines["XL"].startswith("2 hits (s)")


def test_the_review_folds_each_garment_by_the_sequence_of_its_size(store: Store) -> None:
    review = review_of(store.recipe(store.batch(REFERENCE).id), store.logs(REFERENCE))

    assert [line.size for line in review.garments] == ["S", "M", "M", "XL"]


def test_set_up_shows_the_hits_of_most_garments_and_of_the_size_worked_otherwise(job_file: Path) -> None:
    planned = read_and_plan(job_file)
    first, *others = hit_maps(planned)

    assert first.title.startswith("Hit 1, back")
    assert first.map.side.zones == planned.job.side("back").zones
    titles = [other.title.splitlines()[0] for other in others]
    assert titles == ["Size XL: Hit 1, back", "Size XL: Hit 2, back"]
    assert {zone.label for other in others for zone in other.map.side.zones} == {"snap"}


def test_a_hit_of_a_size_worked_otherwise_is_looked_at_with_its_own_side(
    store: Store, job_file: Path, tmp_path: Path
) -> None:
    flow = flow_on(store, HeldClock(), tmp_path)
    flow.act(Action(Tap.TO_SET_UP))
    flow.act(Action(Tap.CHOOSE_FILE, str(job_file)))
    flow.act(set_up_view(flow).maps[-1].action)
    view = planned_hit_view(flow)

    assert view.heading.startswith("Hit 2, back")
    assert {zone.label for zone in view.map.side.zones} == {"snap"}


def test_set_up_says_which_sizes_differ(store: Store, job_file: Path, tmp_path: Path) -> None:
    flow = flow_on(store, HeldClock(), tmp_path)
    flow.act(Action(Tap.TO_SET_UP))
    flow.act(Action(Tap.CHOOSE_FILE, str(job_file)))

    (differs,) = set_up_view(flow).groups
    assert [line.text for line in differs.lines] == list(read_and_plan(job_file).plan.differs)


def test_the_plan_is_printed_with_the_sizes_that_differ(job_file: Path) -> None:
    told = CliRunner().invoke(main, ["plan", str(job_file)]).output

    assert "1 hit each in size M" in told
    assert "Size XL has another sequence than size M (2 hits, not 1): hit 1 of size M would come down" in told
    assert "Size S, worked alike:" in told
    assert "Size XL: The plan has 2 hits" in told


def test_the_json_holds_the_plan_of_each_size_that_differs(job_file: Path) -> None:
    told = json.loads(CliRunner().invoke(main, ["plan", str(job_file), "--json"]).stdout)

    assert len(told["hits"]) == 1
    assert {tuple(other["sizes"]): len(other["plan"]["hits"]) for other in told["sizes"]} == {
        ("S",): 1,
        ("XL",): 2,
    }
    assert len(told["differs"]) == 1

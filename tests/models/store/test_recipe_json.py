"""A recipe that was frozen as JSON comes back equal, field by field."""

import json
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from models.errors import StorageError
from models.garment.progress import Recipe
from models.job.job import Fabric, GarmentOrder, Job, Material, Peel, Piece, Press, Side
from models.plan.plan import Hit, PlanOfSizes
from models.recipe.heat_finding import NEVER_S, HeatFinding
from models.recipe.piece_rest import PieceRest
from models.recipe.places import Place
from models.store.recipe_json import recipe_from_json, recipe_to_json
from tests.random_jobs import jobs
from tests.sample_jobs import crew_vest_job, crew_vest_plan, crew_vest_recipe, rested_recipe

finite = st.floats(allow_nan=False, allow_infinity=False)  # a job file with others is refused
st.register_type_strategy(float, finite)


def through_text(recipe: Recipe) -> Recipe:
    """As a database keeps it."""
    return recipe_from_json(json.loads(json.dumps(recipe_to_json(recipe))))


@st.composite
def strange_recipes(draw: st.DrawFn) -> Recipe:
    """Every field of every record at any value that it may hold, plausible or not."""
    job = Job(
        name=draw(st.text()),
        reference=draw(st.text()),
        due=draw(st.none() | st.dates()),
        press=draw(st.from_type(Press)),
        fabric=draw(st.from_type(Fabric)),
        sides=(draw(st.from_type(Side)),),
        materials=(draw(st.from_type(Material)),),
        pieces=(draw(st.from_type(Piece)),),
        garments=(draw(st.from_type(GarmentOrder)),),
    )
    return Recipe(job, replace(crew_vest_plan(), hits=(draw(st.from_type(Hit)),)))


@given(strange_recipes())
@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_recipe_comes_back_equal(recipe: Recipe) -> None:
    assert through_text(recipe) == recipe


@given(jobs())
@settings(max_examples=20, deadline=None)
def test_plausible_jobs_come_back_equal(job: Job) -> None:
    recipe = Recipe(job, crew_vest_plan())
    assert through_text(recipe) == recipe


def test_what_comes_back_is_as_frozen_and_as_typed() -> None:
    assert repr(through_text(crew_vest_recipe()).job) == repr(crew_vest_recipe().job)


def test_a_recipe_in_a_later_format_is_refused() -> None:
    data = recipe_to_json(crew_vest_recipe())
    with pytest.raises(StorageError, match="stored in format 6, newer than 5; update this program"):
        recipe_from_json({**data, "format": 6})


def test_a_recipe_from_before_garment_sizes_is_read() -> None:
    data = json.loads(json.dumps(recipe_to_json(crew_vest_recipe())))
    for side in data["job"]["sides"]:
        del side["sizes"]

    assert recipe_from_json({**data, "format": 1}) == crew_vest_recipe()


def test_a_recipe_from_before_heat_was_estimated_is_read() -> None:
    data = recipe_to_json(crew_vest_recipe())
    del data["heat_findings"]

    assert recipe_from_json(data) == crew_vest_recipe()


def test_a_recipe_from_before_rests_were_estimated_is_read() -> None:
    data = recipe_to_json(crew_vest_recipe())
    del data["rests"]

    assert recipe_from_json({**data, "format": 3}) == crew_vest_recipe()


def test_a_recipe_from_before_rests_had_a_place_rests_on_the_table() -> None:
    data = json.loads(json.dumps(recipe_to_json(rested_recipe())))
    for rest in data["rests"]:
        del rest["place"]

    assert recipe_from_json({**data, "format": 4}) == rested_recipe()


def test_a_recipe_from_before_materials_were_measured_is_read() -> None:
    data = json.loads(json.dumps(recipe_to_json(crew_vest_recipe())))
    for material in data["job"]["materials"]:
        del material["thermal"]

    assert recipe_from_json(data) == crew_vest_recipe()


def test_the_rests_come_back_equal() -> None:
    rests = (
        PieceRest("anchor", Peel.COLD, 41.8, 70.5, 114.4, ("L",)),
        PieceRest("wave", Peel.WARM, 1, 2, 3, place=Place.HUNG),
    )
    recipe = replace(crew_vest_recipe(), rests=rests)

    assert through_text(recipe) == recipe


@pytest.mark.parametrize("missing_s", [1.5, NEVER_S])
def test_what_gets_too_little_heat_comes_back_equal(missing_s: float) -> None:
    finding = HeatFinding("anchor", 1, 1.25, missing_s, is_sure=True, text="anchor: too little", sizes=("L",))
    recipe = replace(crew_vest_recipe(), heat_findings=(finding,))
    assert "Infinity" not in json.dumps(recipe_to_json(recipe))
    assert through_text(recipe) == recipe


def test_the_plans_of_all_sizes_come_back_equal() -> None:
    other = PlanOfSizes(("L", "XL"), replace(crew_vest_plan(), lower_bound=1))
    plan = replace(crew_vest_plan(), sizes=(other,), differs=("sizes L and XL: the same hits.",))

    assert through_text(Recipe(crew_vest_job(), plan)).plan == plan

"""A small shop floor for tests: a real SQLite file with the sample batch of two vests, and a flow on it."""

from dataclasses import replace
from pathlib import Path
from random import Random

from floorapp.background import AtOnce, Background
from floorapp.flow import Flow
from floorapp.screens.naming import called_words
from floorapp.set_up_flow import SetUpFlow
from models.clock import Clock
from models.floor.work import FloorWork, Seat
from models.garment.progress import Recipe
from models.job.job import GarmentOrder
from models.recipe.places import REST_PLACE, Place
from models.store.store import Store
from tests.sample_jobs import crew_vest_recipe, rested_recipe


def loaded_store(folder: Path, clock: Clock, recipe: Recipe | None = None) -> Store:
    """A new store in `folder` with one batch in it."""
    recipe = recipe or crew_vest_recipe()
    folder.mkdir(exist_ok=True)
    store = Store.open(f"sqlite:///{folder / 'floor.db'}", clock, Random(7))
    store.add_batch(recipe.job, recipe.plan, recipe.heat_findings, recipe.rests)
    return store


def rested_vests(garments: int) -> Recipe:
    """So many vests without wearers, whose first hit has a cold peel that rests 70 s."""
    recipe, orders = rested_recipe(), tuple(GarmentOrder(n, "M") for n in range(1, garments + 1))
    return replace(recipe, job=replace(recipe.job, garments=orders))


def on_press(recipe: Recipe, press: str) -> Recipe:
    """The same, pressed on a press of that name."""
    hits = tuple(replace(hit, press=press) for hit in recipe.plan.hits)
    job = replace(recipe.job, press=replace(recipe.job.press, name=press))
    return replace(recipe, job=job, plan=replace(recipe.plan, hits=hits))


def flow_on(
    store: Store,
    clock: Clock,
    folder: Path,
    station: str = "Station 1",
    rests: Place = REST_PLACE,
    *,
    at_store: Background | None = None,
    background: Background | None = None,
) -> Flow:
    """The screens of one station; long work is done at once, and so is what the store is asked."""
    work = FloorWork(store, clock, Seat(station, "Mette", rests))
    set_up = SetUpFlow(work, AtOnce(), folder, folder)
    return Flow(work, clock, set_up, background or AtOnce(), at_store or AtOnce())


def called_by(store: Store, code: str) -> str:
    """What the screens call the garment of this code by."""
    return called_words(store.garment(code).row)


def codes_of(store: Store) -> list[str]:
    return [row.code for row in store.garments("LC-0147")]

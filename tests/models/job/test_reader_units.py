"""Inches and °F are converted where the file is read, and nowhere else."""

from copy import deepcopy
from pathlib import Path

import pytest

from models.geometry import Box
from models.job.job import Job
from models.job.reader import read_job
from tests.job_files import Table, piece, small_job, write_job


def metric() -> Table:
    """Every length a whole number of inches, every temperature one of °F."""
    table = small_job()
    table["press"] |= {"platen": [406.4, 508], "temperature": [100, 220]}
    table["fabric"] |= {"hottest": 160, "thickness": 0.762}
    table["sides"] = [
        {"name": "back", "size": [558.8, 711.2], "zones": [{"kind": "raised", "box": [0, 127, 558.8, 12.7]}]}
    ]
    table["pieces"] = [
        piece("life-ring", "printed-twill", [152.4, 254], {"circle": 101.6}),
        piece("anchor-1", "raised-foam", [279.4, 254], {"svg": "art/anchor.svg", "width": 50.8}),
        piece("light", "glitter-film", [279.4, 254], {"box": [25.4, 12.7]}, turn=30),
        piece("wave", "printed-twill", [254, 508], {"polygon": [[0, 0], [127, 0], [127, 50.8]]}),
    ]
    for material in table["materials"].values():
        material |= {"carrier_margin": 2.54, "thickness": 0.508}
        material["temperature"] = {"set": 149, "lowest": 145, "hottest": 155}
    return table


def inch(length: float) -> float:
    return round(length / 25.4, 9)


def fahrenheit(temperature: float) -> float:
    return round(temperature * 1.8 + 32, 9)


def in_inches(table: Table) -> Table:
    table = deepcopy(table) | {"units": {"length": "in"}}
    table["press"]["platen"] = [inch(length) for length in table["press"]["platen"]]
    table["fabric"]["thickness"] = inch(table["fabric"]["thickness"])
    side = table["sides"][0]
    side["size"] = [inch(length) for length in side["size"]]
    side["zones"][0]["box"] = [inch(length) for length in side["zones"][0]["box"]]
    for material in table["materials"].values():
        material["carrier_margin"], material["thickness"] = 0.1, 0.02
    for n, shape in enumerate(
        [
            {"circle": 4},
            {"svg": "art/anchor.svg", "width": 2},
            {"box": [1, 0.5]},
            {"polygon": [[0, 0], [5, 0], [5, 2]]},
        ]
    ):
        table["pieces"][n]["shape"] = shape
        table["pieces"][n]["at"] = [inch(length) for length in table["pieces"][n]["at"]]
    return table


def in_fahrenheit(table: Table) -> Table:
    table = deepcopy(table)
    table["units"] = table.get("units", {}) | {"temperature": "F"}
    press = table["press"]
    press["temperature"] = [fahrenheit(t) for t in press["temperature"]]
    press["heating_s_per_degree"] /= 1.8
    press["cooling_s_per_degree"] /= 1.8
    table["fabric"]["hottest"] = fahrenheit(table["fabric"]["hottest"])
    for material in table["materials"].values():
        material["temperature"] = {key: fahrenheit(t) for key, t in material["temperature"].items()}
    return table


def read(folder: Path, table: Table) -> Job:
    return read_job(write_job(folder, table))


def assert_same_settings(one: Job, other: Job) -> None:
    assert one.materials == other.materials
    assert one.sides == other.sides
    assert one.fabric == other.fabric
    assert one.press.heating_s_per_degree == pytest.approx(other.press.heating_s_per_degree, rel=1e-12)
    assert one.press.cooling_s_per_degree == pytest.approx(other.press.cooling_s_per_degree, rel=1e-12)
    assert (one.press.lowest_c, one.press.hottest_c) == (other.press.lowest_c, other.press.hottest_c)


def assert_same_boxes(one: Job, other: Job) -> None:
    for piece_one, piece_other in zip(one.pieces, other.pieces, strict=True):
        a, b = piece_one.box, piece_other.box
        assert (a.x, a.y, a.width, a.height) == pytest.approx((b.x, b.y, b.width, b.height), abs=1e-6)


def test_a_job_in_inches_is_the_job_in_mm(tmp_path):
    in_mm, other = read(tmp_path, metric()), read(tmp_path, in_inches(metric()))
    assert_same_settings(in_mm, other)
    assert_same_boxes(in_mm, other)


def test_a_job_in_fahrenheit_is_the_job_in_celsius(tmp_path):
    assert_same_settings(read(tmp_path, metric()), read(tmp_path, in_fahrenheit(metric())))


def test_both_units_at_once(tmp_path):
    in_si, other = read(tmp_path, metric()), read(tmp_path, in_fahrenheit(in_inches(metric())))
    assert_same_settings(in_si, other)
    assert_same_boxes(in_si, other)


def test_mm_and_celsius_may_be_written_out(tmp_path):
    written = metric() | {"units": {"length": "mm", "temperature": "C"}}
    assert read(tmp_path, written) == read(tmp_path, metric())


def test_fabric_weight_stays_in_grams_whatever_the_unit_of_length(tmp_path):
    assert read(tmp_path, in_inches(metric())).fabric.grams_per_m2 == 240


def test_302_fahrenheit_is_exactly_150_celsius(tmp_path):
    """By NIST SP 811, B.8. No hair above, or a window that ends at 150 °C would not hold it."""
    table = in_fahrenheit(metric())
    table["materials"]["glitter-film"]["temperature"] = {"set": 302, "lowest": 293, "hottest": 311}
    glitter = read(tmp_path, table).material("glitter-film")
    assert (glitter.lowest_c, glitter.set_c, glitter.hottest_c) == (145, 150, 155)


def test_a_circle_of_4_inches_is_101_6_mm_wide(tmp_path):
    box = read(tmp_path, in_inches(metric())).piece("life-ring").box
    assert box == Box(pytest.approx(101.6), pytest.approx(203.2), pytest.approx(101.6), pytest.approx(101.6))

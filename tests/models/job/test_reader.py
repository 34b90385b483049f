"""A sound job file becomes a job."""

import tomllib
from datetime import date
from pathlib import Path

import pytest

from models.geometry import Box
from models.job.job import GarmentOrder, Peel, Pressure, Thermal, ZoneKind
from models.job.reader import read_job
from tests.job_files import changed_job, small_job, write_job

TOML = """
format = 1

[job]
name = "Lightship crew vests"
reference = "LC-0147"
due = 2026-12-11

[press]
platen = [400, 500]
temperature = [100, 220]
handling_s = 15
heating_s_per_degree = 6
cooling_s_per_degree = 20

[fabric]
name = "quilted polyamide"
hottest = 160
grams_per_m2 = 240
thickness = 0.9

[[sides]]
name = "back"
size = [560, 700]

[materials.printed-twill]
label = "Printed twill"
temperature = { set = 149, lowest = 145, hottest = 155 }
dwell = { least = 20, longest = 25, total = 60 }
finish = 0
pressure = ["medium", "firm"]
peel = "none"
carrier = false
carrier_margin = 0
takes_on_top = "none"
guard = true
cover = false
carrier_safe = true
thickness = 0.4

[[pieces]]
id = "life-ring"
side = "back"
material = "printed-twill"
at = [150, 240]
shape = { circle = 90 }

[garments]
sizes = { S = 1, M = 2 }
"""


@pytest.fixture
def job(tmp_path: Path):
    return read_job(write_job(tmp_path, small_job()))


def test_the_head_of_a_job(job):
    assert (job.name, job.reference, job.due) == ("Lightship crew vests", "LC-0147", date(2026, 12, 11))


def test_the_press_with_3_seconds_as_its_shortest_closing_where_none_is_written(job):
    assert (job.press.platen_width_mm, job.press.platen_height_mm) == (400, 500)
    assert (job.press.lowest_c, job.press.hottest_c, job.press.shortest_s) == (100, 220, 3)
    assert (job.press.heating_s_per_degree, job.press.cooling_s_per_degree) == (6, 20)


def test_the_fabric(job):
    assert (job.fabric.name, job.fabric.hottest_c) == ("quilted polyamide", 160)
    assert (job.fabric.grams_per_m2, job.fabric.thickness_mm) == (240, 0.9)


def test_a_side_with_its_seam(job):
    (seam,) = job.side("back").zones
    assert (seam.kind, seam.box, seam.label) == (ZoneKind.RAISED, Box(0, 120, 560, 12), "yoke seam")


def test_what_was_measured_of_a_material(tmp_path):
    measured = {"conductivity": 0.19, "specific_heat": 1850}
    path = changed_job(tmp_path, lambda table: table["materials"]["raised-foam"].update(thermal=measured))
    assert read_job(path).material("raised-foam").thermal == Thermal(0.19, None, 1850)


def test_what_a_material_begins_with_so_that_it_holds(tmp_path):
    path = changed_job(tmp_path, lambda table: table["materials"]["raised-foam"]["dwell"].update(first=12))
    job = read_job(path)
    assert (job.material("raised-foam").first_s, job.material("printed-twill").first_s) == (12, 0)


def test_a_material_of_which_nothing_was_measured_says_so(job):
    assert job.material("raised-foam").thermal == Thermal(None, None, None)


def test_a_material_keeps_the_order_of_its_pressures(job):
    foam = job.material("raised-foam")
    assert foam.pressures == (Pressure.MEDIUM, Pressure.FIRM)
    assert (foam.set_c, foam.lowest_c, foam.hottest_c) == (149, 145, 155)
    assert (foam.least_s, foam.longest_s, foam.total_s, foam.finish_s) == (15, 25, 60, 0)
    assert (foam.peel, foam.carrier, foam.carrier_margin_mm) == (Peel.COLD, True, 6)


def test_what_a_material_takes_on_top(job):
    foam, glitter = job.material("raised-foam"), job.material("glitter-film")
    assert foam.takes(glitter)
    assert not glitter.takes(foam)


def test_a_material_that_takes_any_takes_itself(tmp_path):
    path = changed_job(tmp_path, lambda t: t["materials"]["raised-foam"].update(takes_on_top="any"))
    foam = read_job(path).material("raised-foam")
    assert foam.takes(foam)


def test_pieces_stand_in_the_order_of_the_file(job):
    assert [piece.id for piece in job.pieces] == ["life-ring", "anchor-1", "light"]


def test_a_drawing_is_as_wide_as_asked_and_keeps_its_proportions(job):
    assert job.piece("anchor-1").box == Box(260, 200, 40, 80)


def test_a_piece_without_a_label_is_called_by_its_id(job):
    assert job.piece("anchor-1").label == "anchor 1"


def test_a_piece_is_called_by_its_label(tmp_path):
    path = changed_job(tmp_path, lambda t: t["pieces"][0].update(label="Life ring, orange"))
    assert read_job(path).piece("life-ring").label == "Life ring, orange"


def test_garments_by_size_are_numbered_in_the_order_of_the_sizes(job):
    assert job.garments == (GarmentOrder(1, "S"), GarmentOrder(2, "M"), GarmentOrder(3, "M"))


def test_garments_by_roster_have_wearers(tmp_path):
    (tmp_path / "crew.csv").write_text("size,name,number\nM,Sørlund,7\nL,Brzozół,12\n", encoding="utf-8")
    path = changed_job(tmp_path, lambda t: t.update(garments={"roster": "crew.csv"}))
    assert read_job(path).garments == (
        GarmentOrder(1, "M", "Sørlund", "7"),
        GarmentOrder(2, "L", "Brzozół", "12"),
    )


def test_columns_of_the_roster_that_are_left_out_are_told_and_nothing_is_refused(tmp_path):
    (tmp_path / "crew.csv").write_text("size,name,Cap,Shoe\nM,Sørlund,7,43\n", encoding="utf-8")
    path = changed_job(tmp_path, lambda t: t.update(garments={"roster": "crew.csv"}))
    told: list[str] = []
    assert read_job(path, told.append).garments == (GarmentOrder(1, "M", "Sørlund", ""),)
    assert told == ["crew.csv: line 1: columns left out: Cap, Shoe"]


def test_a_size_is_the_same_whether_its_marks_were_saved_apart_or_not(tmp_path):
    (tmp_path / "crew.csv").write_text("size\nGro\u0308ße\n", encoding="utf-8")
    path = changed_job(
        tmp_path,
        lambda t: t.update(garments={"roster": "crew.csv"}),
        lambda t: t["sides"][0].update(sizes=[{"size": "Gro\u0308ße", "shift": [0, 10]}]),
    )
    assert read_job(path).garments[0].size == read_job(path).sides[0].sizes[0].size == "Größe"


def test_a_job_need_not_be_due(tmp_path):
    assert read_job(changed_job(tmp_path, lambda t: t["job"].pop("due"))).due is None


def test_an_outline_of_a_side_lies_round_its_middle(tmp_path):
    corners = [[-200, -300], [200, -300], [280, 350], [-280, 350]]
    path = changed_job(tmp_path, lambda t: t["sides"][0].update(outline={"polygon": corners}))
    outline = read_job(path).side("back").outline
    assert outline is not None
    assert outline.box == Box(0, 50, 560, 650)


def test_toml_and_json_give_the_same_job(tmp_path):
    (tmp_path / "vests.toml").write_text(TOML, encoding="utf-8")
    table = tomllib.loads(TOML)
    table["job"]["due"] = "2026-12-11"
    assert read_job(tmp_path / "vests.toml") == read_job(write_job(tmp_path, table))


def test_a_mark_in_front_of_the_text_and_windows_line_ends_change_nothing(tmp_path):
    (tmp_path / "vests.toml").write_text(TOML, encoding="utf-8")
    marked = tmp_path / "marked.toml"
    marked.write_bytes(b"\xef\xbb\xbf" + TOML.replace("\n", "\r\n").encode())
    assert read_job(marked) == read_job(tmp_path / "vests.toml")


def test_an_ending_in_capitals_is_the_same_ending(tmp_path):
    (tmp_path / "VESTS.TOML").write_text(TOML, encoding="utf-8")
    assert read_job(tmp_path / "VESTS.TOML").reference == "LC-0147"


def test_a_reading_leaves_no_file_behind(tmp_path):
    path = write_job(tmp_path, small_job())
    before = sorted(tmp_path.rglob("*"))
    read_job(path)
    assert sorted(tmp_path.rglob("*")) == before

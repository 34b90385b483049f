"""Every fault of a job file is told with its file, its place and a mend, and all of them at once."""

from collections.abc import Callable
from typing import Any

import pytest

from models.job.reader import read_job
from tests.job_files import Table, changed_job, faults_of, glitter, only_fault_of, piece, small_job, write_job

Change = Callable[[Table], object]


def put(way: str, value: Any) -> Change:
    """Sets the value at the end of `way`, such as "press.platen"; "pieces.0.at" is the first piece's."""

    def change(table: Table) -> None:
        *steps, last = [int(step) if step.isdigit() else step for step in way.split(".")]
        inner: Any = table
        for step in steps:
            inner = inner[step]
        inner[last] = value

    return change


def drop(way: str) -> Change:
    def change(table: Table) -> None:
        *steps, last = [int(step) if step.isdigit() else step for step in way.split(".")]
        inner: Any = table
        for step in steps:
            inner = inner[step]
        del inner[last]

    return change


LIFE_RING = 'pieces[1] "life-ring"'
ANCHOR = 'pieces[2] "anchor-1"'
BACK = 'sides[1] "back"'
FOAM = "materials.raised-foam"

KEYS = [
    (drop("format"), "format", "missing"),
    (drop("job"), "job", "missing"),
    (drop("garments"), "garments", "missing"),
    (drop("job.reference"), "job.reference", "missing"),
    (drop("press.platen"), "press.platen", "missing"),
    (drop("fabric.hottest"), "fabric.hottest", "missing"),
    (drop("sides.0.size"), f"{BACK} size", "missing"),
    (drop("materials.raised-foam.guard"), f"{FOAM}.guard", "missing"),
    (drop("materials.raised-foam.dwell.longest"), f"{FOAM}.dwell.longest", "missing"),
    (drop("pieces.1.at"), f"{ANCHOR} at", "missing"),
    (drop("pieces.1.shape.width"), f"{ANCHOR} shape", "width"),
    (put("colour", "red"), "colour", "not a key"),
    (put("fabric.hotest", 150), "fabric.hotest", 'did you mean "hottest"'),
    (put("pieces.1.trun", 90), f"{ANCHOR} trun", 'did you mean "turn"'),
    (put("pieces.0.shape.radius", 20), f"{LIFE_RING} shape.radius", "not a key"),
    (put("sides.0.zones.0.lable", "x"), f"{BACK} zones[1].lable", 'did you mean "label"'),
    (put("materials.raised-foam.dwell.most", 9), f"{FOAM}.dwell.most", "not a key"),
    (put("materials.raised-foam.thermal", {"densty": 9}), f"{FOAM}.thermal.densty", '"density"'),
]

TYPES = [
    (put("format", 2), "format", "1"),
    (put("format", "1"), "format", "1"),
    (put("units", {"length": "cm"}), "units.length", "mm"),
    (put("units", {"temperature": "K"}), "units.temperature", "C"),
    (put("units", "mm"), "units", "table"),
    (put("job.name", 5), "job.name", "text"),
    (put("job.name", "  "), "job.name", ""),
    (put("job.name", "Crew\nvests"), "job.name", ""),
    (put("job.reference", "../LC"), "job.reference", ""),
    (put("job.due", "11.12.2026"), "job.due", "2026-12-11"),
    (put("job.due", "2026-02-30"), "job.due", ""),
    (put("job.due", 20261211), "job.due", ""),
    (put("press.platen", 400), "press.platen", "list"),
    (put("press.platen", [400]), "press.platen[2]", "missing"),
    (put("press.platen", [400, 500, 600]), "press.platen", ""),
    (put("press.platen", [400, "500"]), "press.platen[2]", "number"),
    (put("press.platen", [400, -500]), "press.platen[2]", "more than 0"),
    (put("press.platen", [0, 500]), "press.platen[1]", "more than 0"),
    (put("press.temperature", [220, 100]), "press.temperature", ""),
    (put("press.handling_s", -1), "press.handling_s", "at least 0"),
    (put("press.shortest_s", 2.5), "press.shortest_s", "whole number"),
    (put("press.heating_s_per_degree", True), "press.heating_s_per_degree", "number"),
    (put("fabric", []), "fabric", "table"),
    (put("fabric.hottest", "hot"), "fabric.hottest", "number"),
    (put("fabric.hottest", float("nan")), "fabric.hottest", ""),
    (put("fabric.thickness", float("inf")), "fabric.thickness", ""),
    (put("fabric.grams_per_m2", 0), "fabric.grams_per_m2", "more than 0"),
    (put("sides.0.size", [560, -700]), f"{BACK} size[2]", "more than 0"),
    (put("sides.0.zones.0.kind", "metal"), f"{BACK} zones[1].kind", "keep-out"),
    (put("sides.0.zones.0.box", [0, 120, 0, 12]), f"{BACK} zones[1].box[3]", "more than 0"),
    (put("materials.raised-foam.guard", "no"), f"{FOAM}.guard", "true or false"),
    (put("materials.raised-foam.guard", 1), f"{FOAM}.guard", "true or false"),
    (put("materials.raised-foam.pressure", "firm"), f"{FOAM}.pressure", "list"),
    (put("materials.raised-foam.pressure", []), f"{FOAM}.pressure", ""),
    (put("materials.raised-foam.pressure", ["hard"]), f"{FOAM}.pressure[1]", "firm"),
    (put("materials.raised-foam.peel", "lukewarm"), f"{FOAM}.peel", "warm"),
    (put("materials.raised-foam.peel", "none"), FOAM, "carrier"),
    (put("materials.printed-twill.peel", "hot"), "materials.printed-twill", "carrier"),
    (put("materials.raised-foam.carrier_margin", -1), f"{FOAM}.carrier_margin", "at least 0"),
    (put("materials.raised-foam.takes_on_top", 5), f"{FOAM}.takes_on_top", ""),
    (put("materials.raised-foam.finish", 2.5), f"{FOAM}.finish", "whole number"),
    (put("materials.raised-foam.thermal", 0.2), f"{FOAM}.thermal", "table"),
    (put("materials.raised-foam.thermal", {"density": 0}), f"{FOAM}.thermal.density", "more than 0"),
    (put("materials.raised-foam.thermal", {"conductivity": 600}), f"{FOAM}.thermal.conductivity", "at most"),
    (put("materials.raised-foam.dwell.least", 0), f"{FOAM}.dwell.least", "at least 1"),
    (put("materials.raised-foam.dwell.first", -1), f"{FOAM}.dwell.first", "at least 0"),
    (put("materials.raised-foam.dwell.least", "15 s"), f"{FOAM}.dwell.least", "whole number"),
    (put("pieces.1.at", [280]), f"{ANCHOR} at[2]", "missing"),
    (put("pieces.1.turn", "left"), f"{ANCHOR} turn", "number"),
    (put("pieces.1.shape", 50), f"{ANCHOR} shape", "table"),
    (put("pieces.1.shape", {}), f"{ANCHOR} shape", "circle"),
    (put("pieces.1.shape", {"circle": 5, "box": [5, 5]}), f"{ANCHOR} shape", "circle"),
    (put("pieces.0.shape.circle", -50), f"{LIFE_RING} shape.circle", "more than 0"),
    (put("pieces.0.shape.circle", float("nan")), f"{LIFE_RING} shape.circle", ""),
    (put("pieces.0.shape", {"polygon": [[0, 0], [9, 9]]}), f"{LIFE_RING} shape.polygon", "three points"),
    (put("pieces.0.shape", {"polygon": [[0, 0], [9, 9], "a"]}), f"{LIFE_RING} shape.polygon[3]", "list"),
    (put("pieces", []), "pieces", ""),
    (put("sides.1", 7), "sides[2]", "table"),
    (put("garments", {}), "garments", "roster"),
    (put("garments", {"sizes": {"S": 1}, "roster": "crew.csv"}), "garments", "roster"),
    (put("garments.sizes.S", -1), "garments.sizes.S", "at least"),
    (put("garments.sizes.S", 1.5), "garments.sizes.S", "whole number"),
]  # fmt: skip

WINDOWS = [
    (put("materials.raised-foam.temperature.set", 161), f"{FOAM}.temperature"),
    (put("materials.raised-foam.temperature.set", 144), f"{FOAM}.temperature"),
    (put("materials.raised-foam.temperature.lowest", 156), f"{FOAM}.temperature"),
    (put("materials.raised-foam.dwell.least", 26), f"{FOAM}.dwell"),
    (put("materials.raised-foam.dwell.longest", 61), f"{FOAM}.dwell"),
    (put("materials.raised-foam.dwell.first", 16), f"{FOAM}.dwell"),
]

NAMES = [
    (put("pieces.0.side", "bakc"), f"{LIFE_RING} side", 'did you mean "back"'),
    (put("pieces.0.side", "sleeve"), f"{LIFE_RING} side", "front"),
    (put("pieces.0.material", "raised-foan"), f"{LIFE_RING} material", 'did you mean "raised-foam"'),
    (
        put("materials.raised-foam.takes_on_top", ["gliter-film"]),
        f"{FOAM}.takes_on_top",
        'did you mean "glitter-film"',
    ),
    (put("pieces.1.id", "life-ring"), 'pieces[2] "life-ring"', "name"),
    (put("sides.1.name", "back"), 'sides[2] "back"', "name"),
]

OUTLINES = [
    ({"polygon": [[-20, -20], [20, 20], [20, -20], [-20, 20]]}, "crosses itself"),
    ({"polygon": [[-20, -20], [0, 0], [20, 20]]}, "area"),
    ({"polygon": [[0, 0], [0, 0], [0, 0]]}, "area"),
]

ids = [f"{place} {n}" for n, (_, place, *_) in enumerate([*KEYS, *TYPES])]


@pytest.mark.parametrize(("change", "place", "word"), [*KEYS, *TYPES], ids=ids)
def test_a_wrong_key_or_value_is_told_with_its_place(change, place, word, tmp_path):
    fault = only_fault_of(changed_job(tmp_path, change))
    assert (fault.file, fault.place) == ("vests.json", place)
    assert word in f"{fault.wrong}; {fault.mend}"
    assert fault.mend


@pytest.mark.parametrize(("change", "place"), WINDOWS)
def test_a_window_that_is_upside_down_is_told(change, place, tmp_path):
    fault = only_fault_of(changed_job(tmp_path, change))
    assert (fault.file, fault.place) == ("vests.json", place)


@pytest.mark.parametrize(("change", "place", "word"), NAMES)
def test_a_name_that_nothing_defines_or_that_stands_twice_is_told(change, place, word, tmp_path):
    faults = [fault for fault in faults_of(changed_job(tmp_path, change)) if fault.place.startswith(place)]
    assert any(word in f"{fault.wrong}; {fault.mend}" for fault in faults)


@pytest.mark.parametrize(("shape", "word"), OUTLINES)
def test_an_outline_that_crosses_itself_or_has_no_area_is_told(shape, word, tmp_path):
    fault = only_fault_of(changed_job(tmp_path, put("pieces.0.shape", shape)))
    assert (fault.file, fault.place) == ("vests.json", f"{LIFE_RING} shape.polygon")
    assert word in fault.wrong


def test_the_outline_of_a_side_is_judged_too(tmp_path):
    crossed = {"polygon": [[-20, -20], [20, 20], [20, -20], [-20, 20]]}
    fault = only_fault_of(changed_job(tmp_path, put("sides.0.outline", crossed)))
    assert fault.place == f"{BACK} outline.polygon"


def test_a_piece_half_on_its_side_may_hang_over(tmp_path):
    read_job(changed_job(tmp_path, put("pieces.0.at", [0, 240])))


def test_a_piece_off_its_side_by_more_than_half_is_told(tmp_path):
    fault = only_fault_of(changed_job(tmp_path, put("pieces.0.at", [-1, 240])))
    assert (fault.file, fault.place) == ("vests.json", f"{LIFE_RING} at")


def test_glitter_may_lie_on_foam_but_not_foam_on_glitter(tmp_path):
    """Common practice, no source; the refusal names both pieces."""
    fault = only_fault_of(changed_job(tmp_path, lambda table: table["pieces"].reverse()))
    told = f"{fault.place} {fault.wrong}"
    assert "anchor-1" in told
    assert "light" in told


def test_pieces_that_lie_side_by_side_are_not_stacked(tmp_path):
    beside = piece("light", "printed-twill", [310, 240], {"box": [20, 20]})
    read_job(changed_job(tmp_path, put("pieces.2", beside)))


def test_a_material_may_not_be_called_any(tmp_path):
    fault = only_fault_of(changed_job(tmp_path, put("materials.any", glitter())))
    assert fault.place == "materials.any"


def test_no_garment_is_no_batch(tmp_path):
    fault = only_fault_of(changed_job(tmp_path, put("garments.sizes", {"S": 0})))
    assert fault.place.startswith("garments")


def test_all_faults_are_told_at_once_each_with_its_place(tmp_path):
    (tmp_path / "crew.csv").write_text("size,name,quantity\nM,Ndiaye,none\n", encoding="utf-8")
    path = changed_job(
        tmp_path,
        drop("press.platen"),
        put("fabric.hotest", 150),
        put("materials.raised-foam.dwell.least", 26),
        put("pieces.0.side", "bakc"),
        put("pieces.1.shape", {"svg": "art/no.svg", "width": 40}),
        put("pieces.2.at", [280, 2400]),
        put("garments", {"roster": "crew.csv"}),
    )
    assert {(fault.file, fault.place) for fault in faults_of(path)} == {
        ("vests.json", "press.platen"),
        ("vests.json", "fabric.hotest"),
        ("vests.json", f"{FOAM}.dwell"),
        ("vests.json", f"{LIFE_RING} side"),
        ("vests.json", f"{ANCHOR} shape.svg"),
        ("vests.json", 'pieces[3] "light" at'),
        ("crew.csv", "line 2"),
    }


def test_a_faulty_drawing_is_told_once_however_often_it_is_used(tmp_path):
    path = changed_job(
        tmp_path,
        put("pieces.0.shape", {"svg": "art/anchor.svg", "width": 30}),
        put("pieces.2.shape", {"svg": "art/anchor.svg", "width": 50}),
    )
    (tmp_path / "art" / "anchor.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg"><path d="M 0 0 L 9 9 V 0 L 0 9 Z"/></svg>'
    )
    fault = only_fault_of(path)
    assert fault.file == "art/anchor.svg"
    assert "crosses itself" in fault.wrong


@pytest.mark.parametrize("size", ["", "  ", "M\nL"])
def test_a_size_is_one_line_of_text(size, tmp_path):
    fault = only_fault_of(changed_job(tmp_path, put("garments.sizes", {size: 1})))
    assert fault.place.startswith("garments.sizes")


def test_very_many_names_are_one_fault_and_not_one_each(tmp_path):
    names = [f"film-{n}" for n in range(10_000)]
    fault = only_fault_of(changed_job(tmp_path, put("materials.raised-foam.takes_on_top", names)))
    assert fault.place == f"{FOAM}.takes_on_top"


def test_a_faulty_side_does_not_make_its_pieces_lost(tmp_path):
    fault = only_fault_of(changed_job(tmp_path, put("sides.0.size", [560])))
    assert fault.place == f"{BACK} size[2]"


def test_a_faulty_material_does_not_make_its_pieces_lost(tmp_path):
    fault = only_fault_of(changed_job(tmp_path, drop("materials.raised-foam.peel")))
    assert fault.place == f"{FOAM}.peel"


def test_each_fault_is_one_line_whatever_the_file_says(tmp_path):
    table = small_job()
    table["pieces"][0]["side"] = "a\nb"
    table["pieces"][0]["id"] = "c\nd"
    table["k\ney"] = 1
    for fault in faults_of(write_job(tmp_path, table)):
        assert "\n" not in str(fault)

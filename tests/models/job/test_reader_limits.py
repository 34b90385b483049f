"""What is too large, leads out of the job's folder or is no text at all is refused in plain lines."""

import json
import math
import os
import time
from pathlib import Path

import pytest

from models.job.reader import read_job
from tests.job_files import Table, changed_job, faults_of, only_fault_of, piece, small_job, write_job

LARGEST_BYTES = 20_000_000


def with_drawing(folder: Path, name: str) -> Path:
    return changed_job(folder, lambda table: table["pieces"][1]["shape"].update(svg=name))


def with_roster(folder: Path, name: str) -> Path:
    return changed_job(folder, lambda table: table.update(garments={"roster": name}))


def small_pieces(count: int) -> Table:
    """Twill disks side by side."""
    places = [[4 + 8 * (n % 60), 4 + 8 * (n // 60)] for n in range(count)]
    disks = [piece(f"disk-{n}", "printed-twill", at, {"circle": 6}) for n, at in enumerate(places)]
    return small_job() | {"pieces": disks}


def round_pieces_in_one_place(count: int) -> Table:
    """Twill disks of 500 corners, each turned a little further; twill takes them on top."""
    table = small_job()
    table["materials"]["printed-twill"]["takes_on_top"] = "any"
    disks = [piece(f"disk-{n}", "printed-twill", [280, 350], {"polygon": disk(n)}) for n in range(count)]
    return table | {"pieces": disks}


def disk(turn: float) -> list[list[float]]:
    """500 corners on a circle of 12 mm around the origin."""
    angles = [math.tau * (n + turn / 7) / 500 for n in range(500)]
    return [[12 * math.cos(angle), 12 * math.sin(angle)] for angle in angles]


def grow(path: Path, size: int) -> None:
    """A file of that many bytes that takes no room on the disk."""
    with path.open("ab") as file:
        file.truncate(size)


def test_a_job_file_over_20_mb_is_refused(tmp_path):
    path = write_job(tmp_path, small_job())
    padded = path.read_bytes().ljust(LARGEST_BYTES)
    path.write_bytes(padded)
    assert len(read_job(path).pieces) == 3
    path.write_bytes(padded + b" ")
    fault = only_fault_of(path)
    assert fault.file == "vests.json"
    assert fault.wrong == "is larger than 20 MB"


def test_a_drawing_over_20_mb_is_refused(tmp_path):
    path = write_job(tmp_path, small_job())
    grow(tmp_path / "art" / "anchor.svg", LARGEST_BYTES + 1)
    assert "20 MB" in str(only_fault_of(path))


def test_a_roster_over_20_mb_is_refused(tmp_path):
    (tmp_path / "crew.csv").write_text("size\nM\n")
    grow(tmp_path / "crew.csv", LARGEST_BYTES + 1)
    assert "20 MB" in str(only_fault_of(with_roster(tmp_path, "crew.csv")))


def test_500_pieces_are_read(tmp_path):
    assert len(read_job(write_job(tmp_path, small_pieces(500))).pieces) == 500


def test_501_pieces_are_refused_in_one_line(tmp_path):
    fault = only_fault_of(write_job(tmp_path, small_pieces(501)))
    assert fault.place == "pieces"
    assert "500" in fault.wrong


def test_500_outlines_of_500_corners_in_one_place_are_refused_at_once(tmp_path):
    began = time.process_time()
    fault = only_fault_of(write_job(tmp_path, round_pieces_in_one_place(500)))
    assert (fault.place, fault.wrong) == ("pieces", "lie over each other in more than 1,000,000 corners")
    assert fault.mend == "draw them with fewer points, or lay them apart"
    assert time.process_time() - began < 10


def test_a_pile_of_ten_such_outlines_is_read(tmp_path):
    assert len(read_job(write_job(tmp_path, round_pieces_in_one_place(10))).pieces) == 10


def test_500_outlines_of_500_corners_side_by_side_are_read(tmp_path):
    table = round_pieces_in_one_place(500)
    for n, disk in enumerate(table["pieces"]):
        disk["at"] = [12 + 25 * (n % 22), 12 + 25 * (n // 22)]
    assert len(read_job(write_job(tmp_path, table)).pieces) == 500


def test_5000_garments_are_read(tmp_path):
    path = changed_job(tmp_path, lambda table: table["garments"].update(sizes={"S": 2_500, "M": 2_500}))
    assert len(read_job(path).garments) == 5_000


def test_5001_garments_by_size_are_refused(tmp_path):
    path = changed_job(tmp_path, lambda table: table["garments"].update(sizes={"S": 2_500, "M": 2_501}))
    assert "5,000" in str(only_fault_of(path))


def test_a_size_of_very_many_garments_is_refused_without_making_them(tmp_path):
    path = changed_job(tmp_path, lambda table: table["garments"].update(sizes={"S": 10**300}))
    assert only_fault_of(path).place.startswith("garments")


def test_5001_garments_by_roster_are_refused(tmp_path):
    (tmp_path / "crew.csv").write_text("size,quantity\nM,5000\nL,1\n")
    fault = only_fault_of(with_roster(tmp_path, "crew.csv"))
    assert (fault.file, fault.place) == ("crew.csv", "line 3")
    assert "5,000" in fault.wrong


@pytest.mark.parametrize(
    "name", ["../anchor.svg", "art/../../anchor.svg", "..\\anchor.svg", "/etc/hostname", "C:\\a.svg"]
)
def test_a_drawing_outside_the_jobs_folder_is_refused(name, tmp_path):
    (tmp_path / "job").mkdir()
    (tmp_path / "anchor.svg").write_text("<svg/>")
    fault = only_fault_of(with_drawing(tmp_path / "job", name))
    assert (fault.file, fault.place) == ("vests.json", 'pieces[2] "anchor-1" shape.svg')
    assert "folder" in fault.wrong


@pytest.mark.parametrize("name", ["../crew.csv", "/etc/hostname"])
def test_a_roster_outside_the_jobs_folder_is_refused(name, tmp_path):
    (tmp_path / "job").mkdir()
    (tmp_path / "crew.csv").write_text("size\nM\n")
    fault = only_fault_of(with_roster(tmp_path / "job", name))
    assert (fault.file, fault.place) == ("vests.json", "garments.roster")
    assert "folder" in fault.wrong


def test_a_link_that_leads_out_of_the_jobs_folder_is_refused(tmp_path):
    (tmp_path / "job").mkdir()
    (tmp_path / "secret.svg").write_text("<svg/>")
    (tmp_path / "job" / "link.svg").symlink_to(tmp_path / "secret.svg")
    assert "folder" in only_fault_of(with_drawing(tmp_path / "job", "link.svg")).wrong


def test_links_that_go_in_a_circle_are_refused(tmp_path):
    (tmp_path / "one.svg").symlink_to(tmp_path / "two.svg")
    (tmp_path / "two.svg").symlink_to(tmp_path / "one.svg")
    assert only_fault_of(with_drawing(tmp_path, "one.svg")).place == 'pieces[2] "anchor-1" shape.svg'


def test_a_link_within_the_jobs_folder_is_followed(tmp_path):
    path = with_drawing(tmp_path, "link.svg")
    (tmp_path / "link.svg").symlink_to(tmp_path / "art" / "anchor.svg")
    assert read_job(path).piece("anchor-1").box.width == pytest.approx(40)


@pytest.mark.parametrize("name", ["art/no.svg", "art", "a\x00b.svg", "n" * 5_000])
def test_a_drawing_that_cannot_be_opened_is_told_where_it_is_named(name, tmp_path):
    fault = only_fault_of(with_drawing(tmp_path, name))
    assert (fault.file, fault.place) == ("vests.json", 'pieces[2] "anchor-1" shape.svg')


def test_a_missing_roster_is_told_where_it_is_named(tmp_path):
    fault = only_fault_of(with_roster(tmp_path, "no.csv"))
    assert (fault.file, fault.place) == ("vests.json", "garments.roster")
    assert "no.csv" in fault.wrong


def test_a_missing_job_file_is_one_plain_line(tmp_path):
    fault = only_fault_of(tmp_path / "no.toml")
    assert fault.file == "no.toml"
    assert "\n" not in str(fault)


def test_a_folder_is_no_job_file(tmp_path):
    (tmp_path / "folder.toml").mkdir()
    assert "folder" in only_fault_of(tmp_path / "folder.toml").wrong


def test_a_pipe_is_refused_and_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.toml")
    assert only_fault_of(tmp_path / "pipe.toml").file == "pipe.toml"


def test_another_ending_is_refused(tmp_path):
    path = write_job(tmp_path, small_job(), "vests.txt")
    assert ".toml" in str(only_fault_of(path))


def test_a_file_that_is_not_utf_8_is_told_with_its_line(tmp_path):
    path = tmp_path / "vests.toml"
    path.write_bytes('format = 1\n[job]\nname = "Vängren"\n'.encode("cp1252"))
    fault = only_fault_of(path)
    assert (fault.file, fault.place) == ("vests.toml", "line 3")
    assert "UTF-8" in str(fault)


@pytest.mark.parametrize(
    ("file", "text", "place"),
    [
        ("vests.toml", 'format = 1\n[job]\nname = "Crew', "line 3"),
        ("vests.toml", "format = 1\nformat = 1\n", "line 2"),
        ("vests.toml", "format = = 1\n", "line 1"),
        ("vests.json", '{"format": 1,\n "job": }', "line 2"),
        ("vests.json", '{"format": 1', "line 1"),
    ],
)
def test_a_slip_of_the_pen_is_told_with_its_line(file, text, place, tmp_path):
    (tmp_path / file).write_text(text)
    fault = only_fault_of(tmp_path / file)
    assert (fault.file, fault.place.split(",")[0]) == (file, place)


def test_a_key_that_stands_twice_in_json_is_refused(tmp_path):
    (tmp_path / "vests.json").write_text('{"format": 1, "format": 1}')
    assert '"format"' in only_fault_of(tmp_path / "vests.json").wrong


@pytest.mark.parametrize("text", ["[]", "7", '"format"', "null"])
def test_json_that_is_no_table_is_refused(text, tmp_path):
    (tmp_path / "vests.json").write_text(text)
    assert only_fault_of(tmp_path / "vests.json").file == "vests.json"


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("vests.json", "[" * 100_000),
        ("vests.json", '{"a":' * 100_000),
        ("vests.toml", "a = " + "[" * 100_000),
        ("vests.toml", "a = " + "{a=" * 100_000),
    ],
)
def test_tables_nested_without_end_are_refused(file, text, tmp_path):
    (tmp_path / file).write_text(text)
    assert only_fault_of(tmp_path / file).file == file


@pytest.mark.parametrize("number", ["9" * 5_000, "1e999", "NaN", "-Infinity"])
def test_a_number_beyond_all_bounds_is_refused(number, tmp_path):
    text = json.dumps(small_job()).replace('"hottest": 160', f'"hottest": {number}')
    (tmp_path / "vests.json").write_text(text)
    (tmp_path / "art").mkdir()
    (tmp_path / "art" / "anchor.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg"><rect width="1" height="2"/></svg>'
    )
    assert only_fault_of(tmp_path / "vests.json").file == "vests.json"


@pytest.mark.parametrize("length", [1e300, 1e-300, 10**400])
def test_a_length_beyond_all_bounds_is_refused(length, tmp_path):
    path = changed_job(tmp_path, lambda table: table["pieces"][0]["shape"].update(circle=length))
    assert faults_of(path)


def test_half_a_letter_is_refused(tmp_path):
    """A lone surrogate, which JSON can write, stands for no letter, and no database takes it."""
    path = changed_job(tmp_path, lambda table: table["job"].update(name="\ud800"))
    assert only_fault_of(path).file == "vests.json"


def test_half_a_letter_in_a_key_is_refused(tmp_path):
    path = changed_job(tmp_path, lambda table: table["garments"].update(sizes={"\ud800": 1}))
    assert faults_of(path)

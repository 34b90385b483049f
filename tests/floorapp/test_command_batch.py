"""The commands for a batch that is loaded: its review, its list, its tags."""

import csv
import json
import os
from io import StringIO

from click.testing import CliRunner

from floorapp.command_line import main
from tests.floorapp.commands import run, run_for_real


def test_an_unknown_batch_is_refused_in_a_line(database, batch):
    done = run("--database", database, "review", "LC-9999")
    assert done.exit_code == 2
    assert "LC-9999" in done.stderr


def test_a_batch_named_in_another_encoding_is_refused_in_a_line(database, batch, tmp_path):
    named = os.fsdecode(b"gr\xfcn")
    for words in (("review", named), ("tags", named, "--out", tmp_path / "tags.pdf"), ("find", named)):
        done = run("--database", database, *words)
        assert (done.exit_code, done.stdout) == (2, "")
        assert done.stderr == "a word of this command is not UTF-8 text; type it anew\n"


def test_tags_whose_place_cannot_be_written_are_refused_before_any_is_drawn(database, batch, tmp_path):
    (tmp_path / "wall").write_bytes(b"")
    refused = run("--database", database, "tags", batch, "--out", tmp_path / "wall" / "tags.pdf")
    assert refused.exit_code == 2
    assert "Tags drawn" not in refused.stderr


def test_the_review_as_json_names_the_batch_and_its_counts(database, batch):
    told = json.loads(run("--database", database, "review", batch, "--json").output)
    assert told["batch"] == batch
    assert told["by_state"]["idle"] == 2
    assert told["key_figures"]["first_pass_yield"] is None


def test_the_list_is_written_for_a_spreadsheet(database, batch, tmp_path):
    target = tmp_path / "vests.csv"
    assert run("--database", database, "review", batch, "--csv", target).exit_code == 0
    rows = list(csv.DictReader(StringIO(target.read_text(encoding="utf-8-sig"), newline="")))
    assert [row["wearer"] for row in rows] == ["Ines Okafor", "Tor Lindqvist"]


def test_a_list_that_cannot_be_written_is_refused_in_a_line(database, batch, tmp_path):
    (tmp_path / "lists").write_text("a file where a folder should be")
    done = run("--database", database, "review", batch, "--csv", tmp_path / "lists" / "vests.csv")
    assert done.exit_code == 2
    assert "cannot be written" in done.stderr


def test_json_and_csv_at_once_is_refused(database, batch, tmp_path):
    assert run("--database", database, "review", batch, "--json", "--csv", tmp_path / "x.csv").exit_code == 2


def test_tags_are_written_on_sheets(database, batch, tmp_path):
    target = tmp_path / "tags.pdf"
    done = run("--database", database, "tags", batch, "--out", target, "--paper", "letter")
    assert done.exit_code == 0, done.output
    assert target.read_bytes().startswith(b"%PDF")
    assert "2 tags" in done.stdout


def test_tags_are_written_on_labels(database, batch, tmp_path):
    from PIL import Image

    folder = tmp_path / "labels"
    done = run("--database", database, "tags", batch, "--out", folder, "--label", "62x29", "--dpi", "300")
    assert done.exit_code == 0, done.output
    with Image.open(sorted(folder.glob("*.png"))[0]) as label:
        assert label.size == (732, 343)


def test_progress_goes_to_standard_error_in_plain_lines(database, batch, tmp_path):
    done = run_for_real("--database", database, "tags", batch, "--out", tmp_path / "tags.pdf")
    assert done.stderr.splitlines()[-1] == "Tags drawn and read back: 4 of 4"
    assert "read back" not in done.stdout


def test_a_sheet_that_is_no_pdf_is_refused(database, batch, tmp_path):
    done = run("--database", database, "tags", batch, "--out", tmp_path / "tags")
    assert done.exit_code == 2
    assert "--label 62x29" in done.stderr


def test_a_label_too_small_for_its_symbol_is_refused(database, batch, tmp_path):
    done = run("--database", database, "tags", batch, "--out", tmp_path, "--label", "10x10")
    assert done.exit_code == 2
    assert "too small" in done.stderr


def test_labels_into_a_file_are_refused_before_they_are_drawn(database, batch, tmp_path):
    sheet = tmp_path / "tags.pdf"
    sheet.write_bytes(b"as it was")
    done = run("--database", database, "tags", batch, "--out", sheet, "--label", "62x29")
    assert done.exit_code == 2
    assert "is a file: labels go into a folder" in done.stderr
    assert "drawn" not in done.stderr
    assert sheet.read_bytes() == b"as it was"


def test_a_label_finer_than_any_printer_is_refused(database, batch, tmp_path):
    done = run("--database", database, "tags", batch, "--out", tmp_path, "--label", "62x29", "--dpi", "30000")
    assert done.exit_code == 2
    assert "1<=x<=1200" in done.stderr


def test_the_database_may_be_named_in_the_environment(database, batch):
    done = CliRunner(env={"FLOORAPP_DATABASE": database}).invoke(main, ["review", batch])
    assert done.exit_code == 0, done.output

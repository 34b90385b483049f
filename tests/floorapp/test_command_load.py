"""The command that stores a batch: what it prints, what is kept, and that nothing is where it is refused."""

from random import Random

from pypdfium2 import PdfDocument

from models.recipe.places import Place
from models.store.store import Store
from printables.system_fonts import system_fonts
from tests.floorapp.commands import JOB, run
from tests.held_clock import HeldClock
from tests.tiny_fonts import make_font


def test_loading_prints_the_reference_and_a_code_for_each_garment(job, database):
    done = run("--database", database, "load", job)
    reference, *garments = done.stdout.splitlines()
    assert done.exit_code == 0
    assert reference == "LC-0147"
    assert [line.split("\t")[1:] for line in garments] == [["1", "S"], ["2", "M"], ["3", "M"]]
    assert len({line.split("\t")[0] for line in garments}) == 3


def test_a_loaded_batch_is_there_for_the_next_command(job, database):
    run("--database", database, "load", job)
    told = run("--database", database, "review", "LC-0147").output
    assert "Lightship crew vests (LC-0147)" in told
    assert "3 idle" in told


def test_a_loaded_batch_keeps_what_gets_too_little_heat(hurried, database):
    done = run("--database", database, "load", hurried)
    assert done.exit_code == 0
    assert "Too little time at heat: life ring" in done.stderr
    store = Store.open(database, HeldClock(), Random(1))
    recipe = store.recipe(store.batch("LC-0147").id)
    store.close()
    assert [finding.piece for finding in recipe.heat_findings] == ["life-ring"]


def with_roster(job, roster: str):
    """The job with its wearers in a file."""
    (job.parent / "crew.csv").write_text(roster, encoding="utf-8")
    job.write_text(JOB.replace("sizes = { S = 1, M = 2 }", 'roster = "crew.csv"'), encoding="utf-8")
    return job


def test_columns_of_the_roster_that_are_left_out_are_told_and_the_batch_is_loaded(job, database):
    with_roster(job, "size,name,Cap\nS,Quaye,57\nM,Voss,58\n")
    note = "Note: crew.csv: line 1: columns left out: Cap\n"
    planned = run("plan", job)
    loaded = run("--database", database, "load", job)
    assert (planned.exit_code, planned.stderr) == (0, note)
    assert (loaded.exit_code, loaded.stderr.startswith(note)) == (0, True)
    assert [line.split("\t")[1:] for line in loaded.stdout.splitlines()[1:]] == [
        ["1", "S", "Quaye"],
        ["2", "M", "Voss"],
    ]


def test_a_wearer_whose_name_no_font_can_draw_is_told_when_the_batch_is_loaded(job, database):
    with_roster(job, "size,name,number\nS,山田,3\nM,Voss,4\n")
    loaded = run("--database", database, "load", job)
    assert loaded.exit_code == 0
    assert loaded.stderr.splitlines()[:2] == [
        "Note: No 3 山田: no font for U+5C71, U+7530",
        "Note: Letters without a font are printed and shown by their codes. Install a font that has them, "
        "or name its folder in FLOORAPP_FONTS.",
    ]


def test_a_font_in_the_folder_that_is_named_prints_such_a_name(job, database, tmp_path, monkeypatch):
    make_font(tmp_path / "fonts" / "squares.ttf", "山田")
    monkeypatch.setenv("FLOORAPP_FONTS", str(tmp_path / "fonts"))
    system_fonts.cache_clear()
    try:
        with_roster(job, "size,name,number\nS,山田,3\n")
        assert "no font" not in run("--database", database, "load", job).stderr
        assert run("--database", database, "tags", "LC-0147", "--out", tmp_path / "tags.pdf").exit_code == 0
    finally:
        system_fonts.cache_clear()
    with PdfDocument(tmp_path / "tags.pdf") as document:
        assert "山田" in document[0].get_textpage().get_text_range()


def test_a_loaded_batch_keeps_its_rests(on_a_carrier, database):
    assert run("--database", database, "load", on_a_carrier).exit_code == 0
    store = Store.open(database, HeldClock(), Random(1))
    recipe = store.recipe(store.batch("LC-0147").id)
    store.close()
    assert [(r.piece, r.until, r.place) for r in recipe.rests] == [("life-ring", "cold", at) for at in Place]


def test_nothing_is_stored_of_a_refused_job(job, database):
    job.write_text(JOB.replace('side = "back"', 'side = "bak"'))
    assert run("--database", database, "load", job).exit_code == 2
    assert run("--database", database, "review", "LC-0147").exit_code == 2


def test_loading_a_job_without_a_plan_ends_with_three_and_stores_nothing(job, database):
    job.write_text(JOB.replace("box = [500, 0, 20, 700]", "box = [270, 0, 20, 700]"))
    assert run("--database", database, "load", job).exit_code == 3
    assert run("--database", database, "review", "LC-0147").exit_code == 2

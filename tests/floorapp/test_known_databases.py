"""A database that has gone since the last start is asked about, and not made anew in silence."""

import stat
from pathlib import Path

import pytest

from floorapp.database_names import database_url
from floorapp.known_databases import MOST, DatabaseVanishedError, KnownDatabases
from tests.floorapp.commands import run

MEND = "restore a copy"


@pytest.fixture
def known(tmp_path: Path) -> KnownDatabases:
    return KnownDatabases(tmp_path / "state" / "databases.txt")


def test_a_database_that_was_there_and_is_gone_is_told(known: KnownDatabases, tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'floor.db'}"
    known.must_not_have_vanished(url, MEND)
    known.remember(url)
    with pytest.raises(DatabaseVanishedError, match=r"floor\.db: this database was here at the last start"):
        known.must_not_have_vanished(url, MEND)
    (tmp_path / "floor.db").touch()
    with pytest.raises(DatabaseVanishedError):  # emptied is gone as well
        known.must_not_have_vanished(url, MEND)
    (tmp_path / "floor.db").write_bytes(b"SQLite format 3")
    known.must_not_have_vanished(url, MEND)


def test_the_latest_are_remembered_and_a_server_looks_after_itself(
    known: KnownDatabases, tmp_path: Path
) -> None:
    urls = [f"sqlite:///{tmp_path / f'{n}.db'}" for n in range(MOST + 1)]
    for url in (*urls, "postgresql://ines@server/floor"):
        known.remember(url)

    known.must_not_have_vanished(urls[0], MEND)
    known.must_not_have_vanished("postgresql://ines@server/floor", MEND)
    for url in urls[1:]:
        with pytest.raises(DatabaseVanishedError):
            known.must_not_have_vanished(url, MEND)


def test_who_cannot_write_the_list_goes_without(tmp_path: Path) -> None:
    (tmp_path / "state").write_text("in the way")
    known = KnownDatabases(tmp_path / "state" / "databases.txt")
    known.remember(f"sqlite:///{tmp_path / 'floor.db'}")
    known.must_not_have_vanished(f"sqlite:///{tmp_path / 'floor.db'}", MEND)


def test_loading_into_a_database_that_has_gone_asks_for_the_word(
    database: str, job: Path, tmp_path: Path
) -> None:
    assert run("--database", database, "load", job).exit_code == 0
    for file in tmp_path.glob("floor.db*"):
        file.unlink()
    refused = run("--database", database, "load", job)

    assert refused.exit_code == 2
    assert "is gone" in refused.stderr
    assert "--new-database" in refused.stderr
    assert not list(tmp_path.glob("floor.db*"))
    assert run("--database", database, "load", "--new-database", job).exit_code == 0


@pytest.mark.parametrize("words", [("close", "LC-0147"), ("add", "LC-0147", "--size", "M")])
def test_no_other_command_makes_a_database(database: str, tmp_path: Path, words: tuple[str, ...]) -> None:
    refused = run("--database", database, *words)

    assert refused.exit_code == 2
    assert "there is no such database" in refused.stderr
    assert list(tmp_path.iterdir()) == []


def test_nobody_else_looks_into_the_shops_own_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    folder = tmp_path / "press-floor"
    folder.mkdir(mode=0o755)
    database_url(None)

    assert stat.S_IMODE(folder.stat().st_mode) == 0o700

import pytest

from printables.errors import CannotWriteError
from printables.whole_files import must_be_writable, write_whole


def test_a_file_replaces_the_one_that_stood_there(tmp_path):
    (tmp_path / "kit").write_bytes(b"old")
    write_whole([(tmp_path / "kit", b"new")])
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("kit", b"new")]


def test_if_one_file_cannot_be_written_none_is(tmp_path):
    (tmp_path / "wall").write_bytes(b"")
    with pytest.raises(CannotWriteError, match="cannot be written"):
        write_whole([(tmp_path / "kit", b"new"), (tmp_path / "wall" / "kit", b"new")])
    assert [path.name for path in tmp_path.iterdir()] == ["wall"]


def test_a_written_file_can_be_read_by_others_as_the_system_is_set(tmp_path):
    (tmp_path / "plain").write_bytes(b"")
    write_whole([(tmp_path / "kit", b"new")])
    assert (tmp_path / "kit").stat().st_mode == (tmp_path / "plain").stat().st_mode


def test_a_place_that_can_be_written_is_left_as_it_was(tmp_path):
    must_be_writable(tmp_path / "tags" / "tags.pdf")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("place", ["wall/tags.pdf", "."])
def test_a_place_that_cannot_be_written_is_refused_before_the_file_is_made(tmp_path, place):
    (tmp_path / "wall").write_bytes(b"")
    with pytest.raises(CannotWriteError, match="cannot be written"):
        must_be_writable(tmp_path / place)

"""Letters that no shipped font has are drawn by a font of the computer, where one of its folders has one."""

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from fontTools.ttLib.tables.DefaultTable import DefaultTable

from printables.system_fonts import NO_FONTS, SETTING, SystemFonts, font_folders, letters_drawn_by
from tests.tiny_fonts import make_font

NAME = "山田"


def search(folder: Path, letters: str) -> tuple[str, ...]:
    return SystemFonts([folder]).search(letters)


@pytest.mark.parametrize("file", ["deep/below/a.ttf", "a.TTF", "a.ttc"])
def test_a_font_is_found_wherever_it_lies_in_the_folder(tmp_path: Path, file: str) -> None:
    font = make_font(tmp_path / file, NAME)
    assert search(tmp_path, NAME) == (str(font),)


def test_letters_of_two_scripts_are_found_in_two_fonts(tmp_path: Path) -> None:
    fonts = [make_font(tmp_path / "a.ttf", "山"), make_font(tmp_path / "b.ttf", "ខ")]
    assert sorted(search(tmp_path, "山ខ")) == [str(font) for font in fonts]


def test_a_plain_face_is_taken_before_a_bold_or_slanted_one(tmp_path: Path) -> None:
    for name in ("A-Bold.ttf", "A-Italic.ttf", "Z-Regular.ttf"):
        make_font(tmp_path / name, NAME)
    assert search(tmp_path, NAME) == (str(tmp_path / "Z-Regular.ttf"),)


def test_where_no_font_has_a_letter_none_is_given(tmp_path: Path) -> None:
    make_font(tmp_path / "a.ttf", "山")
    assert search(tmp_path, "田") == NO_FONTS.search(NAME) == ()


def test_a_letter_that_a_font_leaves_blank_is_not_drawn_by_it(tmp_path: Path) -> None:
    assert letters_drawn_by(make_font(tmp_path / "a.ttf", "山", empty="田"), set(NAME)) == {"山"}


@pytest.mark.parametrize("pictures", ["CBDT", "sbix", "COLR"])
def test_a_font_of_coloured_pictures_is_passed_over(tmp_path: Path, pictures: str) -> None:
    assert letters_drawn_by(make_font(tmp_path / "a.ttf", "😀", pictures=pictures), {"😀"}) == set()


def test_a_font_that_may_not_be_embedded_is_passed_over(tmp_path: Path) -> None:
    assert letters_drawn_by(make_font(tmp_path / "a.ttf", NAME, fs_type=0x0002), set(NAME)) == set()
    assert letters_drawn_by(make_font(tmp_path / "b.ttf", NAME, fs_type=0x0008), set(NAME)) == set(NAME)


def test_a_font_that_shows_a_box_for_every_letter_is_passed_over(tmp_path: Path) -> None:
    make_font(tmp_path / "LastResort.ttf", NAME)
    assert search(tmp_path, NAME) == ()


@pytest.mark.parametrize("content", [b"", b"no font", b"\0\1\0\0" + b"\xff" * 200, b"ttcf" + b"\xff" * 40])
def test_a_broken_font_is_passed_over(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "a.ttf").write_bytes(content)
    whole = make_font(tmp_path / "b.ttf", NAME)
    (tmp_path / "c.ttf").write_bytes(whole.read_bytes()[:300])
    assert search(tmp_path, NAME) == (str(whole),)


@pytest.mark.parametrize("table", ["name", "OS/2", "post"])
def test_a_font_that_lacks_what_a_document_needs_is_passed_over(tmp_path: Path, table: str) -> None:
    with TTFont(make_font(tmp_path / "a.ttf", NAME)) as face:
        del face[table]
        face.save(tmp_path / "b.ttf")
    assert letters_drawn_by(tmp_path / "b.ttf", set(NAME)) == set()


def test_a_font_that_is_read_and_cannot_be_embedded_is_passed_over(tmp_path: Path) -> None:
    with TTFont(make_font(tmp_path / "a.ttf", NAME)) as face:
        face["GSUB"] = DefaultTable("GSUB")
        face["GSUB"].data = b"no substitutions"
        face.save(tmp_path / "b.ttf")
    assert letters_drawn_by(tmp_path / "b.ttf", set(NAME)) == set()


def test_a_folder_that_is_not_there_is_passed_over(tmp_path: Path) -> None:
    assert search(tmp_path / "gone", NAME) == ()


def test_what_was_found_is_known_and_what_was_never_sought_is_not(tmp_path: Path) -> None:
    fonts = SystemFonts([tmp_path])
    font = make_font(tmp_path / "a.ttf", "山")
    assert fonts.known("山") is None
    fonts.search(NAME)
    assert fonts.known("山") == fonts.known(NAME) == (str(font),)
    assert fonts.known("田") == ()


def test_a_font_that_was_installed_since_is_found(tmp_path: Path) -> None:
    fonts = SystemFonts([tmp_path])
    assert fonts.search(NAME) == ()
    font = make_font(tmp_path / "a.ttf", NAME)
    assert fonts.search(NAME) == (str(font),)


def test_each_system_keeps_its_fonts_where_it_does() -> None:
    home = Path("/people/ane")
    assert Path("/usr/share/fonts") in font_folders("linux", {}, home)
    assert home / ".local/share/fonts" in font_folders("linux", {}, home)
    assert font_folders("darwin", {}, home)[-1] == home / "Library/Fonts"
    assert font_folders("win32", {"WINDIR": "W", "LOCALAPPDATA": "L"}, home) == (
        Path("W/Fonts"),
        Path("L/Microsoft/Windows/Fonts"),
    )


@pytest.mark.parametrize("platform", ["linux", "darwin", "win32"])
def test_a_folder_that_is_named_is_taken_in_place_of_the_system_s(platform: str) -> None:
    assert font_folders(platform, {SETTING: "/srv/fonts"}, Path("/people/ane")) == (Path("/srv/fonts"),)

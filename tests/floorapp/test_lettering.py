"""Names in other scripts are drawn, in letters of a shipped font, and never as empty boxes."""

import gc
import weakref
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from floorapp.font_search import FontSearch
from printables.lettering import BOLD, REGULAR, runs_of
from printables.system_fonts import SystemFonts, system_fonts
from tests.floorapp.driver import Driver
from tests.tiny_fonts import make_font


@pytest.fixture
def fonts(stage: Driver, tmp_path: Path) -> Iterator[Callable[[str], FontSearch]]:
    """Lets the screen seek its letters in one font, which has those that are named."""
    from floorapp.lettering import seek_in

    def made(letters: str) -> FontSearch:
        make_font(tmp_path / "squares.ttf", letters)
        return seek_in(SystemFonts([tmp_path]))

    yield made
    seek_in(system_fonts())


def test_a_latin_name_needs_no_markup(stage: Driver) -> None:
    from floorapp.lettering import fitted

    assert fitted("Inés Åkerström") == ("Inés Åkerström", False)


def test_what_is_drawn_without_a_closer_look_is_in_the_font_of_the_screen(stage: Driver) -> None:
    from floorapp.lettering import LATIN

    letters = "".join(sorted(LATIN - {"\n"}))
    for fonts, name in ((REGULAR, "B612-Regular"), (BOLD, "B612-Bold")):
        assert {run.font for run in runs_of(letters, fonts)} == {name}


def test_a_name_with_a_letter_that_b612_lacks_comes_from_another_font(stage: Driver) -> None:
    from floorapp.lettering import fitted

    text, is_markup = fitted("Łukasz")
    assert is_markup
    assert text == "[font=NotoSans-Regular]Łukasz[/font]"


def test_a_bold_line_takes_the_bold_font(stage: Driver) -> None:
    from floorapp.lettering import fitted

    assert fitted("Ł", bold=True)[0] == "[font=NotoSans-Bold]Ł[/font]"


def test_hebrew_is_turned_into_the_order_in_which_it_is_drawn(stage: Driver) -> None:
    from floorapp.lettering import fitted

    assert fitted("שרה")[0] == "[font=NotoSansHebrew-Regular]הרש[/font]"


def test_a_character_of_no_shipped_font_is_told_by_its_code_point(stage: Driver) -> None:
    from floorapp.lettering import fitted

    assert fitted("山")[0].strip() == "U+5C71"


def test_a_character_that_a_font_of_the_computer_has_is_drawn_in_it_once_it_is_found(
    stage: Driver, fonts: Callable[[str], FontSearch]
) -> None:
    from floorapp.widgets.words import Tag

    search = fonts("山田")
    label = Tag(words="M · 山田")
    stage.app.root.add_widget(label)
    assert label.text == "M · U+5C71 U+7530"
    search.wait()
    stage.frames(2)
    assert label.text.startswith("M · [font=computer-")
    assert "山田" in label.text


def test_its_letters_are_drawn_as_wide_as_the_font_says(
    stage: Driver, fonts: Callable[[str], FontSearch]
) -> None:
    from floorapp.widgets.words import Tag

    search = fonts("山")
    one, three = Tag(words="山", font_size=100), Tag(words="山山山", font_size=100)
    search.wait()
    stage.frames(2)
    assert three.texture_size[0] - one.texture_size[0] == pytest.approx(2 * one.texture_size[0], abs=8)


def test_a_label_that_is_gone_is_not_drawn_again(stage: Driver, fonts: Callable[[str], FontSearch]) -> None:
    from floorapp.widgets.words import Tag

    search = fonts("山")
    label: Tag | None = Tag(words="山")
    assert label is not None
    gone = weakref.ref(label)
    label = None
    gc.collect()
    assert gone() is None
    search.wait()
    stage.frames(2)


def test_letters_of_the_map_are_drawn_in_a_shipped_font_too(stage: Driver) -> None:
    from floorapp.lettering import fitted
    from floorapp.widgets.drawing import words_texture

    assert fitted("Якорь")[1]
    boxes, letters = words_texture("\ue000" * 5, 40), words_texture("Якорь", 40)
    assert bytes(letters.pixels) != bytes(boxes.pixels)
    assert letters.width > words_texture("Яко", 40).width > words_texture("Я", 40).width


def test_brackets_in_a_name_are_no_markup(stage: Driver) -> None:
    from floorapp.widgets.words import Tag

    plain, mixed = Tag(words="[b]x[/b]"), Tag(words="[b]Łx[/b]")
    stage.app.root.add_widget(plain)
    stage.app.root.add_widget(mixed)
    stage.frames(2)
    assert not plain.markup
    assert "&bl;" in mixed.text


def test_lines_stay_lines(stage: Driver) -> None:
    from floorapp.lettering import fitted

    assert fitted("Ł\nX")[0].count("\n") == 1


def test_a_label_follows_its_words(stage: Driver) -> None:
    from floorapp.widgets.words import Tag

    label = Tag(words="Dahl")
    label.words = "Žižka"
    assert label.markup
    label.words = "Osei"
    assert (label.text, label.markup) == ("Osei", False)


def test_code_points_have_one_blank_between_them_and_around(stage: Driver) -> None:
    from floorapp.lettering import fitted

    assert fitted("M · 山田 B")[0] == "M · U+5C71 U+7530 B"
